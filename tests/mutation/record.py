"""All changes of the formulas and limits, those that change nothing, and the table of what was caught."""

from __future__ import annotations

import sys
import tomllib
from collections import Counter
from functools import cache
from importlib import import_module
from pathlib import Path

from .changes import Change, changes_of
from .engine import WATCHED, Map, Outcome

ALIKE = Path(__file__).with_name("alike.toml")


def all_changes(where: Map) -> list[Change]:
    """Return every change of the formulas and limits."""
    found = []
    for folder in WATCHED:
        for path in sorted(Path(folder).rglob("*.py")):
            parts = path.relative_to(Path(folder).parents[1]).with_suffix("").parts
            name = ".".join(parts).removesuffix(".__init__")
            import_module(name)
            found += changes_of(sys.modules[name], where.tree(name))
    keys = Counter(c.key for c in found)
    assert max(keys.values()) == 1, keys.most_common(3)
    return found


@cache
def alike() -> dict[str, str]:
    """Return the changes that leave the behaviour as it is, each with the reason."""
    text = ALIKE.read_text(encoding="utf-8")
    return {key: one["why"] for one in tomllib.loads(text).get("alike", ()) for key in one["changes"]}


def table(changes: list[Change], found: dict[str, Outcome]) -> str:
    """Return what was caught, module by module, as a Markdown table."""
    rows: dict[str, Counter[str]] = {}
    for change in changes:
        row = rows.setdefault(change.module.removeprefix("rigcalc."), Counter())
        how = found[change.key]
        row["all"] += 1
        row["caught" if how.caught else "alike" if change.key in alike() else "left"] += 1
    total = sum(rows.values(), Counter())
    lines = ["| module | changes | caught | alike | left |", "|---|---:|---:|---:|---:|"]
    for name, row in (*rows.items(), ("all", total)):
        lines.append(f"| {name} | {row['all']} | {row['caught']} | {row['alike']} | {row['left']} |")
    n, caught, same = total["all"], total["caught"], total["alike"]
    lines.append(
        f"\nCaught: {caught / n:.1%} of all, {caught / max(n - same, 1):.1%} without those that change nothing."
    )
    return "\n".join(lines)
