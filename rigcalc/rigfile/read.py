"""From TOML to a Rig, with every problem found at once.

The reader walks the dataclasses of :mod:`rigcalc.rig`: what may stand in a file, in which unit and
within which bounds is said there and nowhere else.
"""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Mapping
from dataclasses import Field
from itertools import pairwise
from typing import Any

from .. import units
from ..errors import Problem, RigInputError
from ..rig import Rig
from ..rig.fields import (
    Angles,
    Choice,
    Curve,
    Heights,
    Quantity,
    Shares,
    Spec,
    Table,
    Tables,
    Text,
    Texts,
    Whole,
    described_fields,
    is_needed,
    is_read,
    is_required,
    spec_of,
)
from .agree import disagreements, timber_not_read
from .loose import Loose
from .wording import LARGEST_BARE, example_of, likely, named, short, shown, slip, toml_remedy, wants

MOST_PROBLEMS = 300
"""A file with more is no rig file, or one slip in it was copied: to tell of all would tell nothing."""
MOST_TEXTS = 100
MOST_LETTERS = 500
MOST_ANGLES = 72
"""Every five degrees of a whole turn: each angle is a case of its own to solve."""
MOST_PARTS = 16
"""As the pattern below has it."""
_LONG_KEY = re.compile(r"""(?<![\w-])(?:(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+){16}""", re.ASCII)
"""The parser of the library takes time with the square of the parts: a file of one key could keep it for hours."""
_LEAST = 1e-15
"""Below this in SI a number is nonsense, and what is divided by it may be endless."""
_BROKEN = object()
"""Stands for a value that could not be read; whatever holds it is not built."""


def read_rig(text: str) -> Rig:
    """Read the text of a rig file.

    Parameters
    ----------
    text : str
        TOML.

    Returns
    -------
    Rig

    Raises
    ------
    RigInputError
        With every problem found in the text.

    Examples
    --------
    >>> from rigcalc import RigInputError, read_rig, starter_text
    >>> read_rig(starter_text())
    <Rig 'Starter: 4.6 m open boat with one freestanding mast': 5.60 m mast of 6061-T6 extruded, 1 sail>
    >>> try:
    ...     read_rig(starter_text().replace('bury = "0.75 m"', 'bury = "0.75"'))
    ... except RigInputError as error:
    ...     print(error.problems[0].path)
    mast.bury
    """
    return read_table(toml_table(text))


def toml_table(text: str) -> dict[str, Any]:
    """Return what the text of a rig file holds, before any of it is judged.

    Raises
    ------
    RigInputError
        If it is not TOML.
    """
    if long := _LONG_KEY.search(text):
        line = text.count("\n", 0, long.start()) + 1
        raise RigInputError(
            [
                Problem(
                    "file",
                    f"line {line}: {long[0][:30]}...",
                    f"a key has at most {MOST_PARTS} parts with dots between them",
                    "A rig file needs three levels at most.",
                )
            ]
        )
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))  # some editors put a byte order mark in front
    except ValueError as error:  # TOMLDecodeError, or a whole number of thousands of digits
        fault = re.sub(r"; use sys\..*", "", str(error))
        raise RigInputError(
            [Problem("file", "", f"it is not valid TOML: {fault}", toml_remedy(fault))]
        ) from None
    except RecursionError:
        raise RigInputError(
            [
                Problem(
                    "file",
                    "",
                    "it nests tables or lists too deeply",
                    "A rig file needs three levels at most.",
                )
            ]
        ) from None


def read_table(raw: Mapping[str, Any]) -> Rig:
    """Read a rig from what the TOML of its file holds, which stays as it is.

    Parameters
    ----------
    raw : mapping
        As :func:`toml_table` returns it.

    Returns
    -------
    Rig

    Raises
    ------
    RigInputError
        With every problem found in it.
    """
    reader = _Reader()
    rig = reader.table(Rig, raw, "")
    assert rig is not None
    unread = timber_not_read(rig)
    problems = reader.problems + disagreements(rig)
    problems += [
        Problem(path, "", f"it is read only by {reads}", "Take it out.")
        for path, reads in unread.items()
        if path not in reader.defaults
    ]
    if problems:
        raise RigInputError(problems)
    built = _build(Rig, rig, defaults=tuple(path for path in reader.defaults if path not in unread))
    assert isinstance(built, Rig)
    return built


def _build(table: type[Any], values: Mapping[str, Any], **more: Any) -> Any:
    """Make the dataclasses from the values read, innermost first."""

    def made(value: Any) -> Any:
        if isinstance(value, Loose):
            return _build(value.table, value)
        if isinstance(value, tuple):
            return tuple(made(v) for v in value)
        return value

    return table(**{name: made(value) for name, value in values.items()}, **more)


