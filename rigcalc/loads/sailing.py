"""Cases with sail set: held by the boat's resistance to heeling, or by nothing but the wind."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..formulas import Value, Working
from ..formulas.furling import cloth_torque_per_height, sheeted_cloth_tension
from ..formulas.sails import apparent_wind_angle, apparent_wind_speed
from ..formulas.stability import heeling_force
from ..frozen import dataclass
from ..rig import LOAD_PATHS, ROLLED, Case, Rig, dynamic_factor_of, load_path_of
from ..stretches import merged
from .case import CaseLoad, Lay, Varied, cloth_on_mast, force_direction, tells, winds
from .coefficients import SailForce, sail_force, spar_drag
from .line import Applied, Floats, LineLoad, plain
from .paths import path_of_all, sail_line, unit_load
from .righting import RM30_HEEL_RAD, RightingMoment, largest_moment, moment_at_30
from .spar import diameter_line, exposed, rolled_line
from .states import ALL_SAIL, SetSail, sails_of_state
from .wind import WindAtMast

HAIR = 1e-9


@dataclass(frozen=True)
class SailPlan:
    """All sails of a state at a reference pressure of 1 Pa.

    Parameters
    ----------
    on_mast : Applied
        What sails and wind do to this mast.
    wind_here, wind_elsewhere : Applied
        The wind's force on everything on this mast and on the others, where it acts: what heels the
        boat. The pull of a leech is no part of it, being held within the boat.
    sails : tuple of SetSail
        Those set or rolled on this mast.
    turned : tuple of LineLoad
        What the cloth of rolled sails turns this mast with, per metre, at the radius of their rolls.
    ways : tuple of (str, Applied)
        What ``on_mast`` would be if all sails went by another load path, for each of those.
    """

    on_mast: Applied
    wind_here: Applied
    wind_elsewhere: Applied
    sails: tuple[SetSail, ...]
    turned: tuple[LineLoad, ...]
    ways: tuple[tuple[str, Applied], ...] = ()

    @property
    def wind(self) -> Applied:
        return self.wind_here + self.wind_elsewhere


@dataclass(frozen=True)
class _Cloth:
    """The sails of a state without the spar that carries them.

    Parameters
    ----------
    on_mast, here, elsewhere : Applied
    ways : tuple of (str, Applied)
        As in `SailPlan`.
    sails : tuple of SetSail
        Those set or rolled on this mast.
    turning : tuple
        Every sail that turns the mast, its wind by height and its force.
    downwind : tuple of float
        Where the wind blows to, leeward and forward.
    """

    on_mast: Applied
    here: Applied
    elsewhere: Applied
    sails: tuple[SetSail, ...]
    turning: tuple[tuple[SetSail, LineLoad, SailForce], ...]
    downwind: tuple[float, float]
    ways: tuple[tuple[str, Applied], ...]

    def on(self, rig: Rig, outside: LineLoad, working: Working) -> SailPlan:
        """Return the plan with a spar of some outside diameter, bare above and below the sails that are set."""
        wind, rolls = WindAtMast(rig.wind, rig.boat.waterline_m), rolled_line(outside, self.sails)
        covered = [
            (float(s.corners[:, 1].min()), float(s.corners[:, 1].max())) for s in self.sails if s.share > 0.0
        ]
        drag = spar_drag(rig.mast, 1e5, crisis=False)
        lines = exposed(rig, rolls, wind, covered)
        spar = Applied(tuple(line.scaled(drag).along(*self.downwind) for line in lines))
        turned = [line for sail in self.turning for line in _torque(*sail, rolls, working)]
        return SailPlan(
            self.on_mast + spar,
            self.here + spar,
            self.elsewhere,
            self.sails,
            tuple(turned),
            tuple((path, on_mast + spar) for path, on_mast in self.ways),
        )


def sail_plan(
    rig: Rig, state: str | None, *, case: Case, apparent_wind_angle_rad: float, working: Working
) -> SailPlan:
    """Return the sails of a state, each with its force and load path, and the bare spar about them."""
    cloth = _cloth(rig, state, case, apparent_wind_angle_rad, working)
    return cloth.on(rig, diameter_line(rig), working)


def _cloth(
    rig: Rig,
    state: str | None,
    case: Case,
    apparent_wind_angle_rad: float,
    working: Working,
    *,
    every_path: bool = False,
) -> _Cloth:
    wind = WindAtMast(rig.wind, rig.boat.waterline_m)
    sails = sails_of_state(rig, state)
    downwind = _downwind(case, apparent_wind_angle_rad)
    abaft = downwind[1] > HAIR
    on_mast, here, elsewhere = Applied(), Applied(), Applied()
    turning = []
    for sail in sails:
        if sail.share == 0.0:
            continue
        force = _force_of(sail, case, apparent_wind_angle_rad, working)
        line = sail_line(sail, wind)
        pushed = Applied((line.along(force.side, force.forward),))
        if is_on_this_mast(rig, sail):
            here += pushed
            on_mast += unit_load(
                sail, force, line, path=load_path_of(sail.sail), abaft=abaft, working=working
            )
            turning.append((sail, line, force))
        else:
            elsewhere += pushed
    own = tuple(s for s in sails if is_on_this_mast(rig, s))
    ways = []
    for path in LOAD_PATHS if every_path else ():
        if path != path_of_all(rig):
            # what is to be said of ranges concerns the paths of the file only
            loads = (
                unit_load(sail, force, line, path=path, abaft=abaft, working=Working())
                for sail, line, force in turning
            )
            ways.append((path, sum(loads, Applied())))
    return _Cloth(on_mast, here, elsewhere, own, tuple(turning), downwind, tuple(ways))


def _torque(
    sail: SetSail, line: LineLoad, force: SailForce, rolls: LineLoad, working: Working
) -> Iterator[LineLoad]:
    """Yield the torque per metre of a sail's cloth, which leaves its roll as a tangent at every height."""
    if sail.sail.hold != ROLLED:
        return
    camber, strips = sail.sail.camber, sail.strips
    chord = LineLoad(strips.breaks_m, strips.lower_m, strips.upper_m)
    # the range of the camber is watched once, not at every height
    working.use(sheeted_cloth_tension, where=sail.sail.name, p=1.0, l=1.0, f=camber)
    low, high = float(strips.breaks_m[0]), min(float(strips.breaks_m[-1]), float(rolls.breaks_m.flat[-1]))
    breaks = merged(*(np.clip(line.breaks_m, low, high) for line in (chord, rolls)))

    def per_metre(z: Floats) -> Floats:
        width = np.maximum(chord.at(z), HAIR)
        pressure = line.at(z) * force.resultant / width
        pull = sheeted_cloth_tension(p=pressure, l=width, f=camber * width)
        return np.asarray(cloth_torque_per_height(s=pull, D=rolls.at(z)))

    even = np.ones(breaks.shape[-1] - 1)
    yield LineLoad(breaks, even, even, per_metre)


