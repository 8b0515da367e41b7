"""What a search for the best mast answers."""

from __future__ import annotations

from ...frozen import dataclass
from ...notebook import InNotebook
from ...rig import Rig
from ...verdict import CheckResult


@dataclass(frozen=True)
class Neighbour:
    """A mast beside the one found, a step lighter, and what it fails in.

    Parameters
    ----------
    step : str
        What was taken off.
    mass_kg : float
        What it weighs.
    check, case, layer : str
        The check it fails, and where.
    utilisation : float
        How much of it is used.
    """

    step: str
    mass_kg: float
    check: str
    case: str
    layer: str
    utilisation: float


@dataclass(frozen=True)
class Sized(InNotebook):
    """The best mast of one material.

    Parameters
    ----------
    material : str
        As it was asked for.
    construction : str
        ``tubes``, ``staves`` or ``laminate``.
    sizes : str
        The sizes in a line.
    rig : Rig
        The rig with this mast.
    result : CheckResult
        What `check` says of it.
    finished : bool
        Whether the search came to its end; otherwise this is the best it had.
    tried : int
        Masts looked at.
    neighbours : tuple of Neighbour
        The next lighter masts, and why they will not do.
    price : float or None
        Material in place, by the user's prices.
    method : str
        How the search went, and what it can say of its answer.
    """

    material: str
    construction: str
    sizes: str
    rig: Rig
    result: CheckResult
    finished: bool
    tried: int
    neighbours: tuple[Neighbour, ...]
    price: float | None
    method: str

    def __repr__(self) -> str:
        return f"<Sized {self.material!r}: {self.sizes}; {self.mass_kg:.1f} kg with fittings>"

    @property
    def mass_kg(self) -> float:
        """Mass of the spar with its fittings."""
        return self.result.mast.mass_kg


@dataclass(frozen=True)
class NoSize(InNotebook):
    """No mast of a material passes.

    Parameters
    ----------
    material, construction : str
        As in `Sized`.
    why : str
        The check that cannot be met, and the change that would open the range.
    nearest : CheckResult or None
        What `check` says of the mast that came nearest; None where nothing could be built.
    sizes : str
        Of that mast.
    finished : bool
        Whether the search came to its end.
    tried : int
        Masts looked at.
    """

    material: str
    construction: str
    why: str
    nearest: CheckResult | None
    sizes: str
    finished: bool
    tried: int

    def __repr__(self) -> str:
        return f"<NoSize {self.material!r}: {self.why}>"
