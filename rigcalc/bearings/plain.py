"""A mast in a plain bush with play, square or sloping: where it touches and how hard it presses.

Free body. The mast's axis stands off that of the bush by u(s) = e + theta s along the bush, s from its middle. A
slice is touched where u is over half the play, from -psi to psi with cos(psi) = c/(2 u), and each spot of the bush
pushes back by itself, so that the slice bears k D/2 (u psi - c/2 sin(psi)). e follows from the side force. Pressed
at one edge, or at both edges on opposite sides where the slope is more than the play allows, the bush works on the
mast as a couple, which takes out some of the slope: theta is the slope of the mast in a bush that holds no couple,
less the couple times what the mast gives way. The side force is kept as it is without the couple, which is the safe
side. The mast is taken as round and stiff. A contact narrower than the bush is thick is felt more as by a half-space:
there the higher pressure of this and Hertz's counts.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.bearings import creep_pressure
from ..frozen import dataclass
from ..quadrature import gauss

Floats = NDArray[np.float64]

POINTS: Final = 40
"""Points of Gauss along the bush."""
MOST_ROUNDS: Final = 100
CLOSE: Final = 1e-12
"""Last step of Newton's method at the edge, over how far that stands off: what is left squares with it."""
LASTING_SQUEEZE: Final = 0.01
"""Strain of a bush allowed under a load that stays: judgement; 0.08 mm of a wall of 8 mm."""


@dataclass(frozen=True, kw_only=True)
class BushContact:
    """Contact of a mast in a bush.

    Parameters
    ----------
    peak_pressure_Pa : float
        Highest pressure; at an edge when the mast slopes.
    half_angle_rad : float
        Contact to each side of the direction it is pressed in, where it is widest.
    touched_m : float
        Length of bush that is touched on the side the mast is pressed to.
    both_edges : bool
        Whether the other edge is touched too, on the far side.
    couple_N_m : float
        Couple of the bush on the mast against its slope.
    slope_rad : float
        Slope that is left.
    offset_m : float
        Of the mast's axis from that of the bush, at its middle.
    friction_factor : float
        Friction torque over that of the same force at a line; with both edges touched it counts both.
    residual : float
        What is left of the force that the bush does not balance, over all that presses on the bush.
    """

    peak_pressure_Pa: float
    half_angle_rad: float
    touched_m: float
    both_edges: bool
    couple_N_m: float
    slope_rad: float
    offset_m: float
    friction_factor: float
    residual: float


@dataclass(frozen=True)
class _Layer:
    """The bush: half its diameter, half its play, its foundation."""

    radius_m: float
    half_play_m: float
    k_N_m3: float

    def angle(self, u: Floats) -> Floats:
        beyond = np.sqrt(np.maximum(u**2 - self.half_play_m**2, 0.0))
        return np.asarray(np.arctan2(beyond, self.half_play_m))

    def bears(self, u: Floats) -> Floats:
        """Force to the length at an offset u, at least half the play."""
        psi = self.angle(u)
        return np.asarray(self.k_N_m3 * self.radius_m * (u * psi - self.half_play_m * np.sin(psi)))

    def stiffens(self, u: Floats) -> Floats:
        """Return how that force grows with the offset."""
        psi = self.angle(u)
        return np.asarray(self.k_N_m3 * self.radius_m * (psi + np.sin(psi) * np.cos(psi)))

    def rubs(self, u: Floats) -> Floats:
        """Sum of the pressures round the slice, which friction goes by."""
        psi = self.angle(u)
        return np.asarray(2 * self.k_N_m3 * self.radius_m * (u * np.sin(psi) - self.half_play_m * psi))


def lasting_pressure(
    *, E_Pa: float | None, creep_share: float | None, sustained_Pa: float | None, working: Working
) -> float | None:
    """Return the pressure a bush bears for days: the least that its creep and its source allow.

    Parameters
    ----------
    E_Pa, creep_share : float or None
        Lowest modulus, and the part of it left after long; None where either is not known.
    sustained_Pa : float or None
        Limit by a source, if one has it.
    working : Working
        Keeps the steps.

    Returns
    -------
    float or None
        None where nothing is known: that is no leave to load it.
    """
    found = [] if sustained_Pa is None else [sustained_Pa]
    if E_Pa is not None and creep_share is not None:
        found.append(float(working.use(creep_pressure, E=E_Pa, share=creep_share, epsilon=LASTING_SQUEEZE)))
    return min(found) if found else None


