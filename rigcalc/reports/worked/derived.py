"""What the engine gives at a place, put as formulas: moments, shear, deflections, joints, the length of a life.

The engine integrates; what it found is said here in the formulas that a reviewer would check it with. A line
counts only where its result is the number that the check has.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from ...formulas import Working
from ...formulas.beams import (
    allowed_axial_load,
    allowed_tip_deflection,
    moment_of_force,
    resultant_force,
    resultant_moment,
)
from ...formulas.fatigue import (
    curve_range,
    design_category,
    miner_sum,
    narrow_band_damage,
    rms_of_largest,
    slope_past_the_knee,
)
from ...formulas.joints import least_overlap, pressed_wall_stress
from ...formulas.sections import (
    corner_bending_stress,
    layer_shear_force,
    ring_peak_shear_stress,
    round_bending_stress,
)
from ...formulas.shapes import (
    box_peak_shear_stress,
    ellipse_peak_shear_stress,
    polygon_peak_shear_stress,
    turned_peak_shear_stress,
)
from ...formulas.timber import creep_deflection
from ...frozen import dataclass
from ...limits import Check, joint_contacts
from ...limits.fatigue import HOLE, plain_curve, weld_curve
from ...limits.lifetime import CUT_OFF_CYCLES, KNEE_CYCLES, REFERENCE_CYCLES, Curve, rayleigh_damage
from ...materials import find_fatigue_detail
from ...materials.laminates import Laid, long_cylinder_load
from ...rig import Rig
from ...structure.joints import laps_of
from ...structure.made_of import Metals
from ...structure.sections import Layer, Sections
from ...verdict import Run
from ...verdict.evaluate import internal_of
from ...verdict.turns import Turns
from .balance import pushed
from .chains import Known
from .places import AFTER_ALL, BEFORE_ALL, Place, Worked, alike, worked_out

OF_SHEAR = ("shear", "interlaminar")
"""Checks that take the shear force of the whole mast, which at the heel is all but the force of the step."""


@dataclass(frozen=True)
class Spot:
    """A check at its place on the mast.

    Parameters
    ----------
    rig : Rig
        As read.
    run : Run
        What was worked out.
    check : Check
        The check.
    place : Place
        Where it governs.
    """

    rig: Rig
    run: Run
    check: Check
    place: Place

    @property
    def sections(self) -> Sections:
        return self.run.model.sections

    @property
    def layer(self) -> Layer | None:
        """The layer that the check is of."""
        return next((layer for layer in self.sections.layers if layer.name == self.check.layer), None)

    @property
    def row(self) -> int:
        return self.place.index[0]

    @property
    def at(self) -> tuple[int, int]:
        return self.place.index[1:]


def constants_of(spot: Spot) -> dict[str, list[float]]:
    """Return the numbers of the file that stand between steps, by name."""
    rig, layer = spot.rig, spot.layer
    factors = [rig.limits.yield_factor, rig.limits.rupture_factor, rig.timber.safety_factor]
    found: dict[str, list[float]] = {}
    if layer is not None and isinstance(layer.made_of, Laid):
        found |= _of_laminate(spot, layer, layer.made_of)
        factors.append(layer.made_of.lay_up.safety_factor)
    if layer is not None and isinstance(layer.made_of, Metals):
        found["shear strength"] = [float(layer.strength(lambda m: m.proof_Pa)[spot.at]) / math.sqrt(3)]
    found["instability"] = [float(spot.run.solved.axial_factor[spot.row])]
    return found | {"factor": factors}


def _of_laminate(spot: Spot, layer: Layer, laid: Laid) -> dict[str, list[float]]:
    i, j = spot.at
    shape = layer.shape
    radius = (
        float(
            np.minimum(shape.outer_forward_m, shape.outer_side_m)[i, j]
            + np.minimum(shape.inner_forward_m, shape.inner_side_m)[i, j]
        )
        / 4
    )
    E = float(np.broadcast_to(layer.elastic.E_Pa, shape.outer_side_m.shape)[i, j])
    perfect = float(laid.along(long_cylinder_load(laid.walls))[i, 0]) / radius
    return {
        "Et": [float((laid.E_Pa * laid.wall_m)[i, 0])],
        "N_cr": [perfect],
        "bending_stress_E": [E],
        "layer_direct_stress_E": [E],
    }


def round_of(known: Known) -> dict[str, list[float]]:
    """Return the sizes of the round tube that a wall which is not round is held against."""
    sizes = [
        (step.arguments["r"], step.arguments["t"])
        for step in known.steps
        if step.formula.name in ("brazier_moment", "orthotropic_brazier_moment")
    ]
    return {
        "round D": [2 * r + t for r, t in sizes],
        "round d": [2 * r - t for r, t in sizes],
        "round y": [r + t / 2 for r, t in sizes],
    }


def derived(spot: Spot) -> Iterator[Worked]:
    """Yield the statements that belong to a check on the mast."""
    yield from _whole(spot)
    yield from _moments(spot)
    if spot.layer is not None:
        yield from _both_ways(spot, spot.layer)
        yield from _shear(spot, spot.layer)
        yield from _joints(spot, spot.layer)
    yield from _bearings(spot)


# ---------------------------------------------------------------- the mast as a whole


def _whole(spot: Spot) -> Iterator[Worked]:
    check, rig, limits = spot.check, spot.rig, spot.rig.limits
    a = rig.mast.length_m - rig.mast.bury_m
    if check.id in ("tip-deflection", "creep-deflection"):
        yield worked_out(allowed_tip_deflection, BEFORE_ALL, share=limits.tip_deflection, a=a)
    if check.id == "creep-deflection":
        creep, lasting = spot.sections.creep, rig.timber.lasting_share
        tip = next(c.demand for c in spot.run.checks if c.id == "tip-deflection" and c.case == check.case)
        yield worked_out(creep_deflection, BEFORE_ALL, u=tip, k_def=creep, psi_2=lasting)
    if check.id == "axial-stability":
        required = limits.axial_stability_factor
        case = spot.run.names.index(check.case)
        turns = len(spot.run.model.turns_rad)
        factor = float(np.min(spot.run.solved.axial_factor[case * turns : (case + 1) * turns]))
        yield worked_out(allowed_axial_load, BEFORE_ALL, N=check.demand, factor=factor, required=required)


# ---------------------------------------------------------------- moments and shear


def _moments(spot: Spot) -> Iterator[Worked]:
    """Yield the moment on the straight and on the bent mast, as resultants of both planes."""
    run, (row, i, j) = spot.run, spot.place.index
    internal = internal_of(run.model, run.solved)
    for name, field in (("straight", internal.straight_N_m), ("bent", internal.bent_N_m)):
        side, forward = (float(field[plane, row, i, j]) for plane in (0, 1))
        fed = {}
        if name == "straight":
            fed = {
                key: line
                for key, plane, value in (("M_s", 0, side), ("M_f", 1, forward))
                if (line := _of_outboard(spot, plane, value)) is not None
            }
        yield worked_out(
            resultant_moment,
            BEFORE_ALL,
            fed=fed,
            summary=f"Moment on the {name} mast at this height.",
            M_s=side,
            M_f=forward,
        )


def _both_ways(spot: Spot, layer: Layer) -> Iterator[Worked]:
    """Yield the bending stress of a layer in a mast that is stiffer one way than the other."""
    shape, run, (row, i, j) = layer.shape, spot.run, spot.place.index
    if spot.sections.even or shape.kind not in ("box", "ellipse", "round", "turned"):
        return
    function = corner_bending_stress if shape.kind == "box" else round_bending_stress
    internal = internal_of(run.model, run.solved)
    EI_s, EI_f = (float(EI) for EI in spot.sections.planes_N_m2[:, i, j])
    E = float(np.broadcast_to(layer.elastic.E_Pa, shape.outer_side_m.shape)[i, j])
    for field in (internal.straight_N_m, internal.bent_N_m):
        side, forward = (float(field[plane, row, i, j]) for plane in (0, 1))
        yield worked_out(
            function,
            BEFORE_ALL,
            E=E,
            M_s=side,
            y_s=float(shape.outer_side_m[i, j]) / 2,
            EI_s=EI_s,
            M_f=forward,
            y_f=float(shape.outer_forward_m[i, j]) / 2,
            EI_f=EI_f,
        )


def _of_outboard(spot: Spot, plane: int, moment_N_m: float) -> Worked | None:
    """Return a moment above the upper bearing as the force outboard at its arm."""
    run, (row, i, j) = spot.run, spot.place.index
    held = run.loads[row // len(run.model.turns_rad)].held_at_m
    upper = run.model.supports.bury_m if held is None else held[1]
    force = float(run.solved.small.shear_N[plane, row, i, j])
    if run.model.mesh.z_m[i, j] < float(upper) or i < run.model.mesh.edge_index(upper) or force == 0.0:
        return None
    line = worked_out(
        moment_of_force,
        BEFORE_ALL,
        symbol=("M_s", "M_f")[plane],
        summary=f"Moment of all that pulls outboard {('to the side', 'forward')[plane]}, at the arm of its resultant.",
        F=force,
        h=moment_N_m / force,
    )
    return line if alike(line.value, moment_N_m) else None


def _bearings(spot: Spot) -> Iterator[Worked]:
    """Yield the forces that partners and step are judged by."""
    run = spot.run
    if spot.check.id not in OF_SHEAR and spot.check.case in run.names:
        case = run.names.index(spot.check.case)
        turns = Turns(run.model, run.solved, case)
        if run.loads[case].held_at_m is None:
            yield pushed("upper", turns.upper, symbol="R_u")
            yield pushed("lower", turns.lower, symbol="R_l")


def _shear(spot: Spot, layer: Layer) -> Iterator[Worked]:
    """Yield the shear stress at the neutral axis, of the layer's share and of every force that a joint passes on."""
    run, (row, i, j) = spot.run, spot.place.index
    force = _across(spot)
    if spot.check.id in OF_SHEAR:
        yield force
    planes, own = spot.sections.planes_N_m2[:, i, j], layer.EI_N_m2[:, i, j]
    plane = int(np.argmax(own / planes))
    share = worked_out(
        layer_shear_force,
        BEFORE_ALL,
        fed={"V": force},
        V=force.value,
        EI_i=float(own[plane]),
        EI=float(planes[plane]),
    )
    yield share
    forces: list[tuple[float, Worked | None]] = [(share.value, share), (force.value, force)]
    for lap in laps_of(spot.rig.mast, spot.sections):
        if lap.joins:
            internal = internal_of(run.model, run.solved)
            low, high = (float(np.max(internal.moment_N_m[row][end])) for end in lap.ends(spot.sections))
            forces.append(
                ((min(low, high) + 2 * max(low, high)) ** 2 / (3 * lap.length_m * (low + high)), None)
            )
    for V, maker in forces:
        peak = _peak_shear(layer, V, (i, j), {} if maker is None else {"V": maker})
        if peak is not None:
            yield peak


