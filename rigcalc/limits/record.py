"""One check: what is asked of the mast at one place, what it can bear, and what would cure it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import field

import numpy as np
from numpy.typing import NDArray

from ..formulas import record_of
from ..frozen import dataclass
from .about import START_AGAIN, About

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Check:
    """One limit in one case, at the height where it is most used.

    Parameters
    ----------
    id : str
        Which limit.
    case : str
        Which case.
    height_m : float
        Height z of the place.
    layer : str
        Which layer of the section; empty for the mast as a whole.
    demand, capacity : float
        In ``unit``; demand over capacity is the utilisation. NaN where there is no answer.
    formula : str
        Name of the formula of the capacity.
    source : str
        Its source.
    advice : str
        What to change, and by about how much, to pass; empty when it passes.
    turn_deg : float, optional
        How a mast that is not round is turned there, from fore and aft towards leeward.
    """

    id: str
    case: str
    height_m: float
    layer: str
    demand: float
    capacity: float
    unit: str
    formula: str
    source: str
    advice: str
    turn_deg: float | None = None

    @property
    def utilisation(self) -> float:
        """Demand over capacity; infinite where there is no answer, which never passes."""
        if not (np.isfinite(self.demand) and self.capacity > 0.0):
            return float("inf")
        return self.demand / self.capacity

    @property
    def passed(self) -> bool:
        """Whether the utilisation is at most 1, exactly 1 included."""
        return self.utilisation <= 1.0


@dataclass(frozen=True)
class Limit:
    """A limit at every point of the mast, from which the governing place is picked.

    Parameters
    ----------
    about : About
        Which limit, and what it means.
    demand, capacity : ndarray, shape (..., n, points)
        Leading axis: cases, each at every angle the mast is turned to, one after the other.
    formula : callable
        The formula behind the capacity.
    advise : callable
        ``(utilisation, index of the place) -> advice``.
    where : ndarray of bool, shape (n, points), optional
        Points at which the limit applies; everywhere when not given.
    source : callable, optional
        ``index of the place -> source``, where a strength has more to say of itself than the formula.
    cases : ndarray of bool, optional
        Cases, in the order of the leading axis, in which it applies; all when not given.
    elements : ndarray of int, optional
        Elements that it was looked at in, in their order along the masts, where that is not all: ``n`` of the
        other fields is their number, and places are counted among them.
    """

    about: About
    layer: str
    demand: Floats
    capacity: Floats
    unit: str
    formula: Callable[..., object]
    advise: Callable[[float, tuple[int, int]], str]
    where: NDArray[np.bool_] | None = field(default=None)
    source: Callable[[tuple[int, int]], str] | None = None
    cases: NDArray[np.bool_] | None = None
    elements: NDArray[np.intp] | None = None

    def __post_init__(self) -> None:
        assert self.about.cites(self.formula), f"{self.id}: its explanation does not name {self.formula}"

    @property
    def id(self) -> str:
        """Name of the limit."""
        return self.about.name

    @property
    def utilisation(self) -> Floats:
        """Demand over capacity, zero where the limit does not apply."""
        used = self._share()
        used[np.isnan(used)] = np.inf
        if self.cases is not None:
            used[~self.cases] = 0.0
        return used

    def greatest(self, *, masts: int, elements: int, turns: int) -> Floats:
        """Return the greatest utilisation along each of many masts laid end to end, at any turn, by case.

        Parameters
        ----------
        masts, elements, turns : int
            How many masts there are, how many elements each has, and at how many angles each case is tried.

        Returns
        -------
        ndarray, shape (cases, masts)
        """
        used = self._share()
        if self.elements is not None:
            whole = np.zeros((len(used), masts * elements))
            whole[:, self.elements] = np.max(used, axis=-1)
            used = whole
        # a maximum hands on what is not a number: it need not be looked for at every point
        most = np.max(used.reshape(len(used) // turns, turns, masts, -1), axis=(1, 3))
        most[np.isnan(most)] = np.inf
        if self.cases is not None:
            most[~self.cases[::turns]] = 0.0
        return np.asarray(most)

    def _share(self) -> Floats:
        """Demand over capacity, zero at points where the limit does not apply and NaN where it has no answer."""
        with np.errstate(divide="ignore", invalid="ignore"):
            used = self.demand / np.where(self.capacity > 0.0, self.capacity, np.nan)
        if self.where is not None and not np.all(self.where):
            np.copyto(used, 0.0, where=~self.where)
        return np.asarray(used)

    def checks(
        self, names: tuple[str, ...], z_m: Floats, turns_rad: tuple[float, ...] = (0.0,)
    ) -> list[Check]:
        """Return the governing place of each case it applies in, and the angle at which it governs.

        Parameters
        ----------
        names : tuple of str
            The cases.
        z_m : ndarray, shape (n, points)
            Heights.
        turns_rad : tuple of float
            Angles of every case.
        """
        z_m = z_m if self.elements is None else z_m[self.elements]
        turned = (len(names), len(turns_rad), *z_m.shape)
        used = self.utilisation.reshape(turned)
        demand = self.demand.reshape(turned)
        capacity = np.broadcast_to(self.capacity, self.demand.shape).reshape(turned)
        record = record_of(self.formula)
        found = []
        applies = np.ones(len(names), dtype=bool)
        if self.cases is not None:
            applies = self.cases.reshape(len(names), -1)[:, 0]
        for case, name in enumerate(names):
            if not applies[case]:
                continue
            at = np.unravel_index(int(np.argmax(used[case])), used[case].shape)
            place = (int(at[1]), int(at[2]))
            found.append(
                Check(
                    id=self.id,
                    case=name,
                    height_m=float(z_m[place]),
                    layer=self.layer,
                    demand=float(demand[case][at]),
                    capacity=float(capacity[case][at]),
                    unit=self.unit,
                    formula=record.name,
                    source=record.source if self.source is None else self.source(place),
                    advice=self._cure(float(used[case][at]), place),
                    turn_deg=float(np.degrees(turns_rad[at[0]])) if len(turns_rad) > 1 else None,
                )
            )
        return found

    def _cure(self, used: float, place: tuple[int, int]) -> str:
        if used <= 1.0:
            return ""
        if not np.isfinite(used):
            return f"no answer was found here; {START_AGAIN}"
        return self.advise(used, place)


def check_of(
    about: About,
    *,
    case: str,
    height_m: float,
    demand: float,
    capacity: float,
    unit: str,
    formula: Callable[..., object],
    cure: str,
    source: str = "",
) -> Check:
    """Return a check of one place; the cure is told where it is needed.

    Parameters
    ----------
    about : About
        Which limit, by one name.
    case : str
        Which case.
    height_m : float
        Height z of the place.
    demand, capacity : float
        In `unit`.
    unit : str
        SI unit of both.
    formula : callable
        The formula it cites.
    cure : str
        What to change, and by how much.
    source : str
        What is said in place of the formula's own source.
    """
    assert about.cites(formula), f"{about.name}: its explanation does not name {formula}"
    record = record_of(formula)
    return Check(
        id=about.name,
        case=case,
        height_m=height_m,
        layer="",
        demand=demand,
        capacity=capacity,
        unit=unit,
        formula=record.name,
        source=source or record.source,
        advice="" if demand <= capacity else cure,
    )


def up(value: float, step: float) -> float:
    """Round up to a step: advice that rounds down asks for what is there already."""
    return float(np.ceil(value / step - 1e-9) * step)
