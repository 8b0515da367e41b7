"""Presentation MathML of formulas: what a browser shows without a script."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from xml.sax.saxutils import escape

from .amounts import Amount
from .layout import Called, Cases, Compared, Figure, Node, Pi, Power, Product, Ratio, Root, Sign, Sum
from .symbols import symbol

NAMESPACE = "http://www.w3.org/1998/Math/MathML"
_LEFT, _RIGHT = 'style="text-align: left"', 'style="text-align: right"'
_THIN = '<mspace width="0.17em"/>'
_TIMES = "<mo>×</mo>"
_MINUS = "<mo>−</mo>"
_OPEN, _CLOSE = '<mo fence="true">(</mo>', '<mo fence="true">)</mo>'

Shown = Mapping[str, Amount]


def math(rows: Sequence[Sequence[str]]) -> str:
    """Return rows of equal things as one block, each row ``a = b = c`` and a row below another where there are more.

    Parameters
    ----------
    rows : sequence of sequences of str
        Sides of every equation, as MathML.
    """
    lines = []
    for first, *others in rows:
        for i, side in enumerate(others):
            left, right = "" if i else _row(first), _row(f"<mo>=</mo>{side}")
            lines.append(f"<mtr><mtd {_RIGHT}>{left}</mtd><mtd {_LEFT}>{right}</mtd></mtr>")
    rows_of = "".join(lines)
    table = f'<mtable displaystyle="true">{rows_of}</mtable>'
    return f'<math xmlns="{NAMESPACE}" display="block">{table}</math>'


def as_mathml(node: Node, numbers: Shown | None = None) -> str:
    """Return an expression as MathML.

    Parameters
    ----------
    node : Node
        As laid out.
    numbers : mapping, optional
        What stands in the place of each symbol; the symbols themselves where it is not given.
    """
    match node:
        case Sign(name):
            return symbol_mathml(name) if numbers is None else amount_mathml(numbers[name])
        case Figure(text):
            return _figure(text)
        case Pi():
            return "<mi>π</mi>"
        case Sum(terms):
            return _row("".join(_terms(terms, numbers)))
        case Product(factors):
            return _row(_product(factors, numbers))
        case Ratio(above, below):
            return f"<mfrac>{_row(as_mathml(above, numbers))}{_row(as_mathml(below, numbers))}</mfrac>"
        case Power(base, exponent):
            low = as_mathml(base, numbers)
            bare = isinstance(base, Figure | Pi) or (numbers is None and isinstance(base, Sign))
            return f"<msup>{low if bare else _closed(low)}{_row(as_mathml(exponent, numbers))}</msup>"
        case Root(of):
            return f"<msqrt>{as_mathml(of, numbers)}</msqrt>"
        case Called("abs", (argument,)):
            return _row(f'<mo fence="true">|</mo>{as_mathml(argument, numbers)}<mo fence="true">|</mo>')
        case Called("exp", (argument,)):
            return f"<msup><mi>e</mi>{_row(as_mathml(argument, numbers))}</msup>"
        case Called(name, arguments):
            inside = "<mo>,</mo>".join(as_mathml(a, numbers) for a in arguments)
            return _row(f"<mi>{escape(name)}</mi>{_closed(inside)}")
        case Cases(cases):
            rows = "".join(
                f"<mtr><mtd>{as_mathml(value, numbers)}</mtd><mtd>{_when(holds, numbers)}</mtd></mtr>"
                for value, holds in cases
            )
            return _row(f'<mo fence="true">{{</mo><mtable>{rows}</mtable>')


def symbol_mathml(name: str) -> str:
    """Return a symbol, or a quotient of symbols, as its source prints it."""
    above, stroke, below = name.partition("/")
    if stroke:
        return f"<mfrac>{_row(symbol_mathml(above))}{_row(symbol_mathml(below))}</mfrac>"
    parts = symbol(name)
    # a browser sets one letter slanted, and several upright
    letter = f"<mi>{escape(parts.letter)}</mi>"
    low = "" if not parts.index else f'<mi mathvariant="normal">{escape(parts.index)}</mi>'
    high = "" if not parts.mark else f"<mo>{escape(parts.mark)}</mo>"
    if low and high:
        letter = f"<msubsup>{letter}{low}{high}</msubsup>"
    elif low or high:
        letter = f"<msub>{letter}{low}</msub>" if low else f"<msup>{letter}{high}</msup>"
    return _row(f"<mi>{parts.prefix}</mi>{letter}") if parts.prefix else letter


def amount_mathml(shown: Amount) -> str:
    """Return a number with its unit."""
    mantissa, power = shown.split
    number = _figure(mantissa)
    if power:
        number += f"{_TIMES}<msup><mn>10</mn>{_row(_figure(power))}</msup>"
    return _row(number + (_THIN + _unit(shown.unit) if shown.unit else ""))


def _unit(unit: str) -> str:
    above, stroke, below = unit.partition("/")
    found = _factors(above)
    return found + f"<mo>/</mo>{_factors(below)}" if stroke else found


def _factors(side: str) -> str:
    written = []
    for factor in side.split():
        match = re.fullmatch(r"([^\d^]+)\^?(-?[\d.]*)", factor)
        name, power = (factor, "") if match is None else match.groups()
        text = f"<mtext>{escape(name)}</mtext>"
        written.append(f"<msup>{text}{_row(_figure(power))}</msup>" if power else text)
    return _THIN.join(written)


def _figure(text: str) -> str:
    mantissa, power, exponent = text.partition("e")
    sign = _MINUS if mantissa.startswith("-") else ""
    number = f"{sign}<mn>{mantissa.lstrip('-')}</mn>"
    if power:
        return _row(f"{number}{_TIMES}<msup><mn>10</mn>{_row(_figure(str(int(exponent))))}</msup>")
    return _row(number) if sign else number


def _terms(terms: Sequence[tuple[bool, Node]], numbers: Shown | None) -> Sequence[str]:
    written = []
    for i, (plus, term) in enumerate(terms):
        inside = as_mathml(term, numbers)
        if isinstance(term, Sum) or ((i or not plus) and _below_zero(term, numbers)):
            inside = _closed(inside)
        sign = ("<mo>+</mo>" if i else "") if plus else _MINUS
        written.append(sign + inside)
    return written


def _product(factors: Sequence[Node], numbers: Shown | None) -> str:
    written = []
    for factor in factors:
        inside = as_mathml(factor, numbers)
        if isinstance(factor, Sum | Cases) or _below_zero(factor, numbers):
            inside = _closed(inside)
        written.append(inside)
    return (_THIN if numbers is None else _TIMES).join(written)


def _when(holds: Compared | None, numbers: Shown | None) -> str:
    if holds is None:
        return "<mtext>otherwise</mtext>"
    left, right = (as_mathml(side, numbers) for side in (holds.left, holds.right))
    return _row(f"<mtext>if </mtext>{left}<mo>{escape(holds.sign)}</mo>{right}")


def _below_zero(node: Node, numbers: Shown | None) -> bool:
    return numbers is not None and isinstance(node, Sign) and numbers[node.name].digits.startswith("-")


def _closed(inside: str) -> str:
    return _row(f"{_OPEN}{inside}{_CLOSE}")


def _row(inside: str) -> str:
    """Return what counts as one thing; what is one row already stays as it is."""
    if inside.startswith("<mrow>") and inside.endswith("</mrow>") and inside.count("<mrow>") == 1:
        return inside
    return f"<mrow>{inside}</mrow>"
