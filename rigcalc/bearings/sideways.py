"""Partners and step: pressure, edges, rollers, the tube they press, and what the bush does over the years.

A bearing is judged in every case by the larger force of the straight and the bent mast. What the file does
not describe is told as a force and no more.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.bearings import (
    close_bush_peak_pressure,
    creep_sinking,
    longest_free_bush,
    projected_pressure,
)
from ..formulas.contact import (
    contact_modulus,
    convex_radius,
    line_half_width,
    line_peak_pressure,
    seat_radius,
)
from ..materials import BearingMaterial, find_bearing_material
from ..rig import Bearing, Bearings
from .clearance import Window, clearance_window
from .record import BearingResult, Rollers
from .rollers import largest_by_integral, largest_by_position

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Journal:
    """The part of the mast, or of the post, that stands in a bearing.

    Parameters
    ----------
    diameter_m : float
        What turns, outside; in the case of a post, the post's.
    height_m : float
        Where it stands.
    E_Pa, nu : float
        Of its skin.
    expansion_per_K : float or None
        Its growth with heat.
    tube_m : float
        Outside diameter of the mast there.
    wall_m : float or None
        Wall of a metal tube with nothing in its bore there; None where a plug, or another material, bears.
    proof_Pa : float or None
        Proof strength of that tube.
    """

    diameter_m: float
    height_m: float
    E_Pa: float
    nu: float
    expansion_per_K: float | None
    tube_m: float
    wall_m: float | None
    proof_Pa: float | None


@dataclass(frozen=True)
class Felt:
    """What one bearing feels, case by case.

    Parameters
    ----------
    names : tuple of str
        The cases.
    force_N, slope_rad, bending_Pa : ndarray, shape (cases,)
        Force, slope of the mast against the bearing, and bending stress of the tube beside it.
    lasting_N : float
        Force that stands for weeks.
    """

    names: tuple[str, ...]
    force_N: Floats
    slope_rad: Floats
    bending_Pa: Floats
    lasting_N: float


def material_of(bearing: Bearing) -> BearingMaterial | None:
    """Return the material of a bearing, where it has one."""
    return None if bearing.material is None else find_bearing_material(bearing.material)


def friction_of(bearing: Bearing) -> tuple[float, float] | None:
    """Return both bounds of the coefficient of friction, or None where the bearing is not described."""
    material = material_of(bearing)
    if bearing.kind is None or material is None:
        return None
    low = material.friction_low if bearing.friction_low is None else bearing.friction_low
    high = material.friction_high if bearing.friction_high is None else bearing.friction_high
    return min(low, high), max(low, high)


def bearing_result(
    name: str, bearing: Bearing, bearings: Bearings, journal: Journal, felt: Felt, working: Working
) -> BearingResult:
    """Return what is known of one bearing in its worst case."""
    use, material = working.use, material_of(bearing)
    worst, steepest = int(np.argmax(felt.force_N)), int(np.argmax(felt.slope_rad))
    force, slope = float(felt.force_N[worst]), float(felt.slope_rad[steepest])
    L, D, c = bearing.length_m, journal.diameter_m, bearing.clearance_m
    plain = bearing.kind == "plain"
    notes = list(_unknown(bearing, material))
    width = contact = creep = None
    if plain and material is not None and L is not None and c and force > 0.0:
        if material.E_Pa is not None:
            E_s = use(
                contact_modulus, E_1=journal.E_Pa, nu_1=journal.nu, E_2=material.E_Pa, nu_2=material.nu or 0.4
            )
            R, line = use(seat_radius, R_1=D / 2, R_2=(D + c) / 2), force / L
            width = min(2 * float(use(line_half_width, q=line, R=R, E_s=E_s)), D)
            contact = float(use(line_peak_pressure, q=line, R=R, E_s=E_s))
        if material.lasting_E_Pa is not None and bearing.wall_m is not None:
            lasting = use(projected_pressure, F=felt.lasting_N, L=L, D=D)
            creep = float(use(creep_sinking, p=lasting, t=bearing.wall_m, E=material.lasting_E_Pa, share=1.0))
    return BearingResult(
        name=name,
        kind=bearing.kind,
        material=bearing.material,
        case=felt.names[worst],
        force_N=force,
        journal_m=D,
        length_m=L,
        pressure_Pa=None if L is None else float(use(projected_pressure, F=force, L=L, D=D)),
        peak_pressure_Pa=float(use(close_bush_peak_pressure, F=force, L=L, D=D))
        if plain and L is not None
        else None,
        standing_Pa=standing_pressure(bearing, material),
        turning_Pa=_turning(bearing, material),
        slope_rad=slope,
        slope_case=felt.names[steepest],
        edge_free_length_m=float(use(longest_free_bush, c=c, theta=slope))
        if plain and c and slope > 0.0
        else None,
        contact_width_m=width,
        contact_pressure_Pa=contact,
        creep_m=creep,
        window=_window(bearing, bearings, material, journal, working),
        rollers=roller_shares(bearing, material, journal, force, working),
        notes=tuple(notes),
    )


def standing_pressure(bearing: Bearing, material: BearingMaterial | None) -> float | None:
    """Return the pressure allowed while the mast stands: the user's own, or the table's."""
    if bearing.standing_pressure_Pa is not None:
        return bearing.standing_pressure_Pa
    return None if material is None else material.standing_Pa


def _turning(bearing: Bearing, material: BearingMaterial | None) -> float | None:
    if bearing.turning_pressure_Pa is not None:
        return bearing.turning_pressure_Pa
    return None if material is None else material.turning_Pa


def _unknown(bearing: Bearing, material: BearingMaterial | None) -> Iterator[str]:
    """Yield what is not worked out, and why."""
    if bearing.kind is None:
        yield "the file does not say what it turns in: its force is told, and nothing else"
        return
    if material is None:
        return
    if bearing.kind == "plain":
        if material.E_Pa is None:
            yield f"the modulus of {material.name} is not known: no width of contact"
        if bearing.wall_m is None:
            yield "the thickness of the bush is not given: swelling, heat and creep are not worked out"
        elif material.expansion_per_K is None or material.swelling is None:
            yield f"how {material.name} grows with heat and water is not known: no window of clearances"
        if material.standing_Pa is None and bearing.standing_pressure_Pa is None:
            yield f"the pressure that {material.name} bears as a bush is not known: give standing_pressure"
    elif material.E_Pa is None or material.yield_Pa is None:
        yield f"modulus and yield of {material.name} are not known: the rollers' contact is not checked"


def _window(
    bearing: Bearing, bearings: Bearings, material: BearingMaterial | None, journal: Journal, working: Working
) -> Window | None:
    if (
        bearing.kind != "plain"
        or material is None
        or bearing.wall_m is None
        or bearing.clearance_m is None
        or journal.expansion_per_K is None
    ):
        return None
    return clearance_window(
        material,
        diameter_m=journal.diameter_m,
        wall_m=bearing.wall_m,
        clearance_m=bearing.clearance_m,
        interference_m=bearing.interference_m,
        mast_expansion_per_K=journal.expansion_per_K,
        workshop_degC=bearings.workshop_temperature_degC,
        coldest_degC=bearings.coldest_degC,
        hottest_degC=bearings.hottest_degC,
        working=working,
    )


def roller_shares(
    bearing: Bearing, material: BearingMaterial | None, journal: Journal, force_N: float, working: Working
) -> Rollers | None:
    """Return how rollers share a force, or None where the bearing has none."""
    count, d, L, c = bearing.count, bearing.diameter_m, bearing.length_m, bearing.clearance_m
    if bearing.kind != "rollers" or count is None or d is None or L is None or c is None:
        return None
    use = working.use
    E = None if material is None else material.E_Pa
    nu = 0.4 if material is None or material.nu is None else material.nu
    E_s = float(use(contact_modulus, E_1=journal.E_Pa, nu_1=journal.nu, E_2=E or journal.E_Pa, nu_2=nu))
    # what a roller gives way by its line contact, straightened: it only sets how far the load spreads
    stiffness = float(np.pi / 4 * E_s * L)
    by_integral = largest_by_integral(force_N, count=count, clearance_m=c, stiffness_N_m=stiffness)
    by_position = largest_by_position(force_N, count=count, clearance_m=c, stiffness_N_m=stiffness)
    pressure = None
    if E is not None and force_N > 0.0:
        R = use(convex_radius, R_1=d / 2, R_2=journal.diameter_m / 2)
        pressure = float(use(line_peak_pressure, q=max(by_integral, by_position) / L, R=R, E_s=E_s))
    return Rollers(count, by_integral, by_position, pressure)
