"""Internal forces of the mast, and the stresses they make in one layer of whatever material."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.sections import (
    bending_stress,
    layer_direct_stress,
    layer_moment,
    layer_torsion_stress,
    von_mises_stress,
)
from ..frozen import dataclass
from ..structure.sections import Layer, Sections
from ..structure.shapes import only

Floats = NDArray[np.float64]

SIDE, FORWARD = 0, 1


@dataclass(frozen=True)
class Internal:
    """Internal forces at every point; shape (cases, n, points), cases at every angle the mast is turned to.

    Moments and shear have the planes of the mast's own axes, side and forward, on a leading axis.

    Parameters
    ----------
    straight_N_m, bent_N_m : ndarray, shape (2, cases, n, points)
        Moments on the straight mast and on the bent one; zero where the bent one found no equilibrium. Where
        only the straight mast was solved, both are the same array.
    straight_shear_N, bent_shear_N : ndarray, shape (2, cases, n, points)
        The same of the shear.
    axial_N : ndarray
        Compression positive.
    torque_N_m : ndarray
        Not negative.
    axial_factor : ndarray, shape (cases, 1, 1) or (cases, n, 1)
        Factor on the axial load at which the mast becomes unstable; infinite where nothing presses it, NaN
        where it was not found.
    upper_N, lower_N : ndarray, shape (cases, 1, 1) or (cases, n, 1)
        Force of partners and step on the mast, the larger of straight and bent; nothing where it hangs in slings.
    """

    straight_N_m: Floats
    bent_N_m: Floats
    straight_shear_N: Floats
    bent_shear_N: Floats
    axial_N: Floats
    torque_N_m: Floats
    axial_factor: Floats
    upper_N: Floats
    lower_N: Floats

    def only(self, elements: NDArray[np.intp]) -> Internal:
        """Return those in some elements, of many masts."""
        return only(self, elements)

    @cached_property
    def moment_N_m(self) -> Floats:
        """Resultant of both planes, the larger of straight and bent mast."""
        return _larger(self.straight_N_m, self.bent_N_m)

    @cached_property
    def thrust_N(self) -> Floats:
        """Size of the axial force, whatever its sign."""
        return np.abs(self.axial_N)

    @cached_property
    def shear_N(self) -> Floats:
        """Resultant of the shear in both planes, the larger of straight and bent mast."""
        return _larger(self.straight_shear_N, self.bent_shear_N)


def _larger(straight: Floats, bent: Floats) -> Floats:
    """Return the resultant of both planes, the larger of two."""
    if bent is straight:
        return _resultant(straight)
    return np.asarray(np.maximum(_resultant(straight), _resultant(bent)))


def _resultant(of_planes: Floats) -> Floats:
    """Return the size of vectors with the planes on the first axis; far from the ends of the numbers' range."""
    return np.asarray(np.sqrt(of_planes[SIDE] ** 2 + of_planes[FORWARD] ** 2))


@dataclass(frozen=True)
class Stresses:
    """Nominal stresses of one layer, all positive: the worst signs are taken together.

    Parameters
    ----------
    moment_N_m : ndarray
        The layer's share of the moment.
    bending_Pa : ndarray
        At the fibre farthest from the neutral axis.
    direct_Pa : ndarray
        From the axial force, whatever its sign.
    torsion_Pa, shear_Pa : ndarray
        Greatest shear stress of the torque, and of the shear force at the neutral axis.
    """

    moment_N_m: Floats
    bending_Pa: Floats
    direct_Pa: Floats
    torsion_Pa: Floats
    shear_Pa: Floats


@dataclass(frozen=True)
class MetalStresses(Stresses):
    """Nominal stresses of a layer that yields.

    Parameters
    ----------
    equivalent_Pa : ndarray
        Von Mises, the worse of outer fibre and neutral axis.
    """

    equivalent_Pa: Floats


def layer_stresses(sections: Sections, layer: Layer, internal: Internal, working: Working) -> Stresses:
    """Return the stresses in one layer.

    The layer takes moment, shear and torque by its stiffness. Two places round the section are
    looked at: the outer fibre, where bending is greatest, and the neutral axis, where shear is.
    """
    use, shape = working.use, layer.shape
    moment, bending = _bending(sections, layer, internal, working)
    direct = use(layer_direct_stress, N=internal.thrust_N, E=layer.elastic.E_Pa, EA=sections.EA_N)
    torsion = use(
        layer_torsion_stress,
        T=internal.torque_N_m,
        r=shape.torsion_arm_m,
        G=layer.elastic.G_Pa,
        GJ=sections.GJ_N_m2,
    )
    share = np.max(layer.EI_N_m2 / sections.planes_N_m2, axis=0)
    # the worst direction of a section that is not round is taken for the shear of both planes
    shear = internal.shear_N * (share * shape.shear_per_m2)
    return Stresses(moment, bending, _where_it_is(layer, direct), _where_it_is(layer, torsion), shear)


def _where_it_is(layer: Layer, stress: Floats) -> Floats:
    """Return a stress, nothing where the layer is absent."""
    return stress if np.all(layer.present) else np.where(layer.present, stress, 0.0)


def metal_stresses(sections: Sections, layer: Layer, internal: Internal, working: Working) -> MetalStresses:
    """Return the stresses in one layer of metal, what makes it yield among them."""
    s, use = layer_stresses(sections, layer, internal, working), working.use
    outer_fibre = use(von_mises_stress, sigma=s.bending_Pa + s.direct_Pa, tau=s.torsion_Pa)
    neutral_axis = use(von_mises_stress, sigma=s.direct_Pa, tau=s.shear_Pa + s.torsion_Pa)
    return MetalStresses(**vars(s), equivalent_Pa=np.maximum(outer_fibre, neutral_axis))


def _bending(sections: Sections, layer: Layer, internal: Internal, working: Working) -> tuple[Floats, Floats]:
    """Return the layer's moment, and the stress at its fibre farthest from the neutral axis."""
    use, here, E = working.use, layer.present, layer.elastic.E_Pa
    if sections.even:
        second = np.where(here, layer.shape.second_moment_side_m4, 1.0)
        moment = use(
            layer_moment,
            M=internal.moment_N_m,
            E=E,
            I=layer.shape.second_moment_side_m4,
            EI=sections.EI_N_m2,
        )
        # a corner of flat staves may come to lie anywhere: the farthest is taken
        stress = use(bending_stress, M=moment, y=layer.shape.farthest_m(1.0, 1.0), I=second)
        return moment, _where_it_is(layer, stress)
    both = [moments / sections.planes_N_m2[:, None] for moments in (internal.straight_N_m, internal.bent_N_m)]
    stress = np.max([E * layer.shape.reach_m(turn[FORWARD], turn[SIDE]) for turn in both], axis=0)
    moment = np.max([np.hypot(*(turn * layer.EI_N_m2[:, None])) for turn in both], axis=0)
    return moment, np.where(here, stress, 0.0)
