"""A user's own list of tube sizes: a CSV file with its columns named in the first line.

``outside diameter [mm], wall [mm]`` are needed; ``name``, ``material``, ``stock length`` and ``price per m`` or
``price per kg`` may stand beside them in any order. A length has its unit in the heading or in the cell. The
columns may be parted by semicolons or tabs instead of commas, as a spreadsheet may write them.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping
from io import StringIO
from pathlib import Path
from typing import Final

from .. import units
from ..errors import Problem, RigInputError
from ..frozen import dataclass
from ..rig.fields import MOST_MONEY
from .tube_tables import TubeSize

LARGEST_FILE_BYTES: Final = 1_000_000
MOST_TUBES: Final = 2000
MOST_COLUMNS: Final = 50
MOST_LETTERS: Final = 200

_TITLES: Final[Mapping[str, tuple[str, ...]]] = {
    "outside diameter": ("diameter", "outer diameter", "od", "o.d.", "outside dia", "dia"),
    "wall": ("wall thickness", "thickness"),
    "name": ("size", "designation"),
    "material": ("alloy",),
    "stock length": ("length", "bar length"),
    "price per": ("price per", "price/", "price /", "price"),
}
_LENGTHS: Final = {"outside diameter": (0.010, 0.8), "wall": (0.0005, 0.060), "stock length": (0.5, 30.0)}
"""Bands beyond which a slip of the unit is far likelier than the value; the first two are those of the rig file."""
_NEEDED: Final = ("outside diameter", "wall")
_KNOWN: Final = (
    "the columns are outside diameter, wall, name, material, stock length, price per m and price per kg"
)
_NUMBER_BEFORE: Final = re.compile(r"^[-+.0-9/ ]*(?:[eE][-+]?[0-9]+ *)?")
_UNIT_AFTER: Final = re.compile(r"(.*?)\s*[\[(]\s*([^\[\]()]*?)\s*[\])]")


@dataclass(frozen=True)
class _Column:
    """What a heading says.

    Parameters
    ----------
    kind : str
        A key of `_TITLES`; empty where the heading is not known.
    unit : str
        Of a length, or what a price is for; empty where the cells are to say.
    heading : str
        As written.
    """

    kind: str
    unit: str
    heading: str


def read_tube_list(path: str | Path) -> tuple[TubeSize, ...]:
    """Read a file of tube sizes.

    Parameters
    ----------
    path : str or Path
        CSV file.

    Returns
    -------
    tuple of TubeSize
        In the order of the file.

    Raises
    ------
    RigInputError
        With every problem found in it.
    OSError
        If it cannot be opened.
    """
    with Path(path).open("rb") as stream:
        raw = stream.read(LARGEST_FILE_BYTES + 1)
    if len(raw) > LARGEST_FILE_BYTES:
        raise _only(
            "file",
            f"over {LARGEST_FILE_BYTES:,} bytes",
            "a list of tubes is a few pages",
            "Check the file name.",
        )
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        raise _only(
            "file", f"not UTF-8 at byte {error.start}", "UTF-8 text is wanted", "Save the file as CSV UTF-8."
        ) from None
    return tubes_from_csv(text, source=Path(path).name)


def tubes_from_csv(text: str, *, source: str = "list of the user") -> tuple[TubeSize, ...]:
    """Read the text of a list of tube sizes.

    Parameters
    ----------
    text : str
        CSV with a line of headings.
    source : str
        What to call the list in the sizes read from it.

    Returns
    -------
    tuple of TubeSize
        In the order of the list, marked as the user's.

    Raises
    ------
    RigInputError
        With every problem found in the text.
    """
    reader = _Reader(source)
    sizes = tuple(reader.sizes(text.removeprefix("\ufeff")))
    if reader.problems:
        raise RigInputError(reader.problems, where="the list of tubes")
    return sizes


def _only(path: str, value: str, allowed: str, remedy: str) -> RigInputError:
    return RigInputError([Problem(path, value, allowed, remedy)], where="the list of tubes")


class _Reader:
    """Reads line by line and keeps every problem."""

    def __init__(self, source: str) -> None:
        self.source = source
        self.problems: list[Problem] = []
        self.seen: dict[tuple[object, ...], int] = {}

    def sizes(self, text: str) -> Iterator[TubeSize]:
        rows = self._rows(text)
        first = next(rows, None)
        if first is None:
            if not self.problems:
                begin = "Begin with a line of headings: diameter [mm], wall [mm]."
                self._problem("file", "", "it is empty", begin)
            return
        columns = self._columns(*first)
        if columns is None:
            return
        found = 0
        for line, cells in rows:
            found += 1
            if found > MOST_TUBES:
                self._problem(
                    f"line {line}",
                    "",
                    f"a list has at most {MOST_TUBES} tubes",
                    "Leave out what is not wanted.",
                )
                return
            if (size := self._size(line, cells, columns)) is not None:
                yield size
        if not found and not self.problems:
            self._problem("file", "", "there is no tube below the headings", "Add one line for each size.")

    def _problem(self, path: str, value: str, allowed: str, remedy: str) -> None:
        self.problems.append(Problem(path, value, allowed, remedy))

    def _rows(self, text: str) -> Iterator[tuple[int, list[str]]]:
        """Yield (line, cells) of every line that is not blank, the headings first."""
        heading = next((line for line in text.splitlines() if line.strip()), "")
        parted_by = next((mark for mark in ";\t" if mark in heading), ",")
        lines = csv.reader(
            StringIO(text, newline=""), delimiter=parted_by, skipinitialspace=True, strict=True
        )
        try:
            for cells in lines:
                stripped = [cell.strip() for cell in cells]
                if any(stripped):
                    yield lines.line_num, stripped
        except csv.Error as error:
            self._problem(
                f"line {lines.line_num}",
                "",
                f"it is not valid CSV: {error}",
                "Put quotes round a whole cell, and double those inside it.",
            )

    def _columns(self, line: int, headings: list[str]) -> list[_Column] | None:
        if len(headings) > MOST_COLUMNS or max(map(len, headings)) > MOST_LETTERS:
            self._problem(
                f"line {line}",
                f"{len(headings)} columns, {sum(map(len, headings))} letters",
                f"the first line heads at most {MOST_COLUMNS} columns, with at most {MOST_LETTERS} letters each",
                "Is this the list of tubes, and are its cells parted by commas, semicolons or tabs?",
            )
            return None
        columns = [self._column(line, heading) for heading in headings]
        kinds = [(c.kind, c.unit if c.kind == "price per" else "") for c in columns if c.kind]
        for kind, of in dict.fromkeys(k for k in kinds if kinds.count(k) > 1):
            self._problem(
                f"line {line}", f"{kind} {of}".strip(), "two columns are headed so", "Take one of them out."
            )
        for kind in _NEEDED:
            if (kind, "") not in kinds and all(c.kind for c in columns):
                self._problem(f"line {line}", "", f"there is no column {kind}", f"Add {kind} [mm].")
        return None if self.problems else columns

    def _column(self, line: int, heading: str) -> _Column:
        import difflib

        title, unit = heading, ""
        if match := _UNIT_AFTER.fullmatch(heading):
            title, unit = match.groups()
        plain = " ".join(title.replace("_", " ").casefold().split())
        kind = _kind(plain)
        if not kind and not unit and (split := re.fullmatch(r"(.*?)[ ,/]+(\S+)", plain)):
            # "diameter mm" and "price/kg" name their unit without brackets
            kind, unit = _kind(split[1]), split[2]
        here = f"line {line}, {heading}"
        if not kind and unit and plain.startswith("price per "):
            self._problem(here, unit, "a price is in your own money", f"Head it {plain}.")
        elif not kind:
            names = [name for kind, others in _TITLES.items() for name in (kind, *others)]
            near = difflib.get_close_matches(plain, names, n=1)
            remedy = f"Did you mean {near[0]}?" if near else "Rename the column, or take it out."
            self._problem(here, "", f"no column is known by this heading; {_KNOWN}", remedy)
        elif kind in _LENGTHS and unit:
            try:
                units.parse(f"1 {unit}", "m")
            except units.UnitError as error:
                self._problem(
                    here, unit, f"the heading {error.fault}; allowed is {error.allowed}", error.remedy
                )
        elif kind == "price per" and unit not in (*units.accepted("m"), *units.accepted("kg")):
            self._problem(
                here, unit, "a price is for a length or a mass", "Head it price per m or price per kg."
            )
        elif kind in ("name", "material") and unit:
            self._problem(here, unit, f"a {kind} has no unit", f"Head the column {kind}.")
        return _Column(kind, unit, heading)

    def _size(self, line: int, cells: list[str], columns: list[_Column]) -> TubeSize | None:
        if len(cells) != len(columns):
            self._problem(
                f"line {line}",
                f"{len(cells)} cells",
                f"there are {len(columns)} columns",
                "Put quotes round a cell that holds the mark between the columns, and fill short lines up.",
            )
            return None
        before = len(self.problems)
        texts: dict[str, str] = {}
        lengths: dict[str, float | None] = {}
        prices: dict[str, float] = {}
        for column, cell in zip(columns, cells, strict=True):
            here = f"line {line}, {column.heading}"
            if column.kind in _LENGTHS:
                lengths[column.kind] = self._length(here, cell, column)
            elif column.kind == "price per" and cell:
                self._price(here, cell, column.unit, prices)
            elif cell and not cell.isprintable():
                self._problem(
                    here, cell[:40], "a text of one line is wanted", "Take the strange characters out."
                )
            elif cell:
                texts[column.kind] = cell
        if len(self.problems) > before:
            return None
        diameter, wall = lengths["outside diameter"], lengths["wall"]
        assert diameter is not None
        assert wall is not None
        if 2 * wall >= diameter:
            self._problem(
                f"line {line}, wall",
                _shown(wall),
                f"it leaves no bore in a tube of {_shown(diameter)}",
                "Are the two columns swapped, or is one in another unit?",
            )
            return None
        material, stock = texts.get("material"), lengths.get("stock length")
        one = (round(diameter, 7), round(wall, 7), material, stock)
        if one in self.seen:
            self._problem(
                f"line {line}",
                f"{_shown(diameter)} x {_shown(wall)}",
                f"the same tube stands in line {self.seen[one]}",
                "Keep one of the two.",
            )
            return None
        self.seen[one] = line
        return TubeSize(
            name=texts.get("name", f"{1e3 * diameter:.6g} x {1e3 * wall:.6g} mm"),
            series=self.source,
            diameter_m=diameter,
            wall_m=wall,
            material=material,
            stock_length_m=stock,
            price_per_m=prices.get("m"),
            price_per_kg=prices.get("kg"),
            provenance="user",
            source=self.source,
        )

    def _length(self, here: str, cell: str, column: _Column) -> float | None:
        if not cell:
            if column.kind in _NEEDED:
                self._problem(here, "", "a length is wanted", "Fill the cell, or take the line out.")
            return None
        own = _NUMBER_BEFORE.sub("", cell)
        if not own and not column.unit:
            head = f"Head it {column.kind} [mm]."
            self._problem(here, cell, "it has no unit, and neither has the heading", head)
            return None
        try:
            value = units.parse(cell if own else f"{cell} {column.unit}", "m")
        except units.UnitError as error:
            self._problem(here, cell[:40], f"it {error.fault}; allowed is {error.allowed}", error.remedy)
            return None
        if own and column.unit and own != column.unit:
            remedy = f"Write it in {column.unit}, as the others are."
            self._problem(here, cell, f"the heading says {column.unit}", remedy)
            return None
        low, high = _LENGTHS[column.kind]
        if not low <= value <= high:
            self._problem(
                here,
                cell,
                f"it lies outside {_shown(low)} to {_shown(high)}, beyond which a slip is likelier",
                "Is the unit right?",
            )
            return None
        return value

    def _price(self, here: str, cell: str, of: str, prices: dict[str, float]) -> None:
        try:
            value = units.parse(cell, "1")
        except units.UnitError as error:
            self._problem(
                here, cell[:40], f"it {error.fault}; a bare number is wanted", "Write the number alone."
            )
            return
        if "%" in cell or not 0.0 <= value <= MOST_MONEY:
            self._problem(
                here, cell, f"a price is a bare number from 0 to {MOST_MONEY:g}", "Write the number alone."
            )
            return
        si = "m" if of in units.accepted("m") else "kg"
        if prices:
            self._problem(
                here, cell, "the line has a price per length and one per mass", "Leave one of the two empty."
            )
            return
        prices[si] = value / units.parse(f"1 {of}", si)


def _kind(plain: str) -> str:
    return next((kind for kind, others in _TITLES.items() if plain in (kind, *others)), "")


def _shown(length_m: float) -> str:
    return f"{length_m:g} m" if length_m >= 1.0 else f"{1e3 * length_m:g} mm"
