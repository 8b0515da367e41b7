"""Every command on one rig, held to what may come out: exit code, text, JSON, and files."""

from __future__ import annotations

import io
import re
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from random import Random

from rigcalc.cli import main

from .judge import FaultError, sound_json, sound_text

QUICK = (
    "check", "check --units us", "check --limits", "check --json --stations", "cases", "cases --json", "reef",
    "reef --json", "bearings", "bearings --json", "laminate", "laminate --json", "order", "order --json",
    "order --csv", "export --to json", "export --to csv", "export --to inp", "materials --own",
)  # fmt: skip
"""Commands of a few hundredths of a second, beside the check that most of them make."""
SLOW = (
    "working", "report --markdown", "report --html", "report -o {out}.pdf", "drawing -o {out}.svg",
    "drawing -o {out}.dxf",
    "drawing -o {out}.pdf --units us", "plot --what all -o {out}.pdf", "plot --what all -o {out}",
    "check --vary mast.bury=x0.9:x1.1:3 --csv", "check --vary mast.stations[*].diameter=x0.9:x1.2:3 --plot {out}.svg",
    "check --vary mast.bury=x0.98:x1.02:2 --vary mast.length=x1:x1.01:2 --json", "doubt --samples 100",
    "doubt --samples 100 --json --plot {out}.svg",
)  # fmt: skip
SEARCHES = ("size", "size --json", "compare", "compare --csv", "size -o {out}.toml")
"""Commands that try many masts."""

_PICTURE = re.compile(r"base64,[^\"')]*")


def told(words: list[str]) -> tuple[int, str, str]:
    """Run a command; return its exit code and what it said."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = main(words)
    return code, out.getvalue(), err.getvalue()


def hold(command: str, file: Path, out: Path) -> int:
    """Run a command on a sound rig, and hold what comes to what may; return its exit code."""
    name, *options = command.format(out=out).split(" ")
    words = [name, *options, str(file)]
    code, said, error = told(words)
    if code == 70 or "Traceback" in error:
        raise FaultError(f"{command}: {error[-2500:]}")
    if code not in (0, 1, 2, 3):
        raise FaultError(f"{command} ends with {code}: {error}")
    if code == 2:
        if not error.startswith(("rigcalc: ", "usage: ")):
            raise FaultError(f"{command} ends with 2 and says {error[:300]!r}")
        if said:
            raise FaultError(f"{command} ends with 2 and yet answers")
        return code
    sound_text(error)
    if "--json" in options or command == "export --to json":
        sound_json(said)
    elif command != "export --to csv":  # there a utilisation without an answer is inf, as the command says
        sound_text(_PICTURE.sub("", said))
    for written in (*out.parent.glob(f"{out.name}.*"), *out.glob("*.svg")):
        if written.suffix in (".svg", ".dxf", ".toml"):
            sound_text(_PICTURE.sub("", written.read_text(encoding="utf-8")))
        elif not written.read_bytes().startswith(b"%PDF"):
            raise FaultError(f"{command} wrote no PDF")
    return code


def some(rng: Random, *, quick: int, slow: int, searches: int) -> list[str]:
    """Return some commands, drawn."""
    return [*rng.sample(QUICK, quick), *rng.sample(SLOW, slow), *rng.sample(SEARCHES, searches)]
