"""The open solver CalculiX, where it is installed: a deck in, what it prints out."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

PROGRAM = shutil.which("ccx")
needs_solver = pytest.mark.skipif(
    PROGRAM is None, reason="CalculiX (ccx) is not installed: on Debian, the package calculix-ccx"
)

Printed = dict[int, tuple[float, float, float]]


def run(text: str, folder: Path) -> list[dict[tuple[str, str], Printed]]:
    """Solve a deck; return for each step (``displacements`` or ``forces``, set) -> node -> three values."""
    assert PROGRAM is not None
    (folder / "deck.inp").write_text(text, encoding="ascii")
    ran = subprocess.run(
        [PROGRAM, "deck"],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "OMP_NUM_THREADS": "1"},
    )
    assert ran.returncode == 0 and "*ERROR" not in ran.stdout and "*WARNING" not in ran.stdout, ran.stdout[
        -3000:
    ]
    steps: dict[float, dict[tuple[str, str], Printed]] = {}
    heading = re.compile(r"\s*(displacements|forces) \(.*\) for set (\S+) and time\s+(\S+)")
    rows: Printed = {}
    for line in (folder / "deck.dat").read_text(encoding="ascii").splitlines():
        if found := heading.match(line):
            kind, name, time = found.groups()
            rows = steps.setdefault(float(time), {}).setdefault((kind, name), {})
        elif words := line.split():
            x, y, z = map(float, words[1:4])
            rows[int(words[0])] = (x, y, z)
    return [steps[time] for time in sorted(steps)]
