"""From each case of the rig file to the loads it puts along the mast."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.stability import heeling_force
from ..formulas.wind import drag_per_length, reynolds_number
from ..rig import BARE, GIVEN, HEEL_LIMITED, KNOCKDOWN, WIND_LIMITED, Case, Rig, Sail
from .line import LineLoad, PointLoad, from_curve
from .righting import RM30_HEEL_RAD, RightingMoment, largest_moment, moment_at_30
from .sails import Strips, corners_of, strips_of
from .wind import BEAUFORT_TOP_M_S, WindAtMast

Floats = NDArray[np.float64]

SAIL_COEFFICIENT = 1.35
"""Drag of a mainsail dead before the wind: ORC VPP Documentation 2013, 1.345, read in a transcription."""
BARE_COEFFICIENT = 1.20
"""Round member below the drag crisis: Roshko 1961 as tabulated in a public program, read."""
BARE_STORM_M_S = 32.6
RUNNING_M_S = BEAUFORT_TOP_M_S[5]
DRAG_CRISIS_REYNOLDS = 2.0e5


@dataclass(frozen=True)
class CaseLoad:
    """What one case puts on the mast, apart from the mast's own weight, which needs its sections.

    Parameters
    ----------
    weight_heel_rad : float or None
        Heel at which the weight of mast and sails acts; None leaves it out.
    weight_factor : float
        Factor on that weight.
    hung_kg_m : tuple of LineLoad
        Mass of cloth carried along the mast.
    notes : tuple of str
        What a reader must know of how the load came about.
    """

    name: str
    kind: str
    state: str
    lines: tuple[LineLoad, ...] = ()
    points: tuple[PointLoad, ...] = ()
    torque_N_m: float = 0.0
    weight_heel_rad: float | None = None
    weight_factor: float = 1.0
    hung_kg_m: tuple[LineLoad, ...] = ()
    wind_speed_m_s: float | None = None
    heel_rad: float | None = None
    notes: tuple[str, ...] = ()

    @property
    def kinks_m(self) -> tuple[float, ...]:
        """Heights at which the load, or its slope, jumps."""
        breaks = [line.breaks_m for line in (*self.lines, *self.hung_kg_m)]
        return tuple(float(z) for z in np.concatenate([*breaks, [p.height_m for p in self.points]]))


def standard_cases(rig: Rig) -> tuple[tuple[Case, str], ...]:
    """Return the cases run when the file names none, each with the reason for it."""
    cases: list[tuple[Case, str]] = []
    if rig.sails:
        basis = "RM max" if largest_moment(rig.boat, Working()) else "RM30"
        cases += [
            (
                Case(name="gust, all sail", kind=HEEL_LIMITED, basis=basis),
                f"the boat can hold no more side force than its {basis} allows",
            ),
            (
                Case(name="running, all sail", kind=WIND_LIMITED, wind_speed_m_s=RUNNING_M_S),
                "on a run no heel spills the wind; top of Beaufort 5, after which sail is taken in",
            ),
        ]
    return (
        *cases,
        (
            Case(
                name="storm, bare mast", kind=BARE, wind_speed_m_s=BARE_STORM_M_S, force_angle_rad=np.pi / 2
            ),
            "left on a mooring or caught out: top of Beaufort 11 on the spar alone",
        ),
        (
            Case(name="knockdown", kind=KNOCKDOWN),
            "the boat laid flat: the mast carries its own weight across",
        ),
    )


def case_loads(rig: Rig, cases: tuple[Case, ...], working: Working) -> tuple[CaseLoad, ...]:
    """Return the loads of each case, in order."""
    build = {
        HEEL_LIMITED: _heel_limited,
        WIND_LIMITED: _wind_limited,
        BARE: _bare,
        KNOCKDOWN: _knockdown,
        GIVEN: _given,
    }
    return tuple(build[case.kind](rig, case, working) for case in cases)


def sails_set(rig: Rig, state: str | None) -> tuple[Sail, ...]:
    """Return the sails that a state sets; all of them without a state."""
    if state is None:
        return rig.sails
    shares = dict(next(s for s in rig.states if s.name == state).set)
    return tuple(sail for sail in rig.sails if shares.get(sail.name, 0.0) > 0.0)


def is_on_this_mast(rig: Rig, sail: Sail) -> bool:
    """Whether a sail loads the mast of the file; the others share the righting moment only."""
    return sail.mast is None or sail.mast == rig.mast.name


def holding_moment(rig: Rig, case: Case, working: Working) -> RightingMoment | None:
    """Return the righting moment a heel-limited case stands on, or None where the data lack it."""
    if case.basis == "moment":
        assert case.moment_N_m is not None
        return RightingMoment(case.moment_N_m, RM30_HEEL_RAD)
    if case.basis == "RM30":
        return moment_at_30(rig.boat, working)
    if case.basis == "RM max":
        return largest_moment(rig.boat, working)
    return largest_moment(rig.boat, working) or moment_at_30(rig.boat, working)


def _heel_limited(rig: Rig, case: Case, working: Working) -> CaseLoad:
    """Side force in balance with the righting moment.

    Free body: the heeled boat, with the sails' force to leeward at the centres of effort and the
    water's to windward at the centre of lateral resistance. All sails set feel one pressure, so
    each takes its share of the moment by its own area and height.
    """
    held = holding_moment(rig, case, working)
    assert held is not None
    datum = rig.mast.bury_m if case.arm == "partners" else rig.boat.lateral_centre_m
    wind = WindAtMast(rig.wind, rig.boat.waterline_m)
    on_all = [(sail, _sail_line(sail, wind)) for sail in sails_set(rig, case.state)]
    force_per_pressure = sum(line.integral() for _, line in on_all)
    arm = sum(line.integral(datum) for _, line in on_all) / force_per_pressure
    force = working.use(heeling_force, where=case.name, RM=held.moment_N_m * case.dynamic_factor, h=arm)
    pressure = float(force) / force_per_pressure
    own = [(sail, line) for sail, line in on_all if is_on_this_mast(rig, sail)]
    basis = case.basis or ("RM max" if held == largest_moment(rig.boat, Working()) else "RM30")
    datum_name = "partners" if case.arm == "partners" else "centre of lateral resistance"
    notes = [
        f"{basis} {held.moment_N_m:.0f} N m at {np.degrees(held.heel_rad):.0f} deg x {case.dynamic_factor:g} "
        f"over an arm of {arm:.2f} m from the {datum_name}"
    ]
    if len(own) < len(on_all):
        share = sum(line.integral(datum) for _, line in own) / (arm * force_per_pressure)
        notes.append(f"this mast takes {share:.0%} of the righting moment, by sail moment")
    if basis == "RM30":
        notes.append(
            "the largest righting moment may exceed that at 30 deg; the dynamic factor must cover it"
        )
    heel = held.heel_rad if case.heel_rad is None else case.heel_rad
    return CaseLoad(
        name=case.name,
        kind=case.kind,
        state=case.state or "all sail",
        lines=tuple(line.scaled(pressure) for _, line in own),
        weight_heel_rad=heel,
        weight_factor=case.dynamic_factor,
        hung_kg_m=_cloth(sail for sail, _ in own),
        heel_rad=heel,
        notes=tuple(notes),
    )


def _wind_limited(rig: Rig, case: Case, working: Working) -> CaseLoad:
    """The wind's own force on the sails: no heel spills it."""
    mean, gust = _wind_speeds(case)
    wind = WindAtMast(rig.wind, rig.boat.waterline_m)
    pressure = float(
        wind.pressure_Pa(gust, np.array(rig.boat.waterline_m + rig.wind.reference_height_m), working)
    )
    coefficient = SAIL_COEFFICIENT if case.force_coefficient is None else case.force_coefficient
    own = [sail for sail in sails_set(rig, case.state) if is_on_this_mast(rig, sail)]
    lines = [
        _sail_line(sail, wind).scaled(pressure * coefficient).towards(case.force_angle_rad) for sail in own
    ]
    heel = case.heel_rad or 0.0
    return CaseLoad(
        name=case.name,
        kind=case.kind,
        state=case.state or "all sail",
        lines=tuple(lines),
        weight_heel_rad=heel,
        hung_kg_m=_cloth(own),
        wind_speed_m_s=mean,
        heel_rad=heel,
        notes=(
            f"wind {mean:.1f} m/s x gust factor {case.gust_factor:.2f}, force coefficient {coefficient:g}",
        ),
    )


