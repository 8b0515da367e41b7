"""Masts tried in batch, beside a loop over single checks and a general frame solver, in one run.

Run ``python -m tests.benchmarks.many_masts``: nothing here passes or fails. Times are of one processor's work, so
that what else the machine does tells less; set OMP_NUM_THREADS=1 to keep the linear algebra to one core.
"""

from __future__ import annotations

import resource
import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from rigcalc.formulas import Working
from rigcalc.loads import case_loads
from rigcalc.rig import Rig
from rigcalc.rigfile import load_rig
from rigcalc.structure.beam import BeamLoad, solve
from rigcalc.structure.outline import Outline, outline_of
from rigcalc.verdict import build_model, cases_of, check, evaluate
from rigcalc.verdict.many import evaluate_many, stand_of

from .timing import EXAMPLES, seconds

MASTS = 128


def many(rig: Rig, count: int) -> Outline:
    """Return masts of the rig with walls from its own to a tenth more."""
    base, factor = outline_of(rig.mast), np.linspace(1.0, 1.1, count)[:, None]
    rows = np.ones_like(factor)
    return replace(
        base, forward_m=base.forward_m * rows, side_m=base.side_m * rows, wall_m=base.wall_m * factor
    )


@dataclass(frozen=True)
class Frame:
    """What a general frame solver makes of one mast-case.

    Parameters
    ----------
    seconds : float
        What it takes.
    tip : float
        Its deflection of the tip over that of the engine: 1, but for the stiffness taken as even in each element.
    """

    seconds: float
    tip: float


def frame_solver(rig: Rig) -> Frame:
    """Return the time of one mast-case in a general frame solver, at as many elements as the engine takes.

    The mast lies along x, hinged at the heel and held across at the partners, under the side load of its first case.
    """
    from anastruct import SystemElements

    cases, _ = cases_of(rig, None)
    loads = case_loads(rig, cases[:1], Working())
    model = build_model(rig, loads)
    z, EI, EA = model.mesh.edges_m, model.sections.EI_N_m2, model.sections.EA_N
    line = np.mean(model.line_N_m[0, 0], axis=-1)
    # even in each element: half the work of every element is in its middle
    stiff = 1 / np.mean(1 / EI, axis=-1)

    def once() -> SystemElements:
        frame = SystemElements()
        for i, (low, high) in enumerate(pairwise(z.tolist())):
            frame.add_element([[low, 0.0], [high, 0.0]], EA=float(np.mean(EA[i])), EI=float(stiff[i]))
        frame.add_support_hinged(1)
        frame.add_support_roll(model.mesh.edge_index(rig.mast.bury_m) + 1)
        for i, load in enumerate(line, start=1):
            frame.q_load(element_id=i, q=float(load), direction="element")
        frame.solve()
        return frame

    load = BeamLoad(np.broadcast_to(line[:, None], model.mesh.z_m.shape), np.zeros(z.size))
    ours = solve(model.mesh, np.broadcast_to(stiff[:, None], EI.shape), load, model.supports)
    theirs = once().get_node_displacements(z.size)["uy"]
    return Frame(seconds(once, 3), abs(float(theirs) / float(ours.deflection_m[-1, -1])))


@dataclass(frozen=True)
class Speed:
    """How fast the masts of one example are worked out, in seconds to a mast-case.

    Parameters
    ----------
    batch : float
        Many at once.
    linear : float
        The straight beam alone, many at once.
    single, check : float
        One mast evaluated, and checked.
    frame : Frame
        In a general frame solver.
    """

    batch: float
    linear: float
    single: float
    check: float
    frame: Frame


def speed_of(rig: Rig, count: int = MASTS) -> Speed:
    """Return how fast masts like that of a rig are worked out."""
    cases, _ = cases_of(rig, None)
    stand, masts = stand_of(rig, cases), many(rig, count)
    run = evaluate_many(stand, masts)
    EI, each = run.sections.of_masts(run.sections.EI_N_m2), count * len(cases)
    return Speed(
        batch=seconds(lambda: evaluate_many(stand, masts)) / each,
        linear=seconds(lambda: solve(run.model.mesh, EI, run.model.across, run.model.supports)) / each,
        single=seconds(lambda: evaluate(rig, cases, Working())) / len(cases),
        check=seconds(lambda: check(rig), 3) / len(cases),
        frame=frame_solver(rig),
    )


def main() -> None:
    """Print a table."""
    tell(sys.argv[1:])
    print(f"most memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


def tell(names: Sequence[str] = ()) -> None:
    """Print a line for each example, times over that of a mast-case among many."""
    print(
        f"{'':24}{'mast-cases':>12}{'batch':>10}{'linear':>10}{'single':>10}{'check':>10}{'frame':>10}{'its':>8}"
    )
    print(
        f"{'example':24}{'a second':>12}{'1':>10}{'solve':>10}{'evaluate':>10}{'':>10}{'solver':>10}{'tip':>8}"
    )
    for name in names or ("two_masted_cruiser_9m", "trailer_sailer_4m6", "stave_mast_6m", "glass_tube_5m"):
        speed = speed_of(load_rig(EXAMPLES / f"{name}.toml"))
        times = (speed.linear, speed.single, speed.check, speed.frame.seconds)
        ratios = "".join(f"{t / speed.batch:>10.2f}" for t in times)
        print(f"{name:24}{1 / speed.batch:>12.0f}{1:>10}{ratios}{speed.frame.tip:>8.3f}")


if __name__ == "__main__":
    main()
