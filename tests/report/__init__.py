"""The report: one document, three ways of writing it."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from rigcalc import read_rig
from rigcalc.design import reefing_table
from rigcalc.design.order import order
from rigcalc.reports.document import as_dict
from rigcalc.reports.order import order_json
from rigcalc.reports.reef import reefing_json
from rigcalc.reports.sheet import Document, document_of, html_of, markdown_of
from rigcalc.rig import Rig
from rigcalc.rigfile import starter_text
from rigcalc.verdict import Checked, checked

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
NAMES = [path.stem for path in EXAMPLES]
THIN = starter_text().replace('wall = "3 mm"', 'wall = "1.5 mm"')


@dataclass(frozen=True)
class Report:
    """A rig with its report, written."""

    rig: Rig
    done: Checked
    document: Document
    html: str
    markdown: str

    @property
    def json(self) -> dict[str, Any]:
        """Everything that a number of the report may point into."""
        rig = self.rig
        return {
            **as_dict(self.done.result, stations=True),
            "order": json.loads(order_json(order(rig, folder=str(ROOT / "examples")))),
            "reefing": json.loads(reefing_json(reefing_table(rig))) if rig.sails else None,
        }


def report_of_text(text: str, **how: Any) -> Report:
    """Return the report of a rig file."""
    rig = read_rig(text)
    done = checked(rig, case=how.get("case"))
    document = document_of(
        rig, raw=text.encode(), name="boat.toml", folder=str(ROOT / "examples"), done=done, **how
    )
    return Report(rig, done, document, html_of(document), markdown_of(document))


@cache
def report_of(name: str) -> Report:
    """Return the report of an example; made once for all tests."""
    return report_of_text((ROOT / "examples" / f"{name}.toml").read_text(encoding="utf-8"))


@cache
def failing() -> Report:
    """Return the report of a mast that is too thin."""
    return report_of_text(THIN)
