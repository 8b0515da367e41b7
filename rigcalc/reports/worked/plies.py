"""The ply that is nearest to failing: its strains, its stresses, and the criterion it is held to, worked out.

Which ply, face and place round the section it is, is found as the check finds it; what is shown is that one alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...formulas import Working
from ...formulas.laminate_tubes import shear_strain_of_stress, strain_of_stress
from ...formulas.laminates import (
    factored_use,
    hashin_fibre_tension_index,
    hashin_matrix_compression_linear_part,
    hashin_matrix_compression_square_part,
    linear_use,
    matrix_index,
    ply_shear_stress,
    ply_strain,
    ply_stress_across,
    ply_stress_along,
    root_use,
    strain_index,
    stress_index,
    tsai_hill_index,
    tsai_wu_interaction,
    tsai_wu_linear_coefficient,
    tsai_wu_linear_part,
    tsai_wu_square_coefficient,
    tsai_wu_square_part,
    wall_curvature,
)
from ...formulas.sections import added_shear_stress, added_stress
from ...frozen import dataclass
from ...limits.laminate import Skin, places, skin_of
from ...materials.laminates import (
    Criterion,
    Laid,
    Ply,
    WallStrain,
    failure,
    membrane_state,
    ply_state,
    ultimate_strain,
    unit_strains,
)
from ...verdict.evaluate import internal_of
from .chains import Known
from .derived import Spot
from .places import AFTER_ALL, Worked, alike, worked_out

Floats = NDArray[np.float64]
INTERACTION, ACROSS_SHEAR = -0.5, 0.5
"""What the criteria take where nothing else is said."""


@dataclass(frozen=True)
class Nearest:
    """The ply nearest to failing.

    Parameters
    ----------
    ply : Ply
        With its strengths knocked down.
    criterion : str
        By which it is.
    strain, stress_Pa : ndarray, shape (3,)
        In its own axes.
    units : ndarray, shape (3, 3)
        Its strains under a unit of the wall's strain along, shear strain, and curvature round; one to a row.
    along, shear, curvature_per_m : float
        Those of the wall.
    outer : bool
        Whether it lies at the outer fibre of the mast; at the neutral axis where it does not.
    stiffness_Pa : ndarray, shape (3, 3)
        In its own axes.
    """

    ply: Ply
    criterion: Criterion
    strain: Floats
    stress_Pa: Floats
    units: Floats
    along: float
    shear: float
    curvature_per_m: float
    outer: bool
    stiffness_Pa: Floats


def ply_end(spot: Spot, known: Known) -> Worked | None:
    """Return the line that gives the demand of a check of plies, with all that feeds it; None of any other check."""
    layer = spot.layer
    word = spot.check.id.split()[0]
    if layer is None or not isinstance(layer.made_of, Laid) or word not in ("ply", "ring"):
        return None
    laid = layer.made_of
    skin = skin_of(spot.sections, layer, internal_of(spot.run.model, spot.run.solved), Working())
    hoop = None
    if word == "ring":
        moments = [step for step in known.steps if step.formula.name == "bearing_hoop_moment"]
        if not moments:
            return None
        hoop = moments[-1]
    D_22 = float(laid.along(laid.walls.released_D_N_m[:, 1, 1])[spot.at[0], 0])
    for nearest in _candidates(spot, skin, hoop, D_22):
        strains = tuple(_wall_strains(spot, skin, nearest, known, hoop, D_22))
        use = _use(nearest, *_ply_lines(nearest, strains))
        end = worked_out(
            factored_use, AFTER_ALL, fed={"u": use}, u=use.value, gamma=laid.lay_up.safety_factor
        )
        if alike(end.value, spot.check.demand):
            return end
    return None


def _candidates(spot: Spot, skin: Skin, hoop: Worked | None, D_22: float) -> Iterator[Nearest]:
    """Yield the ply that is used most, by each criterion asked, the way round that is worse."""
    laid, (i, j) = skin.laid, spot.at
    number = int(laid.index[i])
    pulled, sheared = (of[number] for of in unit_strains(laid.walls))
    along, shear = places(
        *(part[spot.row, i, j] for part in (skin.bent, skin.pressed, skin.twisted, skin.sheared))
    )
    mid = along[..., None] * pulled + shear[..., None] * sheared
    wall = laid.weakened(number)
    criteria: tuple[Criterion, ...] = laid.lay_up.criteria
    ways = (0.0,) if hoop is None else (1.0, -1.0)
    if hoop is None:
        criteria = tuple(c for c in criteria if spot.check.id == f"ply {c}")
    for criterion in criteria:
        for way in ways:
            curvature = 0.0 if hoop is None else way * hoop.value / D_22
            bend = np.zeros(mid.shape)
            bend[..., 1] = curvature
            state = (
                membrane_state(wall.stack, mid) if hoop is None else ply_state(wall, WallStrain(mid, bend))
            )
            use = failure(wall.stack, state, criterion).use
            k, ply, face = (int(at) for at in np.unravel_index(int(np.argmax(use)), use.shape))
            face_of_state = face if state.strain.shape[-2] > 1 else 0
            units = [ply_state(wall, WallStrain(unit, np.zeros(3))) for unit in (pulled, sheared)]
            units.append(ply_state(wall, WallStrain(np.zeros(3), np.array([0.0, 1.0, 0.0]))))
            yield Nearest(
                ply=wall.stack.each[ply],
                criterion=criterion,
                strain=state.strain[k, ply, face_of_state],
                stress_Pa=state.stress_Pa[k, ply, face_of_state],
                units=np.stack([unit.strain[ply, face] for unit in units]),
                along=float(along[k]),
                shear=float(shear[k]),
                curvature_per_m=curvature,
                outer=k % 2 == 0,
                stiffness_Pa=wall.stack.local_stiffness_Pa[ply],
            )


def _wall_strains(
    spot: Spot, skin: Skin, nearest: Nearest, known: Known, hoop: Worked | None, D_22: float
) -> Iterator[Worked | None]:
    """Yield what strains the wall along the mast, in shear, and round it; None for what does not."""
    at = (spot.row, *spot.at)
    s = skin.stresses
    bent, direct, twist, sheared = (
        float(of[at]) for of in (s.bending_Pa, s.direct_Pa, s.torsion_Pa, s.shear_Pa)
    )
    E, G = (
        float(np.broadcast_to(of, skin.here.shape)[spot.at])
        for of in (skin.layer.elastic.E_Pa, skin.layer.elastic.G_Pa)
    )
    both = worked_out(added_stress, AFTER_ALL - 9, sigma_1=bent if nearest.outer else 0.0, sigma_2=direct)
    way = np.sign(nearest.along) or 1.0
    yield worked_out(
        strain_of_stress,
        AFTER_ALL - 8,
        fed={"sigma": both},
        symbol="epsilon_x",
        summary="Strain of the wall along the mast, pulled above zero.",
        sigma=way * both.value,
        E=E,
    )
    turn = np.sign(nearest.shear) or 1.0
    tau = worked_out(added_shear_stress, AFTER_ALL - 7, tau_1=0.0 if nearest.outer else sheared, tau_2=twist)
    yield worked_out(shear_strain_of_stress, AFTER_ALL - 6, fed={"tau": tau}, tau=turn * tau.value, G=G)
    if hoop is None:
        yield None
        return
    sign = np.sign(nearest.curvature_per_m) or 1.0
    yield worked_out(wall_curvature, AFTER_ALL - 5, fed={"m_y": hoop}, m_y=sign * hoop.value, D_22=D_22)


def _ply_lines(nearest: Nearest, wall: tuple[Worked | None, ...]) -> tuple[list[Worked], list[Worked]]:
    """Return the strains and the stresses of the ply."""
    along, shear, curved = wall
    assert along is not None
    assert shear is not None
    named = (("epsilon_1", "along its fibres"), ("epsilon_2", "across its fibres"), ("gamma_12", "in shear"))
    strains = []
    for n, (symbol, said) in enumerate(named):
        fed = {"epsilon_x": along, "gamma_x": shear}
        if curved is not None:
            fed["kappa_y"] = curved
        strains.append(
            worked_out(
                ply_strain,
                AFTER_ALL - 4,
                fed=fed,
                symbol=symbol,
                summary=f"Strain of the ply {nearest.ply.name} {said}.",
                a=float(nearest.units[0, n]),
                epsilon_x=along.value,
                b=float(nearest.units[1, n]),
                gamma_x=shear.value,
                c=0.0 if curved is None else float(nearest.units[2, n]),
                kappa_y=0.0 if curved is None else curved.value,
            )
        )
    Q, (e_1, e_2, g_12) = nearest.stiffness_Pa, strains
    both = {"epsilon_1": e_1, "epsilon_2": e_2}
    stresses = [
        worked_out(
            ply_stress_along,
            AFTER_ALL - 3,
            _values(both),
            fed=both,
            Q_11=float(Q[0, 0]),
            Q_12=float(Q[0, 1]),
        ),
        worked_out(
            ply_stress_across,
            AFTER_ALL - 3,
            _values(both),
            fed=both,
            Q_12=float(Q[0, 1]),
            Q_22=float(Q[1, 1]),
        ),
        worked_out(
            ply_shear_stress, AFTER_ALL - 3, fed={"gamma_12": g_12}, G_12=float(Q[2, 2]), gamma_12=g_12.value
        ),
    ]
    return strains, stresses


def _use(nearest: Nearest, strains: list[Worked], stresses: list[Worked]) -> Worked:
    """Return the use of the ply by its criterion."""
    ply, (s1, s2, s6) = nearest.ply, stresses
    X_t, X_c, Y_t, Y_c, S = (_known(of) for of in (ply.Xt_Pa, ply.Xc_Pa, ply.Yt_Pa, ply.Yc_Pa, ply.S12_Pa))
    X, Y = X_t if s1.value >= 0.0 else X_c, Y_t if s2.value >= 0.0 else Y_c
    match nearest.criterion:
        case "max-stress":
            limits = zip(stresses, (X, Y, S), strict=True)
            return _greatest(*(_of(stress_index, {"sigma": s}, sigma=abs(s.value), X=x) for s, x in limits))
        case "max-strain":
            return _greatest(*_strain_uses(ply, strains))
        case "tsai-hill" | "tsai-hill-tensile":
            if nearest.criterion == "tsai-hill-tensile":
                X, Y = X_t, Y_t
            index = _of(tsai_hill_index, _named(s1, s2, s6), X=X, Y=Y, S=S)
            return _root(index)
        case "tsai-wu":
            return _tsai_wu(s1, s2, s6, (X_t, X_c), (Y_t, Y_c), S)
        case "hashin":
            along, across = _hashin(s1, s2, s6, X_t, X_c, Y_t, Y_c, S)
            return _greatest(along, across)
        case "hashin-rotem":
            fibre = _of(stress_index, {"sigma": s1}, sigma=abs(s1.value), X=X)
            resin = _matrix(s2, s6, Y, S)
            return _greatest(fibre, resin)


def _tsai_wu(
    s1: Worked, s2: Worked, s6: Worked, along: tuple[float, float], across: tuple[float, float], S: float
) -> Worked:
    def linear(of: tuple[float, float], name: str) -> Worked:
        return _of(tsai_wu_linear_coefficient, {}, symbol=name, X_t=of[0], X_c=of[1])

    def square(of: tuple[float, float], name: str) -> Worked:
        return _of(tsai_wu_square_coefficient, {}, symbol=name, X_t=of[0], X_c=of[1])

    F_1, F_2 = linear(along, "F_1"), linear(across, "F_2")
    F_11, F_22, F_66 = square(along, "F_11"), square(across, "F_22"), square((S, S), "F_66")
    F_12 = _of(tsai_wu_interaction, {"F_11": F_11, "F_22": F_22}, f=INTERACTION)
    fed = {**_named(s1, s2, s6), "F_11": F_11, "F_22": F_22, "F_12": F_12, "F_66": F_66}
    a = _of(tsai_wu_square_part, fed)
    fed = {"sigma_1": s1, "sigma_2": s2, "F_1": F_1, "F_2": F_2}
    b = _of(tsai_wu_linear_part, fed)
    return _of(linear_use, {"a": a, "b": b})


def _hashin(
    s1: Worked, s2: Worked, s6: Worked, X_t: float, X_c: float, Y_t: float, Y_c: float, S: float
) -> tuple[Worked, Worked]:
    if s1.value >= 0.0:
        fed = {"sigma_1": s1, "tau_12": s6}
        fibre = _root(_of(hashin_fibre_tension_index, fed, X_t=X_t, S=S))
    else:
        fibre = _of(stress_index, {"sigma": s1}, sigma=abs(s1.value), X=X_c)
    if s2.value >= 0.0:
        return fibre, _matrix(s2, s6, Y_t, S)
    S_t = ACROSS_SHEAR * Y_c
    fed = {"sigma_2": s2, "tau_12": s6}
    a = _of(hashin_matrix_compression_square_part, fed, S_t=S_t, S=S)
    b = _of(hashin_matrix_compression_linear_part, {"sigma_2": s2}, Y_c=Y_c, S_t=S_t)
    return fibre, _of(linear_use, {"a": a, "b": b})


def _matrix(s2: Worked, s6: Worked, Y: float, S: float) -> Worked:
    fed = {"sigma_2": s2, "tau_12": s6}
    return _root(_of(matrix_index, fed, Y=Y, S=S))


def _strain_uses(ply: Ply, strains: list[Worked]) -> Iterator[Worked]:
    for line, (positive, negative) in zip(
        strains,
        (("strain_1t", "strain_1c"), ("strain_2t", "strain_2c"), ("strain_12", "strain_12")),
        strict=True,
    ):
        allowed = _known(ultimate_strain(ply, positive if line.value >= 0.0 else negative))
        yield _of(strain_index, {"epsilon": line}, epsilon=abs(line.value), epsilon_u=allowed)


def _root(index: Worked) -> Worked:
    return _of(root_use, {"I": index})


def _greatest(*uses: Worked) -> Worked:
    return max(uses, key=lambda line: line.value)


def _of(
    function: Callable[..., Any],
    fed: Mapping[str, Worked],
    /,
    *,
    symbol: str | None = None,
    **arguments: float,
) -> Worked:
    """Return a line whose arguments are those that feed it, and others."""
    return worked_out(function, AFTER_ALL - 2, {**_values(fed), **arguments}, fed=fed, symbol=symbol)


def _named(s1: Worked, s2: Worked, s6: Worked) -> dict[str, Worked]:
    return {"sigma_1": s1, "sigma_2": s2, "tau_12": s6}


def _values(fed: Mapping[str, Worked]) -> dict[str, float]:
    return {name: line.value for name, line in fed.items()}


def _known(strength: float | None) -> float:
    # a criterion that lacks a strength was refused; one that does not ask for it does not see this
    return float("nan") if strength is None else strength
