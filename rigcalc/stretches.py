"""What stands between heights: breaks and values of one mast, or of many with one row to each."""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Whole = NDArray[np.intp]
Number = TypeVar("Number", bound=np.generic)


def distinct(values: NDArray[Number]) -> NDArray[Number]:
    """Return the values of one row that differ, growing, as `numpy.unique` does.

    That loads `numpy.ma` when it is first called, which takes a quarter as long as numpy itself.
    """
    grown = np.sort(values, axis=None)
    return np.asarray(grown[np.concatenate([[True], grown[1:] != grown[:-1]])]) if grown.size else grown


def distinct_rows(rows: NDArray[Number]) -> tuple[NDArray[Number], Whole]:
    """Return the rows that differ, growing by their first value first, and which of them each row is."""
    order = np.lexsort(rows.T[::-1])
    grown = rows[order]
    new = np.concatenate([[True], np.any(grown[1:] != grown[:-1], axis=1)])
    index = np.empty(len(rows), dtype=np.intp)
    index[order] = np.cumsum(new) - 1
    return grown[new], index


def merged(*breaks_m: Floats) -> Floats:
    """Return the heights of several in order; rows of many masts keep those that fall together."""
    if all(b.ndim == 1 for b in breaks_m):
        return distinct(np.concatenate(breaks_m))
    return np.sort(joined(*breaks_m), axis=-1)


def joined(*heights_m: Floats) -> Floats:
    """Return heights one after the other, those that all masts have in common in the row of each."""
    rows = np.broadcast_shapes(*(h.shape[:-1] for h in heights_m))
    return np.concatenate([np.broadcast_to(h, (*rows, h.shape[-1])) for h in heights_m], axis=-1)


def stretch_of(breaks_m: Floats, height_m: Floats) -> Whole:
    """Return the stretch in which each height lies, the upper of two at a break; -1 below all.

    Parameters
    ----------
    breaks_m : ndarray, shape (k + 1,) or (masts, k + 1)
        Growing; a stretch without length is passed over.
    height_m : ndarray, shape (n,) or (masts, n)
        Heights asked for.
    """
    if breaks_m.ndim == 1:
        return np.asarray(np.searchsorted(breaks_m, height_m, side="right") - 1)
    return np.asarray(np.sum(breaks_m[..., None, :] <= height_m[..., None], axis=-1) - 1)


def pick(values: Floats, i: Whole) -> Floats:
    """Return values of stretches by their numbers.

    Parameters
    ----------
    values : ndarray, shape (k,) or (masts, k)
        By stretch.
    i : ndarray, shape (n,) or (masts, n)
        Numbers of stretches.

    Returns
    -------
    ndarray, shape (n,) or (masts, n)
    """
    if i.ndim == 1:
        return np.asarray(values[..., i])
    rows = np.broadcast_shapes(values.shape[:-1], i.shape[:-1])
    return np.take_along_axis(
        np.broadcast_to(values, (*rows, values.shape[-1])), np.broadcast_to(i, (*rows, i.shape[-1])), axis=-1
    )
