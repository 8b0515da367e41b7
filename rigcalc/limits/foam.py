"""What a core of foam bears: it is bent, pressed and sheared with the mast around it, and holds up nothing else."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.foams import core_design_stress
from ..materials import Foam
from ..structure.sections import Layer, Sections
from .record import Limit
from .stresses import Internal, layer_stresses

Floats = NDArray[np.float64]


def foam_limits(sections: Sections, layer: Layer, internal: Internal, working: Working) -> list[Limit]:
    """Return the limits of one core: crushing along the mast, and shear.

    Tension is held to the crushing strength too, which foams surpass in tension.
    """
    assert isinstance(layer.made_of, Foam)
    foam, s = layer.made_of, layer_stresses(sections, layer, internal, working)
    along = _limit("core-crushing", layer, s.bending_Pa + s.direct_Pa, foam, "crushing", working)
    shear = _limit("core-shear", layer, s.shear_Pa + s.torsion_Pa, foam, "shear", working)
    return [along, shear]


def _limit(name: str, layer: Layer, demand: Floats, foam: Foam, kind: str, working: Working) -> Limit:
    here = np.broadcast_to(layer.present, layer.outer_m.shape)
    strength = foam.compression_Pa if kind == "crushing" else foam.shear_Pa
    allowed = float(working.use(core_design_stress, f=strength, gamma=foam.safety_factor))

    def advise(used: float, _: tuple[int, int]) -> str:
        return (
            f"take a foam of {strength * used / 1e6:.3g} MPa in {kind} at this modulus, or one {used:.2f} times as "
            "soft at this strength: it is strained with the mast"
        )

    def source(_: tuple[int, int]) -> str:
        return f"{foam.name}: {strength / 1e6:.4g} MPa in {kind} over {foam.safety_factor:g}. {foam.source}"

    return Limit(
        name, layer.name, demand, np.full(here.shape, allowed), "Pa", core_design_stress, advise, here, source
    )
