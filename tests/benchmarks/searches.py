"""What the searches take: sizing over the generic list, three materials side by side, a large sample of doubt.

Run ``python -m tests.benchmarks.searches``: nothing here passes or fails. Every search runs as a command of its own,
start-up and all, and is set beside one check and beside `import numpy` in the same run.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import time
from pathlib import Path

EXAMPLE = str(Path(__file__).parents[2] / "examples" / "trailer_sailer_4m6.toml")
THREE = ("6061-T6 extruded", "Sitka spruce (US)", "E-glass/epoxy UD 0.45")
COMMANDS = (
    ("import numpy", ("-c", "import numpy")),
    ("check", ("-m", "rigcalc", "check", EXAMPLE)),
    ("size, generic tubes", ("-m", "rigcalc", "size", EXAMPLE)),
    ("size, staves", ("-m", "rigcalc", "size", EXAMPLE, "--material", THREE[1])),
    ("size, laminate", ("-m", "rigcalc", "size", EXAMPLE, "--material", THREE[2])),
    (
        "compare, three materials",
        ("-m", "rigcalc", "compare", EXAMPLE, *(word for name in THREE for word in ("--material", name))),
    ),
    ("doubt, 20 000 masts", ("-m", "rigcalc", "doubt", EXAMPLE, "--samples", "20000")),
)


def main() -> None:
    """Print a table."""
    numpy = 0.0
    print(f"{'command':28}{'wall s':>8}{'cpu s':>8}{'x numpy':>9}{'MB':>7}")
    for name, words in COMMANDS:
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        start = time.perf_counter()
        subprocess.run([sys.executable, *words], check=True, capture_output=True)
        wall = time.perf_counter() - start
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        numpy = numpy or wall
        # the most of any command so far
        print(f"{name:28}{wall:8.2f}{cpu:8.2f}{wall / numpy:9.1f}{after.ru_maxrss / 1024:7.0f}")


if __name__ == "__main__":
    main()
