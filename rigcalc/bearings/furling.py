"""Rolling the sail by turning the mast: turns, drum and line, torque, and the wind that one person can do it in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..formulas import Value, Working
from ..formulas.furling import (
    capstan_pull,
    cloth_let_out,
    cloth_torque_per_height,
    drum_layer_diameter,
    drum_layer_length,
    drum_line_pull,
    drum_turns_in_layer,
    purchase_efficiency,
    purchase_pull,
    rolled_length,
    sheaves_pull,
)
from ..formulas.sails import roll_diameter, roll_turns
from ..frozen import dataclass
from ..roots import root

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class HandPull:
    """What a person can pull.

    Parameters
    ----------
    how : str
        Posture.
    pull_N : float
        Horizontal force.
    source : str
        Where it was found.
    """

    how: str
    pull_N: float
    source: str


_KODAK: Final = "Kodak, Ergonomic Design for People at Work, vol. 2, table read in a copy"
HAND_PULLS: Final = (
    HandPull("standing, arm and shoulder, arms extended", 110.0, _KODAK),
    HandPull("seated", 130.0, _KODAK),
    HandPull("one hand, men, average of the greatest", 147.0, "Mital, Nicholson and Ayoub, abstract read"),
    HandPull("kneeling", 188.0, _KODAK),
    HandPull("braced, whole body, upper limit", 225.0, _KODAK),
)
"""From the least to the greatest; the strongest single pulls, to 400 N, are never to be counted on."""


FLOGGING_DRAG: Final = 0.3
"""Drag of flogging cloth on the area of one side: flags are given 0.1 to 0.3, from memory; the upper is taken."""


# ---------------------------------------------------------------- the roll


@dataclass(frozen=True, kw_only=True)
class Roll:
    """A sail rolled on a tapered mast, by height.

    Parameters
    ----------
    turns : float
        That take in all of it.
    turns_m : ndarray
        Turns that take in the cloth of each height by itself.
    outside_m : ndarray
        Diameter with all cloth rolled.
    outstripped_m : ndarray
        Cloth that a turn-for-turn roll has taken in more at the height of greatest girth than at each other,
        when all is in: what the sail is pulled askew by, tight low down and slack aloft where the mast tapers.
    """

    turns: float
    turns_m: Floats
    outside_m: Floats
    outstripped_m: Floats


def roll_up(*, core_m: ArrayLike, cloth_m: ArrayLike, thickness_m: float, working: Working) -> Roll:
    """Return the roll of a sail whose cloth has the length ``cloth_m`` at heights with the core ``core_m``.

    Parameters
    ----------
    core_m : array_like
        Diameter of the mast at each height.
    cloth_m : array_like
        Length of cloth to roll there; there must be some somewhere.
    thickness_m : float
        Thickness of a turn, air included.
    working : Working
        Keeps the steps.
    """
    core, cloth = np.asarray(core_m, dtype=float), np.asarray(cloth_m, dtype=float)
    if not (np.all(core > 0) and np.all(cloth >= 0) and np.any(cloth > 0) and thickness_m > 0):
        raise ValueError("a roll needs a core, some cloth and a thickness")
    turns = np.asarray(working.use(roll_turns, D_0=core, L=cloth, t=thickness_m))
    most = float(np.max(turns))
    taken = np.asarray(working.use(rolled_length, D_0=core, n=most, t=thickness_m))
    return Roll(
        turns=most,
        turns_m=turns,
        outside_m=np.asarray(working.use(roll_diameter, D_0=core, L=cloth, t=thickness_m)),
        outstripped_m=np.max(taken) - taken,
    )


# ---------------------------------------------------------------- drum and line


@dataclass(frozen=True, kw_only=True)
class Drum:
    """A drum and the line wound on it.

    Parameters
    ----------
    diameter_m, width_m : float
        Of the bare drum, and between its cheeks.
    line_m : float
        Diameter of the line.
    packing : float
        Share of the width that turns fill.
    """

    diameter_m: float
    width_m: float
    line_m: float
    packing: float = 0.85

    def turns_in_layer(self, working: Working) -> int:
        """Return the whole turns in a layer; at least one."""
        fits = working.use(drum_turns_in_layer, w=self.width_m, d=self.line_m, k_p=self.packing)
        # room for the rounding of a width that is a whole number of lines
        whole = int(np.floor(float(fits) * (1 + 1e-9)))
        if whole < 1:
            raise ValueError("the line is wider than the drum")
        return whole

    def layers(self, turns: float, working: Working) -> int:
        """Return the layers that so many turns lie in."""
        return int(np.ceil(turns / self.turns_in_layer(working) * (1 - 1e-12)))

    def lever_m(self, turns: ArrayLike, working: Working) -> Floats:
        """Return the diameter that the line is pulled off at, with so many turns on the drum.

        With none left it pulls at the first layer still.
        """
        on = np.asarray(turns, dtype=float)
        if not np.all(on >= 0):
            raise ValueError("a drum holds no fewer turns than none")
        layer = np.maximum(np.ceil(on / self.turns_in_layer(working) * (1 - 1e-12)), 1.0)
        return np.asarray(
            working.use(drum_layer_diameter, where="drum", D_d=self.diameter_m, d=self.line_m, k=layer)
        )

    def line_length_m(self, turns: float, working: Working) -> float:
        """Return the length of line in so many turns on the drum."""
        each, total, left = self.turns_in_layer(working), 0.0, turns
        for layer in range(1, self.layers(turns, working) + 1):
            D_k = working.use(
                drum_layer_diameter, where="drum", D_d=self.diameter_m, d=self.line_m, k=float(layer)
            )
            total += float(working.use(drum_layer_length, D_k=D_k, n=min(left, each)))
            left -= each
        return total


@dataclass(frozen=True, kw_only=True)
class Tackle:
    """What the line runs through from the drum to the hand.

    Parameters
    ----------
    parts : int
        Of purchase; one is the line by itself. As many sheaves are counted as parts, none for one.
    blocks : int
        Lead blocks.
    sheave_loss : float
        Share lost at each sheave.
    fairlead_rad, fairlead_friction : float
        Angle round fixed surfaces, and their friction.
    """

    parts: int
    blocks: int
    sheave_loss: float
    fairlead_rad: float = 0.0
    fairlead_friction: float = 0.25

    def _gain(self, working: Working) -> float:
        """Return the pull at the hand for a pull of one at the drum."""
        led = working.use(sheaves_pull, F=1.0, x=self.sheave_loss, S=self.blocks)
        led = working.use(capstan_pull, F=led, mu=self.fairlead_friction, theta=self.fairlead_rad)
        sheaves = self.parts if self.parts > 1 else 0
        eta = working.use(purchase_efficiency, x=self.sheave_loss, S=sheaves)
        return float(working.use(purchase_pull, F=led, parts=self.parts, eta=eta))

    def hand_pull_N(self, line_N: ArrayLike, working: Working) -> Floats:
        """Return the pull at the hand that draws the line off the drum with ``line_N``."""
        return np.asarray(np.asarray(line_N, dtype=float) * self._gain(working))

    def line_pull_N(self, hand_N: float, working: Working) -> float:
        """Return the pull at the drum that a hand makes."""
        return hand_N / self._gain(working)


# ---------------------------------------------------------------- torque


@dataclass(frozen=True, kw_only=True)
class Turned:
    """The torque that turns the mast, with the lowest and the highest friction.

    Parameters
    ----------
    cloth_N_m : float
        From the pull of the sail on its roll.
    bearings_N_m : tuple of float
        From both bearings and the thrust face, low and high.
    """

    cloth_N_m: float
    bearings_N_m: tuple[float, float]

    @property
    def total_N_m(self) -> tuple[float, float]:
        low, high = self.bearings_N_m
        return self.cloth_N_m + low, self.cloth_N_m + high

    def line_pull_N(self, lever_m: float, working: Working) -> tuple[float, float]:
        """Return the pull off the drum at a diameter, low and high."""
        low, high = (float(working.use(drum_line_pull, T=torque, D_k=lever_m)) for torque in self.total_N_m)
        return low, high


def turning_torque(cloth_N_m: float, *frictions_N_m: tuple[float, float]) -> Turned:
    """Return the torque that turns the mast.

    Parameters
    ----------
    cloth_N_m : float
        From the sail.
    *frictions_N_m : tuple of float
        Of partners, step and thrust: low and high.
    """
    for low, high in frictions_N_m:
        if not 0 <= low <= high:
            raise ValueError(f"friction from {low} to {high} N m makes no sense")
    lows, highs = zip(*frictions_N_m, strict=True) if frictions_N_m else ((0.0,), (0.0,))
    return Turned(cloth_N_m=cloth_N_m, bearings_N_m=(float(sum(lows)), float(sum(highs))))


def held_line_pull(turned: Turned, lever_m: float, working: Working) -> float:
    """Return the greatest pull at the drum that keeps a part-rolled sail from running out.

    Friction helps to hold, so the lowest is counted; none is needed where that is enough.
    """
    left = max(turned.cloth_N_m - turned.bearings_N_m[0], 0.0)
    return float(working.use(drum_line_pull, T=left, D_k=lever_m))


@dataclass(frozen=True, kw_only=True)
class Twist:
    """A tube twisted by the cloth on it, held at its lowest height.

    Parameters
    ----------
    torque_N_m : ndarray
        In the tube at each height, from all cloth above.
    twist_rad : ndarray
        Of each height against the lowest.
    let_out_m : ndarray
        Cloth that the twist lets off the roll.
    """

    torque_N_m: Floats
    twist_rad: Floats
    let_out_m: Floats


def twist_below(
    height_m: ArrayLike,
    *,
    tension_N_m: ArrayLike,
    outside_m: ArrayLike,
    GJ_N_m2: ArrayLike,
    working: Working,
) -> Twist:
    """Return torque and twist of a tube under the pull of a part-rolled sail.

    Torque to the height and 1/GJ are taken as straight between heights, and integrated exactly.

    Parameters
    ----------
    height_m : array_like
        Growing; the mast is held against turning at the first.
    tension_N_m : array_like
        Pull of the cloth to the height.
    outside_m : array_like
        Diameter of the roll.
    GJ_N_m2 : array_like
        Stiffness in torsion.
    working : Working
        Keeps the steps.
    """
    z, soft = np.asarray(height_m, dtype=float), 1 / np.asarray(GJ_N_m2, dtype=float)
    if z.size < 2 or not np.all(np.diff(z) > 0):
        raise ValueError("heights must grow")
    outside = np.asarray(outside_m, dtype=float)
    per_m = np.asarray(
        working.use(cloth_torque_per_height, s=np.asarray(tension_N_m, dtype=float), D=outside)
    )
    per_m, h = np.broadcast_to(per_m, z.shape), np.diff(z)
    outside = np.broadcast_to(outside, z.shape)
    soft = np.broadcast_to(soft, z.shape)
    part = h * (per_m[:-1] + per_m[1:]) / 2
    torque = np.append(np.cumsum(part[::-1])[::-1], 0.0)
    # torque is a parabola and 1/GJ a line on each stretch: two Gauss points are exact
    twisted = np.zeros_like(h)
    for x in ((1 - 1 / np.sqrt(3)) / 2, (1 + 1 / np.sqrt(3)) / 2):
        below = torque[:-1] - h * (per_m[:-1] * x + (per_m[1:] - per_m[:-1]) * x**2 / 2)
        twisted += h / 2 * below * (soft[:-1] + (soft[1:] - soft[:-1]) * x)
    twist = np.append(0.0, np.cumsum(twisted))
    return Twist(
        torque_N_m=torque,
        twist_rad=twist,
        let_out_m=np.asarray(working.use(cloth_let_out, theta=twist, D=outside)),
    )


# ---------------------------------------------------------------- wind


@dataclass(frozen=True, kw_only=True)
class FurlingWind:
    """The wind up to which a hand can do it.

    Parameters
    ----------
    answer : {"never", "up to", "always"}
        ``never``: not even in a calm. ``always``: at every speed tried.
    speed_m_s : float or None
        The greatest wind, where there is one.
    strongest_m_s : float
        The greatest that was tried.
    """

    answer: Literal["never", "up to", "always"]
    speed_m_s: float | None
    strongest_m_s: float


def furling_wind(
    hand_pull_N: Callable[[Value], Value], *, hand_N: float, strongest_m_s: float = 30.0, steps: int = 60
) -> FurlingWind:
    """Return the wind up to which one person can furl.

    Parameters
    ----------
    hand_pull_N : callable
        Pull needed at the hand by wind speed in m/s, from zero up; of one speed, or of many at once.
    hand_N : float
        What one person pulls.
    strongest_m_s : float
        The strongest wind that is tried.
    steps : int
        The first speed at which it is too much is sought in so many steps, all at once, then found by Brent's method.

    Raises
    ------
    ArithmeticError
        If the pull has no value at some speed.
    """
    if not 0 < hand_N < np.inf or not 0 < strongest_m_s < np.inf:
        raise ValueError("a hand and a wind are needed")

    def over(speed: float) -> float:
        return float(hand_pull_N(speed)) - hand_N

    speeds = np.linspace(0.0, strongest_m_s, steps + 1)
    pulls = np.broadcast_to(hand_pull_N(speeds), speeds.shape)
    # a pull without a value is not one that a hand can make
    stopped = np.flatnonzero(~(pulls <= hand_N))
    if not stopped.size:
        return FurlingWind(answer="always", speed_m_s=None, strongest_m_s=strongest_m_s)
    first = int(stopped[0])
    if not np.isfinite(pulls[first]):
        raise ArithmeticError(f"the pull of furling has no value in a wind of {speeds[first]:.4g} m/s")
    if first == 0:
        return FurlingWind(answer="never", speed_m_s=None, strongest_m_s=strongest_m_s)
    found = root(over, float(speeds[first - 1]), float(speeds[first]), xtol=1e-9)
    return FurlingWind(answer="up to", speed_m_s=found, strongest_m_s=strongest_m_s)
