"""What it takes to start: help and a check of every example, beside bare Python and beside `import numpy`.

Run ``python -m tests.benchmarks.startup [rounds]``: nothing here passes or fails. The commands run in turn, so that
what else the machine does falls on all of them alike; on a busy machine the least times and those of the processor
tell more than the medians by the clock.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping

from .timing import EXAMPLES, Runs, as_installed, interleaved

ROUNDS = 9
CHECK_TO_NUMPY = 2.5
"""Times `import numpy` that a whole check may take."""
HELP_OVER_PYTHON_S = 0.060
"""Seconds that help may take beyond bare Python."""
BARE, NUMPY, HELP = "python", "import numpy", "--help"


def commands() -> dict[str, tuple[str, ...]]:
    """Return name -> words after ``python``."""
    checks = {
        f"check {example.stem}": ("-m", "rigcalc", "check", str(example))
        for example in sorted(EXAMPLES.glob("*.toml"))
    }
    return {
        BARE: ("-c", "pass"),
        NUMPY: ("-c", "import numpy"),
        HELP: ("-m", "rigcalc", "--help"),
        **checks,
    }


def main() -> None:
    """Print a table."""
    with as_installed() as environment:
        tell(environment, int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS)


def tell(environment: Mapping[str, str], rounds: int = ROUNDS) -> None:
    """Print a line for each command.

    Parameters
    ----------
    environment : mapping
        Of the commands.
    rounds : int
        Rounds that count.
    """
    found = interleaved(commands(), rounds, environment)
    bare, numpy = found[BARE], found[NUMPY]
    heads = ("median", "least", "cpu", "median", "least", "cpu")
    print(f"{'':34}{'ms':>27}{'times import numpy':>27}")
    print(f"{'start-up':34}{''.join(f'{head:>9}' for head in heads)}{'held to':>14}{'MB':>6}")
    for name, runs in found.items():
        ratios = _ratios(runs, numpy)
        held = _held(name, runs, bare, numpy)
        times = "".join(f"{1e3 * t:>9.0f}" for t in (runs.median_s, runs.least_s, runs.least_cpu_s))
        print(f"{name:34}{times}{''.join(f'{r:>9.2f}' for r in ratios)}{held:>14}{runs.most_MB:>6.0f}")


def _ratios(runs: Runs, numpy: Runs) -> tuple[float, float, float]:
    return (
        runs.median_s / numpy.median_s,
        runs.least_s / numpy.least_s,
        runs.least_cpu_s / numpy.least_cpu_s,
    )


def _held(name: str, runs: Runs, bare: Runs, numpy: Runs) -> str:
    """Return the limit a command is held to, and whether its least time by the clock keeps it."""
    if name == HELP:
        over = runs.least_s - bare.least_s
        return f"+{1e3 * HELP_OVER_PYTHON_S:.0f} ms {_kept(over <= HELP_OVER_PYTHON_S)}"
    if name.startswith("check"):
        return f"x{CHECK_TO_NUMPY:g} {_kept(runs.least_s <= CHECK_TO_NUMPY * numpy.least_s)}"
    return ""


def _kept(kept: bool) -> str:
    return "kept" if kept else "missed"


if __name__ == "__main__":
    main()
