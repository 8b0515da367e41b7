"""The chapter on validation, from the records in this folder.

``python -m tests.published.chapter`` writes ``reference_notes/validation.md``; a test fails where it is out of date.
"""

from __future__ import annotations

import ast
import math
import re
import textwrap
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Final, get_args

from .record import HALF_A_DIGIT, Kind, Part, Published, Seen, Source

FOLDER: Final = Path(__file__).parent
FILE: Final = FOLDER.parents[1] / "reference_notes" / "validation.md"
SIDE_JOB: Final = "cutting and pieces"

MEANS: Final[dict[Kind, str]] = {
    "printed": "the figure stands in print; ours is within half a unit of its last digit",
    "formula": "a formula or an exact fraction stands in print; numbers were put into it",
    "worked out": "the data stand in print; the figure was worked out from them by hand, apart from the tool",
    "inferred": "the figure stands in print, but an input does not and was inferred: it proves less than its digits",
    "table": "an entry of a published table that the tool has taken over and gives back: a check of typing",
    "model": "a rule of the tool stands for a table or trial it does not repeat; the tolerance is the most it errs by",
    "disputed": "the figure stands in print, the tool does not give its last digit, and the reason stands beside it",
}


@dataclass(frozen=True)
class Sheet:
    """One module of records.

    Parameters
    ----------
    module : module
        The module.
    citation : str
        What stands on top of it.
    source : Source
        What is known of the source.
    checks : tuple of Published
        Its values.
    """

    module: ModuleType
    citation: str
    source: Source
    checks: tuple[Published, ...]

    @property
    def stem(self) -> str:
        return self.module.__name__.rsplit(".", 1)[-1]

    def seen(self, check: Published) -> Seen:
        return check.seen or self.source.seen


def citation_of(module: ModuleType) -> str:
    """Return the citation on top of a module."""
    text = ast.get_docstring(ast.parse(Path(str(module.__file__)).read_text(encoding="utf-8"))) or ""
    match = re.search(r"Source: (.*?)(?:\n\n|\Z)", text, re.DOTALL)
    return " ".join(match[1].split()).rstrip(".") if match else ""


def forget_cached(module: ModuleType) -> None:
    """Empty what the functions of a module keep, so that the next value is worked out from the start."""
    for found in vars(module).values():
        if hasattr(found, "cache_clear") and getattr(found, "__module__", "") == module.__name__:
            found.cache_clear()


def sheets() -> tuple[Sheet, ...]:
    """Return the modules of this folder that hold records; one without a source is an error."""
    found = []
    for path in sorted(FOLDER.glob("test_*.py")):
        if path.stem in ("test_records", "test_chapter"):
            continue
        module = import_module(f"{__package__}.{path.stem}")
        found.append(Sheet(module, citation_of(module), module.SOURCE, tuple(module.CHECKS)))
    return tuple(found)


NUDGE: Final = 1e-12
"""Share by which a number is moved before it is rounded, so that a tie goes one way on every platform."""


def figures(value: float, last_digit: float) -> str:
    """Return a value to the digits that stand in print."""
    decimals = max(-math.floor(math.log10(last_digit) + NUDGE), 0)
    value = float(value) * (1 + NUDGE)
    if last_digit > 999 or (decimals > 6 and 0 < abs(value) < 1e-3):
        shown = math.floor(math.log10(abs(value))) - math.floor(math.log10(last_digit) + NUDGE)
        return f"{value:.{shown}e}".replace("e-0", "e-").replace("e+0", "e")
    return f"{value:.{decimals}f}"


def ours_text(value: float, check: Published) -> str:
    """Return our value with one digit more than the print, at most ten."""
    digit = digits_shown(check, more=10.0)
    return figures(0.0 if abs(value) < digit / 2 else value, digit)


def digits_shown(check: Published, *, more: float = 1.0) -> float:
    """Return the unit of the last digit to show: zeros at the end of a figure are known by its tolerance alone."""
    digit = check.last_digit
    if check.reason.startswith(HALF_A_DIGIT):
        digit = min(digit, 10.0 ** math.floor(math.log10(2 * check.tolerance) + 1e-3))
    return max(digit / more, 10.0 ** math.floor(math.log10(abs(check.value) or 1.0) - 9))


def difference(check: Published, ours: float) -> str:
    """Return the difference in parts of the tolerance, so coarse that platforms agree."""
    share = abs(ours - check.value) / check.tolerance + NUDGE
    return "0" if share < 0.05 else f"{share:.1f}"


