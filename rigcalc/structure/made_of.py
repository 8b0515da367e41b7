"""What a layer is made of, and how stiff and heavy that makes it.

Stiffness comes in three: what bends under load, what swings, and what may buckle. In a metal they are one;
in timber the first holds the shear of a test beam, the second does not, and the third is the lower 5 %.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..formulas import Value
from ..frozen import dataclass
from ..materials import Foam, Metal
from ..materials.laminates import Laid
from ..materials.timber import Timber

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Metals:
    """One metal, by the rows of its table that a range of walls calls for.

    Parameters
    ----------
    rows : tuple of Metal
        Thinnest first; one modulus and density.
    """

    rows: tuple[Metal, ...]

    @property
    def name(self) -> str:
        return self.rows[0].name


MadeOf = Metals | Timber | Laid | Foam


@dataclass(frozen=True)
class Piece:
    """What a material must know of the piece it makes.

    Parameters
    ----------
    name : str
        Which layer.
    thinnest_m, thickest_m : float
        Least and greatest wall; half the diameter of a solid.
    depth_m : float or ndarray, shape (n, 1)
        Largest outside size; of many masts laid end to end, that of each at its elements.
    solid : bool
        Whether it has no bore anywhere.
    section : str
        Shape of the outside.
    """

    name: str
    thinnest_m: float
    thickest_m: float
    depth_m: Value
    solid: bool
    section: str


@dataclass(frozen=True)
class Elastic:
    """Stiffness along the mast, in shear, and density; each broadcasts to (n, points).

    Parameters
    ----------
    E_Pa : ndarray
        Under load: bending, and the sharing of load among layers.
    E_true_Pa : ndarray
        Free of shear deflection: frequencies.
    E_low_Pa : ndarray
        Lower 5 %: instability.
    G_Pa : ndarray
        Shear modulus.
    density_kg_m3 : ndarray
        Density.
    """

    E_Pa: Floats
    E_true_Pa: Floats
    E_low_Pa: Floats
    G_Pa: Floats
    density_kg_m3: Floats


def elastic(made_of: MadeOf) -> Elastic:
    """Return stiffness and density of what a layer is made of."""
    values: tuple[Value, ...]
    match made_of:
        case Metals():
            m = made_of.rows[0]
            values = (m.E_Pa, m.E_Pa, m.E_Pa, m.G_Pa, m.density_kg_m3)
        case Timber():
            E, E_true, E_low, G = (made_of.value_Pa(of) for of in ("E_apparent", "E_true", "E_05", "G"))
            values = (E, E_true, E_low, G, made_of.density_kg_m3)
        case Foam():
            values = (made_of.E_Pa, made_of.E_Pa, made_of.E_Pa, made_of.G_Pa, made_of.density_kg_m3)
        case Laid():
            membrane = made_of.E_Pa
            return Elastic(membrane, membrane, membrane, made_of.G_Pa, made_of.density_kg_m3)
    return Elastic(*(np.asarray(value, dtype=float) for value in values))


def creep_of(made_of: MadeOf) -> float:
    """Return what a lasting load adds to the deflection at once: k_def of wood, nothing of a metal."""
    return made_of.creep.value if isinstance(made_of, Timber) else 0.0
