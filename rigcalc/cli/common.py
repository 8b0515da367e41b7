"""What the commands share: exit codes, reading a rig, and saying what went wrong."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TextIO, TypeVar

if TYPE_CHECKING:
    from ..rig import Rig

PASSED, FAILED, BAD_INPUT, NO_SIZE, INTERNAL = 0, 1, 2, 3, 70
INTERRUPTED = 130


T = TypeVar("T")


class UnusableError(Exception):
    """A file that cannot be worked with, and what to say of it."""


def read(path: str) -> Rig:
    """Read a rig file, or say why it cannot be."""
    from ..rigfile import rig_of_bytes

    return rig_of_bytes(raw_of(path))


def read_text(path: str) -> str:
    """Read the text of a rig file, or say why it cannot be."""
    from ..rigfile import load_text

    return _opened(load_text, path)


def raw_of(path: str) -> bytes:
    """Return the bytes of a rig file, or say why they cannot be had."""
    from ..rigfile import rig_bytes

    return _opened(rig_bytes, path)


def _opened(load: Callable[[str], T], path: str) -> T:
    try:
        return load(path)
    except OSError as error:
        raise UnusableError(
            f"{path}: {error.strerror or error}. Check the path, or write a file with `rigcalc new`."
        ) from None


def bad(message: str) -> int:
    """Say what is wrong with the words or the input."""
    print(f"rigcalc: {message}", file=sys.stderr)
    return BAD_INPUT


def folder_of(file: str) -> Path:
    """Return where a rig file stands; the working directory for standard input."""
    return Path() if file == "-" else Path(file).parent


def tell(text: str) -> None:
    """Say how far a search is."""
    print(f"rigcalc: {text}", file=sys.stderr)


def same_file(one: str, other: str) -> bool:
    """Whether two paths are one file."""
    try:
        return Path(one).samefile(other)
    except OSError:
        return False


def cannot_plot(file: str, out: str) -> str:
    """Say what is against a file to draw in, before the work is done."""
    if not out.lower().endswith((".svg", ".png", ".pdf")):
        return f"--plot {out}: a figure is written as .svg, .png or .pdf"
    if not os.path.isdir(Path(out).parent):  # Path.is_dir raises where a name is too long
        return f"--plot {out}: there is no such folder"
    if file != "-" and same_file(file, out):
        return f"--plot {out} is the rig file itself; choose another name"
    return ""


def takes_colour(stream: TextIO) -> bool:
    """Whether to colour: only on a terminal that can, and not where NO_COLOR is set and not empty."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
