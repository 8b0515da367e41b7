"""What the searches take: sizing over the generic list, three materials side by side, much doubt, and a report.

Run ``python -m tests.benchmarks.searches``: nothing here passes or fails. Every search runs as a command of its own,
start-up and all, and is set beside one check and beside `import numpy` in the same run.
"""

from __future__ import annotations

import os
from collections.abc import Mapping

from .timing import EXAMPLES, as_installed, interleaved

EXAMPLE = str(EXAMPLES / "trailer_sailer_4m6.toml")
THREE = ("6061-T6 extruded", "Sitka spruce (US)", "E-glass/epoxy UD 0.45")
COMMANDS = {
    "import numpy": ("-c", "import numpy"),
    "check": ("-m", "rigcalc", "check", EXAMPLE),
    "size, generic tubes": ("-m", "rigcalc", "size", EXAMPLE),
    "size, staves": ("-m", "rigcalc", "size", EXAMPLE, "--material", THREE[1]),
    "size, laminate": ("-m", "rigcalc", "size", EXAMPLE, "--material", THREE[2]),
    "compare, three materials": (
        *("-m", "rigcalc", "compare", EXAMPLE),
        *(word for name in THREE for word in ("--material", name)),
    ),
    "doubt, 20 000 masts": ("-m", "rigcalc", "doubt", EXAMPLE, "--samples", "20000"),
    "report, HTML": ("-m", "rigcalc", "report", EXAMPLE, "-o", os.devnull, "--html"),
}
LIMITS_S = {"size, generic tubes": 2.0}
"""Seconds by the clock that a whole command is held to, on two idle cores."""


def main() -> None:
    """Print a table."""
    with as_installed() as environment:
        tell(environment)


def tell(environment: Mapping[str, str], times: int = 1) -> None:
    """Print a line for each command.

    Parameters
    ----------
    environment : mapping
        Of the commands.
    times : int
        Rounds that count.
    """
    found = interleaved(COMMANDS, times, environment)
    numpy = found["import numpy"]
    print(f"{'command':28}{'wall s':>9}{'cpu s':>9}{'x numpy':>9}{'held to':>9}{'MB':>6}")
    for name, runs in found.items():
        held = f"{LIMITS_S[name]:.1f} s" if name in LIMITS_S else ""
        ratio = runs.least_s / numpy.least_s
        print(
            f"{name:28}{runs.least_s:>9.2f}{runs.least_cpu_s:>9.2f}{ratio:>9.1f}{held:>9}{runs.most_MB:>6.0f}"
        )


if __name__ == "__main__":
    main()
