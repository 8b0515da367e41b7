"""A formula on one line of plain text, in symbols or with numbers in their place."""

from __future__ import annotations

from collections.abc import Mapping

from .amounts import Amount
from .layout import Called, Cases, Compared, Figure, Node, Pi, Power, Product, Ratio, Root, Sign, Sum

Shown = Mapping[str, Amount]


def as_text(node: Node, numbers: Shown | None = None) -> str:
    """Return an expression as text.

    Parameters
    ----------
    node : Node
        As laid out.
    numbers : mapping, optional
        What stands in the place of each symbol; the symbols themselves where it is not given.
    """
    match node:
        case Sign(name):
            return name if numbers is None else str(numbers[name])
        case Figure(text):
            return text
        case Pi():
            return "pi"
        case Sum(terms):
            return _sum(terms, numbers)
        case Product(factors):
            between = " " if numbers is None else " x "
            return between.join(_tight(f, numbers) for f in factors)
        case Ratio(above, below):
            upper = as_text(above, numbers)
            upper = f"({upper})" if isinstance(above, Sum | Ratio) or _below_zero(above, numbers) else upper
            lower = as_text(below, numbers)
            closed = isinstance(below, Sum | Product | Ratio) or _below_zero(below, numbers)
            return f"{upper} / ({lower})" if closed else f"{upper} / {lower}"
        case Power(base, exponent):
            low = as_text(base, numbers)
            bare = isinstance(base, Figure | Pi | Called) or (isinstance(base, Sign) and _one_word(low))
            high = as_text(exponent, numbers)
            plain = isinstance(exponent, Figure | Sign | Pi) and "-" not in high and " " not in high
            return f"{low if bare else f'({low})'}^{high if plain else f'({high})'}"
        case Root(of):
            return f"sqrt({as_text(of, numbers)})"
        case Called(name, arguments):
            return f"{name}({', '.join(as_text(a, numbers) for a in arguments)})"
        case Cases(cases):
            return "; ".join(f"{as_text(value, numbers)} {_when(holds, numbers)}" for value, holds in cases)


def _when(holds: Compared | None, numbers: Shown | None) -> str:
    if holds is None:
        return "otherwise"
    return f"if {as_text(holds.left, numbers)} {holds.sign} {as_text(holds.right, numbers)}"


def _sum(terms: tuple[tuple[bool, Node], ...], numbers: Shown | None) -> str:
    written = ""
    for plus, term in terms:
        text = as_text(term, numbers)
        if isinstance(term, Sum) or ((written or not plus) and _below_zero(term, numbers)):
            text = f"({text})"
        if not written:
            written = text if plus else f"-{text}"
        else:
            written += f" {'+' if plus else '-'} {text}"
    return written


def _tight(node: Node, numbers: Shown | None) -> str:
    """Return a factor, in brackets where it would fall apart."""
    text = as_text(node, numbers)
    return f"({text})" if isinstance(node, Sum | Ratio | Cases) or _below_zero(node, numbers) else text


def _one_word(text: str) -> bool:
    """Whether a power may stand behind it: a symbol, or a bare number not below zero."""
    return " " not in text and "-" not in text


def _below_zero(node: Node, numbers: Shown | None) -> bool:
    return numbers is not None and isinstance(node, Sign) and numbers[node.name].digits.startswith("-")
