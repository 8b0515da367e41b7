"""One layer of timber as its limits look at it: where it is hollow, what it bears there, and what would cure it."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ...formulas import Working
from ...formulas.timber import timber_allowable_stress
from ...frozen import dataclass
from ...materials.timber import Chain, Property, Timber
from ...rig import Rig
from ...structure.sections import Layer, Sections
from ..about import SMALLER_LOAD, Cure
from ..record import up
from ..stresses import Internal, Stresses, layer_stresses

Floats = NDArray[np.float64]
Places = NDArray[np.bool_]
Place = tuple[int, int]
Advise = Callable[[float, Place], str]

_TOUCH = 1e-6
"""Play of a plug in its bore, as a share of it, below which it fills the bore."""
_DAMPED_BY_SIZE = {"bending": 1 / 18, "shear": 1 / 5}
"""Powers with which clear wood loses strength as the piece grows: Eq. 9-18 and 9-20 of the Wood Handbook."""


LARGER = Cure(
    "make the mast larger<, the diameter from {now:.0f} to about {to:.0f} mm{wall}|, diameter and wall "
    "alike>",
    "weight as the square of the size, and windage; its strength grows as the cube",
)
BETTER_WOOD = Cure("take a stronger species, class or grade", "money, and often weight")


@dataclass(frozen=True)
class Wood:
    """A layer of timber, and what acts on it.

    Parameters
    ----------
    rig : Rig
        For its bearings, its bury and its [timber] table.
    sections, layer : Sections, Layer
        All layers, and the one looked at.
    internal : Internal
        Forces in the mast.
    working : Working
        Where steps and warnings are noted.
    """

    rig: Rig
    sections: Sections
    layer: Layer
    internal: Internal
    working: Working

    @property
    def timber(self) -> Timber:
        assert isinstance(self.layer.made_of, Timber)
        return self.layer.made_of

    @property
    def solid_timber(self) -> Timber:
        """What the wood bears where there is no bore."""
        return self.timber.filled or self.timber

    @cached_property
    def stresses(self) -> Stresses:
        return layer_stresses(self.sections, self.layer, self.internal, self.working)

    @property
    def here(self) -> Places:
        return np.broadcast_to(self.layer.present, self.layer.outer_m.shape)

    @cached_property
    def hollow(self) -> Places:
        """Where the layer has a bore with no wood in it."""
        filled = self.layer.shape.solid
        for other in self.sections.layers:
            if other is not self.layer and isinstance(other.made_of, Timber):
                fits = np.abs(other.outer_m - self.layer.inner_m) <= _TOUCH * self.layer.outer_m
                filled = filled | (other.shape.solid & fits & other.present)
        return np.asarray(self.here & ~filled)

    @property
    def margin(self) -> float:
        """Safety factor on what is no strength of the wood itself: buckling and flattening."""
        return self.rig.timber.safety_factor

    def allowed(self, of: Property, of_solid: Property | None = None) -> Floats:
        """Return what the wood bears at every point, of another property where there is no bore."""
        hollow, solid = (
            self.working.use(timber_allowable_stress, f=start, k_all=timber.value_Pa(name) / start)
            for timber, name in ((self.timber, of), (self.solid_timber, of_solid or of))
            for start in (timber.chain(name).start_Pa,)
        )
        return np.asarray(np.where(self.hollow, hollow, solid))

    def source(self, of: Property, of_solid: Property | None = None) -> Callable[[Place], str]:
        """Return what tells how such a value comes about at a place."""

        def told(at: Place) -> str:
            if self.hollow[at]:
                return self._told(self.timber.chain(of))
            return self._told(self.solid_timber.chain(of_solid or of))

        return told

    def _told(self, chain: Chain) -> str:
        steps = ", ".join(f"{f.name} {f.value:.3g}" for f in chain.factors)
        return (
            f"{self.timber.name}: {chain.start_name}, {chain.start_Pa / 1e6:.3g} MPa; {steps}: in all "
            f"{chain.value_Pa / chain.start_Pa:.3f}. {chain.source}"
        )

    def larger(self, of: Property, power: float) -> Advise:
        """Return advice to make the section larger in all its sizes, its stress falling as a power of them.

        Clear wood is weaker in a larger piece, which the advice allows for.
        """
        lost = _DAMPED_BY_SIZE.get(of, 0.0) if self.timber.basis == "clear-wood" else 0.0

        def advise(used: float, at: Place) -> str:
            times = used ** (1 / (power - lost))
            return f"at this height {self.sized(times, at)}, or {SMALLER_LOAD.said(share=up(1 - 1 / used, 0.01))}"

        return advise

    def sized(self, times: float, at: Place) -> str:
        """Return advice to make the section so many times larger in all its sizes."""
        D, wall = self.sections.outer_m[at] * 1e3, ""
        if self.layer.inner_m[at] > 0.0:
            t = self.layer.wall_m[at] * 1e3
            wall = f" and the wall from {t:.1f} to about {up(t * times, 0.1):.1f} mm"
        return LARGER.said(now=D, to=up(D * times, 1.0), wall=wall)


def down(share: float) -> float:
    """Round a share down to whole percents."""
    return math.floor(share * 100 + 1e-9) / 100
