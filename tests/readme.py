"""README and tutorial beside what really comes: ``python -m tests.readme`` writes the outputs anew.

In the README a block of ``sh`` that calls ``rigcalc``, or of ``python``, is run, in one folder and in order; a block of
``text`` next to it is what it answers. ``text 1-9,14`` shows these lines only, and tells how many are left out. A
comment ``<!-- edit FILE -->`` over a block of TOML puts each of its lines in the place of the line of FILE with the
same key. In the tutorial a line that begins with ``# >`` is what the cell above it prints.
"""

from __future__ import annotations

import io
import os
import re
import shlex
import sys
from collections.abc import Iterator
from contextlib import chdir, redirect_stderr, redirect_stdout
from pathlib import Path
from tempfile import TemporaryDirectory

from rigcalc.cli import main

ROOT = Path(__file__).resolve().parents[1]
README, TUTORIAL = ROOT / "README.md", ROOT / "examples" / "tutorial.py"
BLOCK = re.compile(
    r"(?:^<!-- edit (?P<edits>\S+) -->\n)?^```(?P<kind>\w+)(?: (?P<lines>[\d,-]+))?\n(?P<body>.*?)^```$",
    re.M | re.S,
)
PROGRESS = re.compile(r"rigcalc: .* masts tried, ")
"""Told while a search goes on; how often hangs on the machine."""
INSTALLS = ("python3 ", ". .venv/bin/activate")
OUT = "# >"
COUNTS = 1000.0


def readme_outputs(text: str) -> str:
    """Return a README with every output as it comes now."""
    pieces, at, answer = [], 0, None
    with TemporaryDirectory() as folder, chdir(folder):
        for block in BLOCK.finditer(text):
            kind, body = block["kind"], block["body"]
            if block["edits"]:
                edit(Path(block["edits"]), body)
            if kind == "text":
                if answer is None:
                    raise ValueError(f"an output without its command: {body[:60]!r}")
                pieces += [text[at : block.start("body")], shown(answer, block["lines"])]
                at = block.end("body")
            answer = None
            if kind == "sh":
                answer = answer_of(body)
            elif kind == "python":
                answer = printed(body, {"__name__": "__main__"})
    return "".join(pieces) + text[at:]


def edit(path: Path, lines: str) -> None:
    """Put each line in the place of that with the same key, which must stand once."""
    text = path.read_text(encoding="utf-8")
    for line in lines.splitlines():
        key = re.escape(line.partition("=")[0])
        text, found = re.subn(rf"^{key}=.*$", lambda _, line=line: line, text, flags=re.M)
        if found != 1:
            raise ValueError(f"{path} has {found} lines like: {line}")
    path.write_text(text, encoding="utf-8")


def answer_of(commands: str) -> str | None:
    """Return what commands of rigcalc write to the terminal, but for the progress of a search.

    Those that install it are left to whoever sets up a machine, as `.ci/run` does; of them the example is run.
    """
    if "\n" not in commands.strip() and commands.startswith(INSTALLS):
        _, found, words = commands.rpartition(".venv/bin/rigcalc ")
        if not found:
            return None
        commands = f"rigcalc {words.replace('examples/', f'{ROOT}/examples/')}"
    out = io.StringIO()
    for line in commands.splitlines():
        program, *words = shlex.split(line, comments=True)
        if program != "rigcalc":
            raise ValueError(f"not a command of rigcalc: {line}")
        with redirect_stdout(out), redirect_stderr(out):
            code = main(words)
        if code not in (0, 1, 2, 3):
            raise ValueError(f"{line} ends with {code}")
    lines = (line for line in out.getvalue().splitlines(keepends=True) if not PROGRESS.match(line))
    return "".join(lines)


def printed(code: str, names: dict[str, object]) -> str:
    """Return what a piece of Python prints."""
    out = io.StringIO()
    with redirect_stdout(out):
        exec(compile(code, "a block of the README or tutorial", "exec"), names)
    return out.getvalue()


def shown(answer: str, ranges: str | None) -> str:
    """Return an answer, or some lines of it with a mark for every cut."""
    lines = [line.rstrip() for line in answer.splitlines()]
    if ranges is None:
        return "".join(f"{line}\n" for line in lines)
    kept: list[str] = []
    at = 0
    for part in ranges.split(","):
        first, _, last = part.partition("-")
        start, end = int(first) - 1, int(last or first)
        if not at <= start < end <= len(lines):
            raise ValueError(f"there are {len(lines)} lines, not {ranges}")
        kept += [*cut(start - at), *lines[start:end]]
        at = end
    kept += cut(len(lines) - at)
    return "".join(f"{line}\n" for line in kept)


def cut(count: int) -> list[str]:
    """Return the mark of a cut."""
    return [] if count == 0 else [f"[... {count} more {'line' if count == 1 else 'lines'}]"]


def tutorial_outputs(text: str) -> str:
    """Return a tutorial with every output as it comes now."""
    names: dict[str, object] = {"__name__": "__main__"}
    with TemporaryDirectory() as folder, chdir(folder):
        return "".join(_cell(cell, names) for cell in cells(text)).rstrip("\n") + "\n"


def cells(text: str) -> list[str]:
    """Return a script in percent format cell by cell, its heading first."""
    return re.split(r"^(?=# %%)", text, flags=re.M)


def _cell(cell: str, names: dict[str, object]) -> str:
    if not cell or cell.startswith("# %% [markdown]"):
        return cell
    bare = "".join(line for line in cell.splitlines(keepends=True) if not line.startswith(OUT))
    out = printed(bare, names)
    told = "".join(f"{OUT} {line}".rstrip() + "\n" for line in out.splitlines())
    body = bare.rstrip("\n")
    return f"{body}\n{told}\n" if told else f"{body}\n\n"


def differences(one: str, other: str) -> Iterator[str]:
    """Yield the lines that differ by more than the last digit of a number, which another machine may round."""
    ours, theirs = one.splitlines(), other.splitlines()
    for line, come in zip(ours, theirs, strict=False):
        if not same(line, come):
            yield f"it says   {line}\nand comes {come}"
    if len(ours) != len(theirs):
        yield f"it has {len(ours)} lines, and {len(theirs)} come"


def same(one: str, other: str) -> bool:
    """Whether two lines are the same but for the last digits of numbers, and the blanks that line them up."""
    if one == other:
        return True
    number = r"(\d+(?:\.\d+)?(?: ?%)?)"
    ours, theirs = re.split(number, " ".join(one.split())), re.split(number, " ".join(other.split()))
    if ours[::2] != theirs[::2]:
        return False
    return all(_close(a, b) for a, b in zip(ours[1::2], theirs[1::2], strict=True))


def _close(one: str, other: str) -> bool:
    share = one.endswith("%")
    if share != other.endswith("%"):
        return False
    one, other = one.rstrip(" %"), other.rstrip(" %")
    digits = len(one.partition(".")[2])
    if len(other.partition(".")[2]) != digits:
        return False
    # a small whole number is a count, and no machine rounds it
    free = 0.0 if digits == 0 and not share and float(one) < COUNTS else 1.001 * 10.0**-digits
    return abs(float(one) - float(other)) <= free


def _write() -> None:
    for path, outputs in ((README, readme_outputs), (TUTORIAL, tutorial_outputs)):
        text = path.read_text(encoding="utf-8")
        come = outputs(text)
        if come != text:
            path.write_text(come, encoding="utf-8")
        print(f"{path.relative_to(ROOT)}: {'as it was' if come == text else 'written anew'}")


if __name__ == "__main__":
    os.environ["NO_COLOR"] = "1"
    sys.exit(_write())
