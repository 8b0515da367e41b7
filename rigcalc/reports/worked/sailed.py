"""The chain behind the load of one case: wind, coefficients, righting moment, heeling force, pressure, leech."""

from __future__ import annotations

from collections.abc import Iterator

from ...formulas import Step, Working
from ...formulas.sails import leech_tension
from ...formulas.stability import pressure_of_force
from ...formulas.wind import factored_pressure
from ...loads import SailPlan, case_loads, holding_moment, sail_plan, winds
from ...rig import HEEL_LIMITED, SAILING, Case, Rig, dynamic_factor_of
from .chains import Known
from .joins import BEFORE
from .places import AFTER_ALL, Place, Worked, alike, read_all, worked_out

NOWHERE = Place((1, 1, 1), (0, 0, 0))
_LEFT_OUT = ("leech_tension", "sheeted_cloth_tension")
"""Steps of a sail under a pressure of 1 Pa: the leech is worked out again under its own."""


def load_lines(rig: Rig, case: Case) -> tuple[Worked, ...]:
    """Return the chain behind the load of a case.

    Parameters
    ----------
    rig : Rig
        As read.
    case : Case
        One of its cases.
    """
    working = Working()
    (load,) = case_loads(rig, (case,), working)
    steps = read_all([s for s in working.steps if _is_scalar(s)], NOWHERE)
    constants = _constants(rig, case)
    plan = None
    if case.kind in SAILING:
        plan = _plan(rig, case, working)
        constants |= _of_plan(rig, case, plan)
    known = Known(steps, (), constants, BEFORE)
    found: dict[tuple[object, ...], Worked] = {}
    for step in steps:
        if step.formula.name not in _LEFT_OUT:
            found |= {line.key: line for line in known.chain(step)}
    if plan is not None:
        side, forward = plan.on_mast.force()
        of = 0 if abs(side) >= abs(forward) else 1
        pressure = load.applied.force()[of] / (side, forward)[of]
        for line in _under(pressure, plan, known, case):
            found |= {each.key: each for each in known.chain(line)}
    return tuple(found.values())


def _is_scalar(step: Step) -> bool:
    """Whether a step is one number: what is worked out at many heights at once has no one line."""
    return getattr(step.value, "ndim", 0) == 0


def _constants(rig: Rig, case: Case) -> dict[str, list[float]]:
    found = {"k_d": [dynamic_factor_of(case)]}
    if (blowing := winds(case)) is not None:
        found |= {"v": [blowing[0]], "k_g": [blowing[1]]}
    if case.kind == HEEL_LIMITED and (held := holding_moment(rig, case, Working())) is not None:
        found["RM"] = [held[1].moment_N_m]
    return found


def _plan(rig: Rig, case: Case, working: Working) -> SailPlan:
    angle = case.apparent_wind_angle_rad
    if case.kind != HEEL_LIMITED:
        felt = [s.value for s in working.steps if s.formula.name == "apparent_wind_angle"]
        angle = float(felt[0]) if felt else case.true_wind_angle_rad
    return sail_plan(rig, case.state, case=case, apparent_wind_angle_rad=angle, working=Working())


def _of_plan(rig: Rig, case: Case, plan: SailPlan) -> dict[str, list[float]]:
    datum = rig.mast.bury_m if case.arm == "partners" else rig.boat.lateral_centre_m
    return {"A_F": [plan.wind.force()[0]], "S_F": [plan.wind.moment(datum)[0]]}


def _under(pressure_Pa: float, plan: SailPlan, known: Known, case: Case) -> Iterator[Worked]:
    """Yield the pressure at the reference height, and the leech under it."""
    ways: list[Worked] = []
    for step in known.steps:
        if step.formula.name == "heeling_force":
            ways.append(
                worked_out(
                    pressure_of_force, AFTER_ALL, fed={"F": step}, F=step.value, A_F=known.constants["A_F"][0]
                )
            )
        if step.formula.name == "wind_pressure":
            factor = dynamic_factor_of(case)
            ways.append(worked_out(factored_pressure, AFTER_ALL, fed={"q": step}, q=step.value, k_d=factor))
    found = [way for way in ways if alike(way.value, pressure_Pa)]
    yield from found[:1]
    for step in known.steps:
        if step.formula.name == "leech_tension":
            w, L, f = (step.arguments[name] for name in ("w", "L", "f"))
            yield worked_out(leech_tension, AFTER_ALL, w=w * pressure_Pa, L=L, f=f)
