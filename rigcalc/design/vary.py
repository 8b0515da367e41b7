"""What becomes of the mast when one or two numbers of the rig file are varied.

Every point is the file with other text in some places, read by the reader and checked as any file is: all of its rules
hold, and what they refuse is a row of its own that says why. Nothing else moves with what is varied.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product
from math import isfinite, prod
from typing import Any, Final

from .. import units
from ..errors import Problem, RigInputError
from ..frozen import dataclass
from ..rig import LIFT, Rig
from ..rigfile import Numbers, numbers_at, read_table, toml_table, with_values
from ..rigfile.paths import written
from ..verdict import CAUTIONS, NOT_CHECKED, CheckResult, NoSuchCaseError, cases_of, check
from .sizing.watch import Watch

MOST_AXES, LEAST_POINTS, MOST_POINTS, MOST_ROWS = 2, 2, 200, 2000
PASS, FAIL, REFUSED = "pass", "fail", "refused"
SIZES: Final = (
    "diameter",
    "top_diameter",
    "breadth",
    "bore",
    "wall",
    "thickness",
    "areal_mass",
    "count",
    "bury",
)
"""Keys of what a builder is free to choose, so that mass can be traded for stiffness."""

_FORM: Final = (
    'Write path=from:to:points, as "mast.bury=0.6 m:1.2 m:7", or with factors as "mast.bury=x0.8:x1.2:5".'
)


@dataclass(frozen=True)
class Axis:
    """What is varied, and the values it takes.

    Parameters
    ----------
    numbers : Numbers
        The numbers of the rig file that take them, all at once.
    unit : str
        Unit of the values, the one they were asked in; ``1`` for pure numbers and for factors.
    values : tuple of float
        In that unit; of factors, what the numbers of the file are multiplied by.
    scales : bool
        Whether the values are factors.
    """

    numbers: Numbers
    unit: str
    values: tuple[float, ...]
    scales: bool

    @property
    def path(self) -> str:
        return self.numbers.path

    def text(self, value: float) -> str:
        """Return one of the values as it was asked for."""
        return f"x{written(value, '1')}" if self.scales else written(value, self.unit)


@dataclass(frozen=True)
class VariedRig:
    """The rig of one point.

    Parameters
    ----------
    label : str
        Every path with its value.
    values : tuple of float
        The value of every axis, in its unit.
    rig : Rig or None
        None where the file makes no rig at this point.
    refused : tuple of Problem
        What the reader has against it.
    """

    label: str
    values: tuple[float, ...]
    rig: Rig | None
    refused: tuple[Problem, ...] = ()


@dataclass(frozen=True)
class VariedRow:
    """How one point does; where there is no rig, or no answer, there is None.

    Parameters
    ----------
    label, values
        As of the rig.
    verdict : str
        ``pass``, ``fail`` or ``refused``.
    why, refused_at : str
        Why it is refused, and the path of the first thing that is wrong; empty otherwise.
    mass_kg, frequency_Hz : float or None
        Mass with fittings, and first natural frequency.
    utilisation : float or None
        The greatest of all checks; infinite where a check has no answer.
    check, case, layer : str
        The check it belongs to.
    tip_deflection_m : float or None
        The greatest of all cases in which the mast stands; None where one of them finds no equilibrium.
    partners_force_N, step_force_N : float or None
        The greatest of those cases, of the straight or the bent mast.
    warnings : tuple of str
        What the check warns of at this point.
    front : bool or None
        Whether no other point that passes is as light and as stiff and better in one of the two; None where it is
        not sizes of the mast that are varied.
    """

    label: str
    values: tuple[float, ...]
    verdict: str
    why: str = ""
    refused_at: str = ""
    mass_kg: float | None = None
    utilisation: float | None = None
    check: str = ""
    case: str = ""
    layer: str = ""
    tip_deflection_m: float | None = None
    partners_force_N: float | None = None
    step_force_N: float | None = None
    frequency_Hz: float | None = None
    warnings: tuple[str, ...] = ()
    front: bool | None = None


@dataclass(frozen=True)
class VaryTable:
    """A rig at every point; the rows have the values of the last axis running fastest."""

    title: str
    axes: tuple[Axis, ...]
    rows: tuple[VariedRow, ...]
    only_case: str | None
    cautions: tuple[str, ...]

    @property
    def passed(self) -> bool:
        """Whether any point passes."""
        return any(row.verdict == PASS for row in self.rows)

    @property
    def has_front(self) -> bool:
        """Whether the front of mass and deflection is told."""
        return any(row.front is not None for row in self.rows)


def vary(
    text: str, asked: Sequence[str], *, case: str | None = None, watch: Watch | None = None
) -> VaryTable:
    """Check a rig at every point of one axis, or of two.

    Parameters
    ----------
    text : str
        Of a rig file, which must be sound as it stands.
    asked : sequence of str
        One or two of ``path=from:to:points``; see :func:`axes_of`.
    case : str, optional
        Name of the only case to run.
    watch : Watch, optional
        Told of every point.

    Returns
    -------
    VaryTable

    Raises
    ------
    RigInputError
        If the file, or what is asked, cannot be worked with.
    NoSuchCaseError
        If there is no case of that name.
    """
    raw = toml_table(text)
    rig = read_table(raw)
    axes = axes_of(raw, asked)
    cases_of(rig, case)
    watch = watch or Watch()
    rows: list[VariedRow] = []
    for point in _rigs(raw, axes):
        rows.append(_row(point, case))
        masses = [row.mass_kg for row in rows if row.verdict == PASS and row.mass_kg is not None]
        watch.count(1, "varied", min(masses, default=None))
    if all(_is_size(axis.path) for axis in axes):
        rows = with_front(rows)
    return VaryTable(rig.title, axes, tuple(rows), case, (*CAUTIONS, NOT_CHECKED))


def varied_rigs(text: str, asked: Sequence[str]) -> Iterator[VariedRig]:
    """Yield the rig of every point; what goes in and what is raised is as in :func:`vary`."""
    raw = toml_table(text)
    read_table(raw)
    yield from _rigs(raw, axes_of(raw, asked))


def axes_of(raw: Mapping[str, Any], asked: Sequence[str]) -> tuple[Axis, ...]:
    """Return what is varied.

    Parameters
    ----------
    raw : mapping
        What the TOML of a sound rig file holds.
    asked : sequence of str
        ``mast.bury=0.6 m:1.2 m:7`` for seven buries from 0.6 m to 1.2 m, both ends among them; with
        ``x0.9:x1.1:5`` the numbers of the file are multiplied. ``[*]`` in a path is every entry of a list.

    Raises
    ------
    RigInputError
        With every problem found.
    """
    problems: list[Problem] = []
    axes: list[Axis] = []
    if not 1 <= len(asked) <= MOST_AXES:
        problems.append(
            Problem(
                "--vary", str(len(asked)), "one or two quantities can be varied at once", "Hold the others."
            )
        )
    for words in asked:
        try:
            axes.append(_axis(raw, words))
        except RigInputError as error:
            problems += error.problems
    if not problems:
        problems += _together(axes)
    if problems:
        raise RigInputError(problems, where="what is varied")
    return tuple(axes)


def _together(axes: Sequence[Axis]) -> Iterator[Problem]:
    rows = prod(len(axis.values) for axis in axes)
    if rows > MOST_ROWS:
        yield Problem("--vary", f"{rows} points", f"at most {MOST_ROWS} are worked out", "Ask for fewer.")
    if len(axes) == MOST_AXES and set(axes[0].numbers.places) & set(axes[1].numbers.places):
        allowed = f"{axes[0].path} varies the same number"
        yield Problem(axes[1].path, "", allowed, "Vary each number once.")


def _axis(raw: Mapping[str, Any], words: str) -> Axis:
    def refuse(value: str, allowed: str, remedy: str = _FORM) -> RigInputError:
        return RigInputError([Problem(path or "--vary", value, allowed, remedy)], where="what is varied")

    path, equals, span = (part.strip() for part in words.partition("="))
    parts = [part.strip() for part in span.split(":")]
    if not path or not equals or len(parts) != 3:
        raise refuse(f"{words!r}", "a path, two ends and a number of points are wanted")
    numbers = numbers_at(raw, path)
    start, end, count = parts
    if not (count.isascii() and count.isdecimal()) or not LEAST_POINTS <= int(count[:9]) <= MOST_POINTS:
        raise refuse(f"varied in {count!r} points", f"{LEAST_POINTS} to {MOST_POINTS} points are wanted")
    scales = start.startswith("x") and end.startswith("x")
    if start.startswith("x") != end.startswith("x"):
        raise refuse(f"varied from {start} to {end}", "either both ends are factors, or none is")
    if numbers.together and not scales:
        raise refuse("varied as a whole", "its numbers differ, so they can only be multiplied")
    if scales and numbers.form == "whole":
        raise refuse(f"varied from {start} to {end}", "a whole number is not multiplied")
    unit, texts = ("1", (start[1:], end[1:])) if scales else (numbers.unit, (start, end))
    try:
        low, high = (units.parse(text, unit) for text in texts)
        shown = units.unit_in(texts[0], unit)
    except units.UnitError as error:
        raise refuse(
            f"{error.text!r}", f"it {error.fault}; allowed is {error.allowed}", error.remedy
        ) from None
    if scales and not (low > 0.0 and high > 0.0):
        raise refuse(f"varied from {start} to {end}", "a factor must be above 0")
    low, high = (units.convert(value, unit, shown) for value in (low, high))
    last = int(count) - 1
    # rounded as it will stand in the file: what is told is what was worked out
    values = tuple(float(written((low * (last - k) + high * k) / last, "1")) for k in range(last + 1))
    if len(set(values)) < len(values):
        raise refuse(f"varied from {start} to {end}", "the ends do not differ")
    if numbers.form == "whole" and not all(value.is_integer() for value in values):
        raise refuse(f"varied from {start} to {end} in {count} points", "every point must be a whole number")
    axis = Axis(numbers, shown, values, scales)
    _changes(raw, axis, values[0])  # tells now of what cannot be multiplied
    return axis


def _changes(raw: Mapping[str, Any], axis: Axis, value: float) -> list[Any]:
    return axis.numbers.scaled(raw, value) if axis.scales else axis.numbers.set_to(value, axis.unit)


def _rigs(raw: Mapping[str, Any], axes: Sequence[Axis]) -> Iterator[VariedRig]:
    for values in product(*(axis.values for axis in axes)):
        pairs = list(zip(axes, values, strict=True))
        label = ", ".join(f"{axis.path} {axis.text(value)}" for axis, value in pairs)
        changes = [change for axis, value in pairs for change in _changes(raw, axis, value)]
        try:
            yield VariedRig(label, values, read_table(with_values(raw, changes)))
        except RigInputError as error:
            yield VariedRig(label, values, None, error.problems)


def _row(point: VariedRig, case: str | None) -> VariedRow:
    problems = point.refused
    if point.rig is not None:
        try:
            return _checked(point, check(point.rig, case=case))
        except RigInputError as error:
            problems = error.problems
        except NoSuchCaseError:
            problems = (Problem("case", "", f"none is named {case!r} at this point", ""),)
    # the remedies are left out: they speak of a file to be mended
    whys = [str(replace(problem, remedy="")).removesuffix(". ") for problem in problems]
    return VariedRow(
        point.label, point.values, REFUSED, why="; ".join(dict.fromkeys(whys)), refused_at=problems[0].path
    )


def _checked(point: VariedRig, result: CheckResult) -> VariedRow:
    governing = result.governing
    standing = [case for case in result.cases if case.kind != LIFT]
    tips = [found.demand for found in result.checks if found.id == "tip-deflection"]
    return VariedRow(
        label=point.label,
        values=point.values,
        verdict=result.verdict,
        mass_kg=result.mast.mass_kg,
        utilisation=governing.utilisation,
        check=governing.id,
        case=governing.case,
        layer=governing.layer,
        tip_deflection_m=max(tips) if tips and all(map(isfinite, tips)) else None,
        partners_force_N=max((case.partners_N for case in standing), default=None),
        step_force_N=max((case.step_N for case in standing), default=None),
        frequency_Hz=result.mast.natural_frequencies_Hz[0],
        warnings=result.warnings,
    )


def _is_size(path: str) -> bool:
    return path.startswith(("mast.", "laminate[")) and path.rpartition(".")[2] in SIZES


def with_front(rows: Sequence[VariedRow]) -> list[VariedRow]:
    """Return the rows with those of the front of mass and deflection marked.

    A point that passes is of the front where no other is as light and as stiff and better in one of the two. What
    differs only past the ninth digit is rounding, and counts as the same.
    """
    ranked = {
        i: (float(f"{row.mass_kg:.9g}"), float(f"{row.tip_deflection_m:.9g}"))
        for i, row in enumerate(rows)
        if row.verdict == PASS and row.mass_kg is not None and row.tip_deflection_m is not None
    }
    best = {
        i
        for i, (mass, tip) in ranked.items()
        if not any(m <= mass and t <= tip and (m, t) != (mass, tip) for m, t in ranked.values())
    }
    return [replace(row, front=i in best) for i, row in enumerate(rows)]
