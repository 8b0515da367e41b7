"""How sure a verdict is: the mast tried many times over, its inputs spread as in life.

The sample is quasi-random (Halton, scrambled). Wind, righting moment, swing and walls go through the loads, the beam
and every limit, by straight theory; what the bent mast adds is taken from the mast of the file, limit by limit and
case by case. Strengths and stiffness then scale what each limit bears, which is exact where demand does not hang on
them: strength for what breaks, stiffness for what bends, and the lesser of the two for walls and columns. A
strength that stands in the check as the lower 5 % has its median so much higher here.

Factors of safety stay in: a chance is that of a check failing, not of a mast falling, which is far rarer.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..loads import Varied
from ..rig import Case, Doubts, Rig
from ..structure.made_of import MadeOf, Metals
from ..structure.outline import Outline, Tube, outline_of
from ..verdict import CheckResult, build_sections, cases_of, check
from ..verdict.many import Stand, Use, evaluate_many, stand_of
from .sizing.asked import CHUNK

Floats = NDArray[np.float64]

LOWER_5 = 1.645
LEFT_ASIDE = 0.3
"""Cases used less than this by the mast of the file are not tried: no spread here brings them to 1."""
BINS = 25
PERCENT = (5.0, 50.0, 95.0, 99.0)
STIFF = ("tip-deflection", "creep-deflection", "axial-stability")
WALLS = (
    "shell-buckling",
    "wall-class",
    "wall-buckling",
    "flattening",
    "column",
    "splitting",
    "ring",
)
SIZES = ("joint-overlap",)


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
        Share of the masts that fail it in any case.
    error : float
        Standard deviation of that share for so many masts.
    percentiles : tuple of float
        Utilisation at each of `PERCENT`.
    """

    id: str
    case: str
    used: float
    chance: float
    error: float
    percentiles: tuple[float, ...]


@dataclass(frozen=True)
class Share:
    """How much of the spread of the greatest utilisation one input explains by itself."""

    input: str
    spread: float
    share: float


@dataclass(frozen=True)
class Doubt:
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


def doubt(rig: Rig, *, samples: int | None = None) -> Doubt:
    """Return how sure the verdict on a rig is.

    Parameters
    ----------
    rig : Rig
        As read from a rig file; its [doubt] gives the spreads.
    samples : int, optional
        Masts to try, in place of what [doubt] says.

    Raises
    ------
    RigInputError
        If the rig asks a formula for a value it does not have.
    """
    asked = rig.doubt or Doubts()
    count = samples or asked.samples
    result = check(rig)
    cases, _ = cases_of(rig, None)
    tried, aside = _worth_trying(cases, result)
    spreads = _spreads(rig, asked)
    factors = _factors(spreads, count, asked.seed)
    uses = _tried(stand_of(rig, tried), factors, count)
    strength = {name: factors[name] for name in spreads}
    by_id = _by_id(rig, uses, strength, [case.name for case in tried], result)
    worst = np.max([used for used, _ in by_id.values()], axis=0)
    checks = [_doubted(id, used, tried[which].name, result) for id, (used, which) in by_id.items()]
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
        chance=float(np.mean(worst > 1.0)),
        checks=tuple(checks),
        shares=tuple(shares),
        furling_m_s=_furling(result, count, asked.seed),
        left_aside=aside,
        notes=_notes(rig, result),
    )


def _worth_trying(cases: Sequence[Case], result: CheckResult) -> tuple[tuple[Case, ...], tuple[str, ...]]:
    used = {case.name: max(c.utilisation for c in result.checks if c.case == case.name) for case in cases}
    kept = tuple(case for case in cases if used[case.name] >= LEFT_ASIDE) or tuple(cases)
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


def _tried(stand: Stand, factors: dict[str, Floats], count: int) -> list[Use]:
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


