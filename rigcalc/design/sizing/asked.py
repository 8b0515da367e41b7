"""What a mast must keep to in a search: every limit of the check that many masts can be held against, and [size]."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from ...frozen import dataclass
from ...loads import AS_GIVEN, Varied
from ...rig import BY_DIAMETER, Case, Mast, Rig, Sizing
from ...structure.outline import Outline
from ...verdict.many import ManyRun, Stand, Use, evaluate_many, outside_m, stand_of, weigh_many

Floats = NDArray[np.float64]

CHUNK = 128
"""Masts tried at once: as many as keep the arrays within the cache."""


@dataclass(frozen=True)
class Trial:
    """Many masts and how they did; arrays have one entry to each mast.

    Parameters
    ----------
    used : ndarray
        Greatest utilisation of all limits, those of [size] included.
    asked : ndarray
        The same of what [size] asks and `check` does not know of.
    mass_kg : ndarray
        Mass with fittings.
    widest_m : ndarray
        Greatest outside diameter.
    uses : tuple of Use
        Every limit, by case.
    cases : tuple of str
        Names of the cases.
    """

    used: Floats
    asked: Floats
    mass_kg: Floats
    widest_m: Floats
    uses: tuple[Use, ...]
    cases: tuple[str, ...]

    def governing(self, i: int) -> tuple[Use, str, float]:
        """Return the limit one mast uses most, the case, and how much of it."""
        use = max(self.uses, key=lambda u: float(np.max(u.utilisation[:, i])))
        case = int(np.argmax(use.utilisation[:, i]))
        name = self.cases[case] if use.utilisation.shape[0] == len(self.cases) else ""
        return use, name, float(use.utilisation[case, i])


def sizing_of(rig: Rig) -> Sizing:
    """Return what a search may change; every default where the file does not say."""
    return Sizing() if rig.sizing is None else rig.sizing


@dataclass(frozen=True)
class Jury:
    """Tries masts of one construction.

    Parameters
    ----------
    stand : Stand
        The rig made ready.
    sizing : Sizing
        What is asked beside the limits.
    """

    stand: Stand
    sizing: Sizing

    def only(self, cases: Sequence[Case]) -> Jury:
        """Return the same with some of the cases."""
        return Jury(stand_of(self.stand.rig, cases), self.sizing)

    def trial(self, outline: Outline, *, bent: bool = False, varied: Varied = AS_GIVEN) -> Trial:
        """Try masts, in chunks."""
        masts = len(outline.forward_m)
        parts = [
            self._trial(outline.some(slice(start, start + CHUNK)), bent=bent, varied=varied)
            for start in range(0, masts, CHUNK)
        ]
        first = parts[0]
        names = {(u.id, u.layer): u.utilisation.shape[0] for part in parts for u in part.uses}

        def together(key: tuple[str, str]) -> Floats:
            found = []
            for part in parts:
                of = {(u.id, u.layer): u.utilisation for u in part.uses}
                # a limit that no mast of a chunk has is not used there
                found.append(of.get(key, np.zeros((names[key], part.mass_kg.size))))
            return np.concatenate(found, axis=1)

        return Trial(
            np.concatenate([p.used for p in parts]),
            np.concatenate([p.asked for p in parts]),
            np.concatenate([p.mass_kg for p in parts]),
            np.concatenate([p.widest_m for p in parts]),
            tuple(Use(*key, together(key)) for key in names),
            first.cases,
        )

    def _trial(self, outline: Outline, *, bent: bool, varied: Varied) -> Trial:
        run = evaluate_many(self.stand, outline, bent=bent, varied=varied)
        sections = run.sections
        outer = sections.of_masts(outside_m(sections))
        widest = np.max(outer, axis=(-2, -1))
        beside = _of_sizing(self.sizing, self.stand.rig.mast, run, outer, widest)
        asked = np.max([np.max(use.utilisation, axis=0) for use in beside], axis=0)
        used = np.maximum(run.greatest, asked)
        # what is not a number is no answer, and no answer does not pass
        used, asked = (np.where(np.isfinite(of), of, np.inf) for of in (used, asked))
        return Trial(used, asked, run.mass_kg, widest, (*run.uses, *beside), run.cases)

    def weight(self, trial: Trial) -> Floats:
        """Return what is made as small as may be; mass breaks ties of diameter."""
        return self._weight(trial.mass_kg, trial.widest_m)

    def weigh(self, outline: Outline) -> Floats:
        """Return the same of masts that are not tried."""
        return self._weight(*weigh_many(self.stand, outline))

    def _weight(self, mass_kg: Floats, widest_m: Floats) -> Floats:
        return widest_m + 1e-6 * mass_kg if self.sizing.minimise == BY_DIAMETER else mass_kg


def _of_sizing(sizing: Sizing, mast: Mast, run: ManyRun, outer_m: Floats, widest_m: Floats) -> list[Use]:
    """Return what is used of the limits that [size] sets."""
    tip = outer_m[..., -1, -1]
    slimmest = np.min(outer_m, axis=(-2, -1))
    thinnest = np.min(run.sections.of_masts(run.sections.layers[0].as_new.wall_m), axis=(-2, -1))
    # a size of exactly the limit keeps to it, and a search wants a hair less than all of it
    hair = 1.0 - 1e-6
    found = {
        "largest diameter": hair * widest_m / sizing.largest_diameter_m,
        "smallest diameter": hair * sizing.smallest_diameter_m / slimmest,
        "smallest wall": hair * sizing.smallest_wall_m / thinnest,
        "largest tip": None if sizing.largest_tip_m is None else hair * tip / sizing.largest_tip_m,
        "smallest tip": None if sizing.smallest_tip_m is None else hair * sizing.smallest_tip_m / tip,
        "most mass": None if sizing.most_mass_kg is None else run.mass_kg / sizing.most_mass_kg,
        "lowest frequency": (
            None
            if sizing.lowest_frequency_Hz is None
            else sizing.lowest_frequency_Hz / run.lowest_frequency_Hz()
        ),
        "room for the post": _post_in_bore(run, mast),
    }
    return [Use(name, "", used[None]) for name, used in found.items() if used is not None]


def _post_in_bore(run: ManyRun, mast: Mast) -> Floats | None:
    """Return how much of the bore below the partners the post takes; a rig file must leave it some."""
    post, sections = mast.post, run.sections
    if post is None:
        return None
    top = post.diameter_m if post.top_diameter_m is None else post.top_diameter_m
    mesh = run.model.mesh
    z, below = mesh.z_m, mesh.middle_m[..., None] < mast.bury_m
    size = post.diameter_m + (top - post.diameter_m) * z / mast.bury_m
    bores = [
        np.where(
            layer.present & (layer.as_new.outer_forward_m > 0.0),
            np.minimum(layer.as_new.inner_forward_m, layer.as_new.inner_side_m),
            np.inf,
        )
        for layer in sections.layers
    ]
    bore = sections.of_masts(np.min(bores, axis=0))
    taken = np.where(below, size / np.maximum(bore, 1e-9), 0.0)
    # a post as wide as the bore does not go in
    return np.asarray(np.max(taken, axis=(-2, -1)) * (1 + 1e-6))