def half_angle(
    force_N: float, *, length_m: float, diameter_m: float, play_m: float, foundation_N_m3: float
) -> float:
    """Return the half angle of contact of a mast square in its bush.

    It is pi/2 where there is no play, and nearly so under a great force.

    Raises
    ------
    ArithmeticError
        If no angle balances the force.
    """
    return bush_contact(
        force_N,
        slope_rad=0.0,
        length_m=length_m,
        diameter_m=diameter_m,
        play_m=play_m,
        foundation_N_m3=foundation_N_m3,
    ).half_angle_rad


def bush_contact(
    force_N: float,
    *,
    slope_rad: float,
    length_m: float,
    diameter_m: float,
    play_m: float,
    foundation_N_m3: float,
    give_rad_N_m: float = 0.0,
) -> BushContact:
    """Return how a mast touches its bush.

    Parameters
    ----------
    force_N : float
        On the bearing, above zero.
    slope_rad : float
        Of the mast against the bush, in the plane of the force, were there no couple; its sign does not matter.
    length_m, diameter_m : float
        Of the bush, along and across the mast.
    play_m : float
        On the diameter, at least zero.
    foundation_N_m3 : float
        Pressure for each metre that the bush gives way.
    give_rad_N_m : float
        Slope that a couple of one takes out of the mast: b/(3 E I) of a uniform bury; zero keeps the slope, which
        overstates the pressure at the edges.

    Raises
    ------
    ArithmeticError
        If no place of the mast balances the force.
    """
    for name, value in (
        ("force", force_N),
        ("length", length_m),
        ("diameter", diameter_m),
        ("foundation", foundation_N_m3),
    ):
        if not 0 < value < np.inf:
            raise ValueError(f"a bush with a {name} of {value} has no contact")
    if not 0 <= play_m < np.inf or not np.isfinite(slope_rad) or not 0 <= give_rad_N_m < np.inf:
        raise ValueError(
            f"a play of {play_m}, a slope of {slope_rad} or a give of {give_rad_N_m} makes no sense"
        )
    layer = _Layer(diameter_m / 2, play_m / 2, foundation_N_m3)
    e, theta = _settled(layer, abs(slope_rad), length_m, force_N, give_rad_N_m)
    felt, rubbed = _balance(layer, e, theta, length_m), _rubbed(layer, e, theta, length_m)
    residual = abs(felt.force_N - force_N) / max(rubbed, force_N)
    if not residual <= 1e-9:
        raise ArithmeticError(f"contact of the mast in its bush under {force_N:.4g} N did not settle")
    foremost = e + theta * length_m / 2
    psi = float(layer.angle(np.array([foremost]))[0])
    return BushContact(
        peak_pressure_Pa=layer.k_N_m3 * (foremost - layer.half_play_m),
        half_angle_rad=psi,
        touched_m=length_m if theta == 0.0 else min(length_m, (foremost - layer.half_play_m) / theta),
        both_edges=theta * length_m / 2 - e > layer.half_play_m,
        couple_N_m=felt.couple_N_m,
        slope_rad=theta,
        offset_m=e,
        friction_factor=rubbed / force_N,
        residual=residual,
    )