def _bare(rig: Rig, case: Case, working: Working) -> CaseLoad:
    """Wind on the spar alone, above the partners and the water."""
    mean, gust = _wind_speeds(case)
    mast = rig.mast
    wind = WindAtMast(rig.wind, rig.boat.waterline_m)
    bottom = max(mast.bury_m, rig.boat.waterline_m)
    heights = np.array([s.height_m for s in mast.stations])
    diameters = np.array([s.diameter_m for s in mast.stations])
    inner = [z for z in (*heights, wind.lowest_m) if bottom < z < mast.length_m]
    breaks = np.unique([bottom, *inner, mast.length_m])
    lower = _diameter_beside(heights, diameters, breaks[:-1], breaks[1:], 0.0)
    upper = _diameter_beside(heights, diameters, breaks[:-1], breaks[1:], 1.0)
    coefficient = BARE_COEFFICIENT if case.force_coefficient is None else case.force_coefficient
    reference = np.array(rig.boat.waterline_m + rig.wind.reference_height_m)
    pressure = float(wind.pressure_Pa(gust, reference, working))
    force = working.use(drag_per_length, C_D=coefficient, q=pressure, D=1.0)
    width = LineLoad(breaks, lower, upper, wind.pressure_shape)
    reynolds = float(
        working.use(reynolds_number, v=gust, D=float(diameters.max()), nu=rig.wind.air_viscosity_m2_s)
    )
    notes = [f"wind {mean:.1f} m/s x gust factor {case.gust_factor:.2f}, drag coefficient {coefficient:g}"]
    if reynolds > DRAG_CRISIS_REYNOLDS:
        notes.append(
            f"Reynolds number {reynolds:.2g} lies in or past the drag crisis of a smooth cylinder; "
            "no credit is taken for the lower drag, which halyards and tracks undo"
        )
    return CaseLoad(
        name=case.name,
        kind=case.kind,
        state="no sail",
        lines=(width.scaled(float(force)).towards(case.force_angle_rad),),
        weight_heel_rad=case.heel_rad or 0.0,
        wind_speed_m_s=mean,
        heel_rad=case.heel_rad or 0.0,
        notes=tuple(notes),
    )


