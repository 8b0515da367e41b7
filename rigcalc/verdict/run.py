"""The one path from a rig to its verdict: loads, structure, limits, result."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from numpy.typing import NDArray

from ..errors import Problem, RigInputError
from ..formulas import FormulaRangeError, Working
from ..limits import (
    Check,
    Internal,
    Limit,
    axial_stability_check,
    creep_deflection_check,
    section_limits,
    tip_deflection_check,
)
from ..loads import CaseLoad, case_loads, holding_moment, largest_moment, standard_cases
from ..rig import HEEL_LIMITED, LOAD_PATHS, SAILING, Case, Rig
from ..structure.made_of import Metals
from ..version import __version__
from .assumptions import cases_of
from .cautions import CAUTIONS, NOT_CHECKED
from .model import ALONG, FORWARD, SIDE, Model, build_model
from .result import SCHEMA_VERSION, CaseResult, CheckResult, PathResult, Stations
from .solve import Solved, solve_cases
from .spar import mast_result
from .timber import timber_warnings

Floats = NDArray[np.float64]

LARGE_SHARE = 0.1
"""Tip deflection over length above the partners from which small-deflection figures are doubted."""
SHORT_BURY_SHARE = 0.08


def check(rig: Rig, *, case: str | None = None) -> CheckResult:
    """Check a rig in all its cases.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    case : str, optional
        Name of the only case to run.

    Returns
    -------
    CheckResult

    Raises
    ------
    NoSuchCaseError
        If there is no case of that name.
    RigInputError
        If the rig asks a formula for a value it does not have.
    """
    working = Working()
    cases, assumed = cases_of(rig, case)
    with formulas_have_values():
        run = evaluate(rig, cases, working)
        paths = _load_paths(rig, cases, run)
    results = tuple(_case_result(run, i) for i in range(len(run.loads)))
    return CheckResult(
        schema_version=SCHEMA_VERSION,
        rigcalc_version=__version__,
        title=rig.title,
        cautions=(*CAUTIONS, NOT_CHECKED),
        warnings=(
            *_scope_warnings(rig, cases, case),
            *working.warnings,
            *_warnings(rig, run, results),
            *_path_warnings(run, paths),
        ),
        assumptions=assumed,
        mast=mast_result(rig, run.model, working),
        cases=results,
        load_paths=paths,
        checks=run.checks,
        stations=_stations(run),
    )


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
    solved: Solved
    limits: tuple[Limit, ...]
    checks: tuple[Check, ...]

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(load.name for load in self.loads)

    def passed(self, case: str) -> bool:
        """Whether every check of a case passes."""
        return all(check.passed for check in self.checks if check.case == case)

    def greatest(self, case: str) -> float:
        """Return the greatest utilisation in a case."""
        return max(check.utilisation for check in self.checks if check.case == case)


def evaluate(rig: Rig, cases: Sequence[Case], working: Working) -> Run:
    """Load, solve and check the mast in some cases."""
    return evaluate_loads(rig, case_loads(rig, tuple(cases), working), working)


def evaluate_loads(rig: Rig, loads: tuple[CaseLoad, ...], working: Working) -> Run:
    """Solve and check the mast under loads that stand already."""
    model = build_model(rig, loads)
    solved = solve_cases(model, loads)
    limits = section_limits(rig, model.sections, _internal(model, solved), working)
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
    return Run(loads, model, solved, tuple(limits), tuple(checks))


def _internal(model: Model, solved: Solved) -> Internal:
    """Internal forces in the mast's axes, on the straight mast and on the bent one."""
    straight, bent = solved.small.moment_N_m, solved.bent_moment_N_m
    counts = solved.settled[..., None, None] & np.all(np.isfinite(bent), axis=0)
    return Internal(
        straight_N_m=straight,
        bent_N_m=np.where(counts, bent, 0.0),
        shear_N=solved.small.shear_N,
        axial_N=model.axial_N,
        torque_N_m=np.broadcast_to(np.abs(model.torque_N_m)[:, None, None], straight.shape[1:]),
        axial_factor=solved.axial_factor,
    )


