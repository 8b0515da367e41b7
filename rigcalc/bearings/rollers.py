"""Rollers round a mast: how the side force shares out among them.

Free body. The mast shifts by u in its ring of rollers. A roller at the angle phi is squeezed by
u . n(phi) - c/2, with n its direction from the axis and c the play on the diameter, and pushes back with
K squeeze^n along n; rollers that are not squeezed do nothing. Mast and race are taken as round and stiff beside
the rollers, which puts the most on the foremost roller where both are backed up. A thin tube that ovals, or a
race that gives way, shares otherwise. Forces are to the force on the bearing, lengths to the squeeze of one
roller that bears all of it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..formulas.contact import load_zone
from ..frozen import dataclass
from ..quadrature import gauss
from ..roots import root

Floats = NDArray[np.float64]
Squeeze = Callable[[float], float]
"""Loss of diameter of a roller, in m, by its load in N."""

LINE: Final = 10 / 9
"""Exponent of load by squeeze for rollers (Palmgren, from memory; NSK E728g 5.1 rests on it)."""
POINT: Final = 3 / 2
"""Exponent for balls and crowned rollers (Hertz)."""

POINTS: Final = 80
"""Points of Gauss over the zone that is loaded."""
_ROUNDS = 200
_SETTLED = 1e-10
_POSITIONS = 33


@dataclass(frozen=True, kw_only=True)
class LoadZone:
    """A ring of so many rollers that their places do not matter.

    Where the loaded share holds hardly a roller, that is not so, and the largest load may even come out over the
    force: sum such rollers one by one.

    Parameters
    ----------
    share : float
        Share of the way round that is loaded; 0.5 without play.
    factor : float
        Largest load times the number of rollers over the force: Stribeck's factor.
    largest_N, squeeze_m : float
        Load and squeeze of the foremost roller.
    """

    share: float
    factor: float
    largest_N: float
    squeeze_m: float


@dataclass(frozen=True, kw_only=True)
class RollerLoads:
    """Loads of single rollers, for one or several positions of the cage.

    Parameters
    ----------
    angle_rad : ndarray, shape (positions, rollers)
        From the direction that the mast is pressed in.
    load_N : ndarray, shape (positions, rollers)
        Outwards on each roller.
    shift_m : ndarray, shape (positions, 2)
        Of the mast: along the force and across it.
    residual : ndarray, shape (positions,)
        What is left of the force that no roller balances, over the force.
    converged : ndarray of bool, shape (positions,)
        Whether each position came to rest.
    """

    angle_rad: Floats
    load_N: Floats
    shift_m: Floats
    residual: Floats
    converged: NDArray[np.bool_]

    @property
    def largest_N(self) -> Floats:
        """Load of the hardest pressed roller at each position."""
        return np.asarray(np.max(self.load_N, axis=-1))

    @property
    def total_N(self) -> Floats:
        """Sum of the loads of all rollers at each position, which friction goes by."""
        return np.asarray(np.sum(self.load_N, axis=-1))


# ---------------------------------------------------------------- many rollers


def stribeck_factor(share: ArrayLike, exponent: float = LINE) -> Floats:
    """Return the largest of many roller loads times their number over the force.

    Parameters
    ----------
    share : array_like
        Share of the way round that is loaded, above zero; above one under preload.
    exponent : float
        Of load by squeeze.
    """
    share = np.asarray(share, dtype=float)
    if not np.all(share > 0):
        raise ValueError("no roller is loaded on no part of the way round")
    edge = np.arccos(np.clip(1 - 2 * share, -1.0, 1.0))[..., None]
    nodes, weights = gauss(POINTS)
    # psi = edge sin(x): the load fades out at the edge of the zone as an even power
    x = (nodes + 1) * np.pi / 4
    psi, step = edge * np.sin(x), edge * np.cos(x) * weights * np.pi / 4
    pressed = np.maximum(1 - np.sin(psi / 2) ** 2 / share[..., None], 0.0) ** exponent
    return np.asarray(np.pi / np.sum(pressed * np.cos(psi) * step, axis=-1))


def load_zone_of(
    force_N: float, *, count: int, play_m: float, squeeze: Squeeze, exponent: float = LINE
) -> LoadZone:
    """Return how a ring of many rollers with play shares a force.

    Parameters
    ----------
    force_N : float
        On the bearing, above zero.
    count : int
        Number of rollers.
    play_m : float
        On the diameter, at least zero.
    squeeze : callable
        Loss of diameter of one roller by its load, growing from nothing.
    exponent : float
        With which the load fades out over the zone.

    Raises
    ------
    ArithmeticError
        If no load of the foremost roller balances the force.
    """
    _sensible(force_N, count, play_m)

    def zone(largest_N: float) -> tuple[float, float, float]:
        deep = squeeze(largest_N)
        share = 0.5 if play_m == 0.0 else float(load_zone(delta=deep, c=play_m))
        return deep, share, float(stribeck_factor(share, exponent))

    def missing(largest_N: float) -> float:
        return largest_N - zone(largest_N)[2] * force_N / count

    lowest = 0.5 * float(stribeck_factor(0.5, exponent)) * force_N / count
    # a roller alone bears the whole force at most; a zone of many may come to more than that on paper
    highest = force_N
    for _ in range(60):
        if missing(highest) >= 0:
            break
        highest *= 2
    else:
        raise ArithmeticError(f"no load of a roller balances {force_N:.4g} N on {count} rollers")
    largest = root(missing, lowest, highest, xtol=2e-12, rtol=1e-12)
    deep, share, factor = zone(largest)
    return LoadZone(share=share, factor=factor, largest_N=largest, squeeze_m=deep)


# ---------------------------------------------------------------- one by one


def roller_loads(
    force_N: float,
    *,
    count: int,
    play_m: float,
    squeeze: Squeeze,
    first_rad: ArrayLike = 0.0,
    exponent: float = LINE,
) -> RollerLoads:
    """Return the load of every roller, by its place.

    The shift of the mast is the least of a convex function of two variables, found by Newton's method with the
    step held back, all positions of the cage together. The law of squeeze is fitted at the largest load and
    fitted again until that load stays.

    Parameters
    ----------
    force_N : float
        On the bearing, above zero.
    count : int
        Number of rollers, at least three.
    play_m : float
        On the diameter; below zero under preload.
    squeeze : callable
        Loss of diameter of one roller by its load.
    first_rad : array_like
        Angle of the first roller from the direction of the force, for each position of the cage.
    exponent : float
        Of load by squeeze.
    """
    _sensible(force_N, count, None)
    first = np.atleast_1d(np.asarray(first_rad, dtype=float))
    angle = first[:, None] + 2 * np.pi * np.arange(count) / count
    # squeeze of a roller that bears all the force, by the law fitted at the load that was found last
    at = np.full(first.size, min(1.0, 4.0 / count))
    load, shift = np.zeros_like(angle), np.zeros((first.size, 2))
    residual, settled = np.full(first.size, np.inf), np.zeros(first.size, dtype=bool)
    unit = np.ones(first.size)
    for _ in range(50):
        unit = np.array([squeeze(float(q) * force_N) for q in at]) * at ** (-1 / exponent)
        shift, load, residual = _balance(angle, play_m / (2 * unit), exponent)
        found = np.max(load, axis=1)
        settled = np.abs(found - at) <= 1e-9 * found
        at = found
        if np.all(settled):
            break
    return RollerLoads(
        angle_rad=angle,
        load_N=load * force_N,
        shift_m=shift * unit[:, None],
        residual=residual,
        converged=settled & (residual <= _SETTLED),
    )


def worst_roller_loads(
    force_N: float, *, count: int, play_m: float, squeeze: Squeeze, exponent: float = LINE
) -> RollerLoads:
    """Return the loads at the position of the cage, of many tried, that presses one roller hardest.

    Raises
    ------
    ArithmeticError
        If a position does not come to rest.
    """
    first = np.linspace(0.0, np.pi / count, _POSITIONS)
    tried = roller_loads(
        force_N, count=count, play_m=play_m, squeeze=squeeze, first_rad=first, exponent=exponent
    )
    if not np.all(tried.converged):
        raise ArithmeticError(f"loads of {count} rollers under {force_N:.4g} N did not settle")
    worst = int(np.argmax(tried.largest_N))
    only = slice(worst, worst + 1)
    return RollerLoads(
        angle_rad=tried.angle_rad[only],
        load_N=tried.load_N[only],
        shift_m=tried.shift_m[only],
        residual=tried.residual[only],
        converged=tried.converged[only],
    )


def _sensible(force_N: float, count: int, play_m: float | None) -> None:
    if not 0 < force_N < np.inf:
        raise ValueError(f"a force of {force_N} N presses on no roller")
    if count < 3:
        raise ValueError(f"{count} rollers do not hold a mast every way")
    if play_m is not None and not play_m >= 0:
        raise ValueError("the zone of many rollers is worked out without preload")


def _balance(angle: Floats, half_play: Floats, exponent: float) -> tuple[Floats, Floats, Floats]:
    """Return shift, loads and residual under a force of one along the first axis."""
    towards = np.stack([np.cos(angle), np.sin(angle)], axis=-1)
    force = np.array([1.0, 0.0])

    def pressed(u: Floats) -> Floats:
        return np.asarray(np.maximum(np.einsum("pra,pa->pr", towards, u) - half_play[:, None], 0.0))

    def energy(u: Floats) -> Floats:
        stored = np.sum(pressed(u) ** (exponent + 1), axis=1) / (exponent + 1)
        return np.asarray(stored - u[:, 0])

    reach = 1.0 + np.abs(half_play)
    u = np.stack([np.maximum(half_play, 0.0) + 0.5, np.zeros_like(half_play)], axis=-1)
    for _ in range(_ROUNDS):
        deep = pressed(u)
        slope = np.einsum("pr,pra->pa", deep**exponent, towards) - force
        if np.all(np.hypot(*slope.T) <= _SETTLED / 10):
            break
        stiff = exponent * np.where(deep > 0, deep, 0.0) ** (exponent - 1) * (deep > 0)
        bend = np.einsum("pr,pra,prb->pab", stiff, towards, towards) + 1e-9 * np.eye(2)
        step = -np.linalg.solve(bend, slope[..., None])[..., 0]
        size = np.hypot(*step.T)
        step *= np.minimum(1.0, reach / np.maximum(size, 1e-300))[:, None]
        u = u + _held_back(energy, u, step, np.einsum("pa,pa->p", slope, step))[:, None] * step
    deep = pressed(u)
    left = np.einsum("pr,pra->pa", deep**exponent, towards) - force
    return u, np.asarray(deep**exponent), np.asarray(np.hypot(*left.T))


def _held_back(energy: Callable[[Floats], Floats], u: Floats, step: Floats, fall: Floats) -> Floats:
    """Return by position the share of a step that brings the energy down as it should."""
    share, before = np.ones(len(u)), energy(u)
    slack = 4e-16 * np.abs(before)
    for _ in range(60):
        short = energy(u + share[:, None] * step) > before + 1e-4 * share * fall + slack
        if not np.any(short):
            break
        share = np.where(short, share / 2, share)
    return np.asarray(share)
