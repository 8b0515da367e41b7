"""The answer on the screen in metric and in customary units: the same numbers, each to the digits it is shown with."""

from __future__ import annotations

import math
import re

from hypothesis import given, settings

from rigcalc.reports import limits_screen, screen

from ..test_units import PAIRS, PINT, UNITS
from .rigs import Table, checked, rigs

SI_OF = {name: si for si, name in PAIRS if name not in ("1", "%", "g", "t", "h", "s", "in", "1/m", "1/K")}
SI_OF |= {"in": "m"}
NUMBER = r"(?<![\w.])(-?[0-9]+(?:\.[0-9]+)?(?:e[+-]?[0-9]+)?)"
QUANTITY = re.compile(
    NUMBER + r" (" + "|".join(map(re.escape, sorted(SI_OF, key=len, reverse=True))) + r")(?![\w/])"
)


def told(text: str) -> list[tuple[float, float, str]]:
    """Return every quantity in the text in SI, half of its last digit, and the SI unit."""
    found = []
    for number, name in QUANTITY.findall(" ".join(text.split())):
        si, mantissa = SI_OF[name], number.split("e")[0]
        factor = float(PINT.parse_expression(UNITS[si][2][name]).to(UNITS[si][0]).magnitude)
        power = int(number.split("e")[1]) if "e" in number else 0
        shown = 10.0 ** (power - (len(mantissa.split(".")[1]) if "." in mantissa else 0))
        found.append((float(number) * factor, shown / 2 * factor, si))
    return found


@settings(max_examples=12)
@given(rig=rigs(most=4))
def test_both_units_tell_the_same(rig: Table) -> None:
    result = checked(rig)
    for text_of in (screen, limits_screen):
        metric, customary = (told(text_of(result, shown_in=units)) for units in ("metric", "us"))
        assert len(metric) == len(customary) > 3
        for (one, off, si), (other, its, unit) in zip(metric, customary, strict=True):
            assert si == unit
            # advice is rounded up to a step of its own units
            assert math.isclose(one, other, abs_tol=1.001 * (off + its)), (one, other, si)


@settings(max_examples=12)
@given(rig=rigs(least=2, most=4))
def test_the_table_of_cases(rig: Table) -> None:
    """Columns of force, moment and deflection against the result, by the unit over each."""
    result = checked(rig)
    for units, names in (("metric", ("N", "N m", "m")), ("us", ("lbf", "lbf ft", "ft"))):
        lines = screen(result, shown_in=units).splitlines()
        of = dict(zip(("N", "N m", "m"), names, strict=True))
        for case in result.cases:
            row = next(line for line in lines if re.match(rf"{re.escape(case.name)}\s+[0-9]", line))
            numbers = [word for word in row.split() if re.fullmatch(r"[0-9.]+", word)]
            values = (case.partners_N, case.step_N)
            for word, value in zip(numbers, values, strict=False):
                factor = float(PINT.parse_expression(UNITS["N"][2][of["N"]]).to("newton").magnitude)
                assert abs(float(word) * factor - value) <= 0.5001 * factor * 10.0 ** -len(
                    word.partition(".")[2]
                )
