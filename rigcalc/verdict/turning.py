"""What the bearings feel of the cases, brought together for the bearings to judge."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from ..bearings import (
    BearingResult,
    Felt,
    HullLoad,
    Journal,
    TurningResult,
    bearing_checks,
    bearing_result,
    deck_checks,
    friction_of,
    furling_checks,
    thrust_checks,
    thrust_result,
)
from ..formulas import Working
from ..formulas.bearings import close_journal_friction_torque
from ..limits import Check
from ..limits.stresses import layer_stresses
from ..rig import Bearing, Rig
from ..structure.made_of import Metals
from ..structure.sections import Layer, Sections
from .evaluate import Run, internal_of
from .furling import furling
from .result import PostResult
from .turns import Turns

Floats = NDArray[np.float64]

SKIN_E_PA, SKIN_NU = 10e9, 0.3
"""Stiffness of a skin that is no metal, across the grain or the fibres, for the width of contact alone: judgement."""


def turning(
    rig: Rig, run: Run, posts: Sequence[PostResult], working: Working
) -> tuple[TurningResult | None, tuple[Check, ...]]:
    """Return what the mast stands and turns in, and its checks; nothing where every case hangs it in slings."""
    standing = [i for i, load in enumerate(run.loads) if load.held_at_m is None]
    if not standing:
        return None, ()
    names = tuple(run.loads[i].name for i in standing)
    each = [Turns(run.model, run.solved, i) for i in standing]
    tube = run.model.sections.layers[0]
    bending = layer_stresses(
        run.model.sections, tube, internal_of(run.model, run.solved), Working()
    ).bending_Pa
    felt = {name: _felt(rig, run, name, names, each, bending) for name in ("partners", "step")}
    checks: list[Check] = []
    found: dict[str, BearingResult] = {}
    journals: dict[str, Journal] = {}
    for name, bearing in (("partners", rig.bearings.partners), ("step", rig.bearings.step)):
        journal = journals[name] = _journal(rig, run.model.sections, name)
        found[name] = bearing_result(name, bearing, rig.bearings, journal, felt[name], working)
        checks += bearing_checks(name, bearing, journal, felt[name], rig.limits, working)
    mass = _mass(run)
    down = [turns.thrust_N for turns in each]
    thrust = thrust_result(rig.bearings.step, names, down, mass, working)
    checks += thrust_checks(rig.bearings, names, down, thrust.inverted_N, working)
    edge = run.model.mesh.edge_index(rig.mast.bury_m)
    hull = tuple(
        _hull_load(name, turns, edge, next((p for p in posts if p.case == name), None))
        for name, turns in zip(names, each, strict=True)
    )
    if rig.deck is not None:
        lifted = [_lifted(rig, load) for load in hull]
        torque = _friction_torque(rig.bearings.partners, found["partners"], working)
        checks += deck_checks(
            rig.deck, hull, lifted_N_m=lifted, turned_N_m=torque, height_m=rig.mast.bury_m, working=working
        )
    rolled = furling(rig, run, journals["partners"], journals["step"], working)
    if rolled is not None:
        checks += furling_checks(rolled, rig.mast.bury_m)
    return TurningResult(found["partners"], found["step"], thrust, hull, rolled), tuple(checks)


def _mass(run: Run) -> float:
    """Mass of mast and fittings, with the most cloth that any case hangs on it."""
    mesh = run.model.mesh
    cloth = [sum(mesh.total(part.at(mesh.z_m)) for part in load.hung_kg_m) for load in run.loads]
    return float(mesh.total(run.model.sections.mass_kg_m) + np.sum(run.model.fittings_kg) + max(cloth))


def _felt(
    rig: Rig,
    run: Run,
    name: str,
    names: tuple[str, ...],
    each: Sequence[Turns],
    bending_Pa: Floats,
) -> Felt:
    edge = run.model.mesh.edge_index(rig.mast.bury_m) if name == "partners" else 0
    beside = np.maximum(bending_Pa[:, edge, 0], bending_Pa[:, max(edge - 1, 0), -1 if edge else 0])
    forces, slopes, bending = [], [], []
    # the post leans after the mast
    leans = run.post.tilt_rad_N if run.post is not None and name == "partners" else 0.0
    for turns in each:
        forces.append(turns.upper_N if name == "partners" else turns.lower_N)
        slopes.append(turns.slope_rad(edge, leans_rad_N=leans))
        bending.append(float(np.max(beside[turns.each])))
    return Felt(
        names, np.array(forces), np.array(slopes), np.array(bending), rig.bearings.lasting_share * max(forces)
    )


def _journal(rig: Rig, sections: Sections, name: str) -> Journal:
    """Return what stands in a bearing: the mast's outside, or a post inside it."""
    mesh, post = sections.mesh, rig.mast.post
    edge = mesh.edge_index(rig.mast.bury_m) if name == "partners" else 0
    # of the two sides of a step the smaller bears
    spots = [(edge, 0)] if edge == 0 else [(edge - 1, -1), (edge, 0)]
    tube = sections.layers[0]
    outer = min(float(min(layer.shape.outer_forward_m[spot] for layer in [tube])) for spot in spots)
    skin = _skin(sections, spots[0])
    metal = skin.made_of.rows[0] if isinstance(skin.made_of, Metals) else None
    wall = proof = None
    if isinstance(tube.made_of, Metals) and not any(_is_filled(sections, spot) for spot in spots):
        wall = min(_metal_wall(sections, spot) for spot in spots)
        proof = min(float(tube.strength(lambda m: m.proof_Pa)[spot]) for spot in spots)
        if any(abs(weld.height_m - mesh.z_m[spots[0]]) <= weld.extent_m for weld in rig.mast.weld):
            proof = min(proof, min(m.haz_proof_Pa or proof for m in tube.made_of.rows))
    size = outer
    if post is not None:
        size = post.diameter_m if name == "step" else post.top_diameter_m or post.diameter_m
    expansion = None if metal is None else metal.thermal_expansion_per_K
    return Journal(
        diameter_m=size,
        height_m=rig.mast.bury_m if name == "partners" else 0.0,
        E_Pa=SKIN_E_PA if metal is None else metal.E_Pa,
        nu=SKIN_NU if metal is None else metal.nu,
        expansion_per_K=expansion,
        give_rad_N_m=_give(rig, sections),
        tube_m=outer,
        wall_m=wall,
        proof_Pa=proof,
    )


