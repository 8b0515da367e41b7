"""The one path from a rig to its verdict: loads, structure, limits, result."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..loads.case import name_by
from ..loads.paths import path_of_all
from ..rig import LOAD_PATHS, SAILING, Case, Rig
from ..version import __version__
from .assumptions import cases_of
from .cautions import CAUTIONS, NOT_CHECKED
from .evaluate import Run, evaluate_lots, formulas_have_values, laid_cases
from .model import FORWARD, SIDE
from .post import post_result
from .result import SCHEMA_VERSION, CaseResult, CheckResult, PathResult, PostResult, Stations
from .spar import mast_result
from .trace import Checked
from .turning import turning
from .turns import Turns
from .warn import mast_warnings, path_warnings, scope_warnings

Floats = NDArray[np.float64]


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
        Verdict, checks, cases and values along the mast, in SI: N, N m, m, kg, Pa, rad, Hz. Arrays of
        ``stations`` are (heights,), or (cases, heights).

    Raises
    ------
    NoSuchCaseError
        If there is no case of that name.
    RigInputError
        If the rig asks a formula for a value it does not have.

    Notes
    -----
    Utilisation is demand over capacity; a check passes up to exactly 1, and never where there is no answer. Forces are
    those on the mast, positive to leeward and forward; heights z count up from the heel bearing. Each check names the
    source of its formula, each assumption that of its default.

    Examples
    --------
    >>> from rigcalc import check, read_rig, starter_text
    >>> result = check(read_rig(starter_text()))
    >>> result.passed, result.governing.id, round(result.governing.utilisation, 2)
    (True, 'tip-deflection', 0.81)
    >>> result.stations.moment_side_N_m.shape == (len(result.cases), result.stations.height_m.size)
    True
    """
    return checked(rig, case=case).result


def checked(rig: Rig, *, case: str | None = None) -> Checked:
    """Check a rig as :func:`check` does, and keep what was worked out on the way."""
    working = Working()
    cases, assumed = cases_of(rig, case)
    with formulas_have_values():
        loads = laid_cases(rig, cases, working)
        others = tuple(load for each in loads for _, load in each.by_other_paths())
        lots = [(loads, working), (others, Working())] if others else [(loads, working)]
        run, *by_paths = evaluate_lots(rig, lots)
        paths = _load_paths(rig, cases, run, by_paths[0] if by_paths else run)
    results = tuple(_case_result(run, i) for i in range(len(run.loads)))
    posts = _post_results(run)
    with formulas_have_values():
        turned, bearing_checks = turning(rig, run, posts, working)
    result = CheckResult(
        schema_version=SCHEMA_VERSION,
        rigcalc_version=__version__,
        title=rig.title,
        cautions=(*CAUTIONS, NOT_CHECKED),
        warnings=(
            *scope_warnings(rig, cases, case),
            *working.warnings,
            *mast_warnings(rig, run, results),
            *path_warnings(run, paths),
        ),
        assumptions=assumed,
        mast=mast_result(rig, run.model, working),
        cases=results,
        load_paths=paths,
        post=posts,
        turning=turned,
        checks=(*run.checks, *bearing_checks),
        stations=_stations(run),
    )
    return Checked(result, run, working)


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
        step_thrust_N=turns.thrust_N,
        partners_moment_N_m=float(moment[upper, 0]),
        max_moment_N_m=float(moment[at]),
        max_moment_height_m=float(model.mesh.z_m[at]),
        bent_partners_force_N=turns.bent_upper_N,
        bent_step_force_N=turns.bent_lower_N,
        bent_moment_N_m=turns.bent_moment_N_m,
        bury_shear_N=float(np.max(shear[:upper])),
        bent_bury_shear_N=turns.bent_shear_N(upper),
        torque_N_m=float(model.torque_N_m[turns.first, 0, 0]),
        tip_deflection_m=turns.tip_m,
        tip_deflection_large_m=turns.tip_bent_m,
        turn_deg=float(np.degrees(model.turns_rad[turns.widest - turns.first])) if turns.several else None,
        partners_slope_rad=float(slope[upper, 0]),
        axial_load_factor=factor if np.isfinite(factor) else None,
        notes=load.notes,
    )


def _post_results(run: Run) -> tuple[PostResult, ...]:
    if run.post is None:
        return ()
    found = []
    for i, load in enumerate(run.loads):
        if load.held_at_m is None:
            # the force on the post is that on the mast, turned round
            push = Turns(run.model, run.solved, i).upper
            found.append(post_result(run.post, load, side_N=-push.side_N, forward_N=-push.forward_N))
    return tuple(found)


def _load_paths(rig: Rig, cases: Sequence[Case], run: Run, others: Run) -> tuple[PathResult, ...]:
    """Return what each load path would make of every case with sail set."""
    own, found = path_of_all(rig), []
    for path, case in product(LOAD_PATHS, (case for case in cases if case.kind in SAILING)):
        # where all sails go by one path, that is what the cases have been worked out with
        ran, name = (run, case.name) if path == own else (others, name_by(case.name, path))
        turns = ran.turns_of(name)
        found.append(
            PathResult(
                case=case.name,
                load_path=path,
                partners_moment_N_m=_partners_moment_N_m(turns),
                tip_deflection_m=turns.tip_m,
                utilisation=ran.greatest(name),
                passed=ran.passed(name),
            )
        )
    return tuple(found)


def _partners_moment_N_m(turns: Turns) -> float:
    model = turns.model
    edge = model.mesh.edge_index(model.supports.bury_m)
    return float(np.hypot(*turns.across(turns.solved.small.moment_N_m[..., edge, 0])))


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
