"""Partners and step in their worst case: pressure, edges, rollers, and what a bush does over heat, water and years.

A bearing is judged by the larger force of the straight and the bent mast. What the file does not describe is
told as a force and no more.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.bearings import (
    bush_foundation,
    close_bush_peak_pressure,
    creep_sinking,
    held_layer_modulus,
    longest_free_bush,
    projected_pressure,
)
from ..formulas.contact import (
    contact_modulus,
    convex_radius,
    line_half_width,
    line_peak_pressure,
    roller_squeeze,
    seat_radius,
)
from ..frozen import dataclass
from ..materials import BearingMaterial, find_bearing_material
from ..rig import Bearing, Bearings
from .plain import BushContact, bush_contact, lasting_pressure
from .play import Bush, PlayWindow, Weather, play_window
from .record import BearingResult, Rollers
from .rollers import load_zone_of, worst_roller_loads

Floats = NDArray[np.float64]

HULL_EXPANSION_PER_K = 25e-6
"""Growth of the ring of deck that holds the bush: glass laminate or plywood, from memory."""
MOST_PLAY = 10e-3
"""Play over diameter that is no rattle yet: 1.5 to 10 in a thousand for plastics, read."""
LEAST_PLAY = 1.5e-3
FREE_NU = 0.4
"""Poisson's ratio of a plastic whose own is not known: judgement."""
HELD_NU = 0.45
"""Highest counted for a layer that cannot spread: real bushes end, and rubbery ones would come out rigid."""


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
    give_rad_N_m : float
        Slope that a couple of one takes out of the mast there.
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
    give_rad_N_m: float
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
    """Return both bounds of the coefficient of friction, or None where neither file nor table has them."""
    material = material_of(bearing)
    tabled = None if material is None else material.friction
    low, high = bearing.friction_low, bearing.friction_high
    if tabled is not None:
        low, high = (tabled.low if low is None else low), (tabled.high if high is None else high)
    if bearing.kind is None or low is None or high is None:
        return None
    return min(low, high), max(low, high)


def standing_pressure(bearing: Bearing, material: BearingMaterial | None) -> float | None:
    """Return the pressure allowed while the mast stands: the user's own, or the table's."""
    if bearing.standing_pressure_Pa is not None:
        return bearing.standing_pressure_Pa
    figure = None if material is None else material.standing_Pa
    return None if figure is None else figure.low


def turning_pressure(bearing: Bearing, material: BearingMaterial | None) -> float | None:
    """Return the pressure allowed while the mast turns: the user's own, or the table's."""
    if bearing.turning_pressure_Pa is not None:
        return bearing.turning_pressure_Pa
    figure = None if material is None else material.turning_Pa
    return None if figure is None else figure.low


def bearing_result(
    name: str, bearing: Bearing, bearings: Bearings, journal: Journal, felt: Felt, working: Working
) -> BearingResult:
    """Return what is known of one bearing in its worst case."""
    use, material = working.use, material_of(bearing)
    worst, steepest = int(np.argmax(felt.force_N)), int(np.argmax(felt.slope_rad))
    force, slope = float(felt.force_N[worst]), float(felt.slope_rad[steepest])
    L, D, c = bearing.length_m, journal.diameter_m, bearing.clearance_m
    plain = bearing.kind == "plain" and L is not None
    width, contact = _hertz(bearing, material, journal, force, working)
    lasting, allowed, sunk = _lasting(bearing, material, journal, felt, working)
    leaning = leaning_contact(bearing, material, journal, float(felt.force_N[steepest]), slope, working)
    window = _window(bearing, bearings, material, journal, working)
    return BearingResult(
        name=name,
        kind=bearing.kind,
        material=bearing.material,
        case=felt.names[worst],
        force_N=force,
        journal_m=D,
        length_m=L,
        pressure_Pa=None if L is None else float(use(projected_pressure, where=name, F=force, L=L, D=D)),
        peak_pressure_Pa=float(use(close_bush_peak_pressure, where=name, F=force, L=L, D=D))
        if plain
        else None,
        standing_Pa=standing_pressure(bearing, material),
        turning_Pa=turning_pressure(bearing, material),
        slope_rad=slope,
        slope_case=felt.names[steepest],
        edge_free_length_m=float(use(longest_free_bush, c=c, theta=slope))
        if plain and c and slope > 1e-9
        else None,
        contact_width_m=width,
        contact_pressure_Pa=contact,
        creep_m=sunk,
        lasting_pressure_Pa=lasting,
        lasting_allowed_Pa=allowed,
        edge_pressure_Pa=None if leaning is None else leaning.peak_pressure_Pa,
        touches_both_edges=leaning is not None and leaning.both_edges,
        window=window,
        play_left_m=None if window is None or c is None else window.play_m(c),
        rollers=roller_shares(bearing, material, journal, force, working),
        notes=(*_unknown(bearing, material, journal), *_fit_notes(bearing, material, leaning, window)),
    )


