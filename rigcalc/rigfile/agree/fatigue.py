"""Rules for the life at sea and the fatigue details."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...errors import Problem
from ...materials import MaterialError, find_fatigue_detail
from ..loose import Loose

ALUMINIUM_E_PA = (6e10, 8e10)
"""Young's modulus of whatever may be called aluminium; the named details are for it alone."""
METAL_E_PA = (1e9, 5e11)
"""Outside it a slip is likelier, and is told by itself."""


def fatigue_rules(fatigue: Loose, mast: Loose, own: Sequence[Loose]) -> Iterator[Problem]:
    """Yield what is wrong with the fatigue of the mast."""
    welded = bool(mast.get("weld"))
    for prefix, asked in (("", True), ("weld_", welded)):
        if not fatigue.has(f"{prefix}detail", f"{prefix}category_Pa", f"{prefix}slope"):
            continue
        category, slope = fatigue[f"{prefix}category_Pa"], fatigue[f"{prefix}slope"]
        if category is not None and slope is None:
            yield Problem(
                f"{fatigue.path}.{prefix}slope",
                "",
                f"{prefix}category needs the slope of its curve",
                f"Add {prefix}slope = 3.4, say.",
            )
        if category is None:
            yield from _name(fatigue, prefix)
            if asked:
                yield from _aluminium(fatigue, prefix, mast, own)
    if not welded and "weld" in mast:
        for name in ("weld_detail", "weld_category"):
            given = fatigue.get(name, fatigue.get(f"{name}_Pa"))
            if given is not None:
                yield Problem(
                    f"{fatigue.path}.{name}",
                    "",
                    "the mast has no weld",
                    "Take it out, or add the [[mast.weld]].",
                )


def _name(fatigue: Loose, prefix: str) -> Iterator[Problem]:
    name = fatigue[f"{prefix}detail"]
    if name is None:
        return
    path = f"{fatigue.path}.{prefix}detail"
    try:
        detail = find_fatigue_detail(name)
    except MaterialError as error:
        yield Problem(path, f'"{error.name}"', error.problem, error.remedy)
        return
    if prefix and not detail.welded:
        yield Problem(
            path, f'"{name}"', "it is no weld", "Name one that is: attachment-long bears the least."
        )


def _aluminium(fatigue: Loose, prefix: str, mast: Loose, own: Sequence[Loose]) -> Iterator[Problem]:
    parts = [mast, *mast.get("sleeve", ()), *([mast.post] if mast.get("post") is not None else [])]
    used = {part.get("material") for part in parts}
    low, high = ALUMINIUM_E_PA
    for m in own:
        E = m.get("E_Pa")
        if m.get("name") not in used or m.get("family") != "metal" or E is None:
            continue
        if METAL_E_PA[0] <= E <= METAL_E_PA[1] and not low <= E <= high:
            yield Problem(
                f"{fatigue.path}.{prefix}detail",
                "",
                f'named details are those of aluminium, and "{m.name}" has E {E / 1e9:.4g} GPa',
                f"Give {prefix}category and {prefix}slope of that metal.",
            )
