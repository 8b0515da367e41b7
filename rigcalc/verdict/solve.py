"""The beam engine put to work on all cases of a model, whatever holds the mast in each."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from ..frozen import dataclass
from ..loads import CaseLoad
from ..structure.beam import BeamResult, Supports, solve
from ..structure.large import solve_large
from ..structure.modes import critical_axial_load
from .model import Model, in_a_row

Floats = NDArray[np.float64]

LEAST_THRUST_N = 1e-9
"""Thrust below which nothing presses a mast."""


@dataclass(frozen=True)
class Solved:
    """Straight and bent mast of every case at every turn, in the mast's axes.

    Parameters
    ----------
    small : BeamResult
        Leading axes (plane, case).
    bent_m : ndarray, shape (3, cases, n, points)
        Positions on the bent mast.
    bent_tangent : ndarray, shape (3, cases, n, points)
        Its unit tangent.
    bent_moment_N_m : ndarray, shape (2, cases, n, points)
        Moments on the bent mast.
    bent_shear_N : ndarray, shape (2, cases, n, points)
        Shear in the bent mast.
    bent_partners_N, bent_heel_N : ndarray, shape (2, cases)
        Forces of the upper and the lower bearing of the bent mast, positive against the load.
    settled : ndarray of bool, shape (cases,)
        Whether the bent mast found its equilibrium.
    standing : ndarray of bool, shape (cases,)
        Whether partners and step hold it, and not slings.
    axial_factor : ndarray, shape (cases,)
        Factor on the axial load at which the mast becomes unstable: infinite where none does, NaN where
        the search did not settle.
    """

    small: BeamResult
    bent_m: Floats
    bent_tangent: Floats
    bent_moment_N_m: Floats
    bent_shear_N: Floats
    bent_partners_N: Floats
    bent_heel_N: Floats
    settled: NDArray[np.bool_]
    standing: NDArray[np.bool_]
    axial_factor: Floats

    def only(self, cases: list[int]) -> Solved:
        """Return the same of some of the cases."""
        those = in_a_row(cases)
        small = BeamResult(*(getattr(self.small, name)[:, those] for name in BeamResult.__dataclass_fields__))
        return Solved(
            small,
            self.bent_m[:, those],
            self.bent_tangent[:, those],
            self.bent_moment_N_m[:, those],
            self.bent_shear_N[:, those],
            self.bent_partners_N[:, those],
            self.bent_heel_N[:, those],
            self.settled[those],
            self.standing[those],
            self.axial_factor[those],
        )

    @property
    def upper_N(self) -> Floats:
        """Force of the upper bearing, both planes together, the larger of straight and bent mast, shape (cases,)."""
        return larger(self.small.partners_N, self.bent_partners_N, self.settled)

    @property
    def lower_N(self) -> Floats:
        """The same of the lower bearing."""
        return larger(self.small.heel_N, self.bent_heel_N, self.settled)


def larger(straight: Floats, bent: Floats, settled: NDArray[np.bool_]) -> Floats:
    """Return the size of forces, the planes on their first axis: of the bent mast where that stands and has more."""
    size: Floats = np.hypot(*straight)
    return np.asarray(np.where(settled, np.maximum(size, np.hypot(*bent)), size))


def solve_cases(model: Model, loads: Sequence[CaseLoad], *, stability: bool = True) -> Solved:
    """Solve every case at every turn, those held alike together; without ``stability`` no factor of it is sought."""
    groups: dict[tuple[float, float] | None, list[int]] = {}
    turns = len(model.turns_rad)
    for i, load in enumerate(loads):
        groups.setdefault(load.held_at_m, []).extend(range(i * turns, (i + 1) * turns))
    parts = [_solve(model.only(cases), held, stability) for held, cases in groups.items()]
    order = np.argsort([i for cases in groups.values() for i in cases])

    def together(pieces: list[Floats], axis: int) -> Floats:
        return np.take(np.concatenate(pieces, axis=axis), order, axis=axis)

    small = BeamResult(
        *(together([getattr(p.small, name) for p in parts], 1) for name in BeamResult.__dataclass_fields__)
    )
    return Solved(
        small,
        together([p.bent_m for p in parts], 1),
        together([p.bent_tangent for p in parts], 1),
        together([p.bent_moment_N_m for p in parts], 1),
        together([p.bent_shear_N for p in parts], 1),
        together([p.bent_partners_N for p in parts], 1),
        together([p.bent_heel_N for p in parts], 1),
        np.concatenate([p.settled for p in parts])[order],
        np.concatenate([p.standing for p in parts])[order],
        together([p.axial_factor for p in parts], 0),
    )


def straight(model: Model, supports: Supports) -> BeamResult:
    """Solve every case of a model on the mast as it stands straight, in one pair of bearings."""
    return solve(model.mesh, _planes(model), model.across, supports)


def _planes(model: Model) -> Floats:
    """Stiffness in each plane, one for both where they are alike."""
    sections = model.sections
    return sections.EI_N_m2 if sections.even else sections.planes_N_m2[:, None]


def _solve(model: Model, held: tuple[float, float] | None, stability: bool) -> Solved:
    supports = model.supports
    if held is not None:
        supports = Supports(bury_m=held[1], lower_m=held[0])
    small = straight(model, supports)
    large = solve_large(
        model.mesh,
        _planes(model),
        model.line_N_m,
        model.steady_point_N,
        supports,
        pulls=model.pulls,
        slope_rad=small.slope_rad,
    )
    finite = np.all(np.isfinite(large.position_m), axis=(0, -2, -1))
    return Solved(
        small,
        large.position_m,
        large.tangent,
        large.moment_N_m,
        large.shear_N,
        large.partners_N,
        large.heel_N,
        large.converged & finite,
        np.full(large.converged.shape, held is None),
        _axial_factors(model, supports) if stability else np.full(large.converged.shape, np.nan),
    )


def _axial_factors(model: Model, supports: Supports) -> Floats:
    axial = model.axial_N
    factors = np.full(axial.shape[0], np.inf)
    pressed = np.max(axial, axis=(-2, -1)) > LEAST_THRUST_N
    if np.any(pressed):
        found = critical_axial_load(
            model.mesh,
            np.broadcast_to(model.sections.EI_low_N_m2, axial[pressed].shape),
            # tension would steady the mast: leaving it out is the safe side
            np.maximum(axial[pressed], 0.0),
            None,
            supports,
            restoring_N_m=model.restoring_N_m[pressed],
        )
        factors[pressed] = np.where(found.converged, found.values[..., 0], np.nan)
    return factors