def _settled(
    layer: _Layer, free_rad: float, length_m: float, force_N: float, give_rad_N_m: float
) -> tuple[float, float]:
    """Return offset and slope at which bush and mast balance, by Newton's method.

    They make the energy of bush, bent mast and side force least, which is convex: one place balances. A step is
    halved until what its end is off weighs less than what its start was, both by the stiffness at the start.
    """
    held = free_rad == 0.0 or give_rad_N_m == 0.0
    # from a bush pressed over its whole length by more than the force
    e, theta = layer.half_play_m + free_rad * length_m / 2, free_rad
    e += force_N / (layer.k_N_m3 * layer.radius_m * length_m)
    felt = _balance(layer, e, theta, length_m)

    def off(at: _Balance, slope: float) -> tuple[float, float]:
        return at.force_N - force_N, 0.0 if held else at.couple_N_m - (free_rad - slope) / give_rad_N_m

    for _ in range(MOST_ROUNDS):
        push, turn = off(felt, theta)
        stiff = (felt.ee, 0.0, 1.0) if held else (felt.ee, felt.et, felt.tt + 1 / give_rad_N_m)
        to_e, to_theta = _solved(stiff, push, turn)
        weight, step = push * to_e + turn * to_theta, 1.0
        if abs(to_e) + abs(to_theta) * length_m / 2 <= CLOSE * (e + theta * length_m / 2):
            return e - to_e, theta - to_theta
        for _ in range(MOST_ROUNDS):
            near_e, near_theta = e - step * to_e, theta - step * to_theta
            if near_e > 0.0 and (held or near_theta > 0.0):
                felt = _balance(layer, near_e, near_theta, length_m)
                left = off(felt, near_theta)
                lighter = sum(a * b for a, b in zip(left, _solved(stiff, *left), strict=True)) < weight
                # where nothing touches there is no stiffness to go by
                if lighter and felt.ee > 0.0:
                    break
            step /= 2
        e, theta = near_e, near_theta
    raise ArithmeticError(f"no place of the mast in its bush balances {force_N:.4g} N")


@dataclass(frozen=True)
class _Balance:
    """Side force and couple of a bush, and how they grow with offset and slope: one stiffness, symmetric."""

    force_N: float
    couple_N_m: float
    ee: float
    et: float
    tt: float


def _solved(stiffness: tuple[float, float, float], push: float, turn: float) -> tuple[float, float]:
    """Return the move that takes a force and a couple."""
    ee, et, tt = stiffness
    size = ee * tt - et * et
    return (tt * push - et * turn) / size, (ee * turn - et * push) / size


def _balance(layer: _Layer, e: float, theta: float, length_m: float) -> _Balance:
    if theta == 0.0:
        square = np.array([max(e, layer.half_play_m)])
        each = (float(value[0]) * length_m for value in (layer.bears(square), layer.stiffens(square)))
        return _Balance(next(each), 0.0, next(each), 0.0, 0.0)
    force = couple = ee = et = tt = 0.0
    for side, back, step, u in _pressed(layer, e, theta, length_m):
        # where contact ends nothing is borne: that its end moves adds nothing
        bears, stiff, arm = layer.bears(u) * step, layer.stiffens(u) * step, length_m / 2 - back
        force += side * float(bears.sum())
        couple += float(bears @ arm)
        ee += float(stiff.sum())
        et += side * float(stiff @ arm)
        tt += float(stiff @ arm**2)
    return _Balance(force, couple, ee, et, tt)


def _rubbed(layer: _Layer, e: float, theta: float, length_m: float) -> float:
    """Return the sum of the pressures of a bush, on both sides."""
    if theta == 0.0:
        return float(layer.rubs(np.array([e]))[0]) * length_m if e > layer.half_play_m else 0.0
    return sum(float(layer.rubs(u) @ step) for _, _, step, u in _pressed(layer, e, theta, length_m))


def _pressed(
    layer: _Layer, e: float, theta: float, length_m: float
) -> Iterator[tuple[float, Floats, Floats, Floats]]:
    """Yield each side that is pressed: its sign, and places from its foremost edge, lengths and offsets there."""
    nodes, weights = gauss(POINTS)
    x = (nodes + 1) / 2
    for side in (1.0, -1.0):
        # lengths from the edge that is pressed hardest on this side, to where contact ends
        foremost = theta * length_m / 2 + side * e
        span = min(length_m, (foremost - layer.half_play_m) / theta)
        if span <= 0:
            continue
        # the load fades out as a power of 3/2: x squared makes it smooth
        back = span * (1 - x**2)
        yield side, back, span * x * weights, foremost - theta * back