def _give(rig: Rig, sections: Sections) -> float:
    """Return the slope that a couple of one takes out of the mast at its bearings, of a uniform bury; stiff is safe."""
    edge = sections.mesh.edge_index(rig.mast.bury_m)
    return rig.mast.bury_m / (3 * float(np.max(sections.planes_N_m2[:, :edge])))


def _skin(sections: Sections, spot: tuple[int, int]) -> Layer:
    return max(sections.layers, key=lambda layer: float(layer.outer_m[spot]))


def _is_filled(sections: Sections, spot: tuple[int, int]) -> bool:
    """Whether a plug or a solid stands in the bore."""
    return any(bool(layer.shape.solid[spot]) for layer in sections.layers)


def _metal_wall(sections: Sections, spot: tuple[int, int]) -> float:
    """Return the wall that bends round as one: the thickest tube's alone, as tubes that only touch slide."""
    return max(
        float(layer.wall_m[spot])
        for layer in sections.layers
        if isinstance(layer.made_of, Metals) and float(layer.outer_m[spot]) > 0.0
    )


def _hull_load(name: str, turns: Turns, edge: int, post: PostResult | None) -> HullLoad:
    """Return the forces of the mast on the hull: those on the mast, turned round."""
    upper, lower = turns.upper, turns.lower
    return HullLoad(
        case=name,
        partners_side_N=-upper.side_N,
        partners_forward_N=-upper.forward_N,
        step_side_N=-lower.side_N,
        step_forward_N=-lower.forward_N,
        step_down_N=turns.thrust_N,
        couple_N_m=turns.upper_moment_N_m(edge) if post is None else post.foot_moment_N_m,
        partners_mast=upper.mast,
        step_mast=lower.mast,
    )


def _lifted(rig: Rig, load: HullLoad) -> float:
    """Moment on the bolts: the force at its offset, or all of a post's that is clamped at its foot."""
    assert rig.deck is not None
    if rig.mast.post is not None and rig.mast.post.socket_m is None:
        return load.couple_N_m
    return math.hypot(load.partners_side_N, load.partners_forward_N) * rig.deck.offset_m


def _friction_torque(bearing: Bearing, result: BearingResult, working: Working) -> float:
    friction = friction_of(bearing)
    if friction is None:
        return 0.0
    return float(
        working.use(close_journal_friction_torque, mu=friction[1], F=result.force_N, D=result.journal_m)
    )
