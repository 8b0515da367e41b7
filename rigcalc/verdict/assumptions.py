"""What a check takes for granted: the defaults that play a part, each with its source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from .. import units
from ..loads import standard_cases
from ..rig import Case, Rig
from ..rig.fields import Quantity, is_read, key_of, spec_of
from .result import Assumption

WORKED_OUT = "worked out"
"""Value shown for a default that depends on the rest of the file; its source says how."""


class NoSuchCaseError(LookupError):
    """A case was asked for that the rig does not have."""


def cases_of(rig: Rig, only: str | None) -> tuple[tuple[Case, ...], tuple[Assumption, ...]]:
    """Return the cases to run, and everything taken for granted on the way.

    Raises
    ------
    NoSuchCaseError
        If ``only`` names no case of the rig.
    """
    assumed = [a for a in defaults_of(rig, "", set(rig.defaults)) if not a.path.startswith("stock.")]
    cases = rig.cases
    if not cases:
        standard = standard_cases(rig)
        cases = tuple(case for case, _ in standard)
        for case, reason in standard:
            assumed.append(Assumption(f"case {case.name!r}", f"standard case: {case.kind}", True, reason))
        shared = [found for case in cases for found in _defaults(case, "case[*]", None)]
        assumed += [_assumption(*found) for found in dict.fromkeys(shared)]
    if only is not None:
        cases = tuple(case for case in cases if case.name == only)
        if not cases:
            raise NoSuchCaseError(only)
    return cases, tuple(assumed)


def defaults_of(table: Any, path: str, left_out: set[str] | None) -> tuple[Assumption, ...]:
    """Return every default of a table that plays a part.

    Parameters
    ----------
    table : dataclass
        Part of a rig.
    path : str
        Where it stands in the rig file.
    left_out : set of str or None
        Paths that the file left to their defaults; all without it.
    """
    return tuple(_assumption(*found) for found in _defaults(table, path, left_out))


def _defaults(table: Any, path: str, left_out: set[str] | None) -> Iterator[tuple[str, str, str]]:
    """Yield path, value and source of every default that plays a part; all of them without a set."""
    for entry in fields(table):
        if "spec" not in entry.metadata or not is_read(entry, table):
            continue
        spec, value = spec_of(entry), getattr(table, entry.name)
        here = f"{path}.{key_of(entry)}" if path else key_of(entry)
        if is_dataclass(value):
            yield from _defaults(value, here, left_out)
        elif isinstance(value, tuple) and value and is_dataclass(value[0]):
            for i, item in enumerate(value):
                yield from _defaults(item, f"{here}[{i}]", left_out)
        elif spec.default_from and (left_out is None or here in left_out) and value == entry.default:
            yield here, _said(spec, value), spec.default_from


def _assumption(path: str, value: str, source: str) -> Assumption:
    return Assumption(path, value, True, source)


def _said(spec: Any, value: Any) -> str:
    """Return a default as a reader would write it."""
    if value is None:
        return WORKED_OUT
    if isinstance(spec, Quantity):
        return units.told(value, spec.unit)
    return str(value)
