"""The criteria of failure on arrays of stress and strain, each giving its own sum, a use and a mode."""

from __future__ import annotations

from collections.abc import Sequence
from types import MappingProxyType
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from ...formulas.laminates import (
    hashin_fibre_tension_index,
    hashin_matrix_compression_linear_part,
    hashin_matrix_compression_square_part,
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
from .plies import PlyMaterial
from .strains import PlyState
from .walls import Floats, Stack

Criterion = Literal[
    "max-stress", "max-strain", "tsai-hill", "tsai-hill-tensile", "tsai-wu", "hashin", "hashin-rotem"
]

CRITERIA: Final = MappingProxyType(
    {
        "max-stress": "each stress against its own strength",
        "max-strain": "each strain against its own ultimate strain",
        "tsai-hill": "Tsai-Hill with the strength of each stress's own sign",
        "tsai-hill-tensile": "Tsai-Hill as the textbooks have it, with the tensile strengths alone",
        "tsai-wu": "Tsai-Wu",
        "hashin": "Hashin 1980: fibres and resin by themselves, shear with both but for crushed fibres",
        "hashin-rotem": "Hashin and Rotem: fibres and resin by themselves, shear with the resin alone",
    }
)
"""The criteria by name. `tsai-hill` and `tsai-hill-tensile` can differ by half again: say which."""

MODES: Final = (
    "",
    "fibre tension",
    "fibre compression",
    "transverse tension",
    "transverse compression",
    "shear",
)
"""What can fail; the first stands for a ply that was dropped. Across a woven ply run fibres too."""

_FIBRE_TENSION, _FIBRE_COMPRESSION, _ACROSS_TENSION, _ACROSS_COMPRESSION, _SHEAR = range(1, len(MODES))

STRAIN_OF: Final = MappingProxyType(
    {
        "strain_1t": ("Xt_Pa", "E1_Pa"),
        "strain_1c": ("Xc_Pa", "E1_Pa"),
        "strain_2t": ("Yt_Pa", "E2_Pa"),
        "strain_2c": ("Yc_Pa", "E2_Pa"),
        "strain_12": ("S12_Pa", "G12_Pa"),
    }
)
"""The strength and the modulus an ultimate strain follows from where it is not given."""

Modes = NDArray[np.intp]


def ultimate_strain(ply: PlyMaterial, name: str) -> float | None:
    """Return an ultimate strain of a ply: its own, or strength over modulus."""
    own: float | None = getattr(ply, name)
    strength, modulus = (getattr(ply, field) for field in STRAIN_OF[name])
    if own is None and strength is not None:
        return float(strength / modulus)
    return own


@dataclass(frozen=True)
class Answer:
    """What a criterion says, by ply and face: its own sum, the use that grows as the load, place in `MODES`."""

    index: Floats
    use: Floats
    mode: Modes


@dataclass(frozen=True)
class Demand:
    """Stresses and strains of plies with the plies themselves."""

    stack: Stack
    state: PlyState

    @property
    def stress(self) -> tuple[Floats, Floats, Floats]:
        s = self.state.stress_Pa
        return s[..., 0], s[..., 1], s[..., 2]

    def limit(self, name: str) -> Floats:
        """Return a strength or an ultimate strain of every ply, with an axis for the faces."""
        if name in STRAIN_OF:
            return self.stack.values(lambda ply: ultimate_strain(ply, name))[..., None]
        return self.stack.values(lambda ply: getattr(ply, name))[..., None]

    def by_sign(self, value: Floats, positive: str, negative: str) -> Floats:
        """Return the limit of a stress's or a strain's own sign."""
        return np.where(value >= 0.0, self.limit(positive), self.limit(negative))


def max_stress(demand: Demand) -> Answer:
    """Each stress against its own strength."""
    s1, s2, s6 = demand.stress
    uses = (
        stress_index(sigma=np.abs(s1), X=demand.by_sign(s1, "Xt_Pa", "Xc_Pa")),
        stress_index(sigma=np.abs(s2), X=demand.by_sign(s2, "Yt_Pa", "Yc_Pa")),
        stress_index(sigma=np.abs(s6), X=demand.limit("S12_Pa")),
    )
    return _worst(uses, uses, _modes(s1, s2))


def max_strain(demand: Demand) -> Answer:
    """Each strain against its own ultimate strain."""
    e1, e2, e6 = np.moveaxis(demand.state.strain, -1, 0)
    uses = (
        strain_index(epsilon=np.abs(e1), epsilon_u=demand.by_sign(e1, "strain_1t", "strain_1c")),
        strain_index(epsilon=np.abs(e2), epsilon_u=demand.by_sign(e2, "strain_2t", "strain_2c")),
        strain_index(epsilon=np.abs(e6), epsilon_u=demand.limit("strain_12")),
    )
    return _worst(uses, uses, _modes(e1, e2))


def tsai_hill(demand: Demand, *, by_sign: bool) -> Answer:
    """Tsai-Hill, with strengths by the sign of each stress or the tensile ones alone."""
    s1, s2, s6 = demand.stress
    index = tsai_hill_index(
        sigma_1=s1,
        sigma_2=s2,
        tau_12=s6,
        X=demand.by_sign(s1, "Xt_Pa", "Xc_Pa") if by_sign else demand.limit("Xt_Pa"),
        Y=demand.by_sign(s2, "Yt_Pa", "Yc_Pa") if by_sign else demand.limit("Yt_Pa"),
        S=demand.limit("S12_Pa"),
    )
    return Answer(index, np.sqrt(index), _nearest(demand, tensile=not by_sign))


def tsai_wu(demand: Demand, *, interaction: float) -> Answer:
    """Tsai-Wu with F_12 = interaction sqrt(F_11 F_22)."""
    s1, s2, s6 = demand.stress
    along = {"X_t": demand.limit("Xt_Pa"), "X_c": demand.limit("Xc_Pa")}
    across = {"X_t": demand.limit("Yt_Pa"), "X_c": demand.limit("Yc_Pa")}
    shear = {"X_t": demand.limit("S12_Pa"), "X_c": demand.limit("S12_Pa")}
    F_11, F_22 = tsai_wu_square_coefficient(**along), tsai_wu_square_coefficient(**across)
    a = tsai_wu_square_part(
        sigma_1=s1,
        sigma_2=s2,
        tau_12=s6,
        F_11=F_11,
        F_22=F_22,
        F_12=tsai_wu_interaction(F_11=F_11, F_22=F_22, f=interaction),
        F_66=tsai_wu_square_coefficient(**shear),
    )
    b = tsai_wu_linear_part(
        sigma_1=s1,
        sigma_2=s2,
        F_1=tsai_wu_linear_coefficient(**along),
        F_2=tsai_wu_linear_coefficient(**across),
    )
    return Answer(a + b, linear_use(a=a, b=b), _nearest(demand))


def hashin(demand: Demand, *, across_shear: float) -> Answer:
    """Hashin 1980; across_shear is the shear strength across the fibres over Y_c."""
    s1, s2, s6 = demand.stress
    S = demand.limit("S12_Pa")
    pulled: Floats = hashin_fibre_tension_index(sigma_1=s1, tau_12=s6, X_t=demand.limit("Xt_Pa"), S=S)
    crushed: Floats = stress_index(sigma=np.abs(s1), X=demand.limit("Xc_Pa"))
    opened: Floats = matrix_index(sigma_2=s2, tau_12=s6, Y=demand.limit("Yt_Pa"), S=S)
    S_t = across_shear * demand.limit("Yc_Pa")
    a = hashin_matrix_compression_square_part(sigma_2=s2, tau_12=s6, S_t=S_t, S=S)
    b = hashin_matrix_compression_linear_part(sigma_2=s2, Y_c=demand.limit("Yc_Pa"), S_t=S_t)
    closed: Floats = a + b
    squeezed: Floats = linear_use(a=a, b=b)
    indices = np.where(s1 >= 0.0, pulled, crushed), np.where(s2 >= 0.0, opened, closed)
    uses = (
        np.where(s1 >= 0.0, np.sqrt(pulled), crushed),
        np.where(s2 >= 0.0, np.sqrt(opened), squeezed),
    )
    return _worst(uses, indices, _modes(s1, s2)[:2])


def hashin_rotem(demand: Demand) -> Answer:
    """Hashin and Rotem: fibres by their stress, resin by stress across and shear."""
    s1, s2, s6 = demand.stress
    fibre = stress_index(sigma=np.abs(s1), X=demand.by_sign(s1, "Xt_Pa", "Xc_Pa"))
    resin = matrix_index(
        sigma_2=s2, tau_12=s6, Y=demand.by_sign(s2, "Yt_Pa", "Yc_Pa"), S=demand.limit("S12_Pa")
    )
    return _worst((fibre, np.sqrt(resin)), (fibre, resin), _modes(s1, s2)[:2])


def _modes(along: Floats, across: Floats) -> tuple[Modes, ...]:
    return (
        np.where(along >= 0.0, _FIBRE_TENSION, _FIBRE_COMPRESSION),
        np.where(across >= 0.0, _ACROSS_TENSION, _ACROSS_COMPRESSION),
        np.full(along.shape, _SHEAR),
    )


def _worst(uses: Sequence[Floats], indices: Sequence[Floats], modes: Sequence[Modes]) -> Answer:
    at = np.argmax(np.stack(uses), axis=0)[None]
    return Answer(
        np.take_along_axis(np.stack(indices), at, axis=0)[0],
        np.take_along_axis(np.stack(uses), at, axis=0)[0],
        np.take_along_axis(np.stack(modes), at, axis=0)[0],
    )


def _nearest(demand: Demand, *, tensile: bool = False) -> Modes:
    """Return the stress nearest to its own strength, for criteria that do not tell."""
    if not tensile:
        return max_stress(demand).mode
    s1, s2, s6 = demand.stress
    names = ("Xt_Pa", "Yt_Pa", "S12_Pa")
    uses = tuple(np.abs(s) / demand.limit(name) for s, name in zip((s1, s2, s6), names, strict=True))
    return _worst(uses, uses, _modes(s1, s2)).mode
