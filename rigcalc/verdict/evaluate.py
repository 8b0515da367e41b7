"""Cases laid on the mast, solved, and held against the limits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

import numpy as np
from numpy.typing import NDArray

from ..errors import Problem, RigInputError
from ..formulas import FormulaRangeError, Working
from ..frozen import dataclass
from ..limits import (
    Check,
    Internal,
    Limit,
    axial_stability_check,
    creep_deflection_check,
    section_limits,
    tip_deflection_check,
)
from ..loads import CaseLoad, case_loads
from ..rig import Case, Rig
from .model import Model, build_model
from .post import PostModel, post_checks, post_of
from .solve import Solved, solve_cases
from .turns import Turns

Floats = NDArray[np.float64]


@contextmanager
def formulas_have_values() -> Iterator[None]:
    """Turn a formula asked for a value it does not have into a problem with the file."""
    try:
        yield
    except FormulaRangeError as error:
        remedy = "Check the heights and sizes in the file against each other."
        raise RigInputError([Problem("rig", "", str(error).rstrip("."), remedy)]) from None


@dataclass(frozen=True)
class Run:
    """Cases laid on the mast, solved, and held against the limits."""

    loads: tuple[CaseLoad, ...]
    model: Model
    post: PostModel | None
    solved: Solved
    limits: tuple[Limit, ...]
    checks: tuple[Check, ...]

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(load.name for load in self.loads)

    def turns_of(self, case: str) -> Turns:
        """Return a case at all the angles the mast is turned to."""
        return Turns(self.model, self.solved, self.names.index(case))

    def passed(self, case: str) -> bool:
        """Whether every check of a case passes."""
        return all(check.passed for check in self.checks if check.case == case)

    def greatest(self, case: str) -> float:
        """Return the greatest utilisation in a case."""
        return max(check.utilisation for check in self.checks if check.case == case)


def evaluate(rig: Rig, cases: Sequence[Case], working: Working) -> Run:
    """Load, solve and check the mast in some cases."""
    return evaluate_loads(rig, laid_cases(rig, cases, working), working)


def laid_cases(rig: Rig, cases: Sequence[Case], working: Working) -> tuple[CaseLoad, ...]:
    """Return the loads of some cases, by every path: the kinks of all of them are those of the mesh."""
    return case_loads(rig, tuple(cases), working, every_path=True)


def evaluate_loads(rig: Rig, loads: tuple[CaseLoad, ...], working: Working) -> Run:
    """Solve and check the mast under loads that stand already."""
    (run,) = evaluate_lots(rig, [(loads, working)])
    return run


def evaluate_lots(rig: Rig, lots: Sequence[tuple[tuple[CaseLoad, ...], Working]]) -> tuple[Run, ...]:
    """Solve and check the mast under several lots of loads, each by itself but all solved together.

    Parameters
    ----------
    rig : Rig
        Boat, sails and mast.
    lots : sequence of (loads, working)
        Each with where its steps are noted.

    Returns
    -------
    tuple of Run
        One for each lot, in order.
    """
    post = post_of(rig)
    every = tuple(load for loads, _ in lots for load in loads)
    model = build_model(rig, every, post)
    solved, found, done = solve_cases(model, every), [], 0
    for loads, working in lots:
        those = list(range(model.each(done).start, model.each(done + len(loads)).start))
        done += len(loads)
        found.append(_judged(rig, loads, model.only(those), post, solved.only(those), working))
    return tuple(found)


def _judged(
    rig: Rig,
    loads: tuple[CaseLoad, ...],
    model: Model,
    post: PostModel | None,
    solved: Solved,
    working: Working,
) -> Run:
    """Hold solved cases against the limits."""
    kinds = tuple(load.kind for load in loads for _ in model.turns_rad)
    limits = tuple(section_limits(rig, model.sections, internal_of(model, solved), kinds, working))
    names = tuple(load.name for load in loads)
    checks = [found for limit in limits for found in limit.checks(names, model.mesh.z_m, model.turns_rad)]
    for i, load in enumerate(loads):
        turns = Turns(model, solved, i)
        if load.held_at_m is None or not turns.settled:
            # a mast on slings has no tip to speak of, but one that finds no equilibrium fails there too
            checks += _deflection_checks(rig, model, load.name, turns.tip_m, turns.tip_bent_m)
        factor = turns.axial_factor
        if factor != np.inf:
            thrust = float(np.max(model.axial_N[turns.first]))
            checks.append(axial_stability_check(load.name, axial_N=thrust, factor=factor, limits=rig.limits))
    if post is not None:
        each = [Turns(model, solved, i) for i in range(len(loads))]
        on_top = np.array([_on_post(rig, t) for t in each])
        checks += post_checks(post, loads, np.array([t.upper_N for t in each]), on_top, working)
    return Run(loads, model, post, solved, limits, tuple(checks))


def _on_post(rig: Rig, turns: Turns) -> float:
    """Return the thrust that comes down on the top of the post."""
    post = rig.mast.post
    return turns.thrust_N if post is not None and post.thrust_on == "top" else 0.0


def internal_of(model: Model, solved: Solved) -> Internal:
    """Forces in the mast and of its bearings, in its axes, on the straight mast and on the bent one."""
    small, settled, standing = solved.small, solved.settled[:, None, None], solved.standing
    return Internal(
        straight_N_m=small.moment_N_m,
        bent_N_m=np.where(settled, solved.bent_moment_N_m, 0.0),
        straight_shear_N=small.shear_N,
        bent_shear_N=np.where(settled, solved.bent_shear_N, 0.0),
        axial_N=model.axial_N,
        torque_N_m=np.abs(model.torque_N_m),
        axial_factor=solved.axial_factor[:, None, None],
        upper_N=np.where(standing, solved.upper_N, 0.0)[:, None, None],
        lower_N=np.where(standing, solved.lower_N, 0.0)[:, None, None],
    )


def _deflection_checks(
    rig: Rig, model: Model, case: str, straight_m: float, bent_m: float | None
) -> Iterator[Check]:
    """Yield the check of the tip's deflection at once, and of that after years where there is wood."""
    # without an equilibrium there is no deflection to compare, and the check fails
    tip = float("nan") if bent_m is None else max(straight_m, bent_m)
    above, height = rig.mast.length_m - rig.mast.bury_m, rig.mast.length_m
    yield tip_deflection_check(case, tip_m=tip, above_m=above, height_m=height, limits=rig.limits)
    creep = model.sections.creep
    if creep > 0.0:
        yield creep_deflection_check(
            case,
            tip_m=tip,
            creep=creep,
            lasting=rig.timber.lasting_share,
            above_m=above,
            height_m=height,
            limits=rig.limits,
        )
