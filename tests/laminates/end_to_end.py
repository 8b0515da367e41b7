"""Masts of laminate laid end to end along the axis of elements, for tests and benchmarks."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from rigcalc.limits.stresses import Internal
from rigcalc.materials.laminates import Laid, LayUp
from rigcalc.structure.made_of import elastic
from rigcalc.structure.mesh import POINTS, Mesh
from rigcalc.structure.outline import Outline
from rigcalc.structure.sections import Layer, Sections
from rigcalc.structure.shapes import Round

Floats = NDArray[np.float64]


def counted(made: LayUp, counts: NDArray[np.int_]) -> LayUp:
    """Return a lay-up with other counts of plies, those of none left out."""
    lots = [replace(lot, count=int(n)) for lot, n in zip(made.lots, counts, strict=True) if n]
    return replace(made, lots=tuple(lots))


def tube_of(laid: Laid, bore_m: Floats) -> Sections:
    """Return round tubes of a laminate, by their bore at every point."""
    E, G = laid.tube_moduli_Pa(bore_m)
    shape = Round.even(bore_m + 2 * laid.wall_m, bore_m)
    stiff = replace(elastic(laid), E_Pa=E, E_true_Pa=E, E_low_Pa=E, G_Pa=G)
    here = np.ones((len(bore_m), 1), dtype=bool)
    none = np.zeros(2)
    return Sections(
        Mesh(np.arange(len(bore_m) + 1.0)),
        (Layer("tube", laid, shape, here, stiff),),
        Outline(none, none, none, none),
    )


def forces(seed: int, cases: int, n: int) -> Internal:
    """Return forces of every size."""
    random = np.random.default_rng(seed)
    shape = (cases, n, POINTS)
    straight = random.uniform(0.0, 500.0, (2, *shape))
    shear = random.uniform(-300.0, 300.0, (2, *shape))
    unpressed = np.zeros((cases, 1, 1))
    return Internal(
        straight_N_m=straight,
        bent_N_m=straight * 1.1,
        straight_shear_N=shear,
        bent_shear_N=shear * random.uniform(0.9, 1.1, shape),
        axial_N=random.uniform(-50.0, 500.0, shape),
        torque_N_m=random.uniform(0.0, 30.0, shape),
        axial_factor=np.full((cases, 1, 1), np.inf),
        upper_N=unpressed,
        lower_N=unpressed,
    )


def part(internal: Internal, elements: slice) -> Internal:
    """Return the forces in some elements."""
    return replace(
        internal,
        **{
            name: getattr(internal, name)[..., elements, :]
            for name in (
                "straight_N_m",
                "bent_N_m",
                "straight_shear_N",
                "bent_shear_N",
                "axial_N",
                "torque_N_m",
            )
        },
    )
