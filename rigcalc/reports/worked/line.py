"""One worked line: symbol = formula = numbers with units = result, and where the formula comes from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ...formulas import Formula
from ...frozen import dataclass
from .amounts import Amount, Dimension, amount, dimension, dimension_of, unit_of
from .layout import layout
from .mathml import amount_mathml, as_mathml, math, symbol_mathml
from .text import as_text
from .trace import Part, trace

LONGEST = 60
"""Characters of a formula in symbols above which its help values stand by themselves."""


@dataclass(frozen=True)
class Number:
    """What stands in the place of a symbol, in SI and to full precision."""

    symbol: str
    value: float
    unit: str


@dataclass(frozen=True)
class WorkedLine:
    """One formula worked out with numbers.

    Parameters
    ----------
    symbol : str
        Symbol of the result.
    formula_name : str
        Name of the formula in the registry.
    mathml : str
        ``<math>``: symbol = formula = numbers = result, help values on rows before it.
    text : str
        The same on one line.
    source : str
        Where the formula was read.
    ranges : tuple of str
        Where it holds, and where it is used here.
    summary : str
        What it gives.
    numbers : tuple of Number
        The arguments.
    value : float
        The result.
    unit : str
        SI unit of the result.
    """

    symbol: str
    formula_name: str
    mathml: str
    text: str
    source: str
    ranges: tuple[str, ...]
    summary: str
    numbers: tuple[Number, ...]
    value: float
    unit: str


def worked_line(
    formula: Formula, arguments: Mapping[str, float], *, symbol: str | None = None, summary: str | None = None
) -> WorkedLine:
    """Return a formula worked out.

    Parameters
    ----------
    formula : Formula
        A record of the registry.
    arguments : mapping of float
        Its arguments in SI.
    symbol, summary : str, optional
        What is said in the place of the formula's own.
    """
    symbol = symbol or formula.symbol
    parts, result = _laid_out(formula)
    shown = {name: amount(value, formula.arguments[name]) for name, value in arguments.items()}
    values: dict[str, float] = dict(arguments)
    units = {name: dimension(unit) for name, unit in formula.arguments.items()}
    rows, texts = [], []
    for part in parts:
        unit = _unit(part, units)
        values[part.name] = evaluated(part.expression, values)
        rows.append(_mathml_row(part.name, part.expression, shown, amount(values[part.name], unit)))
        texts.append(_text_row(part.name, part.expression, shown, amount(values[part.name], unit)))
        shown[part.name] = amount(values[part.name], unit)
    value = float(formula.function(**arguments))
    last = amount(value, formula.unit)
    rows.append(_mathml_row(symbol, result, shown, last))
    texts.append(_text_row(symbol, result, shown, last))
    return WorkedLine(
        symbol=symbol,
        formula_name=formula.name,
        mathml=math(rows),
        text="; ".join(texts),
        source=formula.source,
        ranges=tuple(_ranges(formula, arguments)),
        summary=summary or formula.summary,
        numbers=tuple(Number(name, float(v), formula.arguments[name]) for name, v in arguments.items()),
        value=value,
        unit=formula.unit,
    )


def symbolic_lines(formula: Formula) -> tuple[str, ...]:
    """Return a formula in symbols as text, its help values on lines before it.

    Parameters
    ----------
    formula : Formula
        A record of the registry.
    """
    parts, result = _laid_out(formula)
    rows = [(part.name, part.expression) for part in parts]
    return tuple(f"{name} = {as_text(layout(of))}" for name, of in (*rows, (formula.symbol, result)))


def _laid_out(formula: Formula) -> tuple[tuple[Part, ...], Any]:
    """Return the help values of a formula that stand by themselves, and its result."""
    found = trace(formula)
    if len(as_text(layout(found.expression))) <= LONGEST:
        return (), found.expression
    return found.parts, found.result


def evaluated(expression: Any, values: Mapping[str, float]) -> float:
    """Return the value of a sympy expression.

    Parameters
    ----------
    expression : sympy expression
        In the symbols of `values`.
    values : mapping of float
        Value of every symbol.
    """
    import sympy as sp

    needed = sorted(str(s) for s in expression.free_symbols)
    function = sp.lambdify([sp.Symbol(name) for name in needed], expression, "numpy")
    return float(function(*(values[name] for name in needed)))


def _unit(part: Part, units: dict[str, Dimension]) -> str:
    units[part.name] = dimension_of(part.expression, units)
    return unit_of(units[part.name])


def _text_row(name: str, expression: Any, shown: Mapping[str, Amount], result: Amount) -> str:
    node = layout(expression)
    return f"{name} = {as_text(node)} = {as_text(node, shown)} = {result}"


def _mathml_row(name: str, expression: Any, shown: Mapping[str, Amount], result: Amount) -> tuple[str, ...]:
    node = layout(expression)
    return symbol_mathml(name), as_mathml(node), as_mathml(node, shown), amount_mathml(result)


def _ranges(formula: Formula, arguments: Mapping[str, float]) -> list[str]:
    found = []
    for limit in formula.ranges:
        here = float(limit.of(**arguments))
        outside = "" if limit.low <= here <= limit.high else ", outside it"
        found.append(f"{limit}: here {here:.4g}{outside}")
    return found
