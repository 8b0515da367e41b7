"""The example rigs, wherever the package runs from: a copy of the source, or what was installed from it.

They stand once, in ``examples`` at the top of the source. A wheel carries them to ``share/rigcalc/examples`` of
wherever it is installed, which lies above the package in every layout of an installation.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

_INSTALLED = Path("share", "rigcalc", "examples")
_DEPTH = 4
"""Folders from a package up to where ``share`` stands: lib/python3.x/site-packages below it, or none."""


def example_files() -> dict[str, Path]:
    """Return name -> file of every example, by name; empty where the package was taken without them."""
    above = Path(__file__).resolve().parents[2]
    # only a folder with the project's own file beside it is the source: any other may hold anything
    folders = [above / "examples"] if (above / "pyproject.toml").is_file() else []
    folders += [folder / _INSTALLED for folder in (above, *above.parents)[:_DEPTH]]
    for folder in folders:
        if found := sorted(folder.glob("*.toml"), key=lambda file: file.stem):
            return {file.stem: file for file in found}
    return {}


def example_title(file: Path) -> str:
    """Return what an example is of."""
    return str(tomllib.loads(file.read_text(encoding="utf-8"))["title"])