def is_on_this_mast(rig: Rig, sail: SetSail) -> bool:
    """Whether a sail loads the mast of the file; the others share the righting moment only."""
    return sail.sail.mast is None or sail.sail.mast == rig.mast.name


def holding_moment(rig: Rig, case: Case, working: Working) -> tuple[str, RightingMoment] | None:
    """Return the righting moment a heel-limited case stands on, by name, or None where the data lack it."""
    if case.basis == "moment":
        assert case.moment_N_m is not None
        return "moment", RightingMoment(case.moment_N_m, RM30_HEEL_RAD)
    for name, of in (("RM max", largest_moment), ("RM30", moment_at_30)):
        if case.basis in (None, name) and (found := of(rig.boat, working)) is not None:
            return name, found
    return None


def heel_limited(rig: Rig, case: Case, working: Working, *, every_path: bool = False) -> Lay:
    """Side force in balance with the righting moment, with the drive that comes with it.

    Free body: the heeled boat, with the sails' force to leeward at its heights and the water's to
    windward at the centre of lateral resistance. All sails set feel one pressure, so each takes its
    share of the moment by its own area, height and coefficients. The forward force does not heel the
    boat, but bends the mast.
    """
    held = holding_moment(rig, case, working)
    assert held is not None
    basis, moment = held
    by_partners, extra = case.arm == "partners", dynamic_factor_of(case)
    datum = rig.mast.bury_m if by_partners else rig.boat.lateral_centre_m
    cloth = _cloth(rig, case.state, case, case.apparent_wind_angle_rad, working, every_path=every_path)
    heel = moment.heel_rad if case.heel_rad is None else case.heel_rad
    blowing = winds(case)

    def lay(outside: LineLoad, varied: Varied) -> CaseLoad:
        plan = cloth.on(rig, outside, working)
        side_per_Pa, heeling_per_Pa = plan.wind.force()[0], plan.wind.moment(datum)[0]
        arm = heeling_per_Pa / side_per_Pa
        righting = moment.moment_N_m * varied.moment
        force = working.use(heeling_force, where=case.name, RM=righting * extra, h=arm)
        pressure = force / side_per_Pa
        capped = None
        if blowing is not None:
            capped = _reference_pressure(rig, blowing[2] * varied.wind, working) * extra
            pressure = np.minimum(pressure, capped)
        notes: list[str] = []
        if tells(outside, varied):
            notes.append(
                f"{basis} {moment.moment_N_m:.0f} N m at {np.degrees(heel):.0f} deg x {extra:g} "
                f"over an arm of {arm:.2f} m from the {'partners' if by_partners else 'centre of lateral resistance'}"
            )
            if blowing is not None and capped is not None and pressure == capped < force / side_per_Pa:
                mean, factor, _ = blowing
                notes.append(
                    f"the boat could hold more than wind {mean:.1f} m/s x gust {factor:.2f} gives: that wind is used"
                )
            if plan.wind_elsewhere.lines:
                share = plan.wind_here.moment(datum)[0] / heeling_per_Pa
                notes.append(f"this mast takes {share:.0%} of the righting moment, by sail moment")
            if basis == "RM30":
                notes.append(
                    "the largest righting moment may exceed that at 30 deg; the dynamic factor must cover it"
                )
        mean_wind = None if blowing is None else blowing[0]
        return _sailing(
            case, plan, pressure_Pa=pressure, heel_rad=heel, wind_speed_m_s=mean_wind, notes=notes
        )

    return lay