def _across(spot: Spot) -> Worked:
    """Return the shear force of the straight or the bent mast, whichever has more."""
    run, (row, i, j) = spot.run, spot.place.index
    internal = internal_of(run.model, run.solved)
    both = [
        worked_out(
            resultant_force,
            BEFORE_ALL,
            F_s=float(field[0, row, i, j]),
            F_f=float(field[1, row, i, j]),
            symbol="V",
            summary=f"Shear force in the {name} mast at this height, both planes together.",
        )
        for name, field in (("straight", internal.straight_shear_N), ("bent", internal.bent_shear_N))
    ]
    return max(both, key=lambda line: line.value)


def _peak_shear(layer: Layer, V: float, at: tuple[int, int], fed: dict[str, Worked]) -> Worked | None:
    shape = layer.shape
    x, y, bx, by = (
        float(size[at])
        for size in (shape.outer_forward_m, shape.outer_side_m, shape.inner_forward_m, shape.inner_side_m)
    )
    if x == 0.0:
        return None
    if shape.kind == "round":
        return worked_out(ring_peak_shear_stress, BEFORE_ALL, fed=fed, V=V, D=x, d=bx)
    if shape.kind == "polygon":
        return worked_out(
            polygon_peak_shear_stress, BEFORE_ALL, fed=fed, V=V, n=float(shape.sides), W=x, w=bx
        )
    if shape.kind == "turned":
        return worked_out(turned_peak_shear_stress, BEFORE_ALL, fed=fed, V=V, n=float(shape.sides), D=x, w=bx)
    if shape.kind == "ellipse":
        both = [
            worked_out(
                ellipse_peak_shear_stress, BEFORE_ALL, fed=fed, V=V, a=a / 2, b=b / 2, a_i=c / 2, b_i=d / 2
            )
            for a, b, c, d in ((x, y, bx, by), (y, x, by, bx))
        ]
    else:
        both = [
            worked_out(box_peak_shear_stress, BEFORE_ALL, fed=fed, V=V, B=b, H=a, b=d, h=c)
            for a, b, c, d in ((x, y, bx, by), (y, x, by, bx))
        ]
    return max(both, key=lambda line: line.value)


