"""How sure a verdict is: the mast tried many times over, its inputs spread as in life.

The sample is quasi-random (Halton, scrambled). Wind, righting moment, swing and walls go through the loads, the beam
and every limit, by straight theory. What the bent mast makes of that is worked out for the mast of the file
under loads from half of its own to `LOADS` times as much, limit by limit and case by case, and read off for
every mast of the sample by how far its tip goes: load, walls and stiffness all make it bend. Strengths and
stiffness then scale what each limit bears, which is exact where demand does not hang on them: strength for what
breaks, stiffness for what bends, the lesser of the two for walls and columns, and for the class of a wall the
lesser of a strength and its root. In a section of several materials each layer takes of the bending as its
stiffness stands to that of the whole. A strength that stands in the check as the lower 5 % has its median so
much higher here; a stiffness that stands there so is left as it is, which is the safe side. Where the mast of
the file finds no equilibrium, all fail.

Factors of safety stay in: a chance is that of a check failing, not of a mast falling, which is far rarer.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..frozen import dataclass
from ..limits import Check
from ..loads import Varied
from ..notebook import InNotebook
from ..rig import Case, Doubts, Rig
from ..structure.made_of import MadeOf, Metals
from ..structure.outline import Outline, Tube, outline_of
from ..structure.sections import Layer, Sections
from ..verdict import CheckResult, build_sections, cases_of, check
from ..verdict.many import Stand, Use, evaluate_many, stand_of
from .sizing.asked import CHUNK

Floats = NDArray[np.float64]

LOWER_5 = 1.645
LEFT_ASIDE = 0.3
"""Cases used less than this by the mast of the file are not tried, if they govern no check, and if the spreads do not
bring them to 1 within `SURE` deviations, which one mast in thirty thousand exceeds."""
SURE = 4.0
POWERS = {"wind": 2.0, "wall": 2.0}
"""How a utilisation goes by an input where it is not as the input itself; the wall as where it is bent."""
FAILS = 1 + 1e-9
"""A check passes at exactly 1, whatever rounding makes of it here."""
BINS = 25
PERCENT = (5.0, 50.0, 95.0, 99.0)
LOADS = (0.5, 0.75, 1.0, 1.25, 1.6, 2.0, 2.5)
"""Loads, to those of the file, under which the mast of the file is bent; past the last its slope is kept."""
TIP = ("tip-deflection", "")
STIFF = ("tip-deflection", "creep-deflection", "axial-stability")
WALLS = (
    "shell-buckling",
    "wall-buckling",
    "flattening",
    "column",
    "splitting",
    "ring",
)
BY_CLASS = "wall-class"
SIZES = ("joint-overlap",)
BY_FORCE = ("crushing", "bearing", "ring", "rolling-shear", "wall-bending", "joint", "plug-end")
"""What a layer bears of a force by itself, whatever its share of the bending."""

Key = tuple[str, str]
"""Id and layer of a limit."""


@dataclass(frozen=True)
class Doubted:
    """One check under all its doubts.

    Parameters
    ----------
    id : str
        Which check.
    case : str
        Case in which it is most often the worst.
    used : float
        Utilisation with the inputs of the file.
    chance : float
        Share of the masts that fail it in any case that was tried.
    error : float
        Standard deviation of that share for so many masts.
    percentiles : tuple of float
        Utilisation at each of `PERCENT`; infinite where there is no answer.
    """

    id: str
    case: str
    used: float
    chance: float
    error: float
    percentiles: tuple[float, ...]


@dataclass(frozen=True)
class Share:
    """How much one input explains by itself of the spread of the greatest utilisation, the masts ranked by it."""

    input: str
    spread: float
    share: float


@dataclass(frozen=True)
class Doubt(InNotebook):
    """How sure a verdict is.

    Parameters
    ----------
    title, verdict : str
        Of the rig, with the inputs of the file.
    samples, seed : int
        Masts tried.
    chance : float
        Share of them that fail any check.
    checks : tuple of Doubted
        The likeliest to fail first.
    shares : tuple of Share
        The input that matters most first.
    furling_m_s : tuple of float or None
        Wind one person can furl in, sail let fly, at each of `PERCENT`, friction anywhere between its bounds.
    left_aside : tuple of str
        Cases that were not tried.
    notes : tuple of str
        What a reader must know.
    """

    title: str
    verdict: str
    samples: int
    seed: int
    chance: float
    checks: tuple[Doubted, ...]
    shares: tuple[Share, ...]
    furling_m_s: tuple[float, ...] | None
    left_aside: tuple[str, ...]
    notes: tuple[str, ...]

    def __repr__(self) -> str:
        return (
            f"<Doubt {self.title!r}: {self.verdict.upper()} as filed, {self.chance:.1%} of {self.samples} masts "
            "fail a check>"
        )


def doubt(rig: Rig, *, samples: int | None = None) -> Doubt:
    """Return how sure the verdict on a rig is.

    Parameters
    ----------
    rig : Rig
        As read from a rig file; its [doubt] gives the spreads.
    samples : int, optional
        Masts to try, in place of what [doubt] says.

    Returns
    -------
    Doubt
        Chances from 0 to 1 that a check fails, its factors of safety in it: not that the mast falls.

    Raises
    ------
    RigInputError
        If the rig asks a formula for a value it does not have.

    Notes
    -----
    Inputs are spread log-normally and independently by factors of median 1, from a scrambled Halton sequence of a
    fixed seed (`scipy.stats.qmc`): the same rig gives the same answer. What is tried, and how, stands at the head of
    this module.

    Examples
    --------
    >>> from rigcalc import doubt, read_rig, starter_text
    >>> found = doubt(read_rig(starter_text()), samples=256)
    >>> found.samples, found.shares[0].input
    (256, 'wind')
    >>> 0.0 <= found.chance <= 1.0
    True
    """
    asked = rig.doubt or Doubts()
    count = samples or asked.samples
    result = check(rig)
    cases, _ = cases_of(rig, None)
    spreads = _spreads(rig, asked)
    straight = _straight(rig, cases)
    tried, aside = _worth_trying(cases, result, straight, spreads)
    factors = _factors(spreads, count, asked.seed)
    stand = stand_of(rig, tried)
    uses = _tried(stand, factors, count)
    told = {key: _told(result, key, cases) for key in straight}
    rows = [cases.index(case) for case in tried]
    borne = _bearers(rig, factors)
    tip = next(use.utilisation for use in uses if (use.id, use.layer) == TIP) / borne(TIP)
    by_id = _by_id(uses, _grown(stand, straight, told, rows, tip), borne)
    worst = np.max([used for used, _ in by_id.values()], axis=0)
    checks = [
        _doubted(id, used, tried[which].name, [told[key] for key in told if key[0] == id])
        for id, (used, which) in by_id.items()
    ]
    checks.sort(key=lambda one: (-one.chance, -one.percentiles[2]))
    shares = [
        Share(name, spread, _explained(factors[name], worst))
        for name, spread in spreads.items()
        if spread > 0.0
    ]
    shares.sort(key=lambda one: -one.share)
    return Doubt(
        title=result.title,
        verdict=result.verdict,
        samples=count,
        seed=asked.seed,
        chance=float(np.mean(worst > FAILS)),
        checks=tuple(checks),
        shares=tuple(shares),
        furling_m_s=_furling(result, count, asked.seed),
        left_aside=aside,
        notes=_notes(rig, result),
    )


def _straight(rig: Rig, cases: Sequence[Case]) -> dict[Key, Floats]:
    """Return what the mast of the file uses of every limit in every case, by straight theory."""
    nothing = {"wind": np.ones(1), "righting moment": np.ones(1), "swing": np.ones(1)}
    return {(u.id, u.layer): u.utilisation[:, 0] for u in _tried(stand_of(rig, cases), nothing, 1)}


def _told(result: CheckResult, key: Key, cases: Sequence[Case]) -> Floats:
    """Return what `check` says of one limit by case; NaN where it says nothing."""
    said = {c.case: c.utilisation for c in result.checks if (c.id, c.layer) == key}
    return np.array([said.get(case.name, math.nan) for case in cases])


def _worth_trying(
    cases: Sequence[Case], result: CheckResult, straight: Mapping[Key, Floats], spreads: Mapping[str, float]
) -> tuple[tuple[Case, ...], tuple[str, ...]]:
    checks = [c for c in result.checks if (c.id, c.layer) in straight]
    worst: dict[str, Check] = {}
    for one in sorted(checks, key=lambda c: -c.utilisation):
        worst.setdefault(one.id, one)
    govern = {one.case for one in worst.values()}
    far = sum(POWERS.get(name, 1.0) ** 2 * math.log1p(spread**2) for name, spread in spreads.items())
    least = min(LEFT_ASIDE, math.exp(-SURE * math.sqrt(far)))
    used = {
        case.name: max((c.utilisation for c in checks if c.case == case.name), default=0.0) for case in cases
    }
    kept = tuple(case for case in cases if case.name in govern or used[case.name] >= least)
    return kept, tuple(case.name for case in cases if case not in kept)


def _families(rig: Rig) -> set[str]:
    return {_family(layer.made_of) for layer in build_sections(rig).layers} - {""}


def _family(made_of: MadeOf) -> str:
    from ..materials.laminates import Laid
    from ..materials.timber import Timber

    if isinstance(made_of, Metals):
        return "metal"
    if isinstance(made_of, Timber):
        return "timber"
    return "laminate" if isinstance(made_of, Laid) else ""


def _spreads(rig: Rig, asked: Doubts) -> dict[str, float]:
    """Return the spread of every input that plays a part, by its name."""
    found = {"wind": asked.wind, "righting moment": asked.righting_moment, "swing": asked.swing}
    families = _families(rig)
    if families & {"metal", "timber"}:
        found["wall"] = asked.wall
    for family in sorted(families):
        found[f"strength of {family}"] = getattr(asked, f"{family}_strength")
        found[f"stiffness of {family}"] = getattr(asked, f"{family}_stiffness")
    return found


def _factors(spreads: dict[str, float], count: int, seed: int) -> dict[str, Floats]:
    """Return log-normal factors of median 1 for every input, quasi-random and independent."""
    from scipy.special import ndtri
    from scipy.stats import qmc

    unit = qmc.Halton(len(spreads), scramble=True, rng=seed).random(count)
    normal = ndtri(np.clip(unit, 1e-12, 1 - 1e-12))
    return {
        name: np.exp(math.sqrt(math.log1p(spread**2)) * normal[:, i])
        for i, (name, spread) in enumerate(spreads.items())
    }


def _tried(stand: Stand, factors: Mapping[str, Floats], count: int) -> list[Use]:
    """Return what many masts use of every limit, strengths and stiffness as the file has them."""
    base, wall = outline_of(stand.rig.mast), factors.get("wall", np.ones(count))
    parts: list[dict[tuple[str, str], Floats]] = []
    for start in range(0, count, CHUNK):
        some = slice(start, start + CHUNK)
        outline = _thinned(base, wall[some])
        varied = Varied(
            wind=factors["wind"][some], moment=factors["righting moment"][some], swing=factors["swing"][some]
        )
        run = evaluate_many(stand, outline, varied=varied)
        parts.append({(u.id, u.layer): u.utilisation for u in run.uses})
    names = list(dict.fromkeys(name for part in parts for name in part))
    empty = [np.zeros((len(stand.cases), next(iter(part.values())).shape[1])) for part in parts]
    return [
        Use(
            *name,
            np.concatenate([part.get(name, none) for part, none in zip(parts, empty, strict=True)], axis=1),
        )
        for name in names
    ]


def _thinned(base: Outline, factor: Floats) -> Outline:
    """Return masts whose walls stand by factors to those of the file, their outsides as they are."""
    each = factor[:, None]
    rows = np.ones_like(each)
    # a bar has no wall, and a wall cannot be more than half of it
    most = np.minimum(base.forward_m, base.side_m) / 2
    solid = base.wall_m >= most * (1 - 1e-12)
    wall = np.where(solid, most, np.minimum(base.wall_m * each, 0.999 * most))
    return replace(
        base,
        forward_m=base.forward_m * rows,
        side_m=base.side_m * rows,
        wall_m=wall,
        sleeves=tuple(
            Tube(
                t.start_m,
                t.end_m,
                np.full(factor.size, t.diameter_m),
                np.minimum(t.wall_m * factor, 0.499 * t.diameter_m),
            )
            for t in base.sleeves
        ),
    )


def _grown(
    stand: Stand, straight: Mapping[Key, Floats], told: Mapping[Key, Floats], rows: Sequence[int], tip: Floats
) -> Callable[[Key], Floats]:
    """Return what the bent mast makes of straight theory, a factor by limit, shape (cases, masts), for the cases tried.

    For the mast of the file the factor is that of its check. ``tip`` is what straight theory makes each mast of the
    sample use of its tip's deflection, stiffness and all, and finds the load under which the mast of the file bends
    as far. A limit that the mast of the file does not have takes the most that any other grows by in the case.
    """
    with np.errstate(all="ignore"):
        found = {key: np.where(straight[key] > 0.0, told[key] / straight[key], 1.0)[rows] for key in straight}
        for key, factor in found.items():
            factor[np.isnan(told[key][rows])] = 1.0
            factor[np.isinf(told[key][rows])] = np.inf
        far, more = _bent_more(stand)
        grows = {key: factor[:, None] * more.get(key, np.ones_like(far)) for key, factor in found.items()}
    if not grows:
        return lambda key: np.ones((len(rows), 1))
    grows = {key: np.where(np.isnan(one), np.inf, one) for key, one in grows.items()}
    most = np.max([np.ones_like(far), *grows.values()], axis=0)
    return lambda key: np.stack(
        [_read_off(*each) for each in zip(tip, far, grows.get(key, most), strict=True)]
    )


def _bent_more(stand: Stand) -> tuple[Floats, dict[Key, Floats]]:
    """Return how far straight theory bends the mast of the file under `LOADS`, and how the bent one's share grows.

    Shapes (cases, loads): the tip's use, and for each limit what the bent mast makes of straight theory to what it
    makes of it under the loads of the file; 1 where the bent mast of the file has no use for the limit.
    """
    base, loads = outline_of(stand.rig.mast), np.array(LOADS)
    outline = _thinned(base, np.ones(loads.size))
    varied = Varied(wind=np.sqrt(loads), moment=loads, swing=loads)
    plain, bent = (
        {(u.id, u.layer): u.utilisation for u in evaluate_many(stand, outline, varied=varied, bent=b).uses}
        for b in (False, True)
    )
    more = {}
    with np.errstate(all="ignore"):
        for key in plain.keys() & bent.keys():
            made = bent[key] / plain[key]
            own = made[:, [LOADS.index(1.0)]]
            # a limit that comes in under other loads only has nothing here to grow from
            more[key] = np.where((own > 0.0) & np.isfinite(own) & (plain[key] > 0.0), made / own, 1.0)
    return plain[TIP], more


def _read_off(at: Floats, far: Floats, factor: Floats) -> Floats:
    """Return the factor for tips that go ``at``, on lines level before the first point and drawn on past the last."""
    if not far[-1] > far[0] * (1 + 1e-6):
        # no load that varies bends the mast here: it is as the file has it
        return np.full(at.shape, factor[LOADS.index(1.0)])
    with np.errstate(invalid="ignore"):
        read = np.interp(at, far, factor)
        slope = (factor[-1] - factor[-2]) / (far[-1] - far[-2])
        return np.where(at > far[-1], factor[-1] + slope * (at - far[-1]), read)


def _by_id(
    uses: Sequence[Use], grown: Callable[[Key], Floats], borne: Callable[[Key], Floats]
) -> dict[str, tuple[Floats, int]]:
    """Return the worst use of every check by mast, and the case in which it most often is."""
    found: dict[str, Floats] = {}
    for use in uses:
        key = (use.id, use.layer)
        with np.errstate(invalid="ignore"):
            used = use.utilisation * grown(key) / borne(key)
        # what is not a number is no answer, and no answer does not pass
        used = np.where(np.isfinite(used), used, np.inf)
        found[use.id] = np.maximum(found.get(use.id, used), used)
    answer = {}
    for id, used in found.items():
        if np.max(used) > 0.0:
            often = np.bincount(np.argmax(used, axis=0), minlength=len(used))
            answer[id] = (np.max(used, axis=0), int(np.argmax(often)))
    return answer


def _bearers(rig: Rig, factors: Mapping[str, Floats]) -> Callable[[Key], Floats]:
    """Return by what factor each limit bears more, or is stiffer, than the check takes it to."""
    sections = build_sections(rig)
    family = {layer.name: _family(layer.made_of) for layer in sections.layers}
    whole = {
        "": _stiffness(rig, sections, None),
        **{x.name: _stiffness(rig, sections, x) for x in sections.layers},
    }

    def stiffness(layer: str) -> Floats:
        shares = whole[layer].items()
        return np.asarray(sum(share * factors.get(f"stiffness of {of}", np.ones(1)) for of, share in shares))

    def borne(key: Key) -> Floats:
        id, layer = key
        of = family.get(layer, family["tube"])
        if id in STIFF:
            return stiffness("")
        if id in SIZES or not of:
            return np.ones(1)
        stiff, strong = factors[f"stiffness of {of}"], factors[f"strength of {of}"] * _above_lower_5(rig, of)
        bears = np.minimum(stiff, strong) if id in WALLS else strong
        if id == BY_CLASS:
            # a wall too slender for its class bears more with the root of its strength
            bears = np.minimum(strong, np.sqrt(strong))
        return bears if id.startswith(BY_FORCE) else bears * stiffness(layer) / stiff

    return borne


def _stiffness(rig: Rig, sections: Sections, layer: Layer | None) -> dict[str, float]:
    """Return the share of every family in the bending stiffness: where a layer stands, or of the mast as a whole.

    For the mast, heights count by what their bending moves the tip: under a side force near the tip, by the square
    of the distance from it.
    """
    mast, z = rig.mast, sections.z_m
    far = np.clip(mast.length_m - z, 0.0, mast.length_m - mast.bury_m)
    counts = far**2 if layer is None else np.where(layer.present, 1.0, np.zeros_like(z))
    found: dict[str, float] = {}
    for one in sections.layers:
        share = np.sum(counts * one.EI_N_m2 / sections.planes_N_m2) / np.sum(2 * counts)
        of = _family(one.made_of)
        found[of] = found.get(of, 0.0) + float(share)
    return found


def _above_lower_5(rig: Rig, family: str) -> float:
    """Return the median of a strength over the lower 5 %, where that is what the check takes."""
    if family == "laminate":
        return 1.0
    spread = getattr(rig.doubt or Doubts(), f"{family}_strength")
    return math.exp(LOWER_5 * math.sqrt(math.log1p(spread**2)))


def _doubted(id: str, used: Floats, case: str, told: Sequence[Floats]) -> Doubted:
    chance = float(np.mean(used > FAILS))
    return Doubted(
        id,
        case,
        max((float(np.max(one[~np.isnan(one)], initial=0.0)) for one in told), default=0.0),
        chance,
        math.sqrt(max(chance * (1 - chance), 1 / used.size) / used.size),
        # the next higher of the sample: between a number and no answer there is nothing
        tuple(float(p) for p in np.percentile(used, PERCENT, method="higher")),
    )


def _explained(factor: Floats, worst: Floats) -> float:
    """Return the share of a variance that one input explains by itself: that of the means over bins of it."""
    from scipy.stats import rankdata

    # by rank: a few masts without an answer must not be all that counts
    ranked = rankdata(worst)
    total = float(np.var(ranked))
    if total == 0.0:
        return 0.0
    bins = np.array_split(ranked[np.argsort(factor, kind="stable")], BINS)
    means, sizes = np.array([np.mean(b) for b in bins]), np.array([b.size for b in bins])
    share = float(np.average((means - np.mean(ranked)) ** 2, weights=sizes) / total)
    chance = (BINS - 1) / (worst.size - 1)  # what so many bins explain of what does not hang on the input
    return max((share - chance) / (1 - chance), 0.0)


def _furling(result: CheckResult, count: int, seed: int) -> tuple[float, ...] | None:
    """Return winds to furl in: what the friction asks grows with it as the square of the wind falls."""
    if result.turning is None or result.turning.furling is None:
        return None
    rolled = result.turning.furling
    high, low = rolled.luffed_m_s, rolled.luffed_low_m_s
    if not (high > 0.0 and low > 0.0):
        return None
    share = np.random.default_rng(seed).random(count)
    wind = 1 / np.sqrt(1 / high**2 * share + 1 / low**2 * (1 - share))
    return tuple(float(p) for p in np.percentile(wind, [100 - p for p in PERCENT]))


def _notes(rig: Rig, result: CheckResult) -> tuple[str, ...]:
    notes = [
        "a chance is that of a check failing with its factors of safety in it, not of the mast falling",
        "inputs are taken as log-normal and independent; what the file has wrong is not in their spread",
        "checks of bearings, furling gear, deck and post are not tried",
        "how far the tip may go is a rule of service, not of strength: see which checks fail",
    ]
    if "laminate" in _families(rig):
        notes.append("the walls of a laminate are as many plies as the file has")
    if not result.passed:
        notes.append("the mast of the file fails already")
    return tuple(notes)
