"""How long masts of laminate laid end to end take: ``python -m tests.benchmarks.laminate_batch``.

It prints, and never fails for being slow: how fast a machine is says nothing of what is right.
"""

from __future__ import annotations

import tracemalloc
from dataclasses import replace

import numpy as np

from rigcalc.formulas import Working
from rigcalc.limits.laminate import laminate_limits, skin_of
from rigcalc.limits.laminate_bearings import bent_round
from rigcalc.materials.laminates import Laid, laid_of_many, lay_ups_of
from rigcalc.rigfile import read_rig
from rigcalc.structure.mesh import POINTS
from tests.laminates.end_to_end import forces, tube_of

from .timing import EXAMPLES, seconds

EXAMPLE = EXAMPLES / "glass_tube_5m.toml"
CASES, ELEMENTS = 6, 19


def main() -> None:
    """Print times for batches of several sizes."""
    (lay_up,) = lay_ups_of(read_rig(EXAMPLE.read_text(encoding="utf-8"))).values()
    # more ends than the example has, so that every mast has six different walls
    ends = {2: {"end_m": 4.2}, 3: {"start_m": 0.5}, 5: {"end_m": 2.6}, 6: {"end_m": 2.6}, 4: {"start_m": 0.9}}
    lay_up = replace(lay_up, lots=tuple(replace(lot, **ends.get(i, {})) for i, lot in enumerate(lay_up.lots)))
    for masts in (1, 8, 64):
        random = np.random.default_rng(masts)
        counts = random.integers(1, 20, (masts, len(lay_up.lots)))
        counts = counts[:, [0, 0, 2, 3, 4, 5, 5]]  # as much at plus as at minus an angle
        middles = np.tile(np.linspace(0.1, 4.9, ELEMENTS), (masts, 1))
        laid = laid_of_many(lay_up, counts, middles)
        print(f"{masts} masts, {laid.index.size} elements, {len(laid.walls.wall_m)} walls, {CASES} cases")
        n = laid.index.size
        felt, bore = forces(masts, CASES, n), np.full((n, POINTS), 0.07)
        pressed = np.zeros((n, POINTS), dtype=bool)
        pressed[::ELEMENTS, 0] = pressed[2::ELEMENTS, -1] = pressed[3::ELEMENTS, 0] = True
        curved = np.full((CASES, int(np.sum(pressed))), 0.5)

        def lay() -> Laid:
            return laid_of_many(lay_up, counts, middles)  # noqa: B023  # called at once

        def judge() -> None:
            laid = lay()
            sections = tube_of(laid, bore)  # noqa: B023
            skin = skin_of(sections, sections.layers[0], felt, Working())  # noqa: B023
            for limit in laminate_limits(skin, felt, Working()):  # noqa: B023
                limit.utilisation  # noqa: B018  # for its time
            bent_round(skin, pressed, curved)  # noqa: B023

        tracemalloc.start()
        judge()
        _, peak = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        whole = seconds(judge)
        print(f"  laid in {seconds(lay) * 1e3:.2f} ms, judged in {whole * 1e3:.1f} ms, which is")
        print(f"  {whole * 1e3 / masts / CASES:.3f} ms to a mast and case; at most {peak / 1e6:.0f} MB")


if __name__ == "__main__":
    main()