def wind_limited(rig: Rig, case: Case, working: Working, *, every_path: bool = False) -> Lay:
    """The wind's own force on the sails: no heel spills it.

    Where the wind varies, the sails are taken at the apparent wind angle of the wind of the file.
    """
    blowing = winds(case)
    assert blowing is not None
    mean, factor, gust = blowing
    angle = case.true_wind_angle_rad
    if case.force_coefficient is None:
        triangle = {"V_t": gust, "beta_t": case.true_wind_angle_rad, "V_b": case.boat_speed_m_s}
        angle = float(working.use(apparent_wind_angle, where=case.name, **triangle))
    cloth = _cloth(rig, case.state, case, angle, working, every_path=every_path)
    extra, heel = dynamic_factor_of(case), case.heel_rad or 0.0

    def lay(outside: LineLoad, varied: Varied) -> CaseLoad:
        plan, speed = cloth.on(rig, outside, working), gust * varied.wind
        if case.force_coefficient is None:
            triangle = {"V_t": speed, "beta_t": case.true_wind_angle_rad, "V_b": case.boat_speed_m_s}
            speed = working.use(apparent_wind_speed, where=case.name, **triangle)
        pressure = _reference_pressure(rig, speed, working) * extra
        across, forward = (abs(m) * pressure for m in plan.wind.moment(rig.boat.lateral_centre_m))
        most = np.inf if case.longitudinal_moment_N_m is None else case.longitudinal_moment_N_m
        held = (
            np.minimum(pressure, pressure * most / np.maximum(forward, 1e-12))
            if np.isfinite(most)
            else pressure
        )
        notes: list[str] = []
        if tells(outside, varied):
            notes.append(
                f"wind {mean:.1f} m/s x gust {factor:.2f}, load x {extra:g}, {_where_from(case, angle, speed)}"
            )
            if forward > most:
                notes.append(f"capped where the boat pitches over, {most:.0f} N m")
            elif forward > across:
                notes.append(
                    "the force is mostly forward: no heel spills it, so righting moment does not cap it"
                )
        return _sailing(case, plan, pressure_Pa=held, heel_rad=heel, wind_speed_m_s=mean, notes=notes)

    return lay


def _sailing(
    case: Case,
    plan: SailPlan,
    *,
    pressure_Pa: Value,
    heel_rad: float,
    wind_speed_m_s: float | None,
    notes: list[str],
) -> CaseLoad:
    return CaseLoad(
        name=case.name,
        kind=case.kind,
        state=case.state or ALL_SAIL,
        applied=plan.on_mast.scaled(pressure_Pa),
        turned=tuple(line.scaled(pressure_Pa) for line in plan.turned),
        pressure_Pa=pressure_Pa,
        weight_heel_rad=heel_rad,
        weight_factor=dynamic_factor_of(case),
        hung_kg_m=cloth_on_mast(plan.sails),
        wind_speed_m_s=wind_speed_m_s,
        heel_rad=heel_rad,
        notes=tuple(notes),
        ways=tuple((path, on_mast.scaled(pressure_Pa)) for path, on_mast in plan.ways),
    )


def _reference_pressure(rig: Rig, speed_m_s: Value, working: Working) -> Value:
    wind = WindAtMast(rig.wind, rig.boat.waterline_m)
    height = np.full(np.shape(speed_m_s), rig.boat.waterline_m + rig.wind.reference_height_m)
    return plain(wind.pressure_Pa(speed_m_s, height, working))


def _where_from(case: Case, angle: float, speed: float) -> str:
    if case.force_coefficient is not None:
        return f"force coefficient {case.force_coefficient:g}"
    return (
        f"felt aboard as {speed:.1f} m/s from {np.degrees(angle):.0f} deg, coefficients {case.coefficients}"
    )


def _force_of(sail: SetSail, case: Case, angle: float, working: Working) -> SailForce:
    if case.force_coefficient is not None:
        side, forward = force_direction(case)
        return SailForce(side=side * case.force_coefficient, forward=forward * case.force_coefficient)
    height = float(np.ptp(sail.corners[:, 1]))
    return sail_force(
        case.coefficients,
        apparent_wind_angle_rad=angle,
        area_m2=sail.area_m2,
        height_m=height,
        working=working,
    )


def _downwind(case: Case, angle: float) -> tuple[float, float]:
    """Return the direction the wind blows to; with a force stated, that of the force."""
    if case.force_coefficient is not None:
        return force_direction(case)
    return float(np.sin(angle)), -float(np.cos(angle))
