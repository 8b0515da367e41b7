"""What the sheets of all families are put together from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..terminal import table, wrapped

MARKS = {
    "read": "read",
    "memory": "from memory",
    "derived": "derived",
    "judgement": "judgement",
    "computed": "computed",
}
"""How a value came here -> the words for it."""


class Sources:
    """The sources of one sheet, each told once and named by its number where it is used."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}

    def cite(self, provenance: str, source: str) -> str:
        """Return the mark of a value and the number of its source."""
        return f"({MARKS[provenance]}) [{self.number(source)}]"

    def number(self, source: str) -> int:
        """Return the number of a source."""
        return self._numbers.setdefault(source, len(self._numbers) + 1)

    def lines(self) -> Iterator[str]:
        """Yield all that were named, in the order in which they first were."""
        if self._numbers:
            yield "Sources"
        for source, number in self._numbers.items():
            yield from wrapped(source, "      ", first=f"  [{number}]{' ' if number > 9 else '  '}")


def MPa(value: float | None) -> str:
    """Return a stress in MPa without its unit; a dash where there is none."""
    return "-" if value is None else f"{value / 1e6:.4g}"


def GPa(value: float | None) -> str:
    """Return a modulus in GPa without its unit; a dash where there is none."""
    return "-" if value is None else f"{value / 1e9:.4g}"


def percent(value: float | None) -> str:
    """Return a share in per cent without its sign; a dash where there is none."""
    return "-" if value is None else f"{value * 100:.4g}"


def share(value: float) -> str:
    """Return a factor to three digits, or a little more."""
    return f"{value:.3f}" if value >= 0.1 else f"{value:.4f}"


def indented(rows: Iterable[list[str]]) -> list[str]:
    """Return a table in lines two columns in."""
    return [f"  {line}".rstrip() for line in table(list(rows)).splitlines()]


def origin(provenance: str, source: str, note: str, *, what: str = "values") -> Iterator[str]:
    """Yield where the values of a row come from, and what else there is to know."""
    yield from wrapped(f"{what}: {MARKS[provenance]}; {source}", "    ", first="  ")
    if note:
        yield from wrapped(f"note: {note}", "    ", first="  ")