# ---------------------------------------------------------------- joints


def _joints(spot: Spot, layer: Layer) -> Iterator[Worked]:
    if not spot.check.id.startswith("joint-"):
        return
    run, sections, row = spot.run, spot.sections, spot.row
    for lap in laps_of(spot.rig.mast, sections):
        if lap.joins:
            yield worked_out(least_overlap, BEFORE_ALL, d=lap.bore_m)
    number = sections.layers.index(layer)
    for contact in joint_contacts(spot.rig, sections, internal_of(run.model, run.solved), Working()):
        if contact.layer == number:
            for along, round_it in (
                (contact.direct_Pa, contact.sides_Pa),
                (contact.along_Pa, contact.under_Pa),
            ):
                yield worked_out(
                    pressed_wall_stress,
                    AFTER_ALL,
                    sigma_x=float(along[row]),
                    sigma_w=float(round_it[row]),
                )


# ---------------------------------------------------------------- fatigue


def life_lines(spot: Spot, known: Known) -> tuple[Worked, ...]:
    """Return the proof that the largest range of a life uses up Miner's sum; none where it is not that of fatigue.

    The range is found by a search, so what is shown is not how it came about but that it is right: the sum
    comes to 1.
    """
    life = spot.rig.fatigue
    if life is None:
        return ()
    cycles = next((s for s in reversed(known.steps) if s.formula.name == "cycles_at_sea"), None)
    if cycles is None:
        return ()
    hole = find_fatigue_detail(HOLE)
    for category, slope in (plain_curve(life), weld_curve(life), (hole.category_Pa, hole.slope)):
        borne = worked_out(design_category, BEFORE_ALL, S_C=category, gamma=life.factor)
        curve = Curve(borne.value, slope)
        if abs(rayleigh_damage(curve, largest_Pa=spot.check.capacity, cycles=cycles.value) - 1.0) < 1e-9:
            return (cycles, *_used_up(curve, borne, spot.check.capacity, cycles.value))
    return ()


