"""The spar by itself: mass, frequencies, the winds that sing in it, and what it costs in stability."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.motion import equivalent_ballast
from ..formulas.sails import critical_wind_speed, scruton_number, shedding_sway
from ..formulas.stability import centre_of_gravity_rise, righting_moment
from ..frozen import dataclass
from ..loads import sails_taken_in
from ..loads.case import cloth_on_mast
from ..loads.spar import diameter_line, rolled_line
from ..rig import STROUHAL, Rig
from ..structure.modes import Eigen, critical_axial_load, natural_frequencies
from ..units import STANDARD_GRAVITY_M_S2
from .model import Model
from .result import MastResult, Shedding, StabilityCost

Floats = NDArray[np.float64]

LATERAL_COEFFICIENT = 0.7
"""EN 1991-1-4 Table E.2 below Re 3e5, from memory."""
CANTILEVER_MODE_FACTOR = 0.13
CORRELATION_DIAMETERS = 6.0
SMALL_SWAY = 0.1
BALLAST_DEPTH_M = 0.5


def mast_result(rig: Rig, model: Model, working: Working) -> MastResult:
    """Return the spar's own figures."""
    mesh, mass, low = model.mesh, model.sections.mass_kg_m, model.sections.EI_low_N_m2
    total = float(mesh.total(mass) + np.sum(model.fittings_kg))
    moment = float(mesh.total(mass * mesh.z_m) + np.sum(model.fittings_kg * mesh.edges_m))
    conditions = tuple(_conditions(rig, model))
    modes = _modes(model, conditions)
    critical = critical_axial_load(mesh, low, np.ones_like(low), None, model.supports)
    if not (np.all(modes.converged) and np.all(critical.converged)):
        raise ArithmeticError("frequencies or the load of instability of the mast did not settle")
    return MastResult(
        length_m=rig.mast.length_m,
        mass_kg=total,
        centre_of_gravity_m=moment / total,
        natural_frequencies_Hz=(float(modes.values[0, 0]), float(modes.values[0, 1])),
        axial_stability_N=float(critical.values[0]),
        stability_cost=_stability_cost(rig, model, total, moment / total, working),
        vortex_shedding=tuple(_shedding(rig, model, conditions, modes, working)),
    )


def _stability_cost(
    rig: Rig, model: Model, mass_kg: float, centre_m: float, working: Working
) -> StabilityCost:
    boat, g = rig.boat, STANDARD_GRAVITY_M_S2
    own = boat.waterline_m if boat.centre_of_gravity_m is None else boat.centre_of_gravity_m
    lowest = min(boat.waterline_m, own) - BALLAST_DEPTH_M
    ballast = lowest if boat.ballast_height_m is None else boat.ballast_height_m
    reference = rig.mast.reference_mass_kg or 0.0
    use = working.use
    loss = float(use(centre_of_gravity_rise, m=mass_kg - reference, z=centre_m - own, M=boat.displacement_kg))
    mesh = model.mesh
    inertia = mesh.total(model.sections.mass_kg_m * (mesh.z_m - own) ** 2) + np.sum(
        model.fittings_kg * (mesh.edges_m - own) ** 2
    )
    return StabilityCost(
        compared_with_kg=reference,
        gm_loss_m=loss,
        moment_30_loss_N_m=float(use(righting_moment, m=boat.displacement_kg, g=g, GZ=loss * 0.5)),
        roll_inertia_kg_m2=float(inertia),
        ballast_kg=float(use(equivalent_ballast, m=mass_kg - reference, h=centre_m - own, d=own - ballast)),
    )


@dataclass(frozen=True)
class _Condition:
    """The mast as it swings in the wind: its mass per metre with what hangs on it, and its outside diameter."""

    name: str
    mass_kg_m: Floats
    outside_m: Floats


def _conditions(rig: Rig, model: Model) -> Iterator[_Condition]:
    """Yield the bare mast, and the mast with its sails rolled on it."""
    z, bare = model.mesh.z_m, model.sections.mass_kg_m
    yield _Condition("bare", bare, model.sections.outer_m)
    if rolls := sails_taken_in(rig):
        cloth = sum(line.at(z) for line in cloth_on_mast(rolls))
        yield _Condition("sail rolled", bare + cloth, rolled_line(diameter_line(rig), rolls).at(z))


def _modes(model: Model, conditions: Sequence[_Condition]) -> Eigen:
    """Return the frequencies in every condition, solved together."""

    def all_alike(of: Floats) -> Floats:
        return np.stack([of] * len(conditions))

    return natural_frequencies(
        model.mesh,
        all_alike(model.sections.EI_true_N_m2),
        np.stack([condition.mass_kg_m for condition in conditions]),
        all_alike(model.fittings_kg),
        model.supports,
    )


def _shedding(
    rig: Rig, model: Model, conditions: Sequence[_Condition], modes: Eigen, working: Working
) -> Iterator[Shedding]:
    """Yield the critical winds of the lowest two modes in every condition."""
    for i, condition in enumerate(conditions):
        for k in range(2):
            yield _critical(
                rig, model, condition, k, float(modes.values[i, k]), modes.deflection_m[i, k], working
            )


def _critical(
    rig: Rig,
    model: Model,
    condition: _Condition,
    k: int,
    frequency: float,
    shape: Floats,
    working: Working,
) -> Shedding:
    """Critical wind at the place where the mode swings widest, and the sway it may build up to."""
    mesh, use, mass, outside = model.mesh, working.use, condition.mass_kg_m, condition.outside_m
    widest = np.unravel_index(int(np.argmax(np.abs(shape))), shape.shape)
    size = float(outside[widest])
    moving = float(mesh.total(mass * shape**2) + np.sum(model.fittings_kg * _at_edges(shape) ** 2))
    mean_mass = moving / float(mesh.total(shape**2))
    scruton = float(
        use(scruton_number, m=mean_mass, delta=rig.mast.damping, rho=rig.wind.air_density_kg_m3, D=size)
    )
    wind = float(use(critical_wind_speed, n=frequency, D=size, St=STROUHAL[rig.wind.strouhal]))
    sway = None
    if k == 0:
        share = CORRELATION_DIAMETERS * size / (rig.mast.length_m - rig.mast.bury_m)
        # EN 1991-1-4 Table E.5, cantilever: the share of the height over which vortices keep in step
        in_step = 3 * share * (1 - share + share**2 / 3) if share < 1 else 1.0
        ratio = float(
            shedding_sway(
                K=CANTILEVER_MODE_FACTOR,
                K_w=min(in_step, 0.6),
                c_lat=LATERAL_COEFFICIENT,
                St=STROUHAL[rig.wind.strouhal],
                Sc=scruton,
            )
        )
        # past a tenth of a diameter vortices keep in step over more of the mast (Table E.4, from memory)
        sway = ratio * size if ratio <= SMALL_SWAY else None
    return Shedding(condition.name, k + 1, frequency, wind, sway, scruton)


def _at_edges(f: Floats) -> Floats:
    return np.concatenate([f[:1, 0], f[:, -1]])