def tolerance_text(check: Published) -> str:
    return f"{check.tolerance:.2g}".replace("e-0", "e-").replace("e+0", "e")


def reason_text(check: Published) -> str:
    if check.reason == HALF_A_DIGIT:
        return "half a digit"
    return check.reason.replace(HALF_A_DIGIT, "half a digit").replace("|", "/")


def where_from(check: Published, seen: Seen, source: Source) -> str:
    notes = [
        note
        for note in (check.kind if check.kind != "printed" else "", seen if seen != source.seen else "")
        if note
    ]
    return f" ({', '.join(notes)})" if notes else ""


def rows(sheet: Sheet) -> Iterator[str]:
    yield "| where | quantity | published | ours | share | tolerance | why |"
    yield "|---|---|---|---|---|---|---|"
    for check in sheet.checks:
        ours = check.ours()
        full = "" if check.in_full is None else f"; in full {ours_text(check.in_full(), check)}"
        unit = "" if check.unit in ("1", "-") else f" {check.unit}"
        cells = (
            check.where,
            check.quantity + where_from(check, sheet.seen(check), sheet.source),
            figures(check.value, digits_shown(check)) + unit,
            ours_text(ours, check) + full,
            difference(check, ours),
            tolerance_text(check),
            reason_text(check),
        )
        yield "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"


def figures_in_print(found: Iterable[tuple[Sheet, Published]]) -> int:
    """Return how many different figures there are: one that two paths reproduce counts once."""
    return len(
        {(sheet.source.name, check.where.split(",")[0], check.unit, check.value) for sheet, check in found}
    )


def table(head: str, columns: Iterable[str], lines: Iterable[tuple[str, Iterable[int]]]) -> Iterator[str]:
    columns = tuple(columns)
    yield f"| {head} | " + " | ".join(columns) + " |"
    yield "|---|" + "---:|" * len(columns)
    for name, counts in lines:
        yield f"| {name} | " + " | ".join(str(count) for count in counts) + " |"


def paragraph(*said: str, mark: str = "") -> str:
    """Return sentences as lines of the notes' width."""
    return textwrap.fill(
        " ".join(said), 118, initial_indent=mark, subsequent_indent=" " * len(mark), break_on_hyphens=False
    )


def opening(found: tuple[Sheet, ...]) -> Iterator[str]:
    main = tuple(sheet for sheet in found if sheet.source.part != SIDE_JOB)
    everything, of_main = (
        [(sheet, check) for sheet in part for check in sheet.checks] for part in (found, main)
    )
    strict = [
        pair for pair in of_main if pair[1].kind == "printed" and pair[0].seen(pair[1]) != "from memory"
    ]
    names, main_names = ({sheet.source.name for sheet in part} for part in (found, main))
    yield "# Published checks"
    yield ""
    yield paragraph(
        "Written by `python -m tests.published.chapter` from the records in `tests/published/`, which are the tests",
        "themselves: a value here that did not hold would fail them. Do not edit it by hand.",
    )
    yield ""
    yield paragraph(
        f"**{len(everything)} values of {len(names)} sources** are held; {len(of_main)} of them, of",
        f"{len(main_names)} sources, belong to the main job: wind, sails, righting, the mast, its walls, timber,",
        "laminates, bearings and furling.",
        f"Not all weigh alike. **{len(strict)} values of the main job are figures that stand in print, were not",
        "recalled from memory, and are met to half a unit of their last digit** (or to the unit, where the source",
        "cuts short).",
        f"{figures_in_print(strict)} of these are different figures: some are reached by two paths, by formula and",
        "through a rig file.",
    )
    yield ""
    yield "## How to read it"
    yield ""
    kinds, main_kinds = (Counter(check.kind for _, check in pairs) for pairs in (everything, of_main))
    yield from table(
        "kind, and what it means",
        ("values", "main job"),
        ((f"**{kind}**: {means}", (kinds[kind], main_kinds[kind])) for kind, means in MEANS.items()),
    )
    yield ""
    seen = Counter(sheet.seen(check) for sheet, check in everything)
    yield paragraph(
        "**read**: the work named was seen, whole or in pages. **second hand**: what it prints was read where another",
        "quotes it, such as a notebook of worked examples or the tests of a public program. **from memory**: recalled;",
        "look it up before you rely on it.",
        f"{seen['read']} values are read, {seen['second hand']} second hand, {seen['from memory']} from memory.",
        mark="- ",
    )
    yield paragraph(
        "**published** has the digits in print, **ours** one more. Where the source goes on from what it has rounded,",
        "so does ours, and *in full* tells what nothing rounded gives.",
        mark="- ",
    )
    yield paragraph(
        "**share** is the difference over the tolerance; 1 is the most that passes. *half a digit* is half a unit of",
        "the last digit printed. A wider tolerance has its reason beside it. Tests refuse one without, and refuse a",
        "record that nought, a value a fifth off or the other sign would pass, or that calls nothing of the tool.",
        mark="- ",
    )
    yield paragraph(
        "The rows of the tool's own tables (metals, timber, plies, bearing materials) are held to print in tests of",
        "their own and are not counted here. What was derived by us is held against other computations (quadrature,",
        "finite elements, shooting), not against print; the notes on method say where.",
        mark="- ",
    )
    yield ""
    yield from table(
        "part of the job",
        ("sources", "values", "printed", "other kinds", *get_args(Seen)),
        ((part, part_counts(found, part)) for part in get_args(Part)),
    )
    yield ""