class _Reader:
    def __init__(self) -> None:
        self.problems: list[Problem] = []
        self.defaults: list[str] = []

    def _problem(self, path: str, value: Any, allowed: str, remedy: str) -> Any:
        if len(self.problems) == MOST_PROBLEMS:
            rest = Problem("file", "", "there is more wrong, which was not looked at", "Mend these first.")
            raise RigInputError([*self.problems, rest])
        self.problems.append(Problem(path, shown(value), allowed, remedy))
        return _BROKEN

    def table(self, table: type[Any], raw: Any, path: str) -> Loose | None:
        if not isinstance(raw, dict):
            one = next(iter(described_fields(table)))
            form = f"{{{one} = ...}}" if path.endswith("]") else f"[{path}] with keys below it"
            self._problem(path, raw, "a table is wanted", f"Write it as {form}.")
            return None
        known = described_fields(table)
        for key in raw:
            if key not in known:
                self._unknown_key(key, known, path)
        values: dict[str, Any] = {}
        for key, entry in known.items():
            here = f"{path}.{key}" if path else key
            if key in raw:
                value = self._value(spec_of(entry), raw[key], here)
            elif is_required(entry):
                value = self._missing(entry, here)
            elif isinstance(entry.default, _table_of(entry)):
                # a table left out is read as an empty one, so that its defaults are noted too
                value = self.table(type(entry.default), {}, here)
            else:
                value = entry.default
            if value is not _BROKEN:
                values[entry.name] = value
        loose = Loose(table, path, values)
        self._note_unread(loose, raw, path)
        return loose

    def _missing(self, entry: Field[Any], here: str) -> Any:
        spec = spec_of(entry)
        because = f"; it is needed when {spec.needed[1]}" if spec.needed else ""
        return self._problem(
            here, None, f"it is missing: {spec.help.rstrip('.')}{because}", f"Add {example_of(entry, here)}."
        )

    def _unknown_key(self, key: str, known: Mapping[str, Field[Any]], path: str) -> None:
        import difflib

        here = f"{path}.{key}" if path else key
        near = difflib.get_close_matches(key[:MOST_LETTERS].lower(), known, n=1, cutoff=0.6)
        allowed = (
            f"there is no such key{f' in [{path}]' if path else ''}; there are {', '.join(sorted(known))}"
        )
        remedy = f"Did you mean {near[0]!r}?" if near else _take_out(path)
        self._problem(here, None, allowed, remedy)

    def _note_unread(self, loose: Loose, raw: Mapping[str, Any], path: str) -> None:
        """Refuse what is given but plays no part, ask for what must be given, and file the defaults that do."""
        for key, entry in described_fields(loose.table).items():
            spec = spec_of(entry)
            try:
                read, needed = is_read(entry, loose), is_needed(entry, loose)
            except AttributeError:
                continue  # it hangs on a field that could not be read; that problem comes first
            here = f"{path}.{key}" if path else key
            if key in raw and not read:
                kinds = f"cases of kind {' or '.join(spec.only)}" if spec.only else ""
                reads = (
                    kinds if spec.only and loose.kind not in spec.only else spec.when[1] if spec.when else ""
                )
                where = "is read only by" if reads == kinds else "is read only when"
                self._problem(here, raw[key], f"it {where} {reads}", "Take it out.")
            elif key not in raw and needed:
                self._missing(entry, here)
            elif key not in raw and read and spec.default_from:
                self.defaults.append(here)

    def _value(self, spec: Spec, raw: Any, here: str) -> Any:
        match spec:
            case Quantity():
                return self._quantity(spec, raw, here)
            case Whole():
                return self._whole(spec, raw, here)
            case Choice():
                return self._choice(spec, raw, here)
            case Text():
                return self._text(raw, here)
            case Texts():
                return self._texts(raw, here)
            case Curve():
                return self._curve(spec, raw, here)
            case Heights():
                return self._heights(spec, raw, here)
            case Angles():
                return self._angles(raw, here)
            case Shares():
                return self._shares(raw, here)
            case Table():
                loose = self.table(spec.of, raw, here)
                return _BROKEN if loose is None else loose
            case Tables():
                return self._tables(spec, raw, here)
        raise TypeError(f"no reader for {type(spec).__name__}")

    def _text(self, raw: Any, here: str) -> Any:
        if not isinstance(raw, str):
            return self._problem(here, raw, "a text is wanted", 'Write it in quotes: "...".')
        if not raw.strip():
            return self._problem(here, raw, "it is empty", "Write something between the quotes.")
        if not raw.isprintable():
            odd = next(c for c in raw if not c.isprintable())
            return self._problem(
                here,
                raw,
                "a text of one line is wanted, with nothing in it that does not print",
                f"Type it afresh without the character U+{ord(odd):04X}.",
            )
        if len(raw) > MOST_LETTERS:
            return self._problem(
                here, raw, f"a text of at most {MOST_LETTERS} letters is wanted", "Shorten it."
            )
        return raw.strip()

    def _texts(self, raw: Any, here: str) -> Any:
        if not isinstance(raw, list) or not 1 <= len(raw) <= MOST_TEXTS:
            return self._problem(
                here, raw, f"a list of 1 to {MOST_TEXTS} texts is wanted", 'Write ["...", "..."].'
            )
        found = [self._text(item, f"{here}[{i}]") for i, item in enumerate(raw)]
        return _BROKEN if _BROKEN in found else tuple(found)

    def _quantity(self, spec: Quantity, raw: Any, here: str) -> Any:
        wanted = f"{named(units.dimension_name(spec.unit))} with its unit" if spec.unit != "1" else "a number"
        is_number = isinstance(raw, (int, float)) and not isinstance(raw, bool)
        if is_number and abs(raw) > LARGEST_BARE:
            return self._problem(here, raw, f"{wanted} is wanted, and none is as large", "Check the number.")
        if is_number and spec.unit == "1":
            raw = repr(raw)
        elif not isinstance(raw, str):
            example = " or ".join(f'"{t}"' for t in likely(spec, f"{raw}")) if is_number else ""
            remedy = f"Write it as a text with its unit: {example}." if example else wants(spec)
            return self._problem(here, raw, f"{wanted} is wanted", remedy)
        try:
            value = units.parse(raw, spec.unit)
        except units.UnitError as error:
            remedy = error.remedy
            if spec.unit == "1" and error.kind in ("unknown unit", "wrong dimension"):
                remedy = "Write the number alone, or with a % behind it."
            if error.kind == "no unit" and (meant := likely(spec, raw)):
                remedy = f"Add the unit: {' or '.join(meant)}?"
            return self._problem(here, error.text, f"it {error.fault}; allowed is {error.allowed}", remedy)
        return self._bounded(spec, value, raw, here)

    def _bounded(self, spec: Quantity, value: float, raw: str, here: str) -> Any:
        def show(limit: float) -> str:
            return units.handy(limit, spec.unit)

        bounds = (
            (spec.above is not None and value <= spec.above, f"it must be above {show(spec.above or 0)}"),
            (
                spec.at_least is not None and value < spec.at_least,
                f"it must be at least {show(spec.at_least or 0)}",
            ),
            (
                spec.at_most is not None and value > spec.at_most,
                f"it must be at most {show(spec.at_most or 0)}",
            ),
        )
        for broken, allowed in bounds:
            if broken:
                remedy = slip(spec, raw, otherwise="Check the number and its sign.")
                return self._problem(here, raw, allowed, f"{spec.help} {remedy}".strip())
        if 0.0 < abs(value) < _LEAST:
            return self._problem(
                here, raw, "it is nearer to nothing than any size of a rig", "Write 0 where nothing is meant."
            )
        if spec.sane is not None and not spec.sane[0] <= value <= spec.sane[1]:
            low, high = spec.sane
            return self._problem(
                here,
                raw,
                f"it lies outside {show(low)} to {show(high)}, beyond which a slip is likelier",
                slip(spec, raw),
            )
        return value

    def _whole(self, spec: Whole, raw: Any, here: str) -> Any:
        if not isinstance(raw, int) or isinstance(raw, bool) or not spec.at_least <= raw <= spec.at_most:
            return self._problem(
                here, raw, f"a whole number from {spec.at_least} to {spec.at_most} is wanted", f"{spec.help}"
            )
        return raw

    def _choice(self, spec: Choice, raw: Any, here: str) -> Any:
        import difflib

        if isinstance(raw, str) and raw in spec.options:
            return raw
        names = list(spec.options)
        near = (
            difflib.get_close_matches(raw[:MOST_LETTERS].lower(), {n.lower(): n for n in names}, n=1)
            if isinstance(raw, str)
            else []
        )
        match = next((n for n in names if near and n.lower() == near[0]), None)
        allowed = "it must be one of " + ", ".join(
            f'"{name}" ({text})' for name, text in spec.options.items()
        )
        remedy = f'Did you mean "{match}"?' if match else "Choose one of them."
        return self._problem(here, raw, allowed, remedy)

    def _curve(self, spec: Curve, raw: Any, here: str) -> Any:
        example = f'[["0 {short(spec.units[0])}", "0 {short(spec.units[1])}"], ...]'
        if not isinstance(raw, list) or len(raw) < spec.least:
            return self._problem(
                here, raw, f"a list of {spec.least} pairs or more is wanted", f"Write {example}."
            )
        if len(raw) > spec.most:
            return self._too_many(spec.most, raw, here)
        found = []
        for i, pair in enumerate(raw):
            at = f"{here}[{i}]"
            if not isinstance(pair, list) or len(pair) != 2:
                self._problem(at, pair, "a pair is wanted", f"Write {example}.")
                continue
            parts = [
                self._quantity(Quantity("", unit=unit, sane=sane), part, f"{at}[{k}]")
                for k, (unit, sane, part) in enumerate(zip(spec.units, spec.sane, pair, strict=True))
            ]
            if _BROKEN not in parts:
                found.append((parts[0], parts[1]))
        if len(found) < len(raw):
            return _BROKEN
        if spec.ordered:
            for i, ((before, _), (after, _)) in enumerate(pairwise(found)):
                if after < before or (spec.strict and after == before):
                    return self._problem(
                        f"{here}[{i + 1}]",
                        raw[i + 1][0],
                        f"the first column must grow; before it stands {raw[i][0]}",
                        "Put the entries in order.",
                    )
        return tuple(found)

    def _too_many(self, most: int, raw: list[Any], here: str) -> Any:
        return self._problem(
            here, raw, f"at most {most} are read here, far more than a rig has", "Thin them out."
        )

    def _heights(self, spec: Heights, raw: Any, here: str) -> Any:
        if not isinstance(raw, list) or len(raw) < 2:
            return self._problem(
                here, raw, "a list of two heights or more is wanted", 'Write ["1.2 m", "2.0 m"].'
            )
        if len(raw) > spec.most:
            return self._too_many(spec.most, raw, here)
        one = Quantity("Height z above the heel.", unit="m", at_least=0, sane=(0, 60))
        found = [self._quantity(one, item, f"{here}[{i}]") for i, item in enumerate(raw)]
        if _BROKEN in found:
            return _BROKEN
        for i, (before, after) in enumerate(pairwise(found)):
            if after <= before:
                allowed = f"heights must grow; before it stands {raw[i]}"
                return self._problem(
                    f"{here}[{i + 1}]", raw[i + 1], allowed, "Put them in order from the foot up."
                )
        return tuple(found)

    def _angles(self, raw: Any, here: str) -> Any:
        if not isinstance(raw, list) or not 1 <= len(raw) <= MOST_ANGLES:
            return self._problem(
                here, raw, f"a list of 1 to {MOST_ANGLES} angles is wanted", 'Write ["0 deg", "45 deg"].'
            )
        one = Quantity("Angle from fore and aft.", unit="rad", at_least=-math.pi, at_most=math.pi)
        found = [self._quantity(one, item, f"{here}[{i}]") for i, item in enumerate(raw)]
        return _BROKEN if _BROKEN in found else tuple(found)

    def _shares(self, raw: Any, here: str) -> Any:
        if not isinstance(raw, dict) or not raw:
            return self._problem(here, raw, "names with shares are wanted", "Write {main = 1.0}.")
        found, whole = [], True
        for name, share in raw.items():
            if isinstance(share, bool) or not isinstance(share, (int, float)) or not 0 <= share <= 1:
                self._problem(
                    f"{here}.{name}",
                    share,
                    "a share from 0 to 1 is wanted",
                    "Write 1 for set and 0 for down.",
                )
                whole = False
            else:
                found.append((name, float(share)))
        return tuple(found) if whole else _BROKEN

    def _tables(self, spec: Tables, raw: Any, here: str) -> Any:
        if not isinstance(raw, list) or len(raw) < spec.least:
            need = (
                f"{spec.least} or more tables are wanted" if spec.least > 1 else "a list of tables is wanted"
            )
            return self._problem(here, raw, need, f"Write [[{here}]] before each, or a list of {{...}}.")
        if len(raw) > spec.most:
            return self._too_many(spec.most, raw, here)
        found = [self.table(spec.of, item, f"{here}[{i}]") for i, item in enumerate(raw)]
        # a list with a hole would have its rules count wrongly, and name the wrong entry
        return _BROKEN if None in found else tuple(found)


def _take_out(path: str) -> str:
    """Return what to do with a key that is like none of its table."""
    if not path:
        return "Take it out, or look the key up in `rigcalc schema`."
    table = re.sub(r"\[\d+\]", "[]", path)
    return f"Take it out; `rigcalc explain {table}` tells them."


def _table_of(entry: Field[Any]) -> type[Any] | tuple[()]:
    """Return the dataclass a field holds as one table, or nothing an instance could match."""
    spec = spec_of(entry)
    return spec.of if isinstance(spec, Table) else ()