def _knockdown(rig: Rig, case: Case, working: Working) -> CaseLoad:
    """The mast level: its own weight across, times the dynamic factor."""
    return CaseLoad(
        name=case.name,
        kind=case.kind,
        state="no sail",
        weight_heel_rad=np.pi / 2,
        weight_factor=case.dynamic_factor,
        heel_rad=np.pi / 2,
        notes=(
            f"own weight level x {case.dynamic_factor:g}; drag of sail and mast in the water is not in it",
        ),
    )


def _given(rig: Rig, case: Case, working: Working) -> CaseLoad:
    """A reviewer's own loads."""
    tip = PointLoad(rig.mast.length_m, axial_N=case.axial_N)
    lines = (
        from_curve(case.line_load, side=1.0, forward=0.0) if case.line_load else None,
        from_curve(case.line_load_forward, side=0.0, forward=1.0) if case.line_load_forward else None,
    )
    return CaseLoad(
        name=case.name,
        kind=case.kind,
        state="as given",
        lines=tuple(line for line in lines if line is not None),
        points=(*(PointLoad(p.height_m, p.side_N, p.forward_N) for p in case.point_load), tip),
        torque_N_m=case.torque_N_m,
        weight_heel_rad=case.own_weight_heel_rad,
        heel_rad=case.own_weight_heel_rad,
        notes=("loads taken as given, without a factor of ours",),
    )


def _sail_line(sail: Sail, wind: WindAtMast) -> LineLoad:
    """Width times pressure shape: the side load for a reference pressure of 1 Pa."""
    strips = strips_of(corners_of(sail))
    breaks = strips.breaks_m
    if breaks[0] < wind.lowest_m < breaks[-1] and wind.lowest_m not in breaks:
        i = int(np.searchsorted(breaks, wind.lowest_m))
        share = (wind.lowest_m - breaks[i - 1]) / (breaks[i] - breaks[i - 1])
        at = strips.lower_m[i - 1] + share * (strips.upper_m[i - 1] - strips.lower_m[i - 1])
        strips = Strips(
            np.insert(breaks, i, wind.lowest_m),
            np.insert(strips.lower_m, i, at),
            np.insert(strips.upper_m, i - 1, at),
        )
    return LineLoad(strips.breaks_m, strips.lower_m, strips.upper_m, wind.pressure_shape)


def _cloth(sails: Iterable[Sail]) -> tuple[LineLoad, ...]:
    """Mass of cloth by height, carried where its strips meet the mast."""
    found = []
    for sail in sails:
        if sail.cloth_mass_kg_m2 > 0.0:
            strips = strips_of(corners_of(sail))
            found.append(
                LineLoad(strips.breaks_m, strips.lower_m, strips.upper_m).scaled(sail.cloth_mass_kg_m2)
            )
    return tuple(found)


def _wind_speeds(case: Case) -> tuple[float, float]:
    """Return the mean wind and the gust of a case."""
    mean = case.wind_speed_m_s if case.beaufort is None else BEAUFORT_TOP_M_S[case.beaufort]
    assert mean is not None
    return mean, mean * case.gust_factor


def _diameter_beside(heights: Floats, diameters: Floats, start: Floats, end: Floats, share: float) -> Floats:
    """Diameter at a share of each stretch between kinks, read on that stretch's side of a step."""
    i = np.searchsorted(heights, (start + end) / 2, side="right") - 1
    z = start + share * (end - start)
    slope = (diameters[i + 1] - diameters[i]) / (heights[i + 1] - heights[i])
    return np.asarray(diameters[i] + slope * (z - heights[i]))
