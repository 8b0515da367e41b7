"""One table of how fast everything is, with the limits it is held to: ``python -m tests.benchmarks``.

Start-up, single masts and many, a general frame solver on the same mast, the searches and the report, all in one run;
``python -m tests.benchmarks 3`` starts everything three times in place of nine. It prints, and never fails for being
slow: how fast a machine is says nothing of what is right. Figures of one process are of one core.
"""

from __future__ import annotations

import os
import resource
import sys

# before numpy is loaded: one core
os.environ["OMP_NUM_THREADS"] = "1"

from . import searches, startup
from .timing import EXAMPLES, as_installed, seconds


def main() -> None:
    """Print all of it."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else startup.ROUNDS
    print(f"load of the machine {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors\n")
    with as_installed() as environment:
        startup.tell(environment, rounds)
        print()
        searches.tell(environment)
    # numpy is loaded only now: what starts a command counts in the most memory that it held
    from . import laminate_batch, many_masts

    print()
    one_check()
    print()
    many_masts.tell()
    print()
    laminate_batch.main()
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"\nmost memory of this process: {most:.0f} MB")
    print(f"load of the machine {os.getloadavg()[0]:.1f}")


def one_check() -> None:
    """Print what a check takes once all is loaded."""
    from rigcalc.rigfile import load_rig
    from rigcalc.verdict import check

    print(f"{'one check, all loaded':34}{'read ms':>9}{'check ms':>9}")
    for example in sorted(EXAMPLES.glob("*.toml")):
        rig = load_rig(example)
        read = seconds(lambda example=example: load_rig(example))
        checked = seconds(lambda rig=rig: check(rig))
        print(f"{example.stem:34}{1e3 * read:>9.1f}{1e3 * checked:>9.1f}")


if __name__ == "__main__":
    main()
