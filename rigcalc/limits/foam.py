"""What a core of foam bears: it is bent, pressed and sheared with the mast around it, and holds up nothing else."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.foams import core_design_stress
from ..materials import Foam
from ..structure.sections import Layer, Sections
from .about import FOAM, About, Cure
from .record import Limit
from .stresses import Internal, layer_stresses

Floats = NDArray[np.float64]

STRONGER_FOAM = Cure(
    "take a foam <of {stress:.3g} MPa in {kind}|that bears more> at this modulus, or one <{times:.2f} "
    "times as soft|softer> at this strength: it is strained with the mast",
    "weight and money: foams grow stronger as they grow denser, and stiffer with it",
)
_ONLY_A_CORE = "Water in the foam, heat, and its bond to the wall; it is not counted to hold the wall up."
CRUSHING = About(
    ("core-crushing",),
    FOAM,
    "The foam in the bore crushes along the mast as it is bent with the wall. Its stress along the mast "
    "against its crushing strength over its factor; tension is held to the same.",
    (core_design_stress,),
    _ONLY_A_CORE,
    (STRONGER_FOAM,),
)
SHEAR = About(
    ("core-shear",),
    FOAM,
    "The foam in the bore shears with the mast around it. Shear of bending and of torque against its shear "
    "strength over its factor.",
    (core_design_stress,),
    _ONLY_A_CORE,
    (STRONGER_FOAM,),
)


def foam_limits(sections: Sections, layer: Layer, internal: Internal, working: Working) -> list[Limit]:
    """Return the limits of one core: crushing along the mast, and shear.

    Tension is held to the crushing strength too, which foams surpass in tension.
    """
    assert isinstance(layer.made_of, Foam)
    foam, s = layer.made_of, layer_stresses(sections, layer, internal, working)
    along = _limit(CRUSHING, layer, s.bending_Pa + s.direct_Pa, foam, "crushing", working)
    shear = _limit(SHEAR, layer, s.shear_Pa + s.torsion_Pa, foam, "shear", working)
    return [along, shear]


def _limit(about: About, layer: Layer, demand: Floats, foam: Foam, kind: str, working: Working) -> Limit:
    here = np.broadcast_to(layer.present, layer.outer_m.shape)
    strength = foam.compression_Pa if kind == "crushing" else foam.shear_Pa
    allowed = float(working.use(core_design_stress, f=strength, gamma=foam.safety_factor))

    def advise(used: float, _: tuple[int, int]) -> str:
        return STRONGER_FOAM.said(stress=strength * used / 1e6, kind=kind, times=used)

    def source(_: tuple[int, int]) -> str:
        return f"{foam.name}: {strength / 1e6:.4g} MPa in {kind} over {foam.safety_factor:g}. {foam.source}"

    return Limit(
        about,
        layer.name,
        demand,
        np.full(here.shape, allowed),
        "Pa",
        core_design_stress,
        advise,
        here,
        source,
    )