def _by_id(
    rig: Rig, uses: Sequence[Use], factors: dict[str, Floats], cases: Sequence[str], result: CheckResult
) -> dict[str, tuple[Floats, int]]:
    """Return the worst use of every check by mast, and the case in which it most often is."""
    family = {layer.name: _family(layer.made_of) for layer in build_sections(rig).layers}
    main = family["tube"]
    nominal = {(c.id, c.layer, c.case): c.utilisation for c in result.checks}
    straight = {
        (u.id, u.layer): u.utilisation for u in _tried(stand_of(rig, _named(rig, cases)), _ones(factors), 1)
    }
    found: dict[str, tuple[Floats, Floats]] = {}
    for use in uses:
        grown = np.ones((len(cases), 1))
        for i, case in enumerate(cases):
            before = float(straight[use.id, use.layer][i, 0])
            told = nominal.get((use.id, use.layer, case))
            if told is not None and before > 0.0 and math.isfinite(told):
                grown[i] = told / before
        borne = _borne(use.id, family.get(use.layer, main), factors, rig)
        used = use.utilisation * grown / borne
        best = found.get(use.id)
        found[use.id] = (used, used) if best is None else (np.maximum(best[0], used), used)
    answer = {}
    for id, (used, _) in found.items():
        used = np.where(np.isfinite(used), used, np.inf)
        if np.max(used) > 0.0:
            often = np.bincount(np.argmax(used, axis=0), minlength=len(cases))
            answer[id] = (np.max(used, axis=0), int(np.argmax(often)))
    return answer


def _ones(factors: dict[str, Floats]) -> dict[str, Floats]:
    return {name: np.ones(1) for name in factors}


def _named(rig: Rig, names: Sequence[str]) -> tuple[Case, ...]:
    cases, _ = cases_of(rig, None)
    return tuple(case for case in cases if case.name in names)


def _borne(id: str, family: str, factors: dict[str, Floats], rig: Rig) -> Floats:
    """Return by what factor a mast bears more, or is stiffer, than the check takes it to be."""
    none = np.ones(1)
    if id in SIZES or not family:
        return none
    stiff = factors[f"stiffness of {family}"]
    strong = factors[f"strength of {family}"] * _above_lower_5(rig, family)
    if id in STIFF:
        return stiff
    return np.minimum(stiff, strong) if id in WALLS else strong


def _above_lower_5(rig: Rig, family: str) -> float:
    """Return the median of a strength over the lower 5 %, where that is what the check takes."""
    if family == "laminate":
        return 1.0
    spread = getattr(rig.doubt or Doubts(), f"{family}_strength")
    return math.exp(LOWER_5 * math.sqrt(math.log1p(spread**2)))


def _doubted(id: str, used: Floats, case: str, result: CheckResult) -> Doubted:
    chance = float(np.mean(used > 1.0))
    told = max((c.utilisation for c in result.checks if c.id == id), default=0.0)
    finite = np.where(np.isfinite(used), used, 1e9)
    return Doubted(
        id,
        case,
        told,
        chance,
        math.sqrt(max(chance * (1 - chance), 1 / used.size) / used.size),
        tuple(float(p) for p in np.percentile(finite, PERCENT)),
    )


def _explained(factor: Floats, worst: Floats) -> float:
    """Return the share of a variance that one input explains by itself: that of the means over bins of it."""
    ranked = np.argsort(np.argsort(np.where(np.isfinite(worst), worst, np.inf), kind="stable"), kind="stable")
    order = np.argsort(factor, kind="stable")
    bins = np.array_split(ranked[order].astype(float), BINS)
    means, sizes = np.array([np.mean(b) for b in bins]), np.array([b.size for b in bins])
    total = float(np.var(ranked))
    within = BINS / ranked.size  # what so many bins of pure chance would explain
    share = float(np.average((means - np.mean(ranked)) ** 2, weights=sizes)) / total if total > 0.0 else 0.0
    return max(share - within, 0.0)


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
    ]
    if "laminate" in _families(rig):
        notes.append("the walls of a laminate are as many plies as the file has")
    if not result.passed:
        notes.append("the mast of the file fails already")
    return tuple(notes)
