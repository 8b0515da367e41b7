"""Where a path such as ``mast.stations[1].diameter`` leads in a rig file, and how other numbers are put there.

A path is written as the reader's messages write it, and ``[*]`` stands for every entry of a list. What is put there is
text, as its writer would type it, so that the reader judges it like any other file.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import Field
from typing import Any, Final, Literal, NoReturn

from .. import units
from ..errors import Problem, RigInputError
from ..frozen import dataclass
from ..rig import Rig
from ..rig.fields import (
    Angles,
    Curve,
    Heights,
    Quantity,
    Shares,
    Spec,
    Table,
    Tables,
    Whole,
    described_fields,
    spec_of,
)

Place = tuple[str | int, ...]
"""Keys and indices from the top of the file down to one number."""
Change = tuple[Place, str | int | float]

_STEP: Final = re.compile(r"([^.\[\]]+)((?:\[[^\[\]]*\])*)(?:\.(.+))?")
_DIGITS: Final = 12
"""Digits of what is put in a file: enough for any size, and few enough to drop the noise of the last bits."""
_EXAMPLES: Final = "mast.bury, mast.stations[1].diameter or mast.stations[*].wall"


@dataclass(frozen=True)
class Numbers:
    """The numbers of a rig file that one path names.

    Parameters
    ----------
    path : str
        As written.
    unit : str
        SI unit; ``1`` for a pure number.
    form : {"quantity", "whole", "share"}
        How it stands in the file: with its unit, as a whole number, or as a bare share.
    places : tuple of Place
        Where each of them stands, or would stand.
    together : bool
        Whether the path names a list as such, whose numbers differ: they can be scaled, not set to one value.
    default : float or None
        What the reader takes where the file does not give it.
    """

    path: str
    unit: str
    form: Literal["quantity", "whole", "share"]
    places: tuple[Place, ...]
    together: bool = False
    default: float | None = None

    def set_to(self, value: float, unit: str) -> list[Change]:
        """Return what sets every one of them to a value.

        Parameters
        ----------
        value : float
            In `unit`.
        unit : str
            One of ``units.accepted(self.unit)``.
        """
        return [(place, self._put(value, unit)) for place in self.places]

    def scaled(self, raw: Mapping[str, Any], factor: float) -> list[Change]:
        """Return what multiplies every one of them, each in the unit it is written in.

        Raises
        ------
        RigInputError
            If one is not given and has no default, or all are zero.
        """
        found = [self._given(raw, place) for place in self.places]
        if not any(value for value, _ in found):
            _refuse(self.path, "it is 0, and a factor leaves it so", "Vary it from one value to another.")
        return [
            (place, self._put(value * factor, unit))
            for place, (value, unit) in zip(self.places, found, strict=True)
        ]

    def _put(self, value: float, unit: str) -> str | int | float:
        if self.form == "whole":
            return int(value)
        return value if self.form == "share" else written(value, unit)

    def _given(self, raw: Mapping[str, Any], place: Place) -> tuple[float, str]:
        """Return what stands at a place, in the unit it is written in."""
        text = _at(raw, place)
        if text is None and self.default is None:
            _refuse(
                path_of(place),
                "the file does not give it, so there is nothing to multiply",
                "Give it in the file, or vary it from one value to another.",
            )
        if text is None:
            return float(self.default or 0.0), self.unit
        if not isinstance(text, str):
            return float(text), "1"
        unit = units.unit_in(text, self.unit)
        return units.convert(units.parse(text, self.unit), self.unit, unit), unit


def written(value: float, unit: str) -> str:
    """Return the text of a quantity for a rig file, rounded in the twelfth digit."""
    number = f"{value:.{_DIGITS}g}"
    return number if unit == "1" else f"{number} {unit}"


def path_of(place: Place) -> str:
    """Return a place as a message writes it."""
    return "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in place).removeprefix(".")


def numbers_at(raw: Mapping[str, Any], path: str) -> Numbers:
    """Return the numbers that a path names.

    Parameters
    ----------
    raw : mapping
        What the TOML of a rig file holds; of a file that the reader takes.
    path : str
        For example ``mast.bury``, ``mast.stations[*].wall`` or ``boat.stability.righting_arm[2][1]``.

    Returns
    -------
    Numbers

    Raises
    ------
    RigInputError
        If the path leads nowhere, or not to a number.
    """
    return _Walk(raw, path).table(Rig, path, "", ((),))


def with_values(raw: Mapping[str, Any], changes: Iterable[Change]) -> dict[str, Any]:
    """Return a copy of what a file holds, with other values at some places; tables that are missing are made."""
    changed = copy.deepcopy(dict(raw))
    for place, value in changes:
        *above, last = place
        inner: Any = changed
        for part in above:
            inner = inner.setdefault(part, {}) if isinstance(part, str) else inner[part]
        inner[last] = value
    return changed


def _refuse(path: str, allowed: str, remedy: str) -> NoReturn:
    raise RigInputError([Problem(path, "", allowed, remedy)], where="what is varied")


def _at(raw: Any, place: Place) -> Any:
    for part in place:
        raw = raw.get(part) if isinstance(part, str) else raw[part]
        if raw is None:
            return None
    return raw


@dataclass(frozen=True)
class _Walk:
    """Follows a path down the descriptions of the fields and the lists of the file."""

    raw: Mapping[str, Any]
    path: str

    def refuse(self, allowed: str, remedy: str) -> NoReturn:
        _refuse(self.path, allowed, remedy)

    def table(self, table: type[Any], rest: str, here: str, places: tuple[Place, ...]) -> Numbers:
        match = _STEP.fullmatch(rest)
        if match is None:
            self.refuse("it is not a path", f"Write it as messages do: {_EXAMPLES}.")
        key, brackets, below = match.groups()
        known = described_fields(table)
        if key not in known:
            self.unknown(key, known, here)
        indices = re.findall(r"\[([^\[\]]*)\]", brackets)
        inner = tuple((*place, key) for place in places)
        return self.value(known[key], indices, below, f"{here}.{key}" if here else key, inner)

    def unknown(self, key: str, known: Mapping[str, Field[Any]], here: str) -> NoReturn:
        import difflib

        near = difflib.get_close_matches(key.lower(), known, n=1, cutoff=0.6)
        if near:
            start = len(here) + 1 if here else 0
            meant: str | None = self.path[:start] + near[0] + self.path[start + len(key) :]
        else:
            meant = _nearest(self.raw, self.path)
        remedy = f"Did you mean {meant}?" if meant else "`rigcalc schema` tells the keys."
        self.refuse(f"there is no {key!r} {f'in {here}' if here else 'at the top of a rig file'}", remedy)

    def value(
        self, entry: Field[Any], indices: list[str], below: str | None, here: str, places: tuple[Place, ...]
    ) -> Numbers:
        spec = spec_of(entry)
        if isinstance(spec, Tables):
            if len(indices) != 1:
                self.refuse(
                    f"{here} is a list of tables", f"Write {here}[0] or {here}[*], and a number in it."
                )
            places = self.entries(places, indices[0], here)
            here, indices = f"{here}[{indices[0]}]", []
        if isinstance(spec, Table | Tables | Shares):
            if indices:
                self.refuse(f"{here} is not a list", f"Leave [{indices[0]}] out.")
            if below is None:
                self.refuse(
                    f"{here} is a table, not a number", f"Name a number in it{self.some_of(spec, here)}."
                )
            if isinstance(spec, Shares):
                return self.share(below, here, places)
            return self.table(spec.of, below, here, places)
        if below is not None:
            self.refuse(f"{here} is not a table", f"Leave .{below} out.")
        if isinstance(spec, Curve | Heights | Angles):
            return self.listed(spec, indices, here, places)
        if not isinstance(spec, Quantity | Whole):
            self.refuse(f"{here} is not a number", "Only numbers can be varied.")
        if indices:
            self.refuse(f"{here} is not a list", f"Leave [{indices[0]}] out.")
        default = entry.default if isinstance(entry.default, int | float) else None
        if isinstance(spec, Whole):
            return Numbers(self.path, "1", "whole", places, default=default)
        return Numbers(self.path, spec.unit, "quantity", places, default=default)

    def share(self, name: str, here: str, places: tuple[Place, ...]) -> Numbers:
        named = tuple((*place, name) for place in places)
        for place, inner in zip(places, named, strict=True):
            if _at(self.raw, inner) is None:
                names = ", ".join(f"{here}.{known}" for known in _at(self.raw, place))
                self.refuse("the file does not name it", f"There is {names}.")
        return Numbers(self.path, "1", "share", named)

    def listed(
        self, spec: Curve | Heights | Angles, indices: list[str], here: str, places: tuple[Place, ...]
    ) -> Numbers:
        """Return one number of a list, those of one column, or the list as such."""
        depth = 2 if isinstance(spec, Curve) else 1
        if len(indices) not in (0, depth) or (isinstance(spec, Curve) and not indices and not spec.ordered):
            example = f"{here}[0][1] or {here}[*][1]" if depth == 2 else f"{here}[0] or {here}[*]"
            self.refuse("it is not a number", f"Write {example}.")
        inner = self.entries(places, indices[0] if indices else "*", here)
        if not isinstance(spec, Curve):
            unit = "m" if isinstance(spec, Heights) else "rad"
            return Numbers(self.path, unit, "quantity", inner, together=not indices)
        column = indices[1] if indices else "1"
        if column not in ("0", "1"):
            self.refuse("each entry is a pair", f"Write {here}[{indices[0]}][0] or {here}[{indices[0]}][1].")
        inner = tuple((*place, int(column)) for place in inner)
        return Numbers(self.path, spec.units[int(column)], "quantity", inner, together=not indices)

    def entries(self, places: tuple[Place, ...], index: str, here: str) -> tuple[Place, ...]:
        """Return the places of one entry, or of all, of a list that stands at some places."""
        found: list[Place] = []
        for place in places:
            count = len(_at(self.raw, place) or ())
            if not count:
                self.refuse(f"the file gives no {path_of(place)}", "Give it in the file, or vary another.")
            if index == "*":
                found += [(*place, i) for i in range(count)]
            elif index.isascii() and index.isdecimal() and int(index[:9]) < count:
                found.append((*place, int(index)))
            else:
                last = f" to {here}[{count - 1}]" if count > 1 else ""
                self.refuse(
                    f"there is no {here}[{index}]", f"The file has {here}[0]{last}; [*] is all of them."
                )
        return tuple(found)

    def some_of(self, spec: Spec, here: str) -> str:
        if isinstance(spec, Shares):
            return ""
        assert isinstance(spec, Table | Tables)
        numbers = [
            key
            for key, entry in described_fields(spec.of).items()
            if isinstance(spec_of(entry), Quantity | Whole)
        ]
        return f": {', '.join(f'{here}.{key}' for key in numbers[:3])}" if numbers else ""


def _nearest(raw: Mapping[str, Any], path: str) -> str | None:
    """Return the path of the file that is most like one that leads nowhere."""
    import difflib

    plain = {_INDEX.sub("", known): known for known in _paths(Rig, raw, "")}
    bare = _INDEX.sub("", path)
    same_end = [
        known for short, known in plain.items() if short.rpartition(".")[2] == bare.rpartition(".")[2]
    ]
    if same_end:
        return same_end[0]
    near = difflib.get_close_matches(bare, plain, n=1, cutoff=0.5)
    return plain[near[0]] if near else None


_INDEX: Final = re.compile(r"\[[^\]]*\]")


def _paths(table: type[Any], raw: Any, here: str) -> Iterator[str]:
    """Yield the paths of numbers in a file's tables, of lists by their first entry."""
    for key, entry in described_fields(table).items():
        spec, path = spec_of(entry), f"{here}.{key}" if here else key
        inner = raw.get(key)
        if isinstance(spec, Quantity | Whole):
            yield path
        elif isinstance(spec, Table):
            yield from _paths(spec.of, inner or {}, path)
        elif isinstance(spec, Tables) and inner:
            yield from _paths(spec.of, inner[0], f"{path}[0]")
