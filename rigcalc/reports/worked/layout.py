"""How an expression is laid out on paper: sums, fractions, powers and roots, in the order it was written.

Both printers, of text and of MathML, walk this. It is plain data: nothing here needs sympy but the type of the
expression's own parts.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from ...frozen import dataclass

_NAMED = {
    "exp": "exp",
    "log": "ln",
    "sin": "sin",
    "cos": "cos",
    "tan": "tan",
    "asin": "arcsin",
    "acos": "arccos",
    "atan": "arctan",
    "atan2": "arctan2",
    "sinh": "sinh",
    "cosh": "cosh",
    "tanh": "tanh",
    "atanh": "artanh",
    "Min": "min",
    "Max": "max",
}
_COMPARED = {"StrictLessThan": "<", "LessThan": "<=", "StrictGreaterThan": ">", "GreaterThan": ">="}


@dataclass(frozen=True)
class Sign:
    """A symbol, by its name."""

    name: str


@dataclass(frozen=True)
class Figure:
    """A bare number of the formula, as its author wrote it."""

    text: str


@dataclass(frozen=True)
class Pi:
    """The number pi."""


@dataclass(frozen=True)
class Sum:
    """Terms added (True) or taken away (False)."""

    terms: tuple[tuple[bool, Node], ...]


@dataclass(frozen=True)
class Product:
    """Two factors or more."""

    factors: tuple[Node, ...]


@dataclass(frozen=True)
class Ratio:
    """One over another."""

    above: Node
    below: Node


@dataclass(frozen=True)
class Power:
    """A base to an exponent."""

    base: Node
    exponent: Node


@dataclass(frozen=True)
class Root:
    """A square root."""

    of: Node


@dataclass(frozen=True)
class Called:
    """A function of some arguments; ``abs`` among them."""

    name: str
    arguments: tuple[Node, ...]


@dataclass(frozen=True)
class Cases:
    """Values, each with what must hold for it; None for the last."""

    cases: tuple[tuple[Node, Compared | None], ...]


@dataclass(frozen=True)
class Compared:
    """Two sides of a condition."""

    left: Node
    sign: str
    right: Node


Node = Sign | Figure | Pi | Sum | Product | Ratio | Power | Root | Called | Cases


def layout(expression: Any) -> Node:
    """Return how a sympy expression is laid out.

    Raises
    ------
    TypeError
        If it holds something that has no layout.
    """
    if expression.is_Symbol:
        return Sign(str(expression))
    if expression.is_Number:
        return _number(expression)
    kind = type(expression).__name__
    if kind == "Pi":
        return Pi()
    if expression.is_Add:
        return Sum(tuple(_terms(expression, True)))
    if expression.is_Mul or expression.is_Pow:
        negative, node = _product(expression)
        return Sum(((False, node),)) if negative else node
    if kind == "Abs":
        return Called("abs", (layout(expression.args[0]),))
    if kind in _NAMED:
        return Called(_NAMED[kind], tuple(layout(a) for a in expression.args))
    if kind == "Piecewise":
        return Cases(tuple((layout(value), _condition(holds)) for value, holds in expression.args))
    raise TypeError(f"{kind} has no layout")


def _condition(holds: Any) -> Compared | None:
    kind = type(holds).__name__
    return (
        None
        if kind not in _COMPARED
        else Compared(layout(holds.args[0]), _COMPARED[kind], layout(holds.args[1]))
    )


def _number(value: Any) -> Node:
    if value.is_Integer:
        return Figure(str(int(value)))
    if value.is_Rational:
        below: Node = Figure(str(value.q))
        ratio = Ratio(Figure(str(abs(value.p))), below)
        return Sum(((False, ratio),)) if value.p < 0 else ratio
    return Figure(f"{float(value):.10g}" if len(f"{float(value):.10g}") < 12 else f"{float(value):.6g}")


def _terms(expression: Any, plus: bool) -> list[tuple[bool, Node]]:
    found: list[tuple[bool, Node]] = []
    for term in expression.args:
        if term.is_Add:
            found += _terms(term, plus)
        elif term.is_Number and term < 0:
            found.append((not plus, _number(-term)))
        elif term.is_Mul:
            negative, node = _product(term)
            found.append((plus != negative, node))
        else:
            found.append((plus, layout(term)))
    return found


def _product(expression: Any) -> tuple[bool, Node]:
    """Return whether a minus stands before it, and the product or fraction itself."""
    above: list[Node] = []
    below: list[Node] = []
    negative = _sort(expression, above, below)
    if not below:
        return negative, _of(above)
    return negative, Ratio(_of(above), _of(below))


def _sort(expression: Any, above: list[Node], below: list[Node]) -> bool:
    """Put factors above and below the line; return whether their sign is minus."""
    if expression.is_Mul:
        negative = False
        for factor in expression.args:
            negative ^= _sort(factor, above, below)
        return negative
    if expression.is_Pow and expression.exp.is_Integer and int(expression.exp) == -1:
        return _sort(expression.base, below, above)
    if expression.is_Number:
        if expression.is_Rational:
            part = Fraction(abs(expression.p), expression.q)
            if part.numerator != 1:
                above.append(Figure(str(part.numerator)))
            if part.denominator != 1:
                below.append(Figure(str(part.denominator)))
        else:
            above.append(_number(abs(expression)))
        return bool(expression < 0)
    if expression.is_Pow:
        above.append(_power(expression))
    else:
        above.append(layout(expression))
    return False


def _power(expression: Any) -> Node:
    base, exponent = expression.base, expression.exp
    if exponent.is_Rational and exponent.p == 1 and exponent.q == 2:
        return Root(layout(base))
    return Power(layout(base), layout(exponent))


def _of(factors: list[Node]) -> Node:
    """Return factors as one product, the bare numbers first."""
    ordered = sorted(factors, key=lambda f: 0 if isinstance(f, Figure) else 1 if isinstance(f, Pi) else 2)
    if not ordered:
        return Figure("1")
    return ordered[0] if len(ordered) == 1 else Product(tuple(ordered))
