"""What a wall or a sheath of laminate can bear: plies, the faces between them, buckling, flattening, bearings."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..formulas import Working, record_of
from ..formulas.laminate_tubes import (
    face_transfer_shear_stress,
    knocked_down_strength,
    long_orthotropic_torsion_load,
    orthotropic_axial_knockdown,
    orthotropic_bending_knockdown,
    orthotropic_slenderness,
    ply_end_shear_stress,
    stack_brazier_moment,
    tube_radial_shear_stress,
)
from ..formulas.laminates import (
    hashin_fibre_tension_index,
    matrix_index,
    strain_index,
    stress_index,
    tsai_hill_index,
    tsai_wu_square_part,
)
from ..formulas.shells import cylinder_interaction
from ..frozen import dataclass
from ..materials.laminates import (
    CRITERIA,
    MODES,
    Criterion,
    Envelope,
    Laid,
    Stack,
    failure,
    long_cylinder_load,
    membrane_envelope,
    membrane_state,
    what_is_left,
)
from ..structure.sections import Layer, Sections
from .about import LAMINATE, SMALLER_LOAD, WIDER, About, Cure
from .record import Limit, up
from .stresses import Internal, Stresses, layer_stresses

Floats = NDArray[np.float64]
Place = tuple[int, int]

TAPER = 20.0
"""Length over thickness in which a ply hands over its load where it ends."""

FORMULA: Final[Mapping[Criterion, Callable[..., object]]] = MappingProxyType(
    {
        "max-stress": stress_index,
        "max-strain": strain_index,
        "tsai-hill": tsai_hill_index,
        "tsai-hill-tensile": tsai_hill_index,
        "tsai-wu": tsai_wu_square_part,
        "hashin": hashin_fibre_tension_index,
        "hashin-rotem": matrix_index,
    }
)
"""The formula that stands for each criterion."""


@dataclass(frozen=True)
class Skin:
    """One layer of laminate with the strains in it, all positive: the worst signs are taken together.

    Parameters
    ----------
    sections : Sections
        The whole mast.
    layer : Layer
        The layer.
    laid : Laid
        What it is made of.
    stresses : Stresses
        In the layer as a whole.
    """

    sections: Sections
    layer: Layer
    laid: Laid
    stresses: Stresses

    @cached_property
    def here(self) -> NDArray[np.bool_]:
        """Points at which it stands, shape (n, points)."""
        return np.broadcast_to(self.layer.present, self.layer.outer_m.shape)

    @cached_property
    def bent(self) -> Floats:
        """Strain along the mast at the outer fibre from bending, shape (cases, n, points)."""
        return self.stresses.bending_Pa / self.layer.elastic.E_Pa

    @cached_property
    def pressed(self) -> Floats:
        """Strain along the mast from the axial force, whichever way it acts."""
        return self.stresses.direct_Pa / self.layer.elastic.E_Pa

    @cached_property
    def twisted(self) -> Floats:
        """Shear strain at the outside from the torque."""
        return self.stresses.torsion_Pa / self.layer.elastic.G_Pa

    @cached_property
    def sheared(self) -> Floats:
        """Shear strain at the neutral axis from the shear force."""
        return self.stresses.shear_Pa / self.layer.elastic.G_Pa

    @cached_property
    def envelope(self) -> Envelope:
        """How its plies bear strain along the mast and in shear."""
        return membrane_envelope(self.laid.weak, self.laid.unit_strains)

    @cached_property
    def loads(self) -> Floats:
        """Strain along the mast and in shear, shape (n, 2, 2 cases points): at the outer fibre, then at the axis."""
        along = np.stack([self.bent + self.pressed, self.pressed])
        shear = np.stack([self.twisted, self.twisted + self.sheared])
        both = np.moveaxis(np.stack([along, shear]), 3, 0)
        return both.reshape(*both.shape[:2], -1)

    @cached_property
    def radius_m(self) -> Floats:
        """Radius of the middle of the wall, of the smaller size; 1 m where the layer is absent."""
        shape = self.layer.shape
        outer = np.minimum(shape.outer_forward_m, shape.outer_side_m)
        inner = np.minimum(shape.inner_forward_m, shape.inner_side_m)
        return np.where(self.here, (outer + inner) / 4, 1.0)

    @property
    def line_N_m(self) -> Floats:
        """Line load along the mast to a unit of strain, shape (n, 1)."""
        return self.laid.E_Pa * self.laid.wall_m

    @property
    def shear_line_N_m(self) -> Floats:
        """Shear line load to a unit of shear strain, shape (n, 1)."""
        return self.laid.G_Pa * self.laid.wall_m

    @property
    def is_sheath(self) -> bool:
        """Whether it is bonded to a tube of something else."""
        return self.layer.name != "tube"


THICKER_LAMINATE = Cure(
    "lay <{times:.2f} times as much|more> of every ply <there (wall from {now:.1f} to about {to:.1f} "
    "mm)|where it fails>",
    "weight and money, in step with the plies",
)
STIFFER_MAST = Cure(
    "stiffen the mast< {times:.2f} times there>", "weight: the sheath is strained with what it covers"
)
BETTER_ANGLE = Cure(
    "turn the ply that fails first nearer to the way it is strained", "stiffness along the mast"
)
PLIES_ROUND = Cure(
    "more plies <{best}|round the mast, and at 45 deg>", "weight that adds little stiffness along the mast"
)
PLY_ENDS = Cure(
    "let the plies that end <here|there> end where the strain is <at most {share:.0%} of that here|less>, "
    "or in a <taper of {taper:.0f} times their thickness|longer taper>",
    "work in laying up; cloth that runs on",
)
_LAID_BY_HAND = (
    "Voids, wrinkles and knocks beyond the factors of the lay-up, and fire; fatigue only as a share of "
    "strength."
)
PLIES = {
    criterion: About(
        (f"ply {criterion}",),
        LAMINATE,
        f"The first ply of the laminate breaks, by this criterion: {CRITERIA[criterion]}. Strains of "
        "bending, thrust and twist in every ply, turned to its fibres, against its strengths with what "
        "water, heat and years leave of them, over the safety factor.",
        (formula,),
        _LAID_BY_HAND + " What still holds when the first ply has gone is not counted.",
        (THICKER_LAMINATE, WIDER, BETTER_ANGLE, SMALLER_LOAD),
    )
    for criterion, formula in FORMULA.items()
}
INTERLAMINAR = About(
    ("interlaminar",),
    LAMINATE,
    "Plies slide on each other in the resin between them. Shear through the wall, between plies that share "
    "the load otherwise, and at the ends of plies, against the shear strength of the resin.",
    (knocked_down_strength,),
    _LAID_BY_HAND + " Peeling apart from bumps or from curved walls pulled straight.",
    (THICKER_LAMINATE, WIDER, PLY_ENDS),
    (tube_radial_shear_stress, ply_end_shear_stress),
)
BUCKLING = About(
    ("wall-buckling",),
    LAMINATE,
    "The thin wall wrinkles on its pressed side. Shares of what it bears in compression, bending and twist "
    "added up, with what imperfections take off and the safety factor.",
    (cylinder_interaction,),
    "Dents and the local push of a bearing; a short bury bears more shear than is taken here.",
    (THICKER_LAMINATE, PLIES_ROUND),
    (orthotropic_bending_knockdown,),
)
FLATTENING = About(
    ("flattening",),
    LAMINATE,
    "The bent tube goes oval and folds. The bending moment against that at which a long tube of this wall "
    "gives way, over the safety factor.",
    (stack_brazier_moment,),
    "What bearings and plugs do to hold the tube round, which helps it.",
    (THICKER_LAMINATE, PLIES_ROUND),
)


def skin_of(sections: Sections, layer: Layer, internal: Internal, working: Working) -> Skin:
    """Return a layer of laminate with what bends, presses, twists and shears it."""
    assert isinstance(layer.made_of, Laid)
    return Skin(sections, layer, layer.made_of, layer_stresses(sections, layer, internal, working))


def laminate_limits(skin: Skin, internal: Internal, working: Working) -> list[Limit]:
    """Return the limits of one layer of laminate along the mast.

    Parameters
    ----------
    skin : Skin
        The layer.
    internal : Internal
        Forces in the mast.
    working : Working
        Where steps and warnings are noted.
    """
    found = [*_plies(skin), _interlaminar(skin, internal, working)]
    if not skin.is_sheath:
        # what is under a sheath keeps it from buckling and flattening by itself
        found += [_buckling(skin, working), _flattening(skin, working)]
    return found


# ---------------------------------------------------------------- plies


@dataclass(frozen=True)
class FirstOf:
    """The ply nearest to failing at every point.

    Parameters
    ----------
    skin : Skin
        The layer.
    criterion : str
        By which criterion.
    use : ndarray, shape (cases, n, points)
        Use of its knocked-down strength.
    """

    skin: Skin
    criterion: Criterion
    use: Floats

    def fails(self, at: tuple[ArrayLike, ArrayLike, ArrayLike]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """Return which ply fails first, by its place in the lay-up, and the place in `MODES` of what fails.

        Parameters
        ----------
        at : tuple of int or array_like of int
            Case, element and point, or as many of each as there are places.
        """
        case, element, point = np.broadcast_arrays(*(np.atleast_1d(i) for i in at))
        skin, number = self.skin, self.skin.laid.index[element]
        along, shear = places(
            *(of[case, element, point] for of in (skin.bent, skin.pressed, skin.twisted, skin.sheared))
        )
        unit, weak = skin.laid.unit_strains[number], skin.laid.weak
        strain = along[..., None] * unit[:, 0] + shear[..., None] * unit[:, 1]
        stack = Stack(weak.plies, weak.angle_rad, weak.share[number])
        found = failure(stack, membrane_state(stack, strain), self.criterion)
        # by place and ply, the places looked at last; a ply that does not stand cannot be named
        use = np.moveaxis(np.where(stack.present, found.use[..., 0], -1.0), 0, -1)
        flat = use.reshape(use.shape[0], -1)
        best = np.argmax(flat, axis=-1)[:, None]
        modes = np.moveaxis(found.mode_number[..., 0], 0, -1).reshape(flat.shape)
        return best[:, 0] // len(along), np.take_along_axis(modes, best, axis=-1)[:, 0]


def first_ply(skin: Skin, criterion: Criterion) -> FirstOf:
    """Return how near the plies are to failing, by one criterion, at the worst place round the section."""
    use = skin.envelope.use(criterion, skin.laid.index, skin.loads)
    cases, n, points = skin.bent.shape
    worst = np.max(use.reshape(n, 2, cases, points), axis=1)
    return FirstOf(skin, criterion, np.where(skin.here, np.moveaxis(worst, 0, 1), 0.0))


def places(bent: Floats, pressed: Floats, twisted: Floats, sheared: Floats) -> tuple[Floats, Floats]:
    """Return strain along the mast and in shear at the places looked at, those on the first axis.

    At the outer fibre bending and thrust act together, in tension and in compression, with the shear of the
    torque; at the neutral axis thrust, with the shear of torque and shear force. Shear is taken both ways.
    """
    pairs = [
        pair
        for way in (1.0, -1.0)
        for turn in (1.0, -1.0)
        for pair in (
            (way * (bent + pressed), turn * twisted),
            (way * pressed, turn * (twisted + sheared)),
        )
    ]
    return np.stack([along for along, _ in pairs]), np.stack([shear for _, shear in pairs])


def _plies(skin: Skin) -> Iterator[Limit]:
    """Yield first-ply failure by every criterion asked."""
    lay_up = skin.laid.lay_up
    for criterion in lay_up.criteria:
        first = first_ply(skin, criterion)
        yield Limit(
            PLIES[criterion],
            skin.layer.name,
            first.use * lay_up.safety_factor,
            np.ones(skin.here.shape),
            "1",
            FORMULA[criterion],
            _more_plies(skin, first),
            skin.here,
            factors_named(skin, FORMULA[criterion]),
        )


def factors_named(skin: Skin, formula: Callable[..., object]) -> Callable[[Place], str]:
    """Return what names the source of a formula, and the factors on the strengths it is fed."""
    lay_up = skin.laid.lay_up
    said = f"{record_of(formula).source}; {what_is_left(lay_up)}; factor {lay_up.safety_factor:g}"
    return lambda at: said


def _more_plies(skin: Skin, first: FirstOf) -> Callable[[float, Place], str]:
    lay_up = skin.laid.lay_up

    def advise(used: float, at: Place) -> str:
        # whichever case asked is the one that is used so much
        case = int(np.argmin(np.abs(first.use[(slice(None), *at)] * lay_up.safety_factor - used)))
        (place,), (number,) = first.fails((case, *at))
        lot, mode = skin.laid.lot(at[0], int(place)), MODES[int(number)]
        said = f"{lot.label} fails first, in {mode}"
        if mode == "transverse tension" and abs(lot.angle_rad) > 1.0:
            said += ", and would bear more if laid nearer to 45 deg"
        return f"{said}; {_thicker(skin, used, at)}"

    return advise


def _thicker(skin: Skin, used: float, at: Place) -> str:
    """Say what brings strains down by so much."""
    if len(skin.sections.layers) > 1:
        return STIFFER_MAST.said(times=up(used, 0.01))
    outer, wall = float(skin.layer.outer_m[at]), float(skin.layer.wall_m[at])
    wider = WIDER.said(now=outer * 1e3, to=up(outer * 1e3 * np.sqrt(used), 1.0))
    # the section modulus at the same outside diameter, with something for the weight of it
    bore = 1.0 - 1.02 * used * (1.0 - (1.0 - 2.0 * wall / outer) ** 4)
    if bore <= 0.0:
        return f"{wider}; thicker plies alone do not help enough"
    thick = outer / 2 * (1.0 - bore**0.25)
    more = THICKER_LAMINATE.said(times=up(thick / wall, 0.01), now=wall * 1e3, to=up(thick * 1e3, 0.1))
    return f"{more}, or {wider}"


# ---------------------------------------------------------------- faces between plies


def _interlaminar(skin: Skin, internal: Internal, working: Working) -> Limit:
    """Shear between plies: of the shear force through the wall, of plies that share it otherwise, at their ends."""
    use, laid, lay_up = working.use, skin.laid, skin.laid.lay_up
    force = internal.shear_N
    share = np.max(skin.layer.EI_N_m2 / skin.sections.planes_N_m2, axis=0)
    outer, inner = np.where(skin.here, skin.layer.outer_m, 2.0), np.where(skin.here, skin.layer.inner_m, 1.0)
    through = use(tube_radial_shear_stress, V=force * share, D=outer, d=inner)
    within = use(face_transfer_shear_stress, V=force * share, f=_apart(laid), r=skin.radius_m)
    if skin.is_sheath:
        # over its bond goes at most all that it takes of the moment, or of the shear force
        torsion = skin.layer.elastic.G_Pa * skin.layer.shape.torsion_constant_m4 / skin.sections.GJ_N_m2
        bond = use(face_transfer_shear_stress, V=force, f=np.maximum(share, torsion), r=skin.radius_m)
        within = np.maximum(within, bond)
    ends = use(ply_end_shear_stress, sigma=_ending(skin), n=TAPER)
    capacity = use(
        knocked_down_strength, f=lay_up.interlaminar_Pa, k=lay_up.resin_share, gamma=lay_up.safety_factor
    )
    demand = np.where(skin.here, through + within + ends, 0.0)

    def advise(used: float, at: Place) -> str:
        case = int(np.argmin(np.abs(demand[(slice(None), *at)] / capacity - used)))
        if ends[(case, *at)] > demand[(case, *at)] / 2:
            return PLY_ENDS.said(share=1 / used, taper=up(TAPER * used, 1.0))
        return _thicker(skin, used, at)

    return Limit(
        INTERLAMINAR,
        skin.layer.name,
        demand,
        np.full(skin.here.shape, float(capacity)),
        "Pa",
        knocked_down_strength,
        advise,
        skin.here,
        factors_named(skin, knocked_down_strength),
    )


def _apart(laid: Laid) -> Floats:
    """How far the shares of E and G inside any face of the wall differ at the most, shape (n, 1)."""
    t = laid.walls.stack.thickness_m
    inside = [np.cumsum(modulus * t, axis=-1) for modulus in laid.ply_moduli]
    E, G = (total / total[..., -1:] for total in inside)
    return laid.along(np.max(np.abs(E - G), axis=-1))


def _ending(skin: Skin) -> Floats:
    """Greatest stress along the mast in plies at the points where they begin or end."""
    laid = skin.laid
    stands = (laid.walls.stack.share[laid.index] > 0.0) & skin.layer.present
    # what ends at the tip of a mast hands nothing over to the heel of the next
    stands = stands.reshape(laid.masts, -1, stands.shape[-1])
    starts, stops = np.zeros_like(stands), np.zeros_like(stands)
    starts[:, 1:] = stands[:, 1:] & ~stands[:, :-1]
    stops[:, :-1] = stands[:, :-1] & ~stands[:, 1:]
    E = laid.ply_moduli[0][laid.index]
    stiffest = np.zeros(skin.here.shape)
    for point, ends in ((0, starts), (-1, stops)):
        stiffest[:, point] = np.max(np.where(ends.reshape(E.shape), E, 0.0), axis=-1)
    return np.asarray(stiffest * (skin.bent + skin.pressed))


# ---------------------------------------------------------------- walls that buckle or flatten


def _buckling(skin: Skin, working: Working) -> Limit:
    """Buckling of the wall as an orthotropic cylinder, bending, thrust and shear together.

    Shear of the bury counts with that of a torque, at its peak, against the torsional buckling of a very long
    cylinder: a short bury bears more.
    """
    use, laid, gamma = working.use, skin.laid, skin.laid.lay_up.safety_factor
    name, r = skin.layer.name, skin.radius_m
    A, D = laid.walls.A_N_m, laid.walls.released_D_N_m
    A_11, A_12, A_22 = (laid.along(A[:, i, j]) for i, j in ((0, 0), (0, 1), (1, 1)))
    D_11, D_22 = (laid.along(D[:, i, i]) for i in (0, 1))
    phi = use(orthotropic_slenderness, r=r, A_11=A_11, A_22=A_22, D_11=D_11, D_22=D_22)
    perfect = laid.along(long_cylinder_load(laid.walls)) / r
    twist = use(long_orthotropic_torsion_load, A_11=A_11, A_12=A_12, A_22=A_22, D_22=D_22, r=r)
    used = use(
        cylinder_interaction,
        R_c=gamma
        * skin.pressed
        * skin.line_N_m
        / (use(orthotropic_axial_knockdown, where=name, phi=phi) * perfect),
        R_b=gamma
        * skin.bent
        * skin.line_N_m
        / (use(orthotropic_bending_knockdown, where=name, phi=phi) * perfect),
        R_t=gamma * (skin.twisted + skin.sheared) * skin.shear_line_N_m / twist,
    )

    def advise(used: float, at: Place) -> str:
        return _thicker_wall(skin, np.sqrt(used), at, "round the mast and at 45 deg above all")

    return Limit(BUCKLING, name, used, np.ones(skin.here.shape), "1", cylinder_interaction, advise, skin.here)


def _flattening(skin: Skin, working: Working) -> Limit:
    """Brazier: a bent tube goes oval and gives way."""
    laid = skin.laid
    moment = working.use(
        stack_brazier_moment,
        E_x=laid.E_Pa,
        t=laid.wall_m,
        D_22=laid.along(laid.walls.released_D_N_m[:, 1, 1]),
        r=skin.radius_m,
    )

    def advise(used: float, at: Place) -> str:
        return _thicker_wall(skin, np.sqrt(used), at, "round the mast above all, on both faces of the wall")

    return Limit(
        FLATTENING,
        skin.layer.name,
        skin.stresses.moment_N_m,
        moment / laid.lay_up.safety_factor,
        "N m",
        stack_brazier_moment,
        advise,
        skin.here,
    )


def _thicker_wall(skin: Skin, times: float, at: Place, best: str) -> str:
    wall = float(skin.layer.wall_m[at]) * 1e3
    more = THICKER_LAMINATE.said(times=up(times, 0.01), now=wall, to=up(wall * times, 0.1))
    return f"{more}, or {PLIES_ROUND.said(best=best)}"