@dataclass(frozen=True)
class Turns:
    """One case at all the angles the mast is turned to.

    Forces, shear and moments of the straight mast are the same at all of them; how far it bends is not.
    """

    model: Model
    solved: Solved
    case: int

    @property
    def first(self) -> int:
        return self.case * len(self.model.turns_rad)

    @property
    def several(self) -> bool:
        return len(self.model.turns_rad) > 1

    @property
    def each(self) -> slice:
        return slice(self.first, self.first + len(self.model.turns_rad))

    @property
    def settled(self) -> bool:
        """Whether the bent mast found its equilibrium at every turn."""
        return bool(np.all(self.solved.settled[self.each]))

    @property
    def axial_factor(self) -> float:
        """Least factor of instability; NaN where any was not found."""
        return float(np.min(self.solved.axial_factor[self.each]))

    @property
    def tips_m(self) -> Floats:
        """Deflection of the tip at every turn."""
        return np.asarray(np.hypot(*self.solved.small.deflection_m[:, self.each, -1, -1]))

    @property
    def tip_m(self) -> float:
        return float(np.max(self.tips_m))

    @property
    def widest(self) -> int:
        """The turn at which the tip goes farthest, among all cases."""
        return self.first + int(np.argmax(self.tips_m))

    @property
    def tip_bent_m(self) -> float | None:
        """Deflection of the tip of the bent mast; None where no equilibrium was found."""
        tips = np.hypot(*self.solved.bent_m[:ALONG, self.each, -1, -1])
        return float(np.max(tips)) if self.settled else None

    @property
    def bent_moment_N_m(self) -> float | None:
        """Largest moment on the bent mast; None where it found no equilibrium."""
        bent = np.hypot(*self.solved.bent_moment_N_m[:, self.each])
        return float(np.max(bent)) if self.settled else None

    def across(self, of: Floats) -> Floats:
        """Return (side, forward) of the widest turn in the boat's axes, from what all cases have."""
        return np.asarray(self.model.boat_axes(of)[:, self.widest])


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


def _case_result(run: Run, i: int) -> CaseResult:
    load, model, small = run.loads[i], run.model, run.solved.small
    turns = Turns(model, run.solved, i)
    upper = model.mesh.edge_index(model.supports.bury_m if load.held_at_m is None else load.held_at_m[1])
    moment = np.hypot(*turns.across(small.moment_N_m))
    shear = np.hypot(*turns.across(small.shear_N))
    slope = np.hypot(*turns.across(small.slope_rad))
    at = np.unravel_index(int(np.argmax(moment)), moment.shape)
    # the engine counts the bearings' forces against the load; here they are the forces on the mast
    partners, heel = -turns.across(small.partners_N), -turns.across(small.heel_N)
    factor = turns.axial_factor
    return CaseResult(
        name=load.name,
        kind=load.kind,
        state=load.state,
        wind_speed_m_s=load.wind_speed_m_s,
        heel_deg=None if load.heel_rad is None else float(np.degrees(load.heel_rad)),
        partners_force_N=float(np.hypot(*partners)),
        partners_side_N=float(partners[SIDE]),
        partners_forward_N=float(partners[FORWARD]),
        step_force_N=float(np.hypot(*heel)),
        step_side_N=float(heel[SIDE]),
        step_forward_N=float(heel[FORWARD]),
        step_thrust_N=float(model.axial_N[turns.first, 0, 0] - model.point_N[ALONG, turns.first, 0]),
        partners_moment_N_m=float(moment[upper, 0]),
        max_moment_N_m=float(moment[at]),
        max_moment_height_m=float(model.mesh.z_m[at]),
        bent_moment_N_m=turns.bent_moment_N_m,
        bury_shear_N=float(np.max(shear[:upper])),
        torque_N_m=float(model.torque_N_m[turns.first]),
        tip_deflection_m=turns.tip_m,
        tip_deflection_large_m=turns.tip_bent_m,
        turn_deg=float(np.degrees(model.turns_rad[turns.widest - turns.first])) if turns.several else None,
        partners_slope_rad=float(slope[upper, 0]),
        axial_load_factor=factor if np.isfinite(factor) else None,
        notes=load.notes,
    )


def _load_paths(rig: Rig, cases: Sequence[Case], run: Run) -> tuple[PathResult, ...]:
    """Return what each load path would make of every case with sail set."""
    sailing = tuple(case for case in cases if case.kind in SAILING)
    if not sailing:
        return ()
    loads = []
    for path in LOAD_PATHS:
        other = replace(rig, sails=tuple(replace(sail, load_path=path) for sail in rig.sails))
        # what this run has to say of ranges concerns the paths asked for only
        there = case_loads(other, sailing, Working())
        loads += [replace(load, name=f"{load.name} {path}") for load in there]
    all_paths = evaluate_loads(rig, tuple(loads), Working())
    found = []
    for i, (path, case) in enumerate(product(LOAD_PATHS, sailing)):
        result = _case_result(all_paths, i)
        found.append(
            PathResult(
                case=case.name,
                load_path=path,
                partners_moment_N_m=result.partners_moment_N_m,
                tip_deflection_m=result.tip_deflection_m,
                utilisation=all_paths.greatest(result.name),
                passed=all_paths.passed(result.name),
            )
        )
    return tuple(found)


def _path_warnings(run: Run, paths: Sequence[PathResult]) -> Iterator[str]:
    for case in dict.fromkeys(path.case for path in paths):
        here = run.passed(case)
        other = [path for path in paths if path.case == case and path.passed != here]
        if other:
            names = " and ".join(f"{path.load_path} ({path.utilisation:.2f})" for path in other)
            verdict = "fails" if here else "passes"
            yield f"{case}: the load path decides the verdict: by {names} the case {verdict}."


