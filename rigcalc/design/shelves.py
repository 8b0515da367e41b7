"""How tapered pieces of cloth lie on a roll: side by side, head to tail, one shelf of them after another."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ..frozen import dataclass

Floats = NDArray[np.float64]

_HAIR: Final = 1e-9
_BESIDE_M: Final = 1e-7
"""How far beside a jump of the width it is looked at."""


@dataclass(frozen=True, eq=False)
class FlatPiece:
    """A piece to cut along the roll, the same to both sides of its middle line.

    Parameters
    ----------
    ply, gore, part : int
        Which, counted from one: strip round the mast, and length along it from below.
    length_m : float
        Along the roll.
    at_m, width_m : ndarray
        Width by the distance from its lower end, straight in between.
    """

    ply: int
    gore: int
    part: int
    length_m: float
    at_m: Floats
    width_m: Floats

    def width_at(self, z_m: Floats, turned: bool) -> Floats:
        """Return the width at distances from the start of its shelf; nothing beyond its end."""
        at = self.length_m - z_m if turned else z_m
        inside = (at >= -_HAIR) & (at <= self.length_m + _HAIR)
        return np.where(inside, np.interp(at, self.at_m, self.width_m), 0.0)

    @property
    def widest_m(self) -> float:
        """Greatest width."""
        return float(self.width_m.max())


@dataclass(frozen=True, eq=False)
class Placed:
    """A piece in its shelf.

    Parameters
    ----------
    piece : FlatPiece
        Which.
    middle_m : float
        Distance of its middle line from the edge of the roll.
    turned : bool
        Whether its upper end lies at the start of the shelf.
    """

    piece: FlatPiece
    middle_m: float
    turned: bool


@dataclass(frozen=True)
class Shelf:
    """Pieces side by side that begin at one line across the roll.

    Parameters
    ----------
    length_m : float
        Of roll, that of its longest piece.
    placed : tuple of Placed
        From one edge of the roll to the other.
    """

    length_m: float
    placed: tuple[Placed, ...]


def profile(at_m: Floats, width_m: Floats, start_m: float, end_m: float) -> tuple[Floats, Floats]:
    """Return the part of a width by distance between two distances, counted from the first.

    Beyond the ends of ``at_m`` the width stays as it is there.
    """
    inside = (at_m > start_m) & (at_m < end_m)
    ends = np.interp([start_m, end_m], at_m, width_m)
    at = np.concatenate([[start_m], at_m[inside], [end_m]]) - start_m
    return at, np.concatenate([ends[:1], width_m[inside], ends[1:]])


def widest(at_m: Floats, width_m: Floats, start_m: float, end_m: float) -> float:
    """Return the greatest width between two distances."""
    return float(profile(at_m, width_m, start_m, end_m)[1].max())


def shelves_of(pieces: Sequence[FlatPiece], roll_m: float) -> tuple[Shelf, ...]:
    """Lay pieces on a roll, the longest first, each into the first shelf that has room.

    Parameters
    ----------
    pieces : sequence of FlatPiece
        Each no wider than the roll.
    roll_m : float
        Usable width.

    Returns
    -------
    tuple of Shelf
        From the start of the roll on.
    """
    shelves: list[list[Placed]] = []
    for piece in sorted(pieces, key=lambda p: (-p.length_m, p.ply, p.part, p.gore)):
        for shelf in shelves:
            place = _beside(shelf, piece, roll_m)
            if place is not None:
                shelf.append(place)
                break
        else:
            shelves.append([Placed(piece, piece.widest_m / 2, False)])
    return tuple(Shelf(shelf[0].piece.length_m, tuple(shelf)) for shelf in shelves)


def _beside(shelf: Sequence[Placed], piece: FlatPiece, roll_m: float) -> Placed | None:
    """Place a piece beside the last of a shelf, the way round that takes less; None where it has no room.

    Pieces come longest first, so the last one lies between the new piece and all before it.
    """
    last = shelf[-1]
    middle, turned = min(
        (last.middle_m + _pitch(last, piece, turned), turned) for turned in (not last.turned, last.turned)
    )
    return Placed(piece, middle, turned) if middle + piece.widest_m / 2 <= roll_m + _HAIR else None


def _pitch(placed: Placed, piece: FlatPiece, turned: bool) -> float:
    """Least distance between the middle lines of two pieces that do not overlap."""
    marks = [
        side.length_m - side.at_m if way else side.at_m
        for side, way in ((placed.piece, placed.turned), (piece, turned))
    ]
    marks += [np.array([0.0, placed.piece.length_m, piece.length_m])]
    z = np.concatenate([m + beside for m in marks for beside in (-_BESIDE_M, 0.0, _BESIDE_M)])
    z = np.clip(z, 0.0, min(placed.piece.length_m, piece.length_m))
    return float(np.max(placed.piece.width_at(z, placed.turned) + piece.width_at(z, turned)) / 2)
