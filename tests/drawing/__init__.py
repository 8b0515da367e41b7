"""The drawings that the tests look at."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from rigcalc import CheckResult, check, load_rig, read_rig
from rigcalc.reports.drawing import PAPERS, drawing_of
from rigcalc.reports.drawing.scene import Drawing, Sheet, Text
from rigcalc.reports.drawing.wording import System
from rigcalc.rig import Rig

from ..rigfile import VARIANTS, edited

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.toml"))
RIGS = {path.stem: path for path in EXAMPLES}
ODD = ("box", "post", "staves", "laminate", "species", "own foam", "rollers above a bush")
"""Rigs of the reader's tests with what the examples do not have."""
of_each = pytest.mark.parametrize("name", [*RIGS, *ODD])
of_each_example = pytest.mark.parametrize("name", RIGS)


@cache
def rig_of(name: str) -> tuple[Rig, CheckResult]:
    rig = load_rig(RIGS[name]) if name in RIGS else read_rig(edited(*VARIANTS[name]))
    return rig, check(rig)


@cache
def drawn(name: str, paper: str = "A3", shown_in: System = "metric") -> Drawing:
    return drawing_of(*rig_of(name), paper=paper, shown_in=shown_in)


def texts(sheet: Sheet) -> list[Text]:
    return [item for item in sheet.items if isinstance(item, Text)]


def said(drawing: Drawing) -> str:
    """Return everything the sheets say, in the order it is drawn."""
    return " ".join(text.text for sheet in drawing.sheets for text in texts(sheet))


__all__ = [
    "EXAMPLES",
    "ODD",
    "PAPERS",
    "RIGS",
    "drawn",
    "of_each",
    "of_each_example",
    "rig_of",
    "said",
    "texts",
]
