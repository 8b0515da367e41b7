"""The one kind of error a user meets: a list of problems, each with its remedy."""

from __future__ import annotations

from collections.abc import Iterable

from .frozen import dataclass


@dataclass(frozen=True)
class Problem:
    """One thing wrong with the input.

    Parameters
    ----------
    path : str
        Where it stands in the rig file, for example ``mast.stations[2].wall``.
    value : str
        What was read there; empty when something is missing.
    allowed : str
        What may stand there.
    remedy : str
        What to do about it.
    """

    path: str
    value: str
    allowed: str
    remedy: str

    def __str__(self) -> str:
        path, value = _short(self.path, 200), _short(self.value, 200)
        found = f" is {value}" if value else ""
        text = f"{path}{found}: {_short(self.allowed, 1500)}. {_short(self.remedy, 800)}"
        # what was read may hold control characters: a terminal must not obey them, and a reader must see them
        return "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in text)


def _short(text: str, most: int) -> str:
    """Return a text with its middle left out where it is too long to be read."""
    return text if len(text) <= most else f"{text[: most // 2]} ... {text[-most // 4 :]}"


class RigInputError(ValueError):
    """Every problem found in one rig file, raised together.

    Parameters
    ----------
    problems : iterable of Problem
        At least one.
    where : str
        What was read, where that is not the rig file.
    """

    def __init__(self, problems: Iterable[Problem], where: str = "the rig file") -> None:
        self.problems, self.where = tuple(problems), where
        super().__init__(self.problems, where)

    def __str__(self) -> str:
        count = len(self.problems)
        heading = "1 problem" if count == 1 else f"{count} problems"
        return "\n".join([f"{heading} in {self.where}:", *(f"  {p}" for p in self.problems)])
