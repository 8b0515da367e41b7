"""Every formula of the registry can be traced, printed and read back, and is the formula that computes."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from typing import Any

import numpy as np
import pytest
import sympy

from rigcalc.formulas import Formula, all_formulas, formula, record_of
from rigcalc.formulas.record import Metre, Newton, NewtonMetre, One
from rigcalc.reports.worked import traced, worked_line
from rigcalc.reports.worked.mathml import NAMESPACE
from rigcalc.reports.worked.trace import trace

from ..test_formulas import sample

FORMULAS = all_formulas()
# the elements of MathML Core that set formulas
ELEMENTS = {"math", "mrow", "mi", "mn", "mo", "mtext", "mspace", "mfrac", "msqrt", "mroot"} | {
    "msup",
    "msub",
    "msubsup",
    "mtable",
    "mtr",
    "mtd",
}
LEAVES = {"mi", "mn", "mo", "mtext", "mspace"}
CHILDREN = {"mfrac": 2, "msup": 2, "msub": 2, "msubsup": 3}


def of_expression(expression: Any, values: dict[str, float]) -> float:
    function = sympy.lambdify([sympy.Symbol(name) for name in values], expression, "numpy")
    return float(function(*values.values()))


def each_formula(test: Any) -> Any:
    return pytest.mark.parametrize("record", FORMULAS, ids=lambda record: record.name)(test)


@each_formula
def test_the_traced_expression_is_the_formula(record: Formula) -> None:
    arguments = sample(record)
    expression = traced(record)
    assert {str(s) for s in expression.free_symbols} == set(arguments)
    assert of_expression(expression, arguments) == pytest.approx(
        record.function(**arguments), rel=1e-12, abs=0
    )


@each_formula
def test_the_help_values_lead_to_the_same(record: Formula) -> None:
    values = dict(sample(record))
    wanted = record.function(**values)
    found = trace(record)
    for part in found.parts:
        values[part.name] = of_expression(part.expression, values)
    assert of_expression(found.result, values) == pytest.approx(wanted, rel=1e-12, abs=0)


@each_formula
def test_its_mathml_is_well_formed(record: Formula) -> None:
    line = worked_line(record, sample(record))
    root = ET.fromstring(line.mathml)
    assert root.tag == f"{{{NAMESPACE}}}math"
    for element in root.iter():
        space, _, name = element.tag.removeprefix("{").partition("}")
        assert space == NAMESPACE
        assert name in ELEMENTS
        if name in LEAVES:
            assert not len(element)
        else:
            assert not (element.text or "").strip()
        assert not (element.tail or "").strip()
        if name in CHILDREN:
            assert len(element) == CHILDREN[name]


@each_formula
def test_its_line_says_what_it_is(record: Formula) -> None:
    line = worked_line(record, sample(record))
    assert line.text.split("; ")[-1].startswith(f"{record.symbol} = ")
    assert line.value == record.function(**sample(record))
    assert [(n.symbol, n.unit) for n in line.numbers] == list(record.arguments.items())
    assert len(line.ranges) == len(record.ranges)
    # samples lie inside every range
    assert not any(said.endswith("outside it") for said in line.ranges)
    assert worked_line(record, sample(record)) == line


# ---------------------------------------------------------------- what cannot be traced


@formula("x", unit="m", source="made up")
def branching(a: Metre, b: Metre) -> Metre:
    """Show a branch on a value."""
    longer = a if a > b else b
    return longer * 2


@formula("x", unit="m", source="made up")
def returning_twice(a: Metre, b: Metre) -> Metre:
    """Show two ways out."""
    if b is None:
        return a
    return a + b


@formula("x", unit="m", source="made up")
def unknown(a: Metre) -> Metre:
    """Show a function without a traced form."""
    return np.sinc(a)


@pytest.mark.parametrize(
    ("function", "said"),
    [(branching, "np.where"), (returning_twice, "np.where"), (unknown, "np.sinc")],
    ids=lambda given: getattr(given, "__name__", given),
)
def test_what_cannot_be_traced_says_so(function: Any, said: str) -> None:
    with pytest.raises(TypeError, match=said):
        traced(record_of(function))


@formula("x", unit="m", source="made up")
def everything(a: Metre, b: Metre, n: One) -> Metre:
    """Use what the registry does not use today."""
    either = np.where(a > b, a, b)
    kept = np.clip(n, 0.5, 2.0)
    return (
        either * kept + np.abs(a - b) * np.square(n) - np.cbrt(n) * np.maximum(a, b) * np.arctan(n) + abs(-a)
    )


@pytest.mark.parametrize("n", [0.1, 1.3, 5.0])
@pytest.mark.parametrize(("a", "b"), [(1.0, 2.0), (2.0, 1.0)])
def test_what_may_come_is_traced_too(a: float, b: float, n: float) -> None:
    record = record_of(everything)
    line = worked_line(record, {"a": a, "b": b, "n": n})
    assert of_expression(traced(record), {"a": a, "b": b, "n": n}) == pytest.approx(line.value, rel=1e-14)
    assert " if a > b; " in line.text or "either" in line.text
    ET.fromstring(line.mathml)


# ---------------------------------------------------------------- as the author wrote it


@formula("M_c", unit="N m", source="made up")
def ordered(V: Newton, b: Metre, a: Metre) -> NewtonMetre:
    """Show an order that is not that of the alphabet."""
    return 2 * np.pi * V * (b - a) / 3


def test_symbols_stay_in_the_order_they_were_written_in() -> None:
    line = worked_line(record_of(ordered), {"V": 1500.0, "b": 1.25, "a": 0.0508})
    assert line.text == ("M_c = 2 pi V (b - a) / 3 = 2 x pi x 1500 N x (1.25 m - 50.8 mm) / 3 = 3767 N m")
    assert "<msub><mi>M</mi>" in line.mathml
    assert "π" in line.mathml
    assert "−" in line.mathml


def test_greek_letters_are_greek_and_words_upright() -> None:
    by_name = {record.name: record for record in FORMULAS}
    stress = worked_line(by_name["bending_stress"], {"M": 1234.0, "y": 0.0508, "I": 1.2e-6})
    assert stress.text == "sigma_b = M y / I = 1234 N m x 50.8 mm / 1.2e6 mm4 = 52.24 MPa"
    assert '<msub><mi>σ</mi><mi mathvariant="normal">b</mi></msub>' in stress.mathml
    arm = worked_line(by_name["wall_sided_gz"], {"phi": 0.4, "GM": 0.9, "BM": 1.3})
    assert "<mi>GM</mi>" in arm.mathml
    assert "<mi>φ</mi>" in arm.mathml


def test_long_formulas_show_their_help_values() -> None:
    by_name = {record.name: record for record in FORMULAS}
    line = worked_line(by_name["hole_bending_factor"], {"w": 0.02, "D": 0.1, "d": 0.09})
    first, second, last = line.text.split("; ")
    assert first == "x = w / D = 20 mm / 100 mm = 0.2"
    assert second == "a = d / D = 90 mm / 100 mm = 0.9"
    assert last.startswith("K_b = 3 + (-6.25 - 0.585 a + 3.115 a^2) x + ")
    assert line.mathml.count("<mtr>") == 9


def test_a_help_value_has_its_own_unit() -> None:
    by_name = {record.name: record for record in FORMULAS}
    record = by_name["buckling_limited_stress"]
    line = worked_line(record, {"F_c": 20e6, "f_e": 10e6, "c": 0.8})
    assert worked_line(record, {"F_c": 20e6, "f_e": 10e6, "c": 0.8}).value == line.value
    strips = worked_line(by_name["box_torsion_constant"], {"B": 0.1, "H": 0.1, "b": 0.09, "h": 0.09})
    assert "t_B = (B - b) / 2 = (100 mm - 90 mm) / 2 = 5 mm" in strips.text
    assert "strips = " in strips.text
    assert "mm4" in strips.text.split("strips = ")[1].split(";")[0]


def test_a_range_left_is_told() -> None:
    by_name = {record.name: record for record in FORMULAS}
    line = worked_line(by_name["axial_knockdown"], {"r": 0.05, "t": 0.01})
    assert line.ranges == ("20 <= r/t <= 1500: here 5, outside it",)
