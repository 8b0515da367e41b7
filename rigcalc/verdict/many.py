"""Many masts at once, alike in all but their sizes: straight theory, every limit of the section, every case.

What `evaluate` does for one mast is done here for hundreds by the same formulas and the same limits, so that a search
or a sample can look at thousands. Left out are the checks of bearings, furling gear, deck and post, and, unless it is
asked for, the bent mast. Each of them can only add to what is asked of the mast: one that fails here fails in
`check`, and one that passes here is to be looked at there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from ..formulas import Screening
from ..formulas.beams import allowed_tip_deflection
from ..formulas.timber import creep_deflection
from ..frozen import dataclass
from ..limits import Internal, section_limits
from ..loads import AS_GIVEN, CaseLoad, Lay, Varied, case_lays
from ..loads.line import LineLoad
from ..materials.laminates import LayUp, lay_ups_of
from ..rig import Case, Rig
from ..stretches import distinct
from ..structure.beam import Supports, solve
from ..structure.large import solve_large
from ..structure.mesh import Mesh, make_mesh, make_meshes
from ..structure.modes import critical_axial_load, least_axial_factors, natural_frequencies
from ..structure.outline import Outline
from ..structure.sections import Make, Sections, section_kinks, sections_of
from .evaluate import formulas_have_values
from .made import maker
from .model import ALONG, ELEMENTS, Model, in_a_row, laid_on, own_kinks
from .post import PostModel, post_of
from .solve import LEAST_THRUST_N, larger

Floats = NDArray[np.float64]

THINNEST_M = 0.01
"""Any spar will do to find the heights that loads have of themselves."""
SHARP = 1.5
"""Factor of instability over the one required below which it is worked out case by case."""


@dataclass(frozen=True)
class Stand:
    """A rig made ready to try many masts in: all that their sizes have no part in is worked out once.

    Parameters
    ----------
    rig : Rig
        Boat, sails, cases and limits; its mast lends all but the sizes.
    cases : tuple of Case
        What the masts are tried in.
    lays : tuple of callable
        What lays each case on a mast.
    kinks_m : ndarray
        Heights at which loads change whatever the mast.
    make : callable
        Makes the materials.
    lay_ups : mapping
        The laminates of the rig.
    post : PostModel or None
        What the masts turn on.
    """

    rig: Rig
    cases: tuple[Case, ...]
    lays: tuple[Lay, ...]
    kinks_m: Floats
    make: Make
    lay_ups: Mapping[str, LayUp]
    post: PostModel | None


def stand_of(rig: Rig, cases: Sequence[Case]) -> Stand:
    """Return a rig made ready to try many masts in.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    cases : sequence of Case
        The cases.

    Raises
    ------
    RigInputError
        If the rig asks a formula for a value it does not have.
    """
    _keep_what_is_freed()
    with formulas_have_values():
        lays = case_lays(rig, tuple(cases), Screening())
        ends = np.array([0.0, rig.mast.length_m])
        thin = LineLoad(ends, np.array([THINNEST_M]), np.array([THINNEST_M]))
        kinks = [lay(thin, AS_GIVEN).kinks_m for lay in lays]
        return Stand(
            rig,
            tuple(cases),
            lays,
            distinct(np.concatenate([own_kinks(rig), *kinks])),
            maker(rig),
            lay_ups_of(rig),
            post_of(rig),
        )


def _keep_what_is_freed() -> None:
    """Let the C library keep memory that is freed, where it would hand it back to the system at once.

    Fields of many masts are some hundred kilobytes each, and asking the system for them anew, page by page, takes
    a third of the time. glibc raises the size from which it does so to that of any block that was freed, up to
    32 MB; elsewhere this does nothing. The block is never touched, so it costs no memory.
    """
    np.empty(31 * 2**20, dtype=np.uint8)


@dataclass(frozen=True)
class Use:
    """How much of one limit many masts use.

    Parameters
    ----------
    id, layer : str
        As in `Check`.
    utilisation : ndarray, shape (cases, masts)
        At its greatest along each mast; zero where the limit does not apply.
    """

    id: str
    layer: str
    utilisation: Floats


@dataclass(frozen=True)
class ManyRun:
    """What came of many masts.

    Parameters
    ----------
    cases : tuple of str
        Names of the cases.
    uses : tuple of Use
        Every limit.
    mass_kg, centre_m : ndarray, shape (masts,)
        Mass of the spar with its fittings, and its centre of gravity.
    tip_m : ndarray, shape (cases, masts)
        Deflection of the tip.
    sections : Sections
        Of all masts, laid end to end.
    model : Model
        With its loads.
    """

    cases: tuple[str, ...]
    uses: tuple[Use, ...]
    mass_kg: Floats
    centre_m: Floats
    tip_m: Floats
    sections: Sections
    model: Model

    @property
    def greatest(self) -> Floats:
        """Greatest utilisation of every mast, shape (masts,)."""
        return np.asarray(np.max([np.max(use.utilisation, axis=0) for use in self.uses], axis=0))

    def lowest_frequency_Hz(self) -> Floats:
        """Return the lowest natural frequency of every mast, shape (masts,)."""
        s, model = self.sections, self.model
        found = natural_frequencies(
            model.mesh,
            s.of_masts(s.EI_true_N_m2),
            s.of_masts(s.mass_kg_m),
            model.fittings_kg,
            model.supports,
            count=1,
            tolerance=1e-8,
        )
        return np.asarray(found.values[..., 0])


def outside_m(sections: Sections) -> Floats:
    """Return the outside size as new, the larger of two: the wind meets the mast before wear does."""
    sizes = [np.maximum(of.outer_forward_m, of.outer_side_m) for of in (x.as_new for x in sections.layers)]
    return np.asarray(np.max(sizes, axis=0))


def evaluate_many(
    stand: Stand,
    outline: Outline,
    *,
    varied: Varied = AS_GIVEN,
    bent: bool = False,
) -> ManyRun:
    """Try many masts in every case.

    Parameters
    ----------
    stand : Stand
        The rig made ready.
    outline : Outline
        Sizes, one row to each mast.
    varied : Varied
        How wind and righting moment stand to those of the file, for each mast.
    bent : bool
        Whether to solve the bent mast too, which takes some twenty times as long.

    Returns
    -------
    ManyRun
    """
    working = Screening()
    masts = len(outline.forward_m)
    with np.errstate(all="ignore"):
        shared, sections = _sections(stand, outline)
        mesh = sections.mesh
        size = sections.of_masts(outside_m(sections))
        outside = LineLoad(shared.edges_m, size[..., 0], size[..., -1])
        loads = [lay(outside, varied) for lay in stand.lays]
        model = laid_on(stand.rig, loads, sections, stand.post, z_m=shared.z_m)
        internal, tip = _solved(stand, model, loads, bent=bent)
        elements, turns = mesh.edges_m.shape[-1] - 1, len(model.turns_rad)
        kinds = tuple(load.kind for load in loads for _ in range(turns))
        uses = [
            Use(limit.id, limit.layer, limit.greatest(masts=masts, elements=elements, turns=turns))
            for limit in section_limits(stand.rig, sections, internal, kinds, working)
        ]
        uses += _of_whole(stand, model, loads, tip, internal)
        weight = sections.of_masts(sections.mass_kg_m)
        mass = mesh.total(weight) + stand.rig.mast.fittings_mass_kg
        first = mesh.total(weight * mesh.z_m) + np.sum(model.fittings_kg * mesh.edges_m, axis=-1)
    return ManyRun(
        tuple(case.name for case in stand.cases), tuple(uses), mass, first / mass, tip, sections, model
    )


def weigh_many(stand: Stand, outline: Outline) -> tuple[Floats, Floats]:
    """Return mass, fittings and all, and greatest outside size of many masts, shape (masts,), without a load."""
    with np.errstate(all="ignore"):
        _, sections = _sections(stand, outline)
        mass = sections.mesh.total(sections.of_masts(sections.mass_kg_m)) + stand.rig.mast.fittings_mass_kg
        return mass, np.max(sections.of_masts(outside_m(sections)), axis=(-2, -1))


def _sections(stand: Stand, outline: Outline) -> tuple[Mesh, Sections]:
    """Return sections of many masts on a mesh for each, and the mesh: one row where it is the same for all."""
    mast, masts = stand.rig.mast, len(outline.forward_m)
    own = outline.own_kinks_m
    kinks = np.concatenate([stand.kinks_m, section_kinks(mast, stand.lay_ups, outline)])
    length, longest = mast.length_m, mast.length_m / ELEMENTS
    if own is None:
        shared = make_mesh(kinks, length_m=length, longest_m=longest)
        mesh = Mesh(np.broadcast_to(shared.edges_m, (masts, shared.edges_m.size)))
    else:
        shared = mesh = make_meshes(kinks, own, length_m=length, longest_m=longest)
    return shared, sections_of(mast, mesh, stand.make, stand.lay_ups, outline)


def _solved(stand: Stand, model: Model, loads: Sequence[CaseLoad], *, bent: bool) -> tuple[Internal, Floats]:
    """Return internal forces of the masts laid end to end, and the deflection of their tips by case."""
    sections, turns = model.sections, len(model.turns_rad)
    groups: dict[tuple[float, float] | None, list[int]] = {}
    for i, load in enumerate(loads):
        groups.setdefault(load.held_at_m, []).extend(range(i * turns, (i + 1) * turns))
    shape = model.line_N_m.shape[1:]
    straight, shear = np.empty((2, *shape)), np.empty((2, *shape))
    curved, leaning = (np.zeros((2, *shape)), np.zeros((2, *shape))) if bent else (straight, shear)
    upper, lower = np.zeros(shape[:2]), np.zeros(shape[:2])
    factor, tips = np.full(shape[:2], np.inf), np.zeros(shape[:2])
    planes = sections.of_masts(sections.EI_N_m2 if sections.even else sections.planes_N_m2[:, None])
    low = sections.of_masts(sections.EI_low_N_m2)
    axial = model.axial_N
    for held, cases in groups.items():
        part, supports, those = model.only(cases), model.supports, in_a_row(cases)
        if held is not None:
            supports = Supports(bury_m=held[1], lower_m=held[0])
        small = solve(model.mesh, planes, part.across, supports)
        straight[:, those], shear[:, those] = small.moment_N_m, small.shear_N
        tips[those] = np.hypot(*small.deflection_m[..., -1, -1])
        if held is None:
            upper[those], lower[those] = np.hypot(*small.partners_N), np.hypot(*small.heel_N)
        # tension would steady the mast: leaving it out is the safe side
        pressing = np.maximum(axial[those], 0.0)
        if not bent:
            factor[those] = least_axial_factors(
                model.mesh,
                low,
                pressing,
                supports,
                restoring_N_m=part.restoring_N_m,
                sharp_below=SHARP * stand.rig.limits.axial_stability_factor,
            )
        else:
            factor[those] = _sharp_factors(model.mesh, low, pressing, supports, part.restoring_N_m)
            large = solve_large(
                model.mesh,
                planes,
                part.line_N_m,
                part.steady_point_N,
                supports,
                pulls=part.pulls,
                tolerance=1e-8,
            )
            far = np.hypot(*large.position_m[:ALONG, ..., -1, -1])
            stands = large.converged & np.isfinite(far)
            curved[:, those] = np.where(stands[..., None, None], large.moment_N_m, 0.0)
            leaning[:, those] = np.where(stands[..., None, None], large.shear_N, 0.0)
            if held is None:
                upper[those] = larger(small.partners_N, large.partners_N, stands)
                lower[those] = larger(small.heel_N, large.heel_N, stands)
            tips[those] = np.where(stands, np.maximum(tips[those], far), np.nan)
    flat = (*shape[:1], -1, shape[-1])
    elements = shape[-2]
    end_to_end, across = straight.reshape(2, *flat), shear.reshape(2, *flat)

    def by_element(of_masts: Floats) -> Floats:
        return np.repeat(of_masts, elements, axis=-1)[..., None]

    return (
        Internal(
            straight_N_m=end_to_end,
            bent_N_m=curved.reshape(2, *flat) if bent else end_to_end,
            straight_shear_N=across,
            bent_shear_N=leaning.reshape(2, *flat) if bent else across,
            axial_N=axial.reshape(flat),
            torque_N_m=np.abs(model.torque_N_m).reshape(flat),
            axial_factor=by_element(factor),
            upper_N=by_element(upper),
            lower_N=by_element(lower),
        ),
        np.max(tips.reshape(len(loads), turns, -1), axis=1),
    )


def _sharp_factors(
    mesh: Mesh, EI_N_m2: Floats, pressing_N: Floats, supports: Supports, restoring_N_m: Floats
) -> Floats:
    """Return the factors of instability to the last digits; infinite where nothing presses, NaN where not found."""
    factor = np.full(pressing_N.shape[:2], np.inf)
    case, mast = np.nonzero(np.max(pressing_N, axis=(-2, -1)) > LEAST_THRUST_N)
    if case.size:
        own = Mesh(np.broadcast_to(mesh.edges_m, (*EI_N_m2.shape[:1], mesh.edges_m.shape[-1]))[mast])
        axial = pressing_N[case, mast]
        found = critical_axial_load(
            own, EI_N_m2[mast], axial, None, supports, restoring_N_m=restoring_N_m[case, mast]
        )
        factor[case, mast] = np.where(found.converged, found.values[..., 0], np.nan)
    return factor


def _of_whole(
    stand: Stand, model: Model, loads: Sequence[CaseLoad], tip_m: Floats, internal: Internal
) -> list[Use]:
    """Return what is used of the limits on the mast as a whole."""
    mast, limits = stand.rig.mast, stand.rig.limits
    above = mast.length_m - mast.bury_m
    standing = np.array([load.held_at_m is None for load in loads])[:, None]
    allowed = allowed_tip_deflection(share=limits.tip_deflection, a=above)

    def used(deflection: Floats) -> Floats:
        # a mast on slings has no tip to speak of, but one that finds no equilibrium fails there too
        return np.where(np.isfinite(deflection), np.where(standing, deflection / allowed, 0.0), np.inf)

    found = [Use("tip-deflection", "", used(tip_m))]
    creep = model.sections.creep
    if np.any(creep > 0.0):
        crept = creep_deflection(u=tip_m, k_def=creep, psi_2=stand.rig.timber.lasting_share)
        found.append(Use("creep-deflection", "", used(crept)))
    by_mast = internal.axial_factor[..., :: model.mesh.edges_m.shape[-1] - 1, 0]
    factor = np.min(by_mast.reshape(len(loads), -1, by_mast.shape[-1]), axis=1)
    found.append(Use("axial-stability", "", limits.axial_stability_factor / factor))
    return found