def _hertz(
    bearing: Bearing, material: BearingMaterial | None, journal: Journal, force_N: float, working: Working
) -> tuple[float | None, float | None]:
    """Return the greatest width of contact in a bush, and its pressure, as two half-spaces have it."""
    use, L, c = working.use, bearing.length_m, bearing.clearance_m
    if (
        bearing.kind != "plain"
        or material is None
        or material.E_Pa is None
        or L is None
        or not c
        or force_N <= 0.0
    ):
        return None, None
    nu = FREE_NU if material.nu is None else material.nu.low
    E_s = use(contact_modulus, E_1=journal.E_Pa, nu_1=journal.nu, E_2=material.E_Pa.high, nu_2=nu)
    R = use(seat_radius, R_1=journal.diameter_m / 2, R_2=(journal.diameter_m + c) / 2)
    width = 2 * float(use(line_half_width, q=force_N / L, R=R, E_s=E_s))
    return min(width, journal.diameter_m), float(use(line_peak_pressure, q=force_N / L, R=R, E_s=E_s))


def _lasting(
    bearing: Bearing, material: BearingMaterial | None, journal: Journal, felt: Felt, working: Working
) -> tuple[float | None, float | None, float | None]:
    """Return pressure of the load that stands, what is allowed of it, and how far it sinks in."""
    L = bearing.length_m
    if bearing.kind != "plain" or material is None or L is None:
        return None, None, None
    use, E, creep = working.use, material.E_Pa, material.creep_share
    pressure = float(
        use(projected_pressure, where=journal_name(journal), F=felt.lasting_N, L=L, D=journal.diameter_m)
    )
    allowed = lasting_pressure(
        E_Pa=None if E is None else E.low,
        creep_share=None if creep is None else creep.low,
        sustained_Pa=None if material.sustained_Pa is None else material.sustained_Pa.low,
        working=working,
    )
    sunk = None
    if E is not None and creep is not None and bearing.wall_m is not None:
        sunk = float(use(creep_sinking, p=pressure, t=bearing.wall_m, E=E.low, share=creep.low))
    return pressure, allowed, sunk


def journal_name(journal: Journal) -> str:
    """Return how a bearing is called by its height."""
    return "step" if journal.height_m == 0.0 else "partners"


def leaning_contact(
    bearing: Bearing,
    material: BearingMaterial | None,
    journal: Journal,
    force_N: float,
    slope_rad: float,
    working: Working,
) -> BushContact | None:
    """Return how a leaning mast touches its bush, where the bush is known well enough."""
    if (
        bearing.kind != "plain"
        or bearing.length_m is None
        or bearing.clearance_m is None
        or bearing.wall_m is None
        or material is None
        or material.E_Pa is None
        or force_N <= 0.0
    ):
        return None
    nu = min(FREE_NU if material.nu is None else material.nu.high, HELD_NU)
    stiff = working.use(held_layer_modulus, E=material.E_Pa.high, nu=nu)
    try:
        return bush_contact(
            force_N,
            slope_rad=slope_rad if bearing.seat == "fixed" else 0.0,
            length_m=bearing.length_m,
            diameter_m=journal.diameter_m,
            play_m=bearing.clearance_m,
            foundation_N_m3=float(working.use(bush_foundation, E_l=stiff, t=bearing.wall_m)),
            give_rad_N_m=journal.give_rad_N_m,
        )
    except ArithmeticError:
        return None  # told, not checked: the edges are judged by geometry


def _unknown(bearing: Bearing, material: BearingMaterial | None, journal: Journal) -> Iterator[str]:
    """Yield what is not worked out, and why."""
    if bearing.kind is None:
        yield "the file does not say what it turns in: its force is told, and nothing else"
        return
    if material is None:
        return
    if bearing.kind == "plain":
        if material.E_Pa is None:
            yield f"the modulus of {material.name} is not known: no contact and no creep"
        if bearing.wall_m is None:
            yield "the thickness of the bush is not given: edges by geometry alone, no swelling, heat and creep"
        elif material.expansion_per_K is None:
            yield f"how {material.name} grows with heat is not known: no clearance to machine"
        elif journal.expansion_per_K is None:
            yield "how the mast grows with heat and water is not known: no clearance to machine"
        if standing_pressure(bearing, material) is None:
            yield f"the pressure that {material.name} bears as a bush is not known: give standing_pressure"
    elif material.E_Pa is None or material.yield_Pa is None:
        yield f"modulus and yield of {material.name} are not known: the rollers' contact is not checked"


