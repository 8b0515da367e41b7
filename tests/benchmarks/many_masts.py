"""Masts tried in batch, beside a loop over single checks and a general frame solver, in one run.

Run ``python -m tests.benchmarks.many_masts``: nothing here passes or fails. Times are of one processor's work, so
that what else the machine does tells less; set OMP_NUM_THREADS=1 to keep the linear algebra to one core.
"""

from __future__ import annotations

import resource
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np

from rigcalc.formulas import Working
from rigcalc.loads import case_loads
from rigcalc.rig import Rig
from rigcalc.rigfile import load_rig
from rigcalc.structure.beam import solve
from rigcalc.structure.outline import Outline, outline_of
from rigcalc.verdict import build_model, cases_of, check, evaluate
from rigcalc.verdict.many import evaluate_many, stand_of

EXAMPLES = Path(__file__).parents[2] / "examples"
MASTS = 128


def seconds(function: Callable[[], object], times: int = 5) -> float:
    """Return the least processor time of a call."""
    function()
    taken = []
    for _ in range(times):
        start = time.process_time()
        function()
        taken.append(time.process_time() - start)
    return min(taken)


def many(rig: Rig, count: int) -> Outline:
    """Return masts of the rig with walls from its own to a tenth more."""
    base, factor = outline_of(rig.mast), np.linspace(1.0, 1.1, count)[:, None]
    rows = np.ones_like(factor)
    return replace(
        base, forward_m=base.forward_m * rows, side_m=base.side_m * rows, wall_m=base.wall_m * factor
    )


def frame_solver(rig: Rig) -> float:
    """Return the time of one mast-case in a general frame solver, at as many elements as the engine takes."""
    from anastruct import SystemElements

    cases, _ = cases_of(rig, None)
    loads = case_loads(rig, cases[:1], Working())
    model = build_model(rig, loads)
    z, EI, EA = model.mesh.edges_m, model.sections.EI_N_m2, model.sections.EA_N
    line = np.mean(model.line_N_m[0, 0], axis=-1)

    def once() -> object:
        frame = SystemElements()
        for i, (low, high) in enumerate(pairwise(z.tolist())):
            frame.add_element([[0.0, low], [0.0, high]], EA=float(np.mean(EA[i])), EI=float(np.mean(EI[i])))
        upper = model.mesh.edge_index(rig.mast.bury_m) + 1
        frame.add_support_hinged(1)
        # the direction is the one left free: along the mast
        frame.add_support_roll(upper, direction="y")
        for i, load in enumerate(line, start=1):
            frame.q_load(element_id=i, q=float(load), direction="element")
        return frame.solve()

    return seconds(once, 3)


def main() -> None:
    """Print a table."""
    print(f"{'':24}{'mast-cases':>12}{'batch':>10}{'linear':>10}{'single':>10}{'check':>10}{'frame':>10}")
    print(f"{'example':24}{'a second':>12}{'1':>10}{'solve':>10}{'evaluate':>10}{'':>10}{'solver':>10}")
    for name in sys.argv[1:] or (
        "two_masted_cruiser_9m",
        "trailer_sailer_4m6",
        "stave_mast_6m",
        "glass_tube_5m",
    ):
        rig = load_rig(EXAMPLES / f"{name}.toml")
        cases, _ = cases_of(rig, None)
        stand, masts = stand_of(rig, cases), many(rig, MASTS)
        batch = seconds(lambda stand=stand, masts=masts: evaluate_many(stand, masts)) / (MASTS * len(cases))
        run = evaluate_many(stand, masts)
        EI = run.sections.of_masts(run.sections.EI_N_m2)
        linear = seconds(
            lambda run=run, EI=EI: solve(run.model.mesh, EI, run.model.across, run.model.supports)
        ) / (MASTS * len(cases))
        single = seconds(lambda rig=rig, cases=cases: evaluate(rig, cases, Working())) / len(cases)
        whole = seconds(lambda rig=rig: check(rig), 3) / len(cases)
        frame = frame_solver(rig)
        ratios = "".join(f"{t / batch:>10.2f}" for t in (linear, single, whole, frame))
        print(f"{name:24}{1 / batch:>12.0f}{1:>10}{ratios}")
    print(f"most memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main()
