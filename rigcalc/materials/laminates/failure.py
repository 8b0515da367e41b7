"""When plies fail: how much of its strength each uses, and the load at which the first one goes.

A use grows as the load: at a use of 0.5 the load can double. Stresses left from cure, heat and moisture are
not counted.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ...frozen import dataclass
from ..metals import MaterialError
from .criteria import (
    CRITERIA,
    MODES,
    STRAIN_OF,
    Answer,
    Criterion,
    Demand,
    hashin,
    hashin_rotem,
    max_strain,
    max_stress,
    tsai_hill,
    tsai_wu,
    ultimate_strain,
)
from .plies import STRENGTHS, PlyMaterial
from .strains import PlyState, free_strain, membrane_strain, ply_state
from .walls import Edges, Floats, Stack, Stiffness

INTERACTION: Final = -0.5
"""F_12 of Tsai-Wu over sqrt(F_11 F_22) where it is not asked for: the usual choice."""
ACROSS_SHEAR: Final = 0.5
"""Shear strength across the fibres over Y_c for Hashin's criterion where it is not asked for: from memory."""

_TENSILE: Final = ("Xt_Pa", "Yt_Pa", "S12_Pa")


@dataclass(frozen=True)
class Failure:
    """How near every ply is to failing.

    Parameters
    ----------
    criterion : str
        By which criterion.
    index : ndarray, shape (..., n, 2)
        The criterion's own sum, 1 at failure; it need not grow as the load. By ply and face.
    use : ndarray, shape (..., n, 2)
        Share of the load at failure; infinite where there is no answer, zero where the ply was dropped.
    mode_number : ndarray of int, shape (..., n, 2)
        Place in `MODES` of what fails. Where a criterion does not tell, the stress nearest to its own strength.
    """

    criterion: Criterion
    index: Floats
    use: Floats
    mode_number: NDArray[np.intp]

    @property
    def mode(self) -> NDArray[np.str_]:
        """What fails, in words; empty where the ply was dropped."""
        return np.array(MODES)[self.mode_number]


def failure(
    stack: Stack,
    state: PlyState,
    criterion: Criterion,
    *,
    interaction: float = INTERACTION,
    across_shear: float = ACROSS_SHEAR,
) -> Failure:
    """Return how near every ply is to failing.

    Parameters
    ----------
    stack : Stack
        The plies.
    state : PlyState
        Their stresses and strains.
    criterion : str
        One of `CRITERIA`.
    interaction : float
        For ``tsai-wu``: F_12 over sqrt(F_11 F_22), between -1 and 1.
    across_shear : float
        For ``hashin``: shear strength across the fibres over Y_c; 0.5 is from memory.

    Raises
    ------
    MaterialError
        Where there is no such criterion, a strength it needs is missing, or it does not suit a ply.
    """
    _demand_fit(stack, criterion, interaction=interaction, across_shear=across_shear)
    demand = Demand(stack, state)
    with np.errstate(invalid="ignore", over="ignore"):  # no answer counts as failed, below
        answer = _ask(demand, criterion, interaction=interaction, across_shear=across_shear)
    present = np.broadcast_to(stack.present[..., None], answer.use.shape)
    return Failure(
        criterion=criterion,
        index=np.where(present, np.where(np.isnan(answer.index), np.inf, answer.index), 0.0),
        use=np.where(present, np.where(np.isnan(answer.use), np.inf, answer.use), 0.0),
        mode_number=np.where(present, answer.mode, 0),
    )


@dataclass(frozen=True)
class FirstPly:
    """Which ply fails first.

    Parameters
    ----------
    load_factor : ndarray, shape (...)
        What all loads together can be multiplied by; infinite without load.
    use : ndarray, shape (...)
        One over that.
    ply : ndarray of int, shape (...)
        Place in the lay-up, from 0, inside first.
    face : ndarray of str, shape (...)
        ``inner`` or ``outer``.
    mode : ndarray of str, shape (...)
        What fails.
    """

    load_factor: Floats
    use: Floats
    ply: NDArray[np.intp]
    face: NDArray[np.str_]
    mode: NDArray[np.str_]