def part_counts(found: tuple[Sheet, ...], part: Part) -> tuple[int, ...]:
    of = [(sheet, check) for sheet in found if sheet.source.part == part for check in sheet.checks]
    printed = sum(check.kind == "printed" for _, check in of)
    marks = Counter(sheet.seen(check) for sheet, check in of)
    sources = len({sheet.source.name for sheet, _ in of})
    return (sources, len(of), printed, len(of) - printed, *(marks[kind] for kind in get_args(Seen)))


def chapter(found: tuple[Sheet, ...]) -> str:
    """Return the chapter as it stands in the notes."""
    lines = list(opening(found))
    lines += ["## Disagreements between sources, and with us", ""]
    for sheet in found:
        lines += [
            paragraph(f"*{sheet.source.name}* (`{sheet.stem}`). {text}", mark="- ")
            for text in sheet.source.differs
        ]
    lines += [paragraph(text, mark="- ") for text in OTHER_DISAGREEMENTS]
    lines += [""]
    for part in get_args(Part):
        lines += [f"## {part[0].upper()}{part[1:]}", ""]
        for sheet in found:
            if sheet.source.part == part:
                lines += [f"### {sheet.source.name}: `{sheet.stem}`", ""]
                lines += [
                    paragraph(f"{sheet.source.seen[0].upper()}{sheet.source.seen[1:]}. {sheet.citation}."),
                    "",
                ]
                lines += [*rows(sheet), ""]
    return "\n".join(lines)


OTHER_DISAGREEMENTS: Final = (
    "*Metals.* ASTM and EN minimums of one alloy differ (6061-T6: proof 241 and 240, ultimate 262 and 260 MPa). Each "
    "row of the table is of one standard. Factors of welded 6082-T6 in public programs (0.64, 0.71) do not fit the "
    "strengths beside them and were not taken. Poisson's ratio is 0.30 in EN, 0.33 in American tables.",
    "*Bearing materials.* Filled PTFE bears 17.2 or 7 MPa by source, PTFE fabric a pressure times speed of 0.88 or "
    "1.60 MPa m/s; PTFE has a modulus of 398 to 1551 MPa; polyethylene grows by 36 to 200 millionths a kelvin. The "
    "lowest limit counts, and the whole span of what may be either way; rows judged wrong stay in the table, marked.",
    "*Laminates.* Plies of E-glass have a shear modulus of 3.3 to 5.8 GPa and a shear strength of 40 to 89 MPa by "
    "source, the fibre a Poisson's ratio of 0.20 to 0.33. Polyester and vinylester of one list are denser than in all "
    "others and were left out.",
    "*Timber.* Boat practice scarfs at 1 in 8 to 1 in 10, a handbook of other trades asks for 1 in 15; 1 in 12 is the "
    "default here. European species differ from table to table; the lowest is taken.",
    "*Wind.* The Beaufort scale parts force 4 from 5 at 15/16 or at 16/17 knots by source; the second is used.",
    "*Fatigue.* A public page has a sign wrong in the gamma function of narrow-band damage; the formula used is held "
    "to another that has it right.",
)
"""What the tables behind the tool disagree in, which no record holds."""


if __name__ == "__main__":
    FILE.write_text(chapter(sheets()), encoding="utf-8", newline="\n")
