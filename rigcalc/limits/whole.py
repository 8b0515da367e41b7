"""Limits on the mast as a whole: how far it bends and how hard it may be pressed."""

from __future__ import annotations

import math

from ..formulas.beams import allowed_axial_load, allowed_tip_deflection
from ..formulas.timber import creep_deflection
from ..rig import Limits
from .about import START_AGAIN, WHOLE, About, Cure
from .record import Check, check_of, up

STIFFER = Cure(
    "stiffen the mast< {times} times>: it bends as 1/wall and as 1/diameter cubed",
    "weight aloft for the wall; windage and larger bearings for the diameter, which costs far less weight",
)
STIFFER_WOOD = Cure(
    "stiffen the mast< {times} times>: it bends as 1/diameter cubed",
    "weight aloft, windage and larger bearings",
)
DRIER = Cure("keep it drier", "a ventilated or better sealed mast; then say so in [timber]")
STABLER = Cure("stiffen the mast< {times} times>", "weight aloft, or windage")
LESS_THRUST = Cure(
    "cut the compression< to {share:.0%}>",
    "halyards led down the mast press it: take purchase off, or lead them away",
)
MORE_SWAY = Cure(
    "allow more, by limits.tip_deflection", "a sail that sets worse; make sure nothing is hit or jammed"
)
NO_EQUILIBRIUM = f"the mast finds no equilibrium under this load: {START_AGAIN}"

TIP = About(
    ("tip-deflection",),
    WHOLE,
    "The tip of the mast bends too far. The larger deflection of the straight and of the bent mast against "
    "limits.tip_deflection of the length above the partners. It is a limit of good sailing, not of strength.",
    (allowed_tip_deflection,),
    "What the bend does to the set of the sail, the give of deck and step, and play at joints, which is "
    "told apart.",
    (STIFFER, MORE_SWAY),
)
CREEP = About(
    ("creep-deflection",),
    WHOLE,
    "A wooden mast creeps under a load that lasts, and its tip goes too far after years. The deflection at "
    "once, with what creep adds, against limits.tip_deflection of the length above the partners.",
    (creep_deflection,),
    "Creep that differs along the mast, and wetting and drying beyond the service class.",
    (STIFFER_WOOD, DRIER, MORE_SWAY),
    (allowed_tip_deflection,),
)
STABILITY = About(
    ("axial-stability",),
    WHOLE,
    "The mast is pressed so hard along its length that it bows out by itself. The greatest compression "
    "against the load at which the mast becomes unstable, over limits.axial_stability_factor.",
    (allowed_axial_load,),
    "Crookedness as built; what compression adds to bending is in the moments of the bent mast.",
    (STABLER, LESS_THRUST),
)


def _up(times: float) -> str:
    return f"{up(times, 0.01):.2f}" if math.isfinite(times) else "many"


def tip_deflection_check(
    case: str, *, tip_m: float, above_m: float, height_m: float, limits: Limits
) -> Check:
    """Return the check of the tip's deflection.

    Parameters
    ----------
    case : str
        Name of the case.
    tip_m : float
        Deflection, the larger of straight and bent mast; NaN where no equilibrium was found.
    above_m : float
        Length above the partners.
    height_m : float
        Height z of the tip.
    limits : Limits
        The share allowed.
    """
    allowed = float(allowed_tip_deflection(share=limits.tip_deflection, a=above_m))
    known = tip_m == tip_m
    return check_of(
        TIP,
        case=case,
        height_m=height_m,
        demand=tip_m,
        capacity=allowed,
        unit="m",
        formula=allowed_tip_deflection,
        cure=STIFFER.said(times=_up(tip_m / allowed)) if known else NO_EQUILIBRIUM,
    )


def creep_deflection_check(
    case: str, *, tip_m: float, creep: float, lasting: float, above_m: float, height_m: float, limits: Limits
) -> Check:
    """Return the check of the tip's deflection after years, when wood has crept.

    Parameters
    ----------
    case : str
        Name of the case.
    tip_m : float
        Deflection at once, the larger of straight and bent mast; NaN where no equilibrium was found.
    creep : float
        k_def, what a lasting load adds to it.
    lasting : float
        psi_2, the share of the load that lasts.
    above_m, height_m : float
        Length above the partners, and height z of the tip.
    limits : Limits
        The share allowed.
    """
    crept = float(creep_deflection(u=tip_m, k_def=creep, psi_2=lasting))
    allowed = float(allowed_tip_deflection(share=limits.tip_deflection, a=above_m))
    known = crept == crept
    return check_of(
        CREEP,
        case=case,
        height_m=height_m,
        demand=crept,
        capacity=allowed,
        unit="m",
        formula=creep_deflection,
        cure=f"{STIFFER_WOOD.said(times=_up(crept / allowed))}; or {DRIER.said()}"
        if known
        else NO_EQUILIBRIUM,
    )


def axial_stability_check(case: str, *, axial_N: float, factor: float, limits: Limits) -> Check:
    """Return the check of the axial load against instability.

    Parameters
    ----------
    case : str
        Name of the case.
    axial_N : float
        Largest compression in the mast.
    factor : float
        Factor on the axial load at which the mast becomes unstable; NaN where it was not found.
    limits : Limits
        The factor required.
    """
    required = limits.axial_stability_factor
    capacity = float(allowed_axial_load(N=axial_N, factor=factor, required=required))
    found = factor == factor
    cure = "the load of instability was not found; have it worked out by other means"
    if found and not capacity >= axial_N:
        cure = f"{STABLER.said(times=_up(required / factor))}, or {LESS_THRUST.said(share=factor / required)}"
    return check_of(
        STABILITY,
        case=case,
        height_m=0.0,
        demand=axial_N,
        capacity=capacity,
        unit="N",
        formula=allowed_axial_load,
        cure=cure,
    )