def _scope_warnings(rig: Rig, cases: Sequence[Case], only: str | None) -> Iterator[str]:
    """Say what a verdict does not speak of: cases left out, and a righting moment that is not the largest."""
    if only is not None:
        yield f"Only the case {only!r} was run: the verdict speaks of no other."
    elif rig.cases:
        left = dict.fromkeys(case.kind for case, _ in standard_cases(rig))
        for case in cases:
            left.pop(case.kind, None)
        if left:
            yield (
                f"The file's own cases take the place of the standard set: no case of kind {', '.join(left)} is among "
                "them. `rigcalc cases` on the file without its [[case]] tables shows what would be run."
            )
    if rig.boat.stability.gm_m is not None and any(case.kind == HEEL_LIMITED for case in cases):
        yield (
            "GM and BM leave out the crew sitting to windward, who in a small boat can double what she holds: give "
            "moment_30 and moment_max, or a table, with them on the rail."
        )
    for case in cases:
        if case.kind == HEEL_LIMITED:
            held = holding_moment(rig, case, Working())
            if held is not None and held[0] == "RM30" and largest_moment(rig.boat, Working()) is None:
                yield (
                    f"{case.name}: the stability data give no largest righting moment, which is often half as much "
                    "again as that at 30 deg: the dynamic factor may be used up by it. Give a table past its peak."
                )


def _warnings(rig: Rig, run: Run, cases: tuple[CaseResult, ...]) -> Iterator[str]:
    above = rig.mast.length_m - rig.mast.bury_m
    for case in cases:
        if case.tip_deflection_large_m is None:
            yield (
                f"{case.name}: no equilibrium was found on the bent mast; it is far too weak, "
                "and this case cannot pass."
            )
        elif case.tip_deflection_m > LARGE_SHARE * above:
            yield (
                f"{case.name}: the tip moves {case.tip_deflection_m / above:.0%} of the length above the partners; on "
                f"the bent mast it is {case.tip_deflection_large_m:.3f} m against {case.tip_deflection_m:.3f} m "
                "straight."
            )
    layers = run.model.sections.layers
    metals = dict.fromkeys(
        m for layer in layers if isinstance(layer.made_of, Metals) for m in layer.made_of.rows
    )
    for name, standard in {m.name: m.standard for m in metals if m.strength_provenance == "memory"}.items():
        yield f"The strengths of {name} are from memory; check them against {standard}."
    for name, standard in {m.name: m.standard for m in metals if m.buckling_class is None}.items():
        yield f"{standard} gives {name} no buckling class; class B, the lower, is used."
    yield from timber_warnings(rig, run.model.sections)
    for i, sleeve in enumerate(rig.mast.sleeve, start=1):
        yield from _sleeve_warning(run.model, i, sleeve.diameter_m)
    if rig.mast.bury_m < SHORT_BURY_SHARE * rig.mast.length_m:
        yield (
            f"The bury is {rig.mast.bury_m / rig.mast.length_m:.0%} of the mast; below about {SHORT_BURY_SHARE:.0%} "
            "the bearing forces grow fast (common practice, from memory)."
        )


def _sleeve_warning(model: Model, number: int, outer_m: float) -> Iterator[str]:
    """Sharing by stiffness needs contact: say how far apart the tubes may lie."""
    tube, sleeve = model.sections.layers[0], model.sections.layers[number]
    inside = outer_m <= float(np.max(np.where(sleeve.present, tube.inner_m, 0.0))) * (1 + 1e-9)
    gap = tube.inner_m - sleeve.outer_m if inside else sleeve.inner_m - tube.outer_m
    most = float(np.max(np.where(sleeve.present, gap, 0.0)))
    where = "inside" if inside else "over"
    yield (
        f"sleeve {number} lies {where} the tube with up to {most * 1e3:.2g} mm of play; it is counted as sharing the "
        "bending along its whole length, which holds only where the tubes touch. Its joint is not checked."
    )


def _stations(run: Run) -> Stations:
    def flat(field: Floats) -> Floats:
        return field.reshape(*field.shape[:-2], -1)

    model, small, z = run.model, run.solved.small, run.model.mesh.z_m
    each = [Turns(model, run.solved, i) for i in range(len(run.loads))]
    used = np.max([limit.utilisation for limit in run.limits], axis=0)
    used = np.max(used.reshape(len(each), -1, *z.shape), axis=1)

    def both(field: Floats) -> tuple[Floats, Floats]:
        across = np.stack([turns.across(field) for turns in each], axis=1)
        return flat(across[SIDE]), flat(across[FORWARD])

    shear, moment, slope, deflection = map(
        both, (small.shear_N, small.moment_N_m, small.slope_rad, small.deflection_m)
    )
    return Stations(
        height_m=flat(z),
        diameter_m=flat(model.sections.outer_m),
        wall_m=flat(model.sections.layers[0].wall_m),
        EI_N_m2=flat(model.sections.EI_N_m2),
        cases=run.names,
        shear_side_N=shear[SIDE],
        shear_forward_N=shear[FORWARD],
        moment_side_N_m=moment[SIDE],
        moment_forward_N_m=moment[FORWARD],
        slope_side_rad=slope[SIDE],
        slope_forward_rad=slope[FORWARD],
        deflection_side_m=deflection[SIDE],
        deflection_forward_m=deflection[FORWARD],
        utilisation=flat(used),
    )
