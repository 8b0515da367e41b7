"""Masts of timber through the public path, each limit worked out again by hand.

Loads are stated, and so small that the mast stands straight to ten digits, except where it must bend.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from rigcalc import CheckResult, check, read_rig
from rigcalc.limits import Check

LENGTH, BURY = 7.0, 1.0
ABOVE = LENGTH - BURY
SITKA, C24 = "Sitka spruce (US)", "C24"

Stations = Sequence[tuple[float, float, float | None]]


def even(D: float, t: float | None = None) -> Stations:
    return ((0.0, D, t), (LENGTH, D, t))


def plug(start: float, end: float, *lines: str) -> str:
    return "\n".join(["[[mast.plug]]", f'start = "{start!r} m"', f'end = "{end!r} m"', *lines, ""])


def case(kind: str = "given", *lines: str, name: str = "case") -> str:
    return "\n".join(["[[case]]", f'name = "{name}"', f'kind = "{kind}"', *lines, ""])


def pushed(
    side: float = 1.0,
    *,
    forward: float = 0.0,
    axial: float = 0.0,
    torque: float = 0.0,
    at: float = LENGTH,
    name: str = "case",
) -> str:
    """A force at a height, tip by default; thrust and torque from the tip down."""
    return case(
        "given",
        f'point_load = [{{height = "{at!r} m", side = "{side!r} N", forward = "{forward!r} N"}}]',
        f'axial = "{axial!r} N"',
        f'torque = "{torque!r} N m"',
        name=name,
    )


def rig_text(
    material: str = SITKA,
    *,
    stations: Stations = even(0.12),  # noqa: B008 - a tuple of numbers
    mast: str = "",
    bury: float = BURY,
    more: str = "",
    cases: str = pushed(),
    length: float = LENGTH,
) -> str:
    """Return a rig file: `mast` stands in the table of the mast, `more` after it."""
    sizes = ", ".join(
        f'{{height = "{z!r} m", diameter = "{D!r} m"' + (f', wall = "{t!r} m"}}' if t else "}")
        for z, D, t in stations
    )
    return f"""
title = "invented"
[boat]
displacement = "900 kg"
waterline = "0.4 m"
lateral_centre = "0.1 m"
[boat.stability]
moment_30 = "2 kN m"
moment_max = "3 kN m"
[mast]
length = "{length!r} m"
bury = "{bury!r} m"
material = "{material}"
stations = [{sizes}]
{mast}
{more}
{cases}
"""


def run(material: str = SITKA, **parts: object) -> CheckResult:
    return check(read_rig(rig_text(material, **parts)))  # type: ignore[arg-type]  # handed through


def box(D: float, B: float, t: float | None, material: str = SITKA, **parts: object) -> CheckResult:
    """Return an even box mast, D fore and aft and B from side to side."""
    mast = 'shape = "box"\n' + str(parts.pop("mast", ""))
    text = rig_text(material, stations=even(D, t), mast=mast, **parts)  # type: ignore[arg-type]  # handed through
    return check(
        read_rig(text.replace(f'diameter = "{D!r} m"', f'diameter = "{D!r} m", breadth = "{B!r} m"'))
    )


def found(result: CheckResult, id: str, layer: str = "tube") -> Check:
    (one,) = (c for c in result.checks if c.id == id and c.layer in (layer, ""))
    return one


def ids(result: CheckResult, layer: str = "tube") -> set[str]:
    return {c.id for c in result.checks if c.layer == layer}


def second(D: float, d: float = 0.0) -> float:
    return math.pi / 64 * (D**4 - d**4)


def area(D: float, d: float = 0.0) -> float:
    return math.pi / 4 * (D**2 - d**2)