def _fit_notes(
    bearing: Bearing, material: BearingMaterial | None, leaning: BushContact | None, window: PlayWindow | None
) -> Iterator[str]:
    """Yield what a builder must know of edges and clearance."""
    known = None if material is None else material.yield_Pa
    if leaning is not None and known is not None and leaning.peak_pressure_Pa > known.low:
        yield (
            f"where the mast leans most the edge of the bush is pressed by {leaning.peak_pressure_Pa / 1e6:.0f} MPa, "
            f"over its yield of {known.low / 1e6:.0f}: it will bed in there; open the bore at its ends, or seat it in "
            "a sphere"
        )
    if window is None or bearing.clearance_m is None:
        return
    least, most, has = (value * 1e3 for value in (window.least_m, window.most_m, bearing.clearance_m))
    if not window.possible:
        yield (
            f"no clearance suits both {window.tightest} and {window.loosest}: take a thinner bush, or another material"
        )
    elif has < least:
        yield f"{has:.2f} mm of clearance is too little when {window.tightest}: machine {least:.2f} to {most:.2f} mm"
    elif has > most:
        yield f"{has:.2f} mm of clearance rattles when {window.loosest}: machine {least:.2f} to {most:.2f} mm"


def _window(
    bearing: Bearing, bearings: Bearings, material: BearingMaterial | None, journal: Journal, working: Working
) -> PlayWindow | None:
    if (
        bearing.kind != "plain"
        or material is None
        or material.expansion_per_K is None
        or bearing.wall_m is None
        or journal.expansion_per_K is None
    ):
        return None
    bush = Bush(
        diameter_m=journal.diameter_m,
        wall_m=bearing.wall_m,
        expansion_per_K=(material.expansion_per_K.low, material.expansion_per_K.high),
        swelling=0.0 if material.swelling is None else material.swelling.high,
        nu=FREE_NU if material.nu is None else material.nu.high,
        held="pressed" if bearing.interference_m > 0.0 else "glued",
        misfit_m=bearing.interference_m,
    )
    workshop = bearings.workshop_temperature_degC
    weathers = [
        Weather(name=f"{name} and {wet}", warmer_K=temperature - workshop, soaked=soaked)
        for name, temperature in (("cold", bearings.coldest_degC), ("hot", bearings.hottest_degC))
        for wet, soaked in (("dry", 0.0), ("soaked", 1.0))
    ]
    return play_window(
        bush,
        mast_expansion_per_K=journal.expansion_per_K,
        mast_swelling=0.0,
        housing_expansion_per_K=HULL_EXPANSION_PER_K,
        weathers=weathers,
        least_play_m=LEAST_PLAY * journal.diameter_m,
        most_play_m=MOST_PLAY * journal.diameter_m,
        out_of_round_m=bearings.out_of_round_m,
        working=working,
    )


def roller_shares(
    bearing: Bearing, material: BearingMaterial | None, journal: Journal, force_N: float, working: Working
) -> Rollers | None:
    """Return how rollers share a force, or None where the bearing has none, or their modulus is not known."""
    count, d, L, c = bearing.count, bearing.diameter_m, bearing.length_m, bearing.clearance_m
    if bearing.kind != "rollers" or count is None or d is None or L is None or c is None or force_N <= 0.0:
        return None
    if material is None or material.E_Pa is None:
        return None
    use = working.use
    E, nu = material.E_Pa.high, FREE_NU if material.nu is None else material.nu.low
    E_s = use(contact_modulus, E_1=journal.E_Pa, nu_1=journal.nu, E_2=E, nu_2=nu)
    R = use(convex_radius, R_1=d / 2, R_2=journal.diameter_m / 2)

    def squeeze(load_N: float) -> float:
        a = use(line_half_width, q=load_N / L, R=R, E_s=E_s)
        return float(use(roller_squeeze, q=load_N / L, R=d / 2, a=a, E=E, nu=nu))

    try:
        zone = load_zone_of(force_N, count=count, play_m=c, squeeze=squeeze)
        each = worst_roller_loads(force_N, count=count, play_m=c, squeeze=squeeze)
    except ArithmeticError:
        # no answer: the check that needs one fails
        return Rollers(count, float("nan"), float("nan"), float("nan"), float("nan"))
    largest = float(np.max(each.largest_N))
    pressure = float(use(line_peak_pressure, q=max(largest, min(zone.largest_N, force_N)) / L, R=R, E_s=E_s))
    return Rollers(count, min(zone.largest_N, force_N), largest, float(np.max(each.total_N)), pressure)
