"""Bonded layers that grow unlike: what a change of temperature puts between them, as a warning with a number."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.sections import mismatch_stress
from ..materials.laminates import Laid
from ..materials.timber import Timber
from ..structure.made_of import Metals
from ..structure.sections import Layer, Sections

CHANGE_K: Final = 40.0
"""From the day it was glued to a mast in the sun, or to a hard frost: judgement."""
TIMBER_PER_K: Final = 4e-6
"""Along the grain: from memory, Wood Handbook ch. 4 gives 3.1 to 4.5e-6."""
GLASS_PER_K: Final = 10e-6
"""Mostly along the fibres: from memory, 6 to 12e-6."""
CARBON_PER_K: Final = 0.0
"""Along the fibres: from memory, -0.5 to 1e-6."""
WORTH_TELLING: Final = 0.5e-6
"""Difference of expansion below which nothing is told."""


def thermal_warnings(sections: Sections, working: Working) -> Iterator[str]:
    """Yield the stress that bonded layers put on each other when the temperature changes.

    Free body: tube and sheath, cut square, glued to one length. What each would grow by itself differs, and the
    sum of their forces is nothing. Where a sheath ends its force goes over into the tube by shear in the bond.
    """
    tube = sections.layers[0]
    for sheath in sections.layers[1:]:
        if not sheath.name.startswith("sheath"):
            continue
        of_tube, of_sheath = _expansion(tube), _expansion(sheath)
        if of_tube is None or of_sheath is None or abs(of_tube - of_sheath) < WORTH_TELLING:
            continue
        here = np.broadcast_to(sheath.present, sheath.outer_m.shape) & (tube.outer_m > 0.0)
        grown = abs(of_tube - of_sheath) * CHANGE_K
        into_sheath, into_tube = (
            _worst(layer, other, here, grown, working) / 1e6
            for layer, other in ((sheath, tube), (tube, sheath))
        )
        yield (
            f"{sheath.name} and the {tube.name} grow unlike, {of_sheath * 1e6:.0f} and {of_tube * 1e6:.0f} millionths "
            f"a degree (from memory but for metals in the tables): a change of {CHANGE_K:.0f} K puts up to "
            f"{into_sheath:.1f} MPa into the sheath and {into_tube:.1f} MPa into the tube, which the bond must hand "
            "over where the sheath ends. It is not in the checks: taper the ends."
        )


def _worst(layer: Layer, other: Layer, here: NDArray[np.bool_], grown: float, working: Working) -> float:
    """Greatest stress that a layer takes from the one it is glued to."""
    own, others = (one.elastic.E_Pa * one.shape.area_m2 for one in (layer, other))
    both = np.where(here, own + others, 1.0)
    stress = working.use(mismatch_stress, E=layer.elastic.E_Pa, de=grown, EA_o=others, EA=both)
    return float(np.max(np.where(here, stress, 0.0)))


def _expansion(layer: Layer) -> float | None:
    """Return the growth with heat along the mast, or None where it is not known."""
    match layer.made_of:
        case Metals(rows=rows):
            return rows[0].thermal_expansion_per_K
        case Timber():
            return TIMBER_PER_K
        case Laid(lay_up=lay_up):
            carbon = any("carbon" in lot.ply.name.lower() for lot in lay_up.lots)
            return CARBON_PER_K if carbon else GLASS_PER_K
    return None
