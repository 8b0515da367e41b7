"""A rig file on the disk, or from standard input: its bytes, its text, its rig."""

from __future__ import annotations

import sys
from pathlib import Path

from ..errors import Problem, RigInputError
from ..rig import Rig
from .read import read_rig

LARGEST_FILE_BYTES = 2_000_000


def load_rig(path: str | Path) -> Rig:
    """Read a rig file.

    Parameters
    ----------
    path : str or Path
        TOML file; ``-`` reads standard input.

    Returns
    -------
    Rig

    Raises
    ------
    RigInputError
        With every problem found in the file.
    OSError
        If the file cannot be opened.

    Notes
    -----
    Quantities are SI from here on, their unit at the end of their name: ``rig.mast.bury_m``. What the file leaves to
    its defaults is named in ``rig.defaults``.

    Examples
    --------
    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> from rigcalc import load_rig, starter_text
    >>> with TemporaryDirectory() as folder:
    ...     path = Path(folder, "my-boat.toml")
    ...     characters = path.write_text(starter_text(), encoding="utf-8")
    ...     rig = load_rig(path)
    >>> rig.mast.bury_m
    0.75
    """
    return rig_of_bytes(rig_bytes(path))


def rig_bytes(path: str | Path) -> bytes:
    """Return a rig file as it stands on the disk, for whoever tells its digest.

    Raises
    ------
    RigInputError
        If it is larger than a rig file can be.
    OSError
        If it cannot be opened.
    """
    raw = sys.stdin.buffer.read(LARGEST_FILE_BYTES + 1) if str(path) == "-" else _bytes_of(Path(path))
    if len(raw) > LARGEST_FILE_BYTES:
        raise RigInputError(
            [
                Problem(
                    "file",
                    f"over {LARGEST_FILE_BYTES:,} bytes",
                    "a rig file is a page or two",
                    "Check the file name.",
                )
            ]
        )
    return raw


def load_text(path: str | Path) -> str:
    """Return the text of a rig file; what goes in and what is raised is as in :func:`load_rig`."""
    return _text_of(rig_bytes(path))


def rig_of_bytes(raw: bytes) -> Rig:
    """Read the bytes of a rig file.

    Raises
    ------
    RigInputError
        With every problem found in them.
    """
    return read_rig(_text_of(raw))


def _text_of(raw: bytes) -> str:
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        raise RigInputError(
            [
                Problem(
                    "file",
                    f"not UTF-8 at byte {error.start}",
                    "TOML is UTF-8 text",
                    "Save the file as UTF-8 text.",
                )
            ]
        ) from None


def _bytes_of(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(LARGEST_FILE_BYTES + 1)
