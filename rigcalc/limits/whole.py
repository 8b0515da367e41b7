"""Limits on the mast as a whole: how far it bends and how hard it may be pressed."""

from __future__ import annotations

import math

from ..formulas import record_of
from ..formulas.beams import allowed_axial_load, allowed_tip_deflection
from ..formulas.timber import creep_deflection
from ..rig import Limits
from .record import Check, up


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
    record = record_of(allowed_tip_deflection)
    advice = ""
    if not tip_m <= allowed:
        advice = (
            f"stiffen the mast {_up(tip_m / allowed)} times: it bends as 1/wall and as 1/diameter cubed"
            if tip_m == tip_m
            else "the mast finds no equilibrium under this load: start again with a much larger section"
        )
    return Check(
        "tip-deflection", case, height_m, "", tip_m, allowed, "m", record.name, record.source, advice
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
    advice = ""
    if not crept <= allowed:
        advice = (
            f"stiffen the mast {_up(crept / allowed)} times: it bends as 1/diameter cubed; or keep it drier"
            if crept == crept
            else "the mast finds no equilibrium under this load: start again with a much larger section"
        )
    record = record_of(creep_deflection)
    return Check(
        "creep-deflection", case, height_m, "", crept, allowed, "m", record.name, record.source, advice
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
    record = record_of(allowed_axial_load)
    advice = ""
    if not capacity >= axial_N:
        advice = (
            f"stiffen the mast {_up(required / factor)} times, or cut the compression to {factor / required:.0%}"
            if factor == factor
            else "the load of instability was not found; have it worked out by other means"
        )
    return Check("axial-stability", case, 0.0, "", axial_N, capacity, "N", record.name, record.source, advice)
