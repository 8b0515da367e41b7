"""From the plies a rig names to a wall along its heights: plies drop, their strengths are knocked down."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Sequence
from functools import cached_property
from itertools import pairwise
from typing import Any, Final, cast

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ...frozen import dataclass
from ...rig import EVERY_CRITERION, STANDING, WATER_STATED, Laminate, Plies, Rig
from ...stretches import distinct_rows
from ..metals import MaterialError
from ..own import ply_finder
from .criteria import CRITERIA, STRAIN_OF, Criterion, ultimate_strain
from .failure import demand_fit
from .knockdown import (
    CREEP,
    NONE,
    RESIN_GOVERNED,
    WET_EPOXY,
    WET_POLYESTER,
    Factor,
    Knockdown,
    fatigue_log,
    fatigue_power,
)
from .plies import Method, Ply, PlyMaterial, Provenance, fibre_fraction_of, ply_from_constituents
from .tables import find_fibre, find_ply_material, find_resin
from .walls import (
    Floats,
    Lamina,
    Stack,
    Stiffness,
    Wall,
    WallConstants,
    abd,
    ply_moduli,
    unit_strains,
    wall_constants,
)

CLOSEST: Final = 0.75
"""Share of fibre beyond which a ply cannot be laid."""
FindPly = Callable[[str], PlyMaterial]
"""``name -> ply``; raises MaterialError where there is none."""

WATER: Final = {"wet-epoxy": WET_EPOXY, "wet-polyester": WET_POLYESTER, "dry": NONE}
BALANCED: Final = 0.01
"""Shear strain to a unit of strain along the mast up to which a wall counts as balanced."""
MOST_UNBALANCED: Final = 0.2
"""The same beyond which stiffness and buckling as worked out here no longer hold: coupling is left out of both."""
LIKE_FIBRE: Final = 0.05
"""Fibres whose densities differ by more are not of one kind, and strengths of one do not serve the other."""


@dataclass(frozen=True)
class LaidPlies:
    """Like plies, one on the other, from one height to another.

    Parameters
    ----------
    ply : Ply
        One of them, with the strengths of the tables.
    angle_rad : float
        From x, along the mast, to axis 1.
    count : int
        How many.
    start_m, end_m : float
        Heights z; infinite where they run to the tip.
    strengths_from : PlyMaterial or None
        The tested ply whose strengths an estimated one bears; None where they are its own.
    """

    ply: Ply
    angle_rad: float
    count: int
    start_m: float
    end_m: float
    strengths_from: PlyMaterial | None = None

    @property
    def label(self) -> str:
        """Count, ply and angle in words."""
        return f"{self.count} x {self.ply.name} at {math.degrees(self.angle_rad):g} deg"

    @property
    def together(self) -> Ply:
        """All of them as one thick ply, which is as stiff and as strong."""
        return dataclasses.replace(
            self.ply,
            thickness_m=self.ply.thickness_m * self.count,
            fibre_mass_kg_m2=self.ply.fibre_mass_kg_m2 * self.count,
        )


@dataclass(frozen=True)
class LayUp:
    """A laminate as a rig names it, from heel to tip.

    Parameters
    ----------
    name : str
        Its name in the rig.
    lots : tuple of LaidPlies
        Inside first.
    criteria : tuple of str
        The criteria asked; the worst answer counts.
    knockdown : Knockdown
        What water, time and repetition take off.
    safety_factor : float
        On the load at which the first ply fails.
    interlaminar_Pa, crushing_Pa, bearing_Pa : float
        Shear strength between plies and strength through the wall, both before knock-downs; allowed pressure of
        a bearing.
    """

    name: str
    lots: tuple[LaidPlies, ...]
    criteria: tuple[Criterion, ...]
    knockdown: Knockdown
    safety_factor: float
    interlaminar_Pa: float
    crushing_Pa: float
    bearing_Pa: float

    @property
    def kinks_m(self) -> tuple[float, ...]:
        """Heights at which plies begin or end, without the heel and the tip."""
        ends = {z for lot in self.lots for z in (lot.start_m, lot.end_m)}
        return tuple(sorted(z for z in ends if 0.0 < z < math.inf))

    def stretches_m(self, start_m: float, end_m: float) -> list[tuple[float, float]]:
        """Return the stretches between two heights in which no ply begins or ends."""
        inside = (z for z in self.kinks_m if start_m < z < end_m)
        return list(pairwise([start_m, *inside, end_m]))

    def bare_m(self, start_m: float, end_m: float) -> list[tuple[float, float]]:
        """Return the stretches between two heights in which there is no ply at all."""
        return [
            (low, high)
            for low, high in self.stretches_m(start_m, end_m)
            if not any(lot.start_m <= low and high <= lot.end_m for lot in self.lots)
        ]

    @property
    def wall(self) -> Wall:
        """All plies, as where none has been dropped."""
        return Wall(tuple(Lamina(lot.together, lot.angle_rad) for lot in self.lots))

    @property
    def resin_share(self) -> float:
        """What water, time and repetition leave of the strengths that the resin governs."""
        return self.knockdown.on("S12_Pa")

    def coupling(self, start_m: float, end_m: float) -> tuple[float, float]:
        """Return the greatest shear strain to a unit of strain along the mast, and a height at which it is."""
        middles = [(low + high) / 2 for low, high in self.stretches_m(start_m, end_m)]
        laid = self.at(middles)
        eta = np.abs(laid.constants.eta_x)[laid.index]
        worst = int(np.argmax(eta))
        return float(eta[worst]), middles[worst]

    def at(self, heights_m: ArrayLike) -> Laid:
        """Return the wall at some heights; one at which plies end has those above it.

        Parameters
        ----------
        heights_m : array_like, shape (n,)
            Heights z, such as the middles of elements.

        Raises
        ------
        MaterialError
            Where a height has no ply.
        """
        share = self.standing(heights_m)
        rows, index = distinct_rows(share)
        return Laid(self, abd(self.wall, rows.astype(float)), np.reshape(index, share.shape[:-1]))

    def standing(self, heights_m: ArrayLike) -> NDArray[np.bool_]:
        """Return which plies stand at some heights, the lots on the last axis; not one whose end is there."""
        z = np.asarray(heights_m, dtype=float)
        return np.stack([(lot.start_m <= z) & (z < lot.end_m) for lot in self.lots], axis=-1)


@dataclass(frozen=True)
class Laid:
    """A lay-up at the heights asked for: piecewise constant, so that walls are worked out once for each kind.

    Parameters
    ----------
    lay_up : LayUp
        What is laid.
    walls : Stiffness
        Of every different wall, shape (k, ...). The share of a ply tells how many of a lot there are, over the count
        of the lay-up.
    index : ndarray of int, shape (n,)
        Which of them stands at each height.
    masts : int
        How many masts lie end to end, each with as many heights.
    """

    lay_up: LayUp
    walls: Stiffness
    index: NDArray[np.intp]
    masts: int = 1

    @property
    def name(self) -> str:
        return self.lay_up.name

    @cached_property
    def constants(self) -> WallConstants:
        """Of every different wall, kept from curling as a closed tube keeps it."""
        return wall_constants(self.walls, edges="membrane")

    def standing(self, number: int) -> NDArray[np.intp]:
        """Return the places in the lay-up of the plies that a wall has."""
        return np.flatnonzero(self.walls.stack.share[number] > 0.0)

    def lot(self, at: int, place: int) -> LaidPlies:
        """Return the plies at a place in the lay-up, as many as there are at one of the heights."""
        lot, share = self.lay_up.lots[place], float(self.walls.stack.share[self.index[at], place])
        return dataclasses.replace(lot, count=round(lot.count * share))

    @cached_property
    def weak(self) -> Stack:
        """The plies of every different wall, their strengths knocked down."""
        stack = self.walls.stack
        plies = np.empty_like(stack.plies)
        plies[:] = [self.lay_up.knockdown.reduced(ply) for ply in stack.plies]
        return Stack(plies, stack.angle_rad, stack.share)

    def weakened(self, number: int) -> Stiffness:
        """Return one of the walls with the plies it has, their strengths knocked down."""
        at, weak = self.standing(number), self.weak
        return abd(Stack(weak.plies[at], weak.angle_rad[at], weak.share[number, at]))

    @cached_property
    def unit_strains(self) -> Floats:
        """Strains of every different wall for a unit along the mast and for one in shear, shape (k, 2, 3)."""
        return np.stack(unit_strains(self.walls), axis=1)

    @cached_property
    def ply_moduli(self) -> tuple[Floats, Floats]:
        """Share of every ply in E and in G of every different wall, shape (k, lots) each."""
        return ply_moduli(self.walls)

    @property
    def stiffness(self) -> Stiffness:
        """A, B and D at every height."""
        w, i = self.walls, self.index
        s = w.stack
        stack = Stack(np.broadcast_to(s.plies, s.share.shape)[i], self._angles[i], s.share[i])
        return Stiffness(stack, w.edges_m[i], w.A_N_m[i], w.B_N[i], w.D_N_m[i])

    @property
    def _angles(self) -> Floats:
        return np.broadcast_to(self.walls.stack.angle_rad, self.walls.stack.share.shape)

    @property
    def wall_m(self) -> Floats:
        """Thickness, shape (n, 1)."""
        return self.along(self.walls.wall_m)

    @property
    def E_Pa(self) -> Floats:
        """Membrane modulus along the mast, shape (n, 1)."""
        return self.along(self.constants.Ex_Pa)

    @property
    def G_Pa(self) -> Floats:
        """Membrane shear modulus, shape (n, 1)."""
        return self.along(self.constants.Gxy_Pa)

    @property
    def mass_kg_m2(self) -> Floats:
        """Mass to the area, resin and all, shape (n, 1)."""
        return self.along(self.walls.stack.mass_kg_m2)

    @property
    def density_kg_m3(self) -> Floats:
        """Density, shape (n, 1)."""
        return self.mass_kg_m2 / self.wall_m

    def along(self, of_walls: Floats) -> Floats:
        """Return at every height what every different wall has, shape (n, 1)."""
        return np.asarray(of_walls[self.index][:, None])

    def tube_moduli_Pa(self, inner_m: Floats) -> tuple[Floats, Floats]:
        """Return E and G that give a round tube its EI and GJ, with every ply at its own radius.

        Parameters
        ----------
        inner_m : ndarray, shape (n, points)
            Bore.
        """
        faces = (self.walls.edges_m - self.walls.edges_m[..., :1])[self.index][:, None]
        r = inner_m[..., None] / 2 + faces
        square = r * r
        fourth = square * square
        share = np.diff(fourth, axis=-1) / (fourth[..., -1:] - fourth[..., :1])
        E, G = (
            np.asarray(np.sum(modulus[self.index][:, None] * share, axis=-1)) for modulus in self.ply_moduli
        )
        return E, G


def laid_of_many(lay_up: LayUp, counts: NDArray[np.int_], middles_m: Floats) -> Laid:
    """Return many masts of one lay-up laid end to end, each with its own counts of plies.

    Parameters
    ----------
    lay_up : LayUp
        The plies, their angles, and from where to where they run.
    counts : ndarray of int, shape (masts, lots)
        How many plies of every lot each mast has, in place of the lay-up's own; 0 leaves the lot out.
    middles_m : ndarray, shape (masts, n)
        Heights z of each mast, such as the middles of elements.

    Returns
    -------
    Laid
        As `LayUp.at` has it for one mast; `index` of shape (masts n,).

    Raises
    ------
    MaterialError
        Where a count is below zero, or a height has no ply.
    """
    own = np.array([lot.count for lot in lay_up.lots])
    laid = lay_up.standing(middles_m) * np.asarray(counts)[:, None]
    rows, index = distinct_rows(laid.reshape(-1, own.size))
    return Laid(lay_up, abd(lay_up.wall, rows / own), np.reshape(index, -1), len(laid))


def lay_up(laminate: Laminate, find_ply: FindPly = find_ply_material) -> LayUp:
    """Return the lay-up that a rig names.

    Parameters
    ----------
    laminate : Laminate
        As the rig has it.
    find_ply : callable
        Finds a ply by name, the user's own before those of the tables.

    Raises
    ------
    MaterialError
        Where a material is not known, a ply cannot be, or a criterion does not suit it.
    """
    lots = tuple(laid_plies(plies, laminate.method, find_ply) for plies in laminate.plies)
    return LayUp(
        name=laminate.name,
        lots=lots,
        criteria=_criteria(laminate.criterion, [lot.ply for lot in lots]),
        knockdown=_knockdown(laminate),
        safety_factor=laminate.safety_factor,
        interlaminar_Pa=laminate.interlaminar_Pa,
        crushing_Pa=laminate.crushing_Pa,
        bearing_Pa=laminate.bearing_Pa,
    )


def lay_ups_of(rig: Rig) -> dict[str, LayUp]:
    """Return the laminates of a rig by name."""
    find_ply = ply_finder(rig.materials)
    return {laminate.name: lay_up(laminate, find_ply) for laminate in rig.laminates}


def laid_plies(plies: Plies, method: str, find_ply: FindPly = find_ply_material) -> LaidPlies:
    """Return like plies of a rig.

    Parameters
    ----------
    plies : Plies
        As the rig has them; exactly one way of saying what they are and how thick.
    method : str
        One of `METHODS`, for plies of fibre and resin.
    find_ply : callable
        Finds a ply by name.

    Raises
    ------
    MaterialError
        Where a material is not known, or the ply cannot be.
    """
    tested = None
    if plies.material is not None:
        ply = _of_size(find_ply(plies.material), plies)
    else:
        tested = find_ply(plies.strengths or "")
        ply = _estimated(plies, method, tested)
    return LaidPlies(
        ply=ply,
        angle_rad=plies.angle_rad,
        count=plies.count,
        start_m=plies.start_m,
        end_m=math.inf if plies.end_m is None else plies.end_m,
        strengths_from=tested,
    )


def _of_size(material: PlyMaterial, plies: Plies) -> Ply:
    if plies.areal_mass_kg_m2 is not None:
        return material.of_fibre_mass(plies.areal_mass_kg_m2)
    assert plies.thickness_m is not None
    return material.of_thickness(plies.thickness_m)


def _estimated(plies: Plies, method: str, tested: PlyMaterial) -> Ply:
    """Return a ply of fibre and resin, with the strengths of a tested one."""
    fibre, resin = find_fibre(plies.fibre or ""), find_resin(plies.resin or "")
    share, cloth = plies.fibre_fraction, plies.areal_mass_kg_m2
    thickness = plies.thickness_m
    if cloth is not None and thickness is not None:
        share = fibre_fraction_of(fibre, areal_mass_kg_m2=cloth, thickness_m=thickness)
        if share > CLOSEST:
            raise MaterialError(
                fibre.name,
                f"so thin a ply is {share:.0%} fibre, and fibres hardly pack closer than {CLOSEST:g}",
                "Weigh the cloth and measure the ply again.",
            )
    assert share is not None
    if cloth is None:
        assert thickness is not None
        cloth = thickness * fibre.density_kg_m3 * share
    ply = ply_from_constituents(
        fibre,
        resin,
        fibre_fraction=share,
        areal_mass_kg_m2=cloth,
        # one of METHODS: the reader takes no other
        method=cast(Method, method),
        void_fraction=plies.void_fraction,
    )
    if not tested.unidirectional:
        raise MaterialError(
            tested.name, "its fibres do not all lie one way", "Name a tested unidirectional ply."
        )
    if abs(tested.fibre_density_kg_m3 / fibre.density_kg_m3 - 1.0) > LIKE_FIBRE:
        raise MaterialError(
            tested.name,
            f"its fibre weighs {tested.fibre_density_kg_m3:g} kg/m3 and {fibre.name} {fibre.density_kg_m3:g}",
            "Name a tested ply of the same kind of fibre.",
        )
    return with_strengths_of(ply, tested)


def with_strengths_of(ply: Ply, tested: PlyMaterial) -> Ply:
    """Return a ply with the strengths of a tested one, or less.

    It fails at the stress or at the strain of the tested ply, whichever comes first: a ply with less fibre does
    not stand its stress, one with more not its strain.
    """
    less: dict[str, Any] = {}
    for strain, (strength, modulus) in STRAIN_OF.items():
        stress, ultimate = getattr(tested, strength), ultimate_strain(tested, strain)
        if stress is not None and ultimate is not None:
            known = [stress, ultimate * getattr(ply, modulus), getattr(ply, strength)]
            less[strength] = min(value for value in known if value is not None)
    weaker: Provenance = "memory" if "memory" in (ply.provenance, tested.provenance) else "computed"
    note = f"strengths of {tested.name}, at its stress or its strain, whichever comes first"
    return dataclasses.replace(ply, **less, provenance=weaker, note=note)


def _criteria(asked: str, plies: Sequence[PlyMaterial]) -> tuple[Criterion, ...]:
    """Return the criterion asked for, or all that suit every ply."""
    if asked != EVERY_CRITERION:
        one = cast(Criterion, asked)  # one of CRITERIA: the reader takes no other
        _demand_fit(plies, one)
        return (one,)
    # with the tensile strengths alone it is a form of the textbooks, not a judgement of a spar
    every = [cast(Criterion, name) for name in CRITERIA if name != "tsai-hill-tensile"]
    found = tuple(criterion for criterion in every if _fits(plies, criterion))
    if not found:
        _demand_fit(plies, "max-stress")
    return found


def _demand_fit(plies: Sequence[PlyMaterial], criterion: Criterion) -> None:
    for ply in plies:
        demand_fit(ply, criterion)


def _fits(plies: Sequence[PlyMaterial], criterion: Criterion) -> bool:
    try:
        _demand_fit(plies, criterion)
    except MaterialError:
        return False
    return True


def water_of(laminate: Laminate) -> str:
    """Return the name of what water takes off: as asked, or by the resin that the plies name."""
    if laminate.water is not None:
        return laminate.water
    named = (plies.resin or plies.material or "" for plies in laminate.plies)
    return "wet-epoxy" if all("epoxy" in name.casefold() for name in named) else "wet-polyester"


def _knockdown(laminate: Laminate) -> Knockdown:
    water = water_of(laminate)
    if water == WATER_STATED:
        assert laminate.water_factor is not None
        wet = Factor(laminate.water_factor, RESIN_GOVERNED, "read", "stated in the rig file")
    else:
        wet = WATER[water]
    if laminate.lasting == STANDING:
        return Knockdown(wet=wet, creep=CREEP)
    return Knockdown(wet=wet, fatigue=fatigue_factor(laminate.fatigue, laminate.cycles))


def fatigue_factor(law: str, cycles: float) -> Factor:
    """Return what repeated load leaves, by the name of its law.

    Raises
    ------
    MaterialError
        Where nothing is left.
    """
    match law:
        case "power-carbon":
            return fatigue_power(cycles, exponent=16.1)
        case "log":
            return fatigue_log(cycles)
        case "log-poor":
            return fatigue_log(cycles, slope=0.14)
    return fatigue_power(cycles)
