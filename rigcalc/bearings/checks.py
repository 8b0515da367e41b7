"""Partners and step held against what bush, rollers and tube bear."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from ..formulas import Working
from ..formulas.bearings import longest_free_bush, projected_pressure
from ..formulas.contact import line_yield_pressure
from ..formulas.metals import design_strength
from ..formulas.rings import (
    chock_ring_moment,
    collar_ring_moment,
    end_effective_length,
    opposed_ring_moment,
    ring_effective_length,
    ring_wall_stress,
)
from ..formulas.sections import crossed_equivalent_stress
from ..frozen import dataclass
from ..limits import Check
from ..limits.about import BEARINGS, THICKER_WALL, About, Cure
from ..limits.record import check_of, up
from ..materials import BearingMaterial
from ..rig import Bearing, Limits
from .sideways import Felt, Journal, material_of, roller_shares, standing_pressure

RING: dict[str, Callable[..., object]] = {
    "collar": collar_ring_moment,
    "chock": chock_ring_moment,
    "opposed": opposed_ring_moment,
}


NO_ROLLERS = "no answer was found: take other rollers"
LONGER_BUSH = Cure(
    "make the bush <about {to:.0f} mm long in place of {now:.0f}|longer>",
    "room in partners or heel block; more friction area",
)
HARDER_BUSH = Cure(
    "<of|take> a material that bears more", "money; often more friction, or a mast that wears instead"
)
SHORTER_PARALLEL = Cure(
    "keep <at most {free:.0f} mm of it|less of the bush> parallel and open the bore at its ends",
    "a shorter bush that bears",
)
SPHERE = Cure("seat it in a sphere", "a bearing to make or buy; money")
LOOSER = Cure("give it <{clearance:.1f} mm of|more> clearance", "play, which knocks and moves the tip")
LONGER_ROLLERS = Cure(
    "make the rollers <about {to:.0f} mm long in place of {now:.0f}|longer>, or take more or thicker ones",
    "room round the mast, and money",
)
PLUG_OR_SLEEVE = Cure(
    "plug or sleeve the tube <there|in the bearing>", "weight low down; wires must go round a plug"
)
CLOSE_COLLAR = Cure("seat it in a close collar", "a part bored to fit the mast")
_ENDS = ("partners", "step")
PRESSURE = About(
    tuple(f"{name}-pressure" for name in _ENDS),
    BEARINGS,
    "The bush is pressed too hard to last. The force over length and diameter of the bush against the "
    "pressure that its material bears standing still.",
    (projected_pressure,),
    "Dirt, heat and wear; how the pressure gathers where the bush touches, which `rigcalc bearings` tells.",
    (LONGER_BUSH, HARDER_BUSH),
)
EDGE = About(
    tuple(f"{name}-edge" for name in _ENDS),
    BEARINGS,
    "The bent mast leans in its bush and bites with an edge. The length of the bush against the longest "
    "that the leaning mast leaves free, by its clearance.",
    (longest_free_bush,),
    "A bush soft enough to give way at its edge; wear, which opens the bore.",
    (SHORTER_PARALLEL, SPHERE, LOOSER),
)
ROLLERS = About(
    tuple(f"{name}-rollers" for name in _ENDS),
    BEARINGS,
    "Rollers dent the mast, or themselves. The greatest pressure of a roller on its line against that at "
    "which the weaker of both begins to yield, over limits.yield_factor.",
    (line_yield_pressure,),
    "Rolling fatigue, corrosion, and rollers that are not all of one size.",
    (LONGER_ROLLERS,),
    (design_strength,),
)
WALL_ROUND = About(
    tuple(f"{name}-ring" for name in _ENDS),
    BEARINGS,
    "The bearing squeezes the metal tube oval. Bending round the wall with that of the mast across it, as "
    "von Mises adds them, against the proof strength over limits.yield_factor.",
    tuple(RING.values()),
    "A fit that differs from bearings.partners.fit, and the help of a flange or a sleeve that the file "
    "does not give.",
    (PLUG_OR_SLEEVE, CLOSE_COLLAR, THICKER_WALL),
    (ring_wall_stress, crossed_equivalent_stress),
)


@dataclass(frozen=True)
class Place:
    """One bearing in one case."""

    name: str
    case: str
    bearing: Bearing
    material: BearingMaterial | None
    journal: Journal
    force_N: float
    slope_rad: float
    bending_Pa: float

    @property
    def length_mm(self) -> float:
        return (self.bearing.length_m or 0.0) * 1e3

    def check(
        self,
        about: About,
        demand: float,
        capacity: float,
        unit: str,
        formula: Callable[..., object],
        cure: str,
        source: str = "",
    ) -> Check:
        """Return a check at this bearing; the cure is told where it is needed."""
        (name,) = (own for own in about.names if own.startswith(self.name))
        return check_of(
            about.named(name),
            case=self.case,
            height_m=self.journal.height_m,
            demand=demand,
            capacity=capacity,
            unit=unit,
            formula=formula,
            cure=cure if demand == demand else NO_ROLLERS,
            source=source,
        )


def told(material: BearingMaterial) -> str:
    """Return where the pressure that a material bears comes from."""
    figure = material.standing_Pa
    assert figure is not None
    mark = {"read": "", "memory": ", from memory", "judgement": ", judgement"}[figure.provenance]
    return f"{material.name}: {figure.source}{mark}"


def bearing_checks(
    name: str, bearing: Bearing, journal: Journal, felt: Felt, limits: Limits, working: Working
) -> Iterator[Check]:
    """Yield the checks of one bearing in every case; none where the file does not describe it."""
    if bearing.kind is None or bearing.length_m is None:
        return
    material = material_of(bearing)
    for i, case in enumerate(felt.names):
        force, slope, bending = (float(of[i]) for of in (felt.force_N, felt.slope_rad, felt.bending_Pa))
        place = Place(name, case, bearing, material, journal, force, slope, bending)
        if bearing.kind == "plain":
            yield from _pressure(place, working)
            yield from _edge(place, working)
        else:
            yield from _rollers(place, limits, working)
        yield from _ring(place, limits, working)


def _pressure(place: Place, working: Working) -> Iterator[Check]:
    bearing, material, L = place.bearing, place.material, place.bearing.length_m
    allowed = standing_pressure(bearing, material)
    if allowed is None or L is None:
        return
    pressure = float(
        working.use(projected_pressure, where=place.name, F=place.force_N, L=L, D=place.journal.diameter_m)
    )
    source = "the user's own limit"
    if bearing.standing_pressure_Pa is None and material is not None and material.standing_Pa is not None:
        source = told(material)
    longer = LONGER_BUSH.said(to=up(place.length_mm * pressure / allowed, 1.0), now=place.length_mm)
    cure = f"{longer}, or {HARDER_BUSH.said()}"
    yield place.check(PRESSURE, pressure, allowed, "Pa", projected_pressure, cure, source)


def _edge(place: Place, working: Working) -> Iterator[Check]:
    bearing, L, c = place.bearing, place.bearing.length_m, place.bearing.clearance_m
    if bearing.seat != "fixed" or not c or L is None or place.slope_rad <= 1e-9:
        return
    free = float(working.use(longest_free_bush, c=c, theta=place.slope_rad))
    looser = LOOSER.said(clearance=up(c * L / free * 1e3, 0.1))
    cure = f"{SHORTER_PARALLEL.said(free=np.floor(free * 1e3))}, {SPHERE.said()}, or {looser}"
    yield place.check(EDGE, L, free, "m", longest_free_bush, cure)


def _rollers(place: Place, limits: Limits, working: Working) -> Iterator[Check]:
    material, proof = place.material, place.journal.proof_Pa
    shared = roller_shares(place.bearing, material, place.journal, place.force_N, working)
    if shared is None or material is None or material.yield_Pa is None:
        return
    weaker = material.yield_Pa.low if proof is None else min(material.yield_Pa.low, proof)
    strength = working.use(design_strength, f=weaker, gamma=limits.yield_factor)
    limit = float(working.use(line_yield_pressure, f_y=strength))
    used = shared.contact_pressure_Pa / limit
    cure = LONGER_ROLLERS.said(to=up(place.length_mm * used**2, 1.0), now=place.length_mm)
    yield place.check(ROLLERS, shared.contact_pressure_Pa, limit, "Pa", line_yield_pressure, cure)


def _ring(place: Place, limits: Limits, working: Working) -> Iterator[Check]:
    """The tube bent round by the bearing, across its own bending: metal alone, other walls have their own checks."""
    t, proof, L = place.journal.wall_m, place.journal.proof_Pa, place.bearing.length_m
    if t is None or proof is None or L is None:
        return
    use, R = working.use, (place.journal.tube_m - t) / 2
    fit = place.bearing.fit or ("chock" if place.bearing.kind == "rollers" else "collar")
    # the heel is an open end, where less of the tube helps
    spread = (
        use(end_effective_length, L=L)
        if place.journal.height_m == 0.0
        else use(ring_effective_length, where=f"{place.name} ring", L=L, R=R, t=t)
    )
    moment = use(RING[fit], W=place.force_N / float(spread), R=R)
    round_it = float(use(ring_wall_stress, m=moment, n=0.0, t=t))
    stress = float(use(crossed_equivalent_stress, sigma_1=place.bending_Pa, sigma_2=round_it))
    strength = float(use(design_strength, f=proof, gamma=limits.yield_factor))
    thicker = THICKER_WALL.said(now=t * 1e3, to=up(t * 1e3 * stress / strength, 0.1))
    cure = f"{PLUG_OR_SLEEVE.said()}, {CLOSE_COLLAR.said()}, or {thicker}"
    yield place.check(WALL_ROUND, stress, strength, "Pa", RING[fit], cure)