def _used_up(curve: Curve, borne: Worked, largest_Pa: float, cycles: float) -> tuple[Worked, ...]:
    from scipy.special import gamma, gammaincc

    m_1 = curve.slope
    knee = worked_out(
        curve_range, 0, S_C=borne.value, N_C=REFERENCE_CYCLES, N=KNEE_CYCLES, m=m_1, symbol="Delta_sigma_D"
    )
    flatter = worked_out(slope_past_the_knee, 0, m=m_1)
    end = worked_out(
        curve_range,
        0,
        S_C=knee.value,
        N_C=KNEE_CYCLES,
        N=CUT_OFF_CYCLES,
        m=flatter.value,
        symbol="Delta_sigma_L",
    )
    rms = worked_out(
        rms_of_largest,
        0,
        S=largest_Pa,
        N=cycles,
        summary="Root-mean-square stress where the largest range is S.",
    )

    def above(m: float, range_Pa: float) -> float:
        a = 1 + m / 2
        return float(gamma(a) * gammaincc(a, range_Pa**2 / (8 * rms.value**2)))

    parts = [
        worked_out(
            narrow_band_damage,
            0,
            n=cycles,
            S_C=knee.value,
            N_C=KNEE_CYCLES,
            sigma=rms.value,
            m=m,
            g=g,
            symbol=symbol,
        )
        for m, g, symbol in (
            (m_1, above(m_1, knee.value), "D_1"),
            (flatter.value, above(flatter.value, end.value) - above(flatter.value, knee.value), "D_2"),
        )
    ]
    total = worked_out(
        miner_sum,
        0,
        D_1=parts[0].value,
        D_2=parts[1].value,
        summary="The range S was found by search so that this comes to 1: it is the largest that the life allows.",
    )
    return (borne, knee, flatter, end, rms, *parts, total)
