"""The greatest use of any ply of many walls at once, under loads each of which may act either way.

Stresses of a ply are linear in the loads. Where every load may turn, a state comes with its reverse: each direct
stress meets both of its strengths, no sign need be looked at, and the use by a criterion is the root of the
greatest of a few quadratic forms of the loads. Their coefficients belong to the wall, so that a place costs a
small product of matrices. `failure` looks at one state after the other; this is the greatest it finds over all
signs, to rounding, by its own interaction and shear strength across the fibres, without the ply and the mode.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property, partial
from itertools import combinations, product
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...formulas.laminates import (
    hashin_fibre_tension_index,
    linear_use,
    matrix_index,
    strain_index,
    stress_index,
    tsai_hill_index,
    tsai_wu_interaction,
    tsai_wu_linear_coefficient,
    tsai_wu_linear_part,
    tsai_wu_square_coefficient,
    tsai_wu_square_part,
)
from ...frozen import dataclass
from .criteria import STRAIN_OF, Criterion, ultimate_strain
from .failure import INTERACTION, demand_fit
from .plies import STRENGTHS, Ply
from .strains import strain_turn
from .walls import Floats, Stack

Square = Callable[[Floats, Floats, Floats], Floats]
"""A quadratic form of the stresses, or strains, along, across and in shear; one value for every ply."""

_AT_ONCE = 30_000
"""Values worked on at a time: as many as a processor keeps at hand."""
_WORTH_COMPARING = 1_000_000
"""Comparisons of coefficients above which it is quicker to work out the squares."""


@dataclass(frozen=True)
class Envelope:
    """What a unit of each load makes in the plies of different walls.

    Parameters
    ----------
    plies : ndarray of Ply, shape (plies,)
        With the strengths to go by.
    strain, stress_Pa : ndarray, shape (walls, loads, plies, 3)
        In the axes of the ply; zero where a wall does not have it.
    """

    plies: NDArray[np.object_]
    strain: Floats
    stress_Pa: Floats

    def use(self, criterion: Criterion, walls: NDArray[np.intp], loads: Floats) -> Floats:
        """Return the greatest use of any ply by a criterion, over all signs of the loads.

        Parameters
        ----------
        criterion : str
            One of `CRITERIA`.
        walls : ndarray of int, shape (n,)
            Which wall stands at each place.
        loads : ndarray, shape (n, loads, k)
            Sizes of the loads in k cases; signs do not count.

        Returns
        -------
        ndarray, shape (n, k)
            Infinite where there is no answer.

        Raises
        ------
        MaterialError
            Where the criterion does not suit a ply.
        """
        terms = self._terms(criterion)
        n, _, k = loads.shape
        found = np.empty((n, k))
        step = max(1, _AT_ONCE // (terms.squares[0, ..., 0].size * max(k, 1)))
        with np.errstate(invalid="ignore", over="ignore"):  # no answer counts as failed, below
            for first in range(0, n, step):
                part = slice(first, first + step)
                found[part] = terms.use(walls[part], np.abs(loads[part]))
        return np.where(np.isnan(found), np.inf, found)

    def _terms(self, criterion: Criterion) -> _Terms:
        for ply in self._kinds.values():
            demand_fit(ply, criterion)
        of = self._limits
        if criterion == "tsai-wu":
            square, slope = _tsai_wu(of)
            slopes = np.moveaxis(slope(self.stress_Pa[..., 0], self.stress_Pa[..., 1]), 1, -1)
            slopes = slopes[..., None, :] * self._signs
            slopes = slopes.reshape(len(slopes), -1, slopes.shape[-1])
            return _not_outdone(self._turned(_weighed([square], self._products)), slopes)
        if criterion == "tsai-hill":
            # the second product is that of both direct stresses
            return _Terms(
                self._turned(_weighed(_tsai_hill(of), self._products)),
                products=self._turned(self._products[..., 1:2, :])[:, 0],
            )
        products = self._strain_products if criterion == "max-strain" else self._products
        forms = _weighed(_squares(criterion, of), products)
        if self.strain.shape[1] > 2:
            return _not_outdone(self._turned(forms))
        # the worst signs of two loads are those with which their product adds
        worst = np.concatenate([forms[..., :2], np.abs(forms[..., 2:])], axis=-1)
        return _not_outdone(_by_form(worst))

    @cached_property
    def _kinds(self) -> dict[int, Ply]:
        """Plies that are not one and the same, by their identity."""
        return {id(ply): ply for ply in self.plies}

    @cached_property
    def _limits(self) -> dict[str, Floats]:
        """Strengths and ultimate strains of every ply by name; not a number where one is not known."""
        place = {kind: number for number, kind in enumerate(self._kinds)}
        at, kinds = [place[id(ply)] for ply in self.plies], self._kinds.values()
        found: dict[str, list[float | None]] = {
            name: [getattr(ply, name) for ply in kinds] for name in STRENGTHS
        }
        found |= {name: [ultimate_strain(ply, name) for ply in kinds] for name in STRAIN_OF}
        return {name: np.array(values, dtype=float)[at] for name, values in found.items()}

    @cached_property
    def _signs(self) -> Floats:
        """Ways in which the loads can act on one another, shape (ways, loads): the reverse of each is as bad."""
        return np.array([(1.0, *rest) for rest in product((1.0, -1.0), repeat=self.strain.shape[1] - 1)])

    @cached_property
    def _products(self) -> Floats:
        return _products_of(self.stress_Pa)

    @cached_property
    def _strain_products(self) -> Floats:
        return _products_of(self.strain)

    def _turned(self, forms: Floats) -> Floats:
        """Return forms with every sign of their products of loads, shape (walls, forms, plies by ways, products)."""
        first, second = np.transpose(_pairs(self.strain.shape[1]))
        return _by_form(forms[..., None, :] * (self._signs[:, first] * self._signs[:, second]))


@dataclass(frozen=True)
class _Terms:
    """A criterion for different walls.

    Parameters
    ----------
    squares : ndarray, shape (walls, forms, states, products)
        Coefficients of the products of loads in the squares of the use.
    products : ndarray, shape (walls, states, products), optional
        Those of the product of both direct stresses, where its sign chooses between the first and the last two
        forms.
    slopes : ndarray, shape (walls, states, loads), optional
        Those of the part of the criterion that grows as the load.
    """

    squares: Floats
    products: Floats | None = None
    slopes: Floats | None = None

    def use(self, walls: NDArray[np.intp], loads: Floats) -> Floats:
        """Return the greatest use at some places, shape (n, k)."""
        of = np.stack([loads[:, i] * loads[:, j] for i, j in _pairs(loads.shape[1])], axis=1)
        n, k = loads.shape[0], loads.shape[2]
        forms, states, products = self.squares.shape[1:]
        squares = self.squares[walls].reshape(n, -1, products) @ of
        # a sum of squares is not below zero but by rounding
        if self.slopes is not None:
            a, b = np.maximum(squares, 0.0), np.abs(self.slopes[walls] @ loads)
            return np.asarray(np.max(linear_use(a=a, b=b), axis=1))
        if self.products is not None:
            both = squares.reshape(n, forms, states, k)
            like, unlike = np.maximum(both[:, 0], both[:, 1]), np.maximum(both[:, 2], both[:, 3])
            squares = np.where(self.products[walls] @ of >= 0.0, like, unlike)
        return np.asarray(np.sqrt(np.maximum(np.max(squares, axis=1), 0.0)))


def membrane_envelope(stack: Stack, strain: Floats) -> Envelope:
    """Return the envelope of walls that do not curl, like plies at one angle taken once.

    Parameters
    ----------
    stack : Stack
        Of the plies, shape (plies,), their shares of shape (walls, plies).
    strain : ndarray, shape (walls, loads, 3)
        Of the wall for a unit of each load.
    """
    kinds: dict[object, list[int]] = {}
    for place, (ply, angle) in enumerate(zip(stack.plies, stack.angle_rad, strict=True)):
        kinds.setdefault((dataclasses.replace(ply, **_ONE_SIZE), float(angle)), []).append(place)
    stands = np.stack([np.any(stack.share[:, places] > 0.0, axis=-1) for places in kinds.values()], axis=-1)
    one = [places[0] for places in kinds.values()]
    own, stress = _states(stack, strain)
    there = stands[:, None, :, None]
    return Envelope(stack.plies[one], own[:, :, one] * there, stress[:, :, one] * there)


def bent_envelope(stack: Stack, edges_m: Floats, strain: Floats) -> Envelope:
    """Return the envelope of walls that are bent round the tube as well: the last load is that curvature.

    Parameters
    ----------
    stack : Stack
        Of the plies, shape (plies,), their shares of shape (walls, plies).
    edges_m : ndarray, shape (walls, plies + 1)
        z of the faces of the plies.
    strain : ndarray, shape (walls, loads, 3)
        Of the middle of the wall for a unit of each load.
    """
    # both faces of every ply, one after the other
    z = np.repeat(edges_m, 2, axis=-1)[:, None, 1:-1, None]
    there = np.repeat(stack.share > 0.0, 2, axis=-1)[:, None, :, None]
    round_it = np.array([[[0.0, 1.0, 0.0]]])
    own, stress = (
        np.concatenate([np.repeat(middle, 2, axis=2), z * np.repeat(curved, 2, axis=2)], axis=1) * there
        for middle, curved in zip(_states(stack, strain), _states(stack, round_it), strict=True)
    )
    return Envelope(np.repeat(stack.plies, 2), own, stress)


_ONE_SIZE: Any = {"thickness_m": 1.0, "fibre_mass_kg_m2": 1.0}


def _states(stack: Stack, strain: Floats) -> tuple[Floats, Floats]:
    """Return strain and stress of the plies in their own axes, shape (walls, loads, plies, 3)."""
    turn = strain_turn(stack.angle_rad)
    own, stress = (np.tensordot(strain, of, axes=(2, 2)) for of in (turn, stack.local_stiffness_Pa @ turn))
    return own, stress


def _pairs(loads: int) -> list[tuple[int, int]]:
    """Return the products of loads: squares first."""
    return [*((i, i) for i in range(loads)), *combinations(range(loads), 2)]


def _products_of(state: Floats) -> Floats:
    """Return what the products of loads are times in those of the stresses, shape (walls, plies, 4, products).

    Of the stresses: along squared, along by across, across squared, shear squared.
    """
    along, across, shear = state[..., 0], state[..., 1], state[..., 2]
    found = []
    for i, j in _pairs(state.shape[1]):
        # a product of two loads comes twice in a square
        times = 1.0 if i == j else 2.0
        crossed = along[:, i] * across[:, j]
        if i != j:
            crossed = crossed + along[:, j] * across[:, i]
        squares = (times * of[:, i] * of[:, j] for of in (along, across, shear))
        found.append([next(squares), crossed, *squares])
    return np.ascontiguousarray(np.moveaxis(np.array(found), (0, 1), (-1, -2)))


def _weighed(squares: Sequence[Square], products: Floats) -> Floats:
    """Return quadratic forms of the loads from those of the stresses, shape (walls, plies, forms, products)."""
    # what a form weighs each product of stresses by is what it makes of them one by one
    states = np.array([[1.0, 1.0, 1.0, 0.0, 0.0], [0.0, 1.0, -1.0, 1.0, 0.0], [0.0, 0.0, 0.0, 0.0, 1.0]])
    found = []
    for square in squares:
        along, both, against, across, shear = square(*states[..., None])
        found.append(np.stack([along, (both - against) / 2, across, shear], axis=-1))
    return np.asarray(np.stack(found, axis=1) @ products)


def _by_form(forms: Floats) -> Floats:
    """Put forms before plies, and the ways of every ply one after the other."""
    return np.moveaxis(forms, 2, 1).reshape(forms.shape[0], forms.shape[2], -1, forms.shape[-1])


def _not_outdone(squares: Floats, slopes: Floats | None = None) -> _Terms:
    """Return terms without the states that another always matches or exceeds: most plies never fail first.

    Sizes of loads and their products are not negative, so that it is enough to compare coefficients in every wall.

    Parameters
    ----------
    squares, slopes : ndarray
        As `_Terms` takes them, each form a state by itself.
    """
    rows = squares.reshape(len(squares), 1, -1, squares.shape[-1])
    if rows.size * rows.shape[2] > _WORTH_COMPARING:
        return _Terms(rows, slopes=slopes)

    def at_most(of: Floats) -> NDArray[np.bool_]:
        return np.asarray(np.all(of[:, :, None] <= of[:, None], axis=(0, -1)))

    outdone = at_most(rows[:, 0])
    if slopes is not None:
        # of parts that go with the sign, only those to which every load adds are sure to be greater
        adds = np.all(slopes >= 0.0, axis=(0, -1)) | np.all(slopes <= 0.0, axis=(0, -1))
        outdone &= at_most(np.abs(slopes)) & adds
    number = np.arange(len(outdone))
    # of states that are alike the first is kept
    left = ~np.any(outdone & (~outdone.T | (number[:, None] > number)), axis=1)
    return _Terms(rows[:, :, left], slopes=None if slopes is None else slopes[:, left])


# ---------------------------------------------------------------- the criteria, a state and its reverse at once


Limits = Mapping[str, Floats]
"""Strengths and ultimate strains of every ply by name."""


def _squares(criterion: Criterion, of: Limits) -> list[Square]:
    """Return the forms of which the greatest is the square of the use; of strains for ``max-strain``."""
    if criterion == "max-strain":
        limits = (_lower(of, "strain_1t", "strain_1c"), _lower(of, "strain_2t", "strain_2c"), of["strain_12"])
        return [
            _alone(i, partial(strain_index, epsilon_u=limit), "epsilon") for i, limit in enumerate(limits)
        ]
    S = of["S12_Pa"]
    if criterion == "tsai-hill-tensile":
        return [_hill(of["Xt_Pa"], of["Yt_Pa"], S)]
    X, Y = _lower(of, "Xt_Pa", "Xc_Pa"), _lower(of, "Yt_Pa", "Yc_Pa")
    along, across, shear = (
        _alone(i, partial(stress_index, X=limit), "sigma") for i, limit in enumerate((X, Y, S))
    )
    match criterion:
        case "max-stress":
            return [along, across, shear]
        case "hashin-rotem":
            return [along, _resin(Y, S)]
    X_t, X_c = of["Xt_Pa"], of["Xc_Pa"]
    return [
        lambda s1, s2, s6: hashin_fibre_tension_index(sigma_1=s1, tau_12=s6, X_t=X_t, S=S),
        _alone(0, partial(stress_index, X=X_c), "sigma"),
        # crushed resin has no part that grows as the load where it shears across the fibres at half of Y_c
        _resin(Y, S),
    ]


def _lower(of: Limits, tension: str, compression: str) -> Floats:
    """Return the lower of two strengths: a stress that turns meets both."""
    return np.minimum(of[tension], of[compression])


def _alone(place: int, index: Callable[..., Floats], name: str) -> Square:
    return lambda *stresses: index(**{name: stresses[place]}) ** 2


def _resin(Y: Floats, S: Floats) -> Square:
    return lambda s1, s2, s6: matrix_index(sigma_2=s2, tau_12=s6, Y=Y, S=S)


def _hill(X: Floats, Y: Floats, S: Floats) -> Square:
    return lambda s1, s2, s6: tsai_hill_index(sigma_1=s1, sigma_2=s2, tau_12=s6, X=X, Y=Y, S=S)


def _tsai_hill(of: Limits) -> list[Square]:
    """Return the forms of direct stresses of one sign, both ways, then of two signs, both ways."""
    S, tension, compression = of["S12_Pa"], (of["Xt_Pa"], of["Yt_Pa"]), (of["Xc_Pa"], of["Yc_Pa"])
    return [
        _hill(X, Y, S)
        for X, Y in (
            tension,
            compression,
            (tension[0], compression[1]),
            (compression[0], tension[1]),
        )
    ]


def _tsai_wu(of: Limits) -> tuple[Square, Callable[[Floats, Floats], Floats]]:
    """Return the part that grows as the square of the load, and that which grows as the load."""
    along = {"X_t": of["Xt_Pa"], "X_c": of["Xc_Pa"]}
    across = {"X_t": of["Yt_Pa"], "X_c": of["Yc_Pa"]}
    shear = {"X_t": of["S12_Pa"], "X_c": of["S12_Pa"]}
    F_11, F_22 = tsai_wu_square_coefficient(**along), tsai_wu_square_coefficient(**across)
    square = {
        "F_11": F_11,
        "F_22": F_22,
        "F_12": tsai_wu_interaction(F_11=F_11, F_22=F_22, f=INTERACTION),
        "F_66": tsai_wu_square_coefficient(**shear),
    }
    slope = {"F_1": tsai_wu_linear_coefficient(**along), "F_2": tsai_wu_linear_coefficient(**across)}
    return (
        lambda s1, s2, s6: tsai_wu_square_part(sigma_1=s1, sigma_2=s2, tau_12=s6, **square),
        lambda s1, s2: tsai_wu_linear_part(sigma_1=s1, sigma_2=s2, **slope),
    )
