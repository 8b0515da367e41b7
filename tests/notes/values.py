"""Where the values come from, from the tables and the descriptions of the fields.

``python -m tests.notes.values`` writes ``reference_notes/values.md``; a test fails where it is out of date.
"""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterator
from dataclasses import MISSING, fields, is_dataclass
from pathlib import Path
from typing import Any, Final, get_args, get_type_hints

import rigcalc
from rigcalc import units
from rigcalc.formulas import all_formulas
from rigcalc.rig import Rig
from rigcalc.rig.fields import Quantity, key_of, spec_of
from tests.published.chapter import paragraph

from .marks import MARKS, mark_of

FILE: Final = Path(__file__).parents[2] / "reference_notes" / "values.md"
PACKAGE: Final = Path(rigcalc.__file__).parent
TABLES: Final = tuple(sorted(PACKAGE.glob("*/data/*.csv")))
IN_TABLES: Final = ("read", "memory", "judgement", "derived")


def table_rows() -> Iterator[str]:
    """Yield every table of the package with the marks of its rows."""
    yield "| table | rows | mark of | read | from memory | judgement | derived | not used |"
    yield "|---|---:|---|---:|---:|---:|---:|---:|"
    for path in TABLES:
        with path.open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        unused = sum("no" in (row.get("use"), row.get("design_use")) for row in rows)
        for column in [name for name in rows[0] if name.endswith("provenance")]:
            counts = Counter(row[column] for row in rows if row[column])
            assert set(counts) <= set(IN_TABLES), (path.name, counts)
            of = column.removesuffix("_provenance").replace("provenance", "row")
            cells = (str(counts[mark] or "") for mark in IN_TABLES)
            yield (
                f"| `{path.relative_to(PACKAGE)}` | {len(rows)} | {of} | "
                + " | ".join(cells)
                + f" | {unused or ''} |"
            )


def defaults() -> Iterator[tuple[str, str, str]]:
    """Yield path, value and source of every default that a rig file may leave to the tool."""
    seen: set[tuple[type, str]] = set()

    def walk(kind: Any, path: str) -> Iterator[tuple[str, str, str]]:
        hints = get_type_hints(kind)
        for entry in fields(kind):
            if "spec" not in entry.metadata:
                continue
            spec, here = spec_of(entry), f"{path}.{key_of(entry)}" if path else key_of(entry)
            inside = [one for one in _parts(hints[entry.name]) if is_dataclass(one)]
            for one in inside:
                yield from walk(one, here)
            if spec.default_from and not inside and (kind, here) not in seen:
                seen.add((kind, here))
                yield here, _shown(spec, entry.default), spec.default_from

    yield from walk(Rig, "")


def _parts(hint: Any) -> Iterator[Any]:
    yield hint
    for one in get_args(hint):
        yield from _parts(one)


def _shown(spec: Any, value: Any) -> str:
    if value is None or value is MISSING:
        return "worked out"
    if isinstance(spec, Quantity):
        return units.told(value, spec.unit)
    return f"{value:g}" if isinstance(value, float) else str(value)


def chapter() -> str:
    """Return the chapter as it stands in the notes."""
    found = list(defaults())
    marks = Counter(mark_of(source) for _, _, source in found)
    formulas = all_formulas()
    by_mark = Counter(mark_of(one.source) for one in formulas)
    lines = [
        "# Where values come from",
        "",
        paragraph(
            "Written by `python -m tests.notes.values` from the tables, the fields of the rig file and the formulas.",
            "The reasons behind single values stand in [sources.md](sources.md).",
        ),
        "",
        paragraph(
            "**read**: seen in the source named, or in a public copy or program that states it. **from memory**:",
            "recalled, to be checked before anyone relies on it. **common practice**: a habit of the trade without a",
            "source. **judgement**: ours. **derived**: worked out here, or fitted to a computation of ours.",
            "**no mark**: theory known by name, bookkeeping, what is safest, or plain; and, among formulas, a",
            "work that is cited without saying whether it was read. Of several marks the first counts.",
        ),
        "",
        "| | " + " | ".join(MARKS.values()) + " | all |",
        "|---|" + "---:|" * (len(MARKS) + 1),
        f"| defaults of the rig file | {' | '.join(str(marks[mark]) for mark in MARKS)} | {len(found)} |",
        f"| formulas | {' | '.join(str(by_mark[mark]) for mark in MARKS)} | {len(formulas)} |",
        "",
        "## Tables",
        "",
        *table_rows(),
        "",
        paragraph(
            "Each row names its source. Rows not used stay in the table with the reason. Materials of your own are",
            "marked as yours.",
        ),
        "",
        "## Defaults",
        "",
        "What a rig file leaves out is taken so, and every output that it plays a part in lists it.",
        "",
        "| field | default | mark | source |",
        "|---|---|---|---|",
        *(
            f"| `{path}` | {value} | {MARKS[mark_of(source)]} | {source} |".replace("\n", " ")
            for path, value, source in found
        ),
        "",
        "## Formulas that are from memory, in whole or in part",
        "",
        "To be looked up first; where they stand in [formulas.md](formulas.md).",
        "",
        *(f"- `{one.name}`: {one.source}" for one in formulas if "from memory" in one.source),
        "",
    ]
    return "\n".join(lines)


if __name__ == "__main__":
    FILE.write_text(chapter(), encoding="utf-8", newline="\n")
