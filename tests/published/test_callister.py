"""Moduli of glass in polyester, 40 % of it fibre.

Source: W. D. Callister, Materials Science and Engineering, Ex. 16.1 and 16.2; inputs and form of 16.2 in a
public companion script, which was read; the answers are from memory.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.laminates import inverse_rule_modulus, mixture_modulus

from .record import Published, Source

SOURCE = Source("Callister, Materials Science and Engineering", "laminates", "from memory")

CHECKS: list[Published] = [
    Published(
        "Ex. 16.1",
        "E_1",
        30.0,
        "GPa",
        lambda: float(mixture_modulus(E_f1=69.0, E_m=3.4, V_f=0.4, V_m=0.6)),
        0.5,
        "half a unit of the last digit printed; the answer is from memory",
    ),
    Published(
        "Ex. 16.2",
        "E_2",
        5.5,
        "GPa",
        lambda: float(inverse_rule_modulus(P_f=69.0, P_m=3.4, V_f=0.4)),
        0.05,
        "half a unit of the last digit printed; the answer is from memory",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
