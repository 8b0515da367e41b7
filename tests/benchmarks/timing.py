"""Times and memory of calls and of whole commands, for benchmarks that print and never fail."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"


def seconds(function: Callable[[], object], times: int = 5) -> float:
    """Return the least processor time of a call."""
    function()
    taken = []
    for _ in range(times):
        start = time.process_time()
        function()
        taken.append(time.process_time() - start)
    return min(taken)


@dataclass(frozen=True)
class Runs:
    """What a command took, by run.

    Parameters
    ----------
    wall_s, cpu_s : tuple of float
        By the clock on the wall, and of processors, its own workers with it.
    most_MB : float
        Most memory that it held at any time.
    """

    wall_s: tuple[float, ...]
    cpu_s: tuple[float, ...]
    most_MB: float

    @property
    def median_s(self) -> float:
        return statistics.median(self.wall_s)

    @property
    def least_s(self) -> float:
        return min(self.wall_s)

    @property
    def least_cpu_s(self) -> float:
        return min(self.cpu_s)


@contextmanager
def as_installed() -> Iterator[dict[str, str]]:
    """Yield the environment of a user who has the package installed: compiled modules kept, threads as they come.

    The modules are compiled into a folder of their own, which goes again.
    """
    kept = {
        key: value
        for key, value in os.environ.items()
        if key not in ("PYTHONDONTWRITEBYTECODE", "OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS")
    }
    path = os.pathsep.join([str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])])
    with tempfile.TemporaryDirectory() as folder:
        yield kept | {"PYTHONPYCACHEPREFIX": folder, "PYTHONPATH": path}


def interleaved(
    commands: Mapping[str, Sequence[str]], times: int, environment: Mapping[str, str]
) -> dict[str, Runs]:
    """Run Python with each of some words in turn, round after round, so that all meet the machine alike.

    Parameters
    ----------
    commands : mapping
        Name -> words after ``python``.
    times : int
        Rounds, after a first that is not counted.
    environment : mapping
        Of the commands.
    """
    found: dict[str, list[tuple[float, float, float]]] = {name: [] for name in commands}
    for turn in range(times + 1):
        for name, words in commands.items():
            one = _once(words, environment)
            if turn:
                found[name].append(one)
    return {
        name: Runs(tuple(one[0] for one in ran), tuple(one[1] for one in ran), max(one[2] for one in ran))
        for name, ran in found.items()
    }


def _once(words: Sequence[str], environment: Mapping[str, str]) -> tuple[float, float, float]:
    """Return wall time, processor time and most memory of one command."""
    start = time.perf_counter()
    with subprocess.Popen(
        [sys.executable, *words], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=dict(environment)
    ) as process:
        _, status, used = os.wait4(process.pid, 0)
        wall = time.perf_counter() - start
        process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise RuntimeError(f"python {' '.join(words)} ended with {process.returncode}")
    # Linux counts the most memory in KiB, macOS in bytes
    unit = 1024**2 if sys.platform == "darwin" else 1024
    return wall, used.ru_utime + used.ru_stime, used.ru_maxrss / unit
