"""What a metal tube can bear: yield, rupture, buckling of the wall, flattening, holes and welds."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.metals import (
    design_strength,
    flat_part_slenderness,
    hole_axial_factor,
    hole_bending_factor,
    hole_torsion_factor,
    local_buckling_factor,
    strength_parameter,
    tube_slenderness,
)
from ..formulas.sections import annulus_second_moment, bending_stress, von_mises_stress
from ..formulas.shells import (
    axial_knockdown,
    bending_knockdown,
    brazier_moment,
    cylinder_classical_stress,
    cylinder_interaction,
    long_cylinder_torsion_stress,
)
from ..frozen import dataclass
from ..materials import Metal
from ..rig import Limits, Mast
from ..structure.sections import Layer, Sections
from .about import METAL, SMALLER_LOAD, THICKER_WALL, WIDER, About, Cure
from .record import Limit, up
from .stresses import MetalStresses, Stresses

Floats = NDArray[np.float64]

YARDSTICK_STRENGTH_PA = 250e6
THIN_WALL_RATIO = 20.0
"""Radius over wall below which the thin-shell rule is not used: its stress there is far above any yield."""

# EN 1999-1-1 Table 6.2 and Table 6.3, internal parts, from memory: (class, welded) -> beta_3/epsilon, C1, C2
CLASS_4 = {
    ("A", False): (22.0, 32.0, 220.0),
    ("A", True): (18.0, 29.0, 198.0),
    ("B", False): (18.0, 29.0, 198.0),
    ("B", True): (15.0, 25.0, 150.0),
}


HARDER = Cure("take a stronger alloy or temper", "money, and often welds or bends less well")
PLUG_TUBE = Cure("plug the tube <there|where it flattens>", "little weight; wires must go round it")
TO_LESS_STRESS = (
    "move the {} to where the stress is <at most {{share:.0%}} of that here|less>, or do without it"
)
MOVED = {
    what: Cure(
        TO_LESS_STRESS.format(what), "another place for what it holds; the stress is least near the tip"
    )
    for what in ("weld", "opening")
}

YIELD = About(
    ("yield",),
    METAL,
    "The wall is bent, pressed and twisted until it stays bent. All stresses at one place together, as von "
    "Mises adds them, against the proof strength of the metal over limits.yield_factor. A mast that yields "
    "comes back crooked.",
    (design_strength,),
    "Fatigue, corrosion beyond mast.wall_loss, dents, and stress at holes and welds, which have checks of "
    "their own.",
    (THICKER_WALL, WIDER, SMALLER_LOAD, HARDER),
    (bending_stress, von_mises_stress),
)
RUPTURE = About(
    ("rupture",),
    METAL,
    "The wall is bent, pressed and twisted until it tears. The stresses of `yield` against the tensile "
    "strength over limits.rupture_factor. It governs where a metal tears soon after it yields.",
    (design_strength,),
    "Fatigue, cracks that are there already, and stress at holes and welds, which have checks of their own.",
    (THICKER_WALL, WIDER, SMALLER_LOAD, HARDER),
    (bending_stress, von_mises_stress),
)
WELD = About(
    ("weld",),
    METAL,
    "Metal softened by the heat of a weld yields or tears. The stresses of `yield` within "
    "mast.weld[].extent of a weld, against the welded strengths of the alloy, over the same factors.",
    (design_strength,),
    "Flaws in the weld itself, and its fatigue without a [fatigue] table.",
    (MOVED["weld"], THICKER_WALL, WIDER),
    (von_mises_stress,),
)
WALL_CLASS = About(
    ("wall-class",),
    METAL,
    "A wall so thin for its diameter that it buckles before it yields counts with part of its thickness. "
    "Bending and compression against the proof strength, lowered by the share of the wall that counts in "
    "section class 4.",
    (local_buckling_factor,),
    "Dents and out-of-roundness; it is a rule for straight tubes as they are drawn or extruded.",
    (THICKER_WALL, WIDER, SMALLER_LOAD),
    (tube_slenderness, strength_parameter),
)
SHELL_BUCKLING = About(
    ("shell-buckling",),
    METAL,
    "A thin round wall wrinkles on its pressed side, like a drinks can. Shares of what it bears in "
    "compression, bending and twist added up, with what imperfections take off; looked at where the radius "
    "is 20 walls or more.",
    (cylinder_interaction,),
    "Dents, and the local push of a bearing or fitting.",
    (THICKER_WALL, WIDER, SMALLER_LOAD),
    (cylinder_classical_stress, bending_knockdown),
)
FLATTENING = About(
    ("flattening",),
    METAL,
    "A bent tube goes oval and folds, like a bent hose. The bending moment against that at which a long "
    "tube of the same radius and wall gives way, over limits.yield_factor.",
    (brazier_moment,),
    "What bearings, sleeves and plugs do to hold the tube round, which helps it.",
    (THICKER_WALL, PLUG_TUBE, SMALLER_LOAD),
)
OPENING = About(
    ("opening N",),
    METAL,
    "Stress crowds at the edge of a hole or slot until the metal tears. The peak stress there, taken to "
    "lie where bending is greatest, against the tensile strength over limits.rupture_factor.",
    (hole_bending_factor,),
    "Burrs, cracks and sharp corners of the hole, and a doubler round it. Its fatigue needs a [fatigue] "
    "table.",
    (MOVED["opening"], THICKER_WALL, WIDER),
    (hole_axial_factor, hole_torsion_factor),
)


def metal_limits(
    mast: Mast, sections: Sections, layer: Layer, s: MetalStresses, limits: Limits, working: Working
) -> list[Limit]:
    """Return every limit of one metal layer of the mast, from the stresses in it."""
    use = working.use
    here = np.broadcast_to(layer.present, layer.outer_m.shape)
    proof = layer.strength(lambda m: m.proof_Pa)
    ultimate = layer.strength(lambda m: m.ultimate_Pa)
    yield_Pa = use(design_strength, f=proof, gamma=limits.yield_factor)
    rupture_Pa = use(design_strength, f=ultimate, gamma=limits.rupture_factor)
    welded = near_welds(mast, sections, layer)
    thicker = thicker_wall(sections, layer)
    parent = here & ~welded
    found = [
        Limit(YIELD, layer.name, s.equivalent_Pa, yield_Pa, "Pa", design_strength, thicker, parent),
        Limit(RUPTURE, layer.name, s.equivalent_Pa, rupture_Pa, "Pa", design_strength, thicker, parent),
        _wall_class(layer, s, proof, welded, limits, thicker, working),
        _shell_buckling(layer, s, proof, limits, working),
        _flattening(layer, s, limits, working),
    ]
    if np.any(welded):
        soft, soft_ultimate = _softened(layer, limits, working)
        found.append(
            Limit(WELD, layer.name, s.equivalent_Pa, soft, "Pa", design_strength, moved("weld"), welded)
        )
        rupture_Pa = np.where(welded, soft_ultimate, rupture_Pa)
    found += [_opening(mast, i, sections, layer, s, rupture_Pa, working) for i in range(len(mast.opening))]
    # a wall that cannot buckle or flatten in this way, and a layer without the place, have no such limit
    return [limit for limit in found if limit.where is None or np.any(limit.where)]


def design_yield(mast: Mast, sections: Sections, layer: Layer, limits: Limits, working: Working) -> Floats:
    """Return the stress at which one metal layer may be taken to yield, softened near its welds."""
    parent = working.use(design_strength, f=layer.strength(lambda m: m.proof_Pa), gamma=limits.yield_factor)
    welded = near_welds(mast, sections, layer)
    if not np.any(welded):
        return np.asarray(parent)
    return np.where(welded, _softened(layer, limits, working)[0], parent)


def _softened(layer: Layer, limits: Limits, working: Working) -> tuple[Floats, Floats]:
    """Return what metal softened by a weld bears: at yield or rupture, the lesser, and at rupture."""
    use = working.use
    proof = use(design_strength, f=layer.strength(lambda m: m.haz_proof_Pa or 0.0), gamma=limits.yield_factor)
    ultimate = use(
        design_strength, f=layer.strength(lambda m: m.haz_ultimate_Pa or 0.0), gamma=limits.rupture_factor
    )
    return np.minimum(proof, ultimate), ultimate


def _wall_class(
    layer: Layer,
    s: Stresses,
    proof: Floats,
    welded: NDArray[np.bool_],
    limits: Limits,
    advise: Callable[[float, tuple[int, int]], str],
    working: Working,
) -> Limit:
    """Section class of EN 1999-1-1: a class 4 wall counts with part of its thickness."""
    use = working.use
    here = np.broadcast_to(layer.present, layer.outer_m.shape)
    wall = np.where(here, layer.wall_m, 1.0)
    if _curved(layer):
        beta = use(tube_slenderness, D_m=2 * radius_m(layer), t=wall)
    else:
        beta = use(flat_part_slenderness, b=np.where(here, _flat_m(layer), 1.0), t=wall)
    share = beta / use(strength_parameter, f_250=YARDSTICK_STRENGTH_PA, f_0=proof)
    effective = np.ones_like(proof)
    for is_welded in (False, True):
        limit, c1, c2 = CLASS_4[layer.metal.buckling_class or "B", is_welded]
        slender = here & (welded == is_welded) & (share > limit)
        if np.any(slender):
            effective[slender] = use(
                local_buckling_factor, where=layer.name, x=share[slender], C_1=c1, C_2=c2
            )
    capacity = use(design_strength, f=effective * proof, gamma=limits.yield_factor)
    return Limit(
        WALL_CLASS,
        layer.name,
        s.bending_Pa + s.direct_Pa,
        capacity,
        "Pa",
        local_buckling_factor,
        advise,
        here,
    )


def _shell_buckling(layer: Layer, s: Stresses, proof: Floats, limits: Limits, working: Working) -> Limit:
    """Thin-shell buckling (NASA SP-8007), where the wall is thin enough to be one."""
    here = np.broadcast_to(layer.present, layer.outer_m.shape)
    wall = np.where(here, layer.wall_m, 1.0)
    radius = radius_m(layer)
    # the flats of a box or of staves are judged by their class
    thin = here & (radius / wall >= THIN_WALL_RATIO) & _curved(layer)
    used, sheared = _shell_utilisation(layer, s, proof, radius, wall, thin, limits, working)

    def advise(used_here: float, at: tuple[int, int]) -> str:
        case = int(np.argmin(np.abs(used[(slice(None), *at)] - used_here)))
        square = float(sheared[(case, *at)])
        shell = Shell(
            layer.metal, float(radius[at]), float(wall[at]), float(proof[at]), used_here - square, square
        )
        times, thicker, ways = shell.heavier, shell.thicker_m, []
        if thicker is not None:
            now = float(layer.as_new.wall_m[at])
            ways.append(THICKER_WALL.said(now=now * 1e3, to=up((now + thicker - float(wall[at])) * 1e3, 0.1)))
        if (wider := shell.wider) is not None:
            now = float(layer.as_new.outer_forward_m[at]) * 1e3
            ways.append(WIDER.said(now=now, to=up(now * wider, 1.0)))
        return ", or ".join([*ways, SMALLER_LOAD.said(share=up(1 - 1 / times, 0.01))])

    return Limit(
        SHELL_BUCKLING, layer.name, used, np.ones_like(proof), "1", cylinder_interaction, advise, thin
    )


@dataclass(frozen=True)
class Shell:
    """A thin shell at one place, and what would become of it at other sizes.

    Stress along it falls with wall and with the square of the diameter, shear with wall and diameter; what it bears
    follows the formulas. Wider, it bears less shear, so that there may be no diameter that helps.

    Parameters
    ----------
    metal : Metal
        What it is made of.
    r_m, t_m : float
        Radius and wall.
    cap_Pa : float
        Proof strength, above which nothing is taken to be borne.
    along, square : float
        Share used along the mast, and the square of that in shear.
    """

    metal: Metal
    r_m: float
    t_m: float
    cap_Pa: float
    along: float
    square: float

    @property
    def heavier(self) -> float:
        """How many times too heavy the load is."""
        return float((self.along + np.sqrt(self.along**2 + 4 * self.square)) / 2)

    @property
    def thicker_m(self) -> float | None:
        """The least wall that passes at this outside diameter; none where no thin one does."""
        outside = self.r_m + self.t_m / 2
        t = np.linspace(self.t_m, outside / 3, 4001)
        return _first(t, self._used(outside - t / 2, t))

    @property
    def wider(self) -> float | None:
        """How many times the diameter must be to pass with this wall; none where that does not help."""
        times = np.linspace(1.0, 4.0, 4001)
        return _first(times, self._used(self.r_m * times, np.full_like(times, self.t_m)))

    def _used(self, r: Floats, t: Floats) -> Floats:
        bend, twist = self._borne(r, t)
        bend_now, twist_now = self._borne(np.asarray(self.r_m), np.asarray(self.t_m))
        less = self.r_m * self.t_m / (r * t)
        along = self.along * bend_now / bend * less * self.r_m / r
        return np.asarray(along + self.square * (twist_now / twist * less) ** 2)

    def _borne(self, r: Floats, t: Floats) -> tuple[Floats, Floats]:
        E, nu = self.metal.E_Pa, self.metal.nu
        bend = bending_knockdown(r=r, t=t) * cylinder_classical_stress(E=E, t=t, r=r, nu=nu)
        twist = long_cylinder_torsion_stress(E=E, t=t, r=r, nu=nu)
        return np.minimum(bend, self.cap_Pa), np.minimum(twist, self.cap_Pa / np.sqrt(3))


def _first(sizes: Floats, used: Floats) -> float | None:
    enough = used <= 1.0
    return float(sizes[np.argmax(enough)]) if np.any(enough) else None


def _shell_utilisation(
    layer: Layer,
    s: Stresses,
    proof: Floats,
    radius: Floats,
    wall: Floats,
    thin: NDArray[np.bool_],
    limits: Limits,
    working: Working,
) -> tuple[Floats, Floats]:
    """Joint use of the wall as a thin shell, and what of it is of shear; zero where it is too thick to be one.

    Shear of the bury counts with that of a torque, at its peak, against the torsional buckling of a
    very long cylinder: a short bury bears more.
    """
    used, sheared = np.zeros_like(s.bending_Pa), np.zeros_like(s.bending_Pa)
    if not np.any(thin):
        return used, sheared
    use, metal = working.use, layer.metal
    r, t, cap = radius[thin], wall[thin], proof[thin]
    classical = use(cylinder_classical_stress, where=layer.name, E=metal.E_Pa, t=t, r=r, nu=metal.nu)
    bend = np.minimum(use(bending_knockdown, where=layer.name, r=r, t=t) * classical, cap)
    axial = np.minimum(use(axial_knockdown, where=layer.name, r=r, t=t) * classical, cap)
    twist = np.minimum(
        use(long_cylinder_torsion_stress, where=layer.name, E=metal.E_Pa, t=t, r=r, nu=metal.nu),
        cap / np.sqrt(3),
    )
    R_t = (s.torsion_Pa + s.shear_Pa)[..., thin] * limits.yield_factor / twist
    used[..., thin] = use(
        cylinder_interaction,
        R_c=s.direct_Pa[..., thin] * limits.yield_factor / axial,
        R_b=s.bending_Pa[..., thin] * limits.yield_factor / bend,
        R_t=R_t,
    )
    sheared[..., thin] = R_t**2
    return used, sheared


def _flattening(layer: Layer, s: Stresses, limits: Limits, working: Working) -> Limit:
    """Brazier: a bent tube goes oval and gives way. The flats of a box do not."""
    here = np.broadcast_to(layer.present, layer.outer_m.shape)
    wall = np.where(here, layer.wall_m, 0.1)
    radius = np.where(here, radius_m(layer), 1.0)
    moment = working.use(
        brazier_moment, where=layer.name, E=layer.metal.E_Pa, r=radius, t=wall, nu=layer.metal.nu
    )

    def advise(used: float, at: tuple[int, int]) -> str:
        t = layer.wall_m[at] * 1e3
        return f"{THICKER_WALL.said(now=t, to=up(t * np.sqrt(used), 0.1))}, or {PLUG_TUBE.said()}"

    capacity = moment / limits.yield_factor
    demand = s.moment_N_m
    if layer.shape.kind == "ellipse":
        # as the round tube of its flattest side, at the same stress
        round_section = annulus_second_moment(2 * radius + wall, np.maximum(2 * radius - wall, 0.0))
        demand = s.bending_Pa * round_section / (radius + wall / 2)
    return Limit(
        FLATTENING, layer.name, demand, capacity, "N m", brazier_moment, advise, here & _curved(layer)
    )


def _curved(layer: Layer) -> bool:
    """Whether the wall is curved all round."""
    return layer.shape.kind in ("round", "turned", "ellipse")


def radius_m(layer: Layer) -> Floats:
    """Radius of the middle of the wall, where the wall is flattest; 1 m where the layer is absent."""
    shape = layer.shape
    forward = (shape.outer_forward_m + shape.inner_forward_m) / 4
    side = (shape.outer_side_m + shape.inner_side_m) / 4
    here = np.broadcast_to(layer.present, forward.shape)
    less, more = (
        np.where(here, np.minimum(forward, side), 1.0),
        np.where(here, np.maximum(forward, side), 1.0),
    )
    return np.asarray(more * (more / less))


def _flat_m(layer: Layer) -> Floats:
    """Widest flat of the wall, inside."""
    if layer.shape.sides:
        return np.asarray(layer.inner_m * np.tan(np.pi / layer.shape.sides))
    return layer.inner_m


def _opening(
    mast: Mast,
    number: int,
    sections: Sections,
    layer: Layer,
    s: Stresses,
    rupture_Pa: Floats,
    working: Working,
) -> Limit:
    """Peak stress at a hole against rupture.

    The metal at the edge of a hole may yield and share its load; it may not tear.
    """
    peak, at_hole = peak_at_opening(mast, number, sections, layer, s, working)
    about = OPENING.numbered(number + 1)
    return Limit(about, layer.name, peak, rupture_Pa, "Pa", hole_bending_factor, moved("opening"), at_hole)


def peak_at_opening(
    mast: Mast, number: int, sections: Sections, layer: Layer, s: Stresses, working: Working
) -> tuple[Floats, NDArray[np.bool_]]:
    """Return the peak stress at a hole, taken to lie where bending is greatest, and the points it stands at."""
    opening = mast.opening[number]
    z, half = sections.z_m, (opening.length_m or opening.width_m) / 2
    slack = 1e-9 * mast.length_m
    # a slot is worst at one of its ends; both stand on edges of the mesh
    ends = np.clip((opening.height_m - half, opening.height_m + half), 0.0, mast.length_m)
    at_hole = np.asarray(np.any([np.abs(z - end) <= slack for end in ends], axis=0) & layer.present)
    peak = np.zeros_like(s.bending_Pa)
    size = {
        "w": np.broadcast_to(opening.width_m, at_hole.shape)[at_hole],
        "D": layer.outer_m[at_hole],
        "d": layer.inner_m[at_hole],
    }
    if np.any(at_hole):
        # the hole is at the outer fibre, where bending is plain tension along the wall: the axial factor,
        # which grows with the hole in a thin wall, is used for it too where it is the greater
        name = f"opening {number + 1}"
        axial = working.use(hole_axial_factor, where=name, **size)
        bending = np.maximum(working.use(hole_bending_factor, where=name, **size), axial)
        peak[..., at_hole] = (
            bending * s.bending_Pa[..., at_hole]
            + axial * s.direct_Pa[..., at_hole]
            + working.use(hole_torsion_factor, where=name, **size) * s.torsion_Pa[..., at_hole]
        )
    return peak, at_hole


def near_welds(mast: Mast, sections: Sections, layer: Layer) -> NDArray[np.bool_]:
    """Points in metal softened by a weld; a weld softens every layer it may have been laid on."""
    z, slack = sections.z_m, 1e-9 * mast.length_m
    near = np.zeros(z.shape, dtype=bool)
    for weld in mast.weld:
        near |= (z >= weld.height_m - weld.extent_m - slack) & (z <= weld.height_m + weld.extent_m + slack)
    return np.asarray(near & layer.present)


def thicker_wall(sections: Sections, layer: Layer) -> Callable[[float, tuple[int, int]], str]:
    """Advice for a section too weak: modulus grows about as the wall, and as the square of the diameter."""

    def advise(used: float, at: tuple[int, int]) -> str:
        diameter = float(layer.as_new.outer_forward_m[at]) * 1e3
        wider = WIDER.said(now=diameter, to=up(diameter * np.sqrt(used), 1.0))
        lighter = SMALLER_LOAD.said(share=up(1 - 1 / used, 0.01))
        wall, thicker = float(layer.as_new.wall_m[at]) * 1e3, thicker_m(layer, used, at)
        if thicker is None:
            return f"at this height {wider}, or {lighter}; no wall is thick enough for that diameter"
        return f"at this height {THICKER_WALL.said(now=wall, to=up(thicker * 1e3, 0.1))}, or {wider}, or {lighter}"

    return advise


def thicker_m(layer: Layer, times: float, at: tuple[int, int]) -> float | None:
    """Return the wall, when new, of a tube of so many times the bending strength at one diameter.

    None where even a solid bar has less. A section that is not round gains as its wall.
    """
    wall = float(layer.wall_m[at])
    more = wall * times
    if layer.shape.kind == "round":
        outer, inner = float(layer.outer_m[at]), float(layer.inner_m[at])
        bore = outer**4 - times * (outer**4 - inner**4)
        if bore < 0.0:
            return None
        more = (outer - bore**0.25) / 2
    return float(layer.as_new.wall_m[at]) + more - wall


def moved(what: str) -> Callable[[float, tuple[int, int]], str]:
    """Return advice for a place too weak for what stands there."""

    def advise(used: float, at: tuple[int, int]) -> str:
        return MOVED[what].said(share=1 / used)

    return advise