def first_ply(found: Failure) -> FirstPly:
    """Return the ply and face nearest to failing.

    Parameters
    ----------
    found : Failure
        As `failure` gives it. The factor is exact: what is not linear in the load was solved for it.
    """
    flat = found.use.reshape(*found.use.shape[:-2], -1)
    at = np.argmax(flat, axis=-1)
    use = np.take_along_axis(flat, at[..., None], axis=-1)[..., 0]
    numbers = np.take_along_axis(found.mode_number.reshape(flat.shape), at[..., None], axis=-1)[..., 0]
    with np.errstate(divide="ignore"):
        factor = 1.0 / use
    return FirstPly(
        load_factor=np.asarray(factor),
        use=np.asarray(use),
        ply=np.asarray(at // 2),
        face=np.where(at % 2 == 0, "inner", "outer"),
        mode=np.asarray(np.array(MODES)[numbers]),
    )


def first_ply_failure(
    stiffness: Stiffness,
    line_load_N_m: ArrayLike,
    line_moment_N: ArrayLike = (0.0, 0.0, 0.0),
    *,
    criterion: Criterion,
    edges: Edges,
    interaction: float = INTERACTION,
    across_shear: float = ACROSS_SHEAR,
) -> FirstPly:
    """Return which ply of a wall fails first under its line loads, and at what factor on them.

    Parameters
    ----------
    stiffness : Stiffness
        Of the wall.
    line_load_N_m, line_moment_N : array_like, shape (..., 3)
        Along x, along y and in shear.
    criterion : str
        One of `CRITERIA`.
    edges : {"membrane", "free"}
        ``membrane``: the wall cannot curl, as in a closed tube, and takes no line moment. ``free``: it can.
    interaction, across_shear : float
        As for `failure`.

    Raises
    ------
    MaterialError
        As `failure`, or where a wall that cannot curl is given a line moment.
    """
    if edges == "membrane":
        if np.any(np.asarray(line_moment_N) != 0.0):
            raise MaterialError(
                "wall", "a wall that cannot curl is given a line moment", "Choose edges 'free'."
            )
        strain = membrane_strain(stiffness, line_load_N_m)
    elif edges == "free":
        strain = free_strain(stiffness, line_load_N_m, line_moment_N)
    else:
        raise MaterialError("wall", f"there are no edges {edges!r}", "Choose 'membrane' or 'free'.")
    state = ply_state(stiffness, strain)
    return first_ply(
        failure(stiffness.stack, state, criterion, interaction=interaction, across_shear=across_shear)
    )


def _ask(demand: Demand, criterion: Criterion, *, interaction: float, across_shear: float) -> Answer:
    match criterion:
        case "max-stress":
            return max_stress(demand)
        case "max-strain":
            return max_strain(demand)
        case "tsai-hill":
            return tsai_hill(demand, by_sign=True)
        case "tsai-hill-tensile":
            return tsai_hill(demand, by_sign=False)
        case "tsai-wu":
            return tsai_wu(demand, interaction=interaction)
        case "hashin":
            return hashin(demand, across_shear=across_shear)
        case "hashin-rotem":
            return hashin_rotem(demand)


def _demand_fit(stack: Stack, criterion: Criterion, *, interaction: float, across_shear: float) -> None:
    if criterion not in CRITERIA:
        raise MaterialError(
            "wall", f"there is no criterion {criterion!r}", f"Choose one of {', '.join(CRITERIA)}."
        )
    if criterion == "tsai-wu" and not -1.0 < interaction < 1.0:
        raise MaterialError(
            "wall", f"an interaction of {interaction:g} cannot be", "Give it between -1 and 1."
        )
    if criterion == "hashin" and not 0.0 < across_shear < np.inf:
        raise MaterialError("wall", f"a shear ratio of {across_shear:g} cannot be", "Give it above zero.")
    for ply in {id(ply): ply for ply in stack.each}.values():
        demand_fit(ply, criterion)


def demand_fit(ply: PlyMaterial, criterion: Criterion) -> None:
    """Refuse a criterion that lacks a strength of a ply, or does not suit it.

    Raises
    ------
    MaterialError
        With what is missing, or why it does not suit.
    """
    if criterion == "max-strain":
        missing = [name for name in STRAIN_OF if ultimate_strain(ply, name) is None]
    else:
        needed = _TENSILE if criterion == "tsai-hill-tensile" else STRENGTHS
        missing = [name for name in needed if getattr(ply, name) is None]
    if missing:
        raise MaterialError(
            ply.name,
            f"{criterion} needs what is not known of it: {', '.join(missing)}",
            "Give it from tests, or take a ply of the table that has it.",
        )
    if criterion in ("hashin", "hashin-rotem") and not ply.unidirectional:
        raise MaterialError(
            ply.name,
            f"{criterion} tells fibres from resin by direction, which suits one direction of fibres only",
            "Choose max-stress, max-strain or tsai-wu.",
        )
    if criterion in ("tsai-hill", "tsai-hill-tensile"):
        names = _TENSILE[:2] if criterion == "tsai-hill-tensile" else STRENGTHS[:4]
        along = min(getattr(ply, name) for name in names if name.startswith("X"))
        across = max(getattr(ply, name) for name in names if name.startswith("Y"))
        if not across < 2 * along:  # the sum could then fall below zero
            raise MaterialError(
                ply.name,
                "its strength across is twice that along or more, which leaves the Tsai-Hill surface open",
                "Choose another criterion, or turn the axes of the ply.",
            )
