"""The furling gear of a rig: what it takes to roll the sail away, in which wind one person can, and what would help.

Free body of the turning mast: the line on its drum turns it against the cloth, which leaves the roll as a
tangent, and against the friction of partners, step and thrust face. The sail is all out, which is when it takes
most; the line is then wound on the drum to its last layer, and pulls at that. Forces of sail and bearings grow as
the square of the wind; what comes down on the step has the weight besides.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from ..formulas import Value, Working
from ..formulas.bearings import (
    journal_friction_torque,
    pressure_times_speed,
    projected_pressure,
    wear_in_turning,
)
from ..formulas.contact import (
    caged_roller_torque,
    contact_modulus,
    convex_radius,
    hysteresis_arm,
    line_half_width,
    pinned_roller_torque,
)
from ..formulas.furling import allowed_line_pull, drum_line_pull
from ..frozen import dataclass
from ..limits import Check
from ..limits.about import FURLING, About, Cure
from ..limits.record import check_of
from ..rig import Bearing, Bearings, Furling, Thrust
from .furling import Drum, FurlingWind, Roll, Tackle, furling_wind, held_line_pull, turning_torque
from .record import FurlingResult, HeldTorque, RollAt, Way
from .sideways import (
    FREE_NU,
    Journal,
    friction_of,
    leaning_contact,
    material_of,
    roller_shares,
    turning_pressure,
)
from .thrust import thrust_torque

REFERENCE_M_S = 10.0
"""Wind at which the forces of the sail are worked out once; they grow as its square."""
STRONGEST_M_S = 30.0
CLOSE_FACTOR = 4 / 3.141592653589793
"""Friction of a bush touched round half its bore over that of a line."""
HYSTERESIS = (0.1, 0.4)
"""Share of the work of a rolling contact that is lost, little for metal and much for plastic: from memory."""
SLIPPERY = 0.1
"""Coefficient of a lined bush at its best, for what another material would bring: the low end of the table's liners."""
ROLLER_SHARE = 0.35
"""Friction left with rollers on pins in place of a bush, a third of the roller's diameter: judgement."""

STRONGER_LINE = Cure(
    "take a line <{times:.2f} times as strong|that is stronger>", "money, and a thicker line to wind"
)
LARGER_DRUM = Cure(
    "<a drum {times:.2f} times as large|take a larger drum>", "room at the deck, and more line to haul"
)
LONGER_BUSH = Cure("make the bush at the partners <{times:.2f} times as long|longer>", "a deeper partner")
LET_FLY = Cure("let the sail fly before you furl", "a flogging sail for as long as it takes")
SLOWER = Cure("furl <that much slower|slower>", "time")
_FURLED = "Jammed turns, dirt, and the hand's own pull, which is told by `rigcalc bearings` and not checked."
LINE = About(
    ("furling-line",),
    FURLING,
    "The furling line breaks. Its pull at the end of the hand's or winch's work against its breaking load "
    "over its factor.",
    (allowed_line_pull,),
    _FURLED + " Chafe and sun on the line.",
    (STRONGER_LINE, LARGER_DRUM),
    (drum_line_pull,),
)
TURNING_PRESSURE = About(
    ("furling-pressure",),
    FURLING,
    "The bush at the partners is pressed too hard to turn in. The pressure while the sail is rolled away "
    "against what its material bears turning.",
    (projected_pressure,),
    _FURLED,
    (LONGER_BUSH, LET_FLY),
)
PV = About(
    ("furling-pv",),
    FURLING,
    "The bush at the partners runs hot as the mast turns under load. Pressure times speed of rubbing "
    "against what its material bears.",
    (pressure_times_speed,),
    _FURLED,
    (LONGER_BUSH, SLOWER),
)


@dataclass(frozen=True)
class Drawn:
    """What sail and bearings feel in the reference wind, calm weight apart.

    Parameters
    ----------
    cloth_N_m : float
        Torque of the cloth.
    partners_N, step_N : float
        Forces of the bearings.
    partners_rad, step_rad : float
        Slopes of the mast in them.
    down_N, calm_down_N : float
        What comes down on the step, in the reference wind and in a calm.
    """

    cloth_N_m: float
    partners_N: float
    step_N: float
    partners_rad: float
    step_rad: float
    down_N: float
    calm_down_N: float


@dataclass(frozen=True)
class Gear:
    """Everything that turns: bearings and furling gear, with what stands in them."""

    bearings: Bearings
    furling: Furling
    partners: Journal
    step: Journal


@dataclass(frozen=True)
class Effort:
    """Torque by wind for one way the sail stands, at one bound of friction."""

    cloth_N_m: float
    partners_N_m: float
    step_N_m: float
    thrust: Callable[[Value], Value]
    drawn: Drawn

    def parts(self, wind_m_s: Value) -> tuple[tuple[str, Value], ...]:
        """Return what the torque is made of."""
        grown = (wind_m_s / REFERENCE_M_S) ** 2
        down = self.drawn.calm_down_N + (self.drawn.down_N - self.drawn.calm_down_N) * grown
        return (
            ("cloth", self.cloth_N_m * grown),
            ("partners", self.partners_N_m * grown),
            ("step", self.step_N_m * grown),
            ("thrust", self.thrust(np.maximum(down, 0.0))),
        )

    def torque_N_m(self, wind_m_s: Value) -> Value:
        return sum(torque for _, torque in self.parts(wind_m_s))

    def by_wind(self) -> Callable[[Value], Value]:
        """Return `torque_N_m` for whoever asks it of many winds: each face rubs by so much for a newton on it."""
        each_newton, drawn = float(self.thrust(1.0)), self.drawn
        turned = self.cloth_N_m + self.partners_N_m + self.step_N_m

        def torque_N_m(wind_m_s: Value) -> Value:
            grown = (wind_m_s / REFERENCE_M_S) ** 2
            down = drawn.calm_down_N + (drawn.down_N - drawn.calm_down_N) * grown
            return turned * grown + each_newton * np.maximum(down, 0.0)

        return torque_N_m


def efforts(gear: Gear, drawn: Drawn, working: Working) -> tuple[Effort, Effort]:
    """Return the torque of furling by wind, with the lowest and the highest friction.

    Parameters
    ----------
    gear : Gear
        What turns.
    drawn : Drawn
        Forces in the reference wind.
    working : Working
        Where steps are noted.
    """
    step = gear.bearings.step
    # a step without a face of its own turns on the end of the tube
    face = step.thrust or Thrust(outer_m=gear.step.diameter_m)
    partners = _rubbing(gear.bearings.partners, gear.partners, drawn.partners_N, drawn.partners_rad, working)
    heel = _rubbing(step, gear.step, drawn.step_N, drawn.step_rad, working)

    def felt(bound: int, mu: float) -> Effort:
        return Effort(
            cloth_N_m=drawn.cloth_N_m,
            partners_N_m=partners[bound],
            step_N_m=heel[bound],
            thrust=lambda down: thrust_torque(face, force_N=down, friction=mu, working=working),
            drawn=drawn,
        )

    low, high = friction_of(step) or (0.0, 0.0)
    return felt(0, low), felt(1, high)


def _rubbing(
    bearing: Bearing, journal: Journal, force_N: float, slope_rad: float, working: Working
) -> tuple[float, float]:
    """Friction torque of one bearing in the reference wind, low and high."""
    friction, use, D = friction_of(bearing), working.use, journal.diameter_m
    if friction is None or force_N <= 0.0:
        return 0.0, 0.0
    at_line = tuple(float(use(journal_friction_torque, mu=mu, F=force_N, D=D)) for mu in friction)
    if bearing.kind == "plain":
        contact = leaning_contact(bearing, material_of(bearing), journal, force_N, slope_rad, working)
        factor = CLOSE_FACTOR if contact is None else max(contact.friction_factor, 1.0)
        return at_line[0] * factor, at_line[1] * factor
    shares = roller_shares(bearing, material_of(bearing), journal, force_N, working)
    d, L = bearing.diameter_m, bearing.length_m
    total = force_N * CLOSE_FACTOR if shares is None else shares.total_N
    if d is None or L is None:
        return at_line[0], at_line[1]
    if bearing.pin_m is not None:
        low, high = (
            float(use(pinned_roller_torque, mu=mu, Q=total, D=D, d=d, d_p=bearing.pin_m)) for mu in friction
        )
        return low, high
    material = material_of(bearing)
    if material is None or material.E_Pa is None:
        return at_line[0], at_line[1]
    nu = FREE_NU if material.nu is None else material.nu.low
    E_s = use(contact_modulus, E_1=journal.E_Pa, nu_1=journal.nu, E_2=material.E_Pa.low, nu_2=nu)
    largest = total if shares is None else shares.largest_by_place_N
    a = use(line_half_width, q=largest / L, R=use(convex_radius, R_1=d / 2, R_2=D / 2), E_s=E_s)
    low, high = (
        float(use(caged_roller_torque, e=use(hysteresis_arm, a=a, share=share), Q=total, D=D, d=d))
        for share in HYSTERESIS
    )
    return low, high


@dataclass(frozen=True)
class _Line:
    """From a torque to the hand."""

    drum: Drum
    tackle: Tackle
    lever_m: float
    working: Working

    def hand_N(self, torque_N_m: float) -> float:
        pull = self.working.use(drum_line_pull, T=torque_N_m, D_k=self.lever_m)
        return float(self.tackle.hand_pull_N(pull, self.working))

    def wind(self, felt: Effort, hand_N: float) -> FurlingWind:
        # what the hand pulls for each newton metre is the same in every wind
        torque_N_m, for_each = felt.by_wind(), self.hand_N(1.0)

        def pull_N(speed_m_s: Value) -> Value:
            return for_each * torque_N_m(speed_m_s)

        return furling_wind(pull_N, hand_N=hand_N, strongest_m_s=STRONGEST_M_S)


def furling_result(
    gear: Gear,
    *,
    luffed: Drawn,
    loaded: Drawn,
    roll: Roll,
    rolls: Sequence[RollAt],
    held: Sequence[HeldTorque],
    wind_m_s: float,
    working: Working,
) -> FurlingResult:
    """Return what it takes to roll the sail away.

    Parameters
    ----------
    gear : Gear
        What turns.
    luffed, loaded : Drawn
        Forces in the reference wind with the sail let fly, and drawing.
    roll : Roll
        Turns and diameters.
    rolls : sequence of RollAt
        The same by height, for the reader.
    held : sequence of HeldTorque
        What the drum must hold in every case with sail set.
    wind_m_s : float
        Wind for which pull and shares are told.
    working : Working
        Where steps are noted.
    """
    f = gear.furling
    drum = Drum(diameter_m=f.drum_diameter_m, width_m=f.drum_width_m, line_m=f.line_diameter_m)
    tackle = Tackle(
        parts=f.purchase,
        blocks=f.lead_blocks,
        sheave_loss=f.sheave_loss,
        fairlead_rad=f.fairlead_rad,
        fairlead_friction=f.fairlead_friction,
    )
    line = _Line(drum, tackle, float(drum.lever_m(roll.turns, working)), working)
    felt = {name: efforts(gear, drawn, working) for name, drawn in (("luffed", luffed), ("loaded", loaded))}
    low, high = ({name: both[bound] for name, both in felt.items()} for bound in (0, 1))
    answers = {name: _told(line.wind(one, f.hand_pull_N)) for name, one in high.items()}
    lower = {name: _told(line.wind(one, f.hand_pull_N)) for name, one in low.items()}
    ways = _ways(gear, line, high, f.hand_pull_N)
    bare = float(drum.lever_m(0.0, working))
    # friction may fail to help to hold: none is counted
    pulls = [held_line_pull(turning_torque(h.torque_N_m), bare, working) for h in held]
    most = max([*pulls, tackle.line_pull_N(f.hand_pull_N, working)])
    allowed = None
    if f.line_strength_N is not None:
        allowed = float(working.use(allowed_line_pull, B=f.line_strength_N, factor=f.line_factor))
    pressure, pv, pv_allowed, wear = _rub(gear, loaded, answers["loaded"], line.lever_m, roll.turns, working)
    return FurlingResult(
        turns=roll.turns,
        rolls=tuple(rolls),
        drum_layers=drum.layers(roll.turns, working),
        line_m=drum.line_length_m(roll.turns, working),
        wind_m_s=wind_m_s,
        pull_low_N=line.hand_N(low["loaded"].torque_N_m(wind_m_s)),
        pull_high_N=line.hand_N(high["loaded"].torque_N_m(wind_m_s)),
        luffed_m_s=answers["luffed"],
        loaded_m_s=answers["loaded"],
        luffed_low_m_s=lower["luffed"],
        loaded_low_m_s=lower["loaded"],
        shares=tuple((name, float(torque)) for name, torque in high["loaded"].parts(wind_m_s)),
        line_pull_N=most,
        line_allowed_N=allowed,
        pressure_Pa=pressure,
        pressure_allowed_Pa=turning_pressure(gear.bearings.partners, material_of(gear.bearings.partners)),
        pv_Pa_m_s=pv,
        pv_allowed_Pa_m_s=pv_allowed,
        wear_m=wear,
        held=tuple(held),
        ways=ways,
        said=_said(answers, lower, ways, f.hand_pull_N),
        notes=_notes(gear),
    )


def _told(found: FurlingWind) -> float:
    """Return a wind as a number: zero for never, the strongest tried for always."""
    if found.answer == "never":
        return 0.0
    return found.strongest_m_s if found.speed_m_s is None else found.speed_m_s


def _ways(gear: Gear, line: _Line, high: dict[str, Effort], hand_N: float) -> tuple[Way, ...]:
    """Return what changes of the gear would bring, the best first."""

    def rubbing(felt: Effort, partners: float, step: float) -> Effort:
        return replace(felt, partners_N_m=felt.partners_N_m * partners, step_N_m=felt.step_N_m * step)

    shares = {}
    for name, bearing in (("partners", gear.bearings.partners), ("step", gear.bearings.step)):
        friction = friction_of(bearing)
        shares[name] = 1.0 if friction is None else min(1.0, SLIPPERY / friction[1])
    f, changes = gear.furling, []
    wider = replace(line, lever_m=line.lever_m * 1.5)
    changes.append((f"a drum half as large again, {f.drum_diameter_m * 1.5e3:.0f} mm", wider, high))
    more = replace(line, tackle=replace(line.tackle, parts=line.tackle.parts + 1))
    changes.append((f"one part more of purchase, {f.purchase + 1}:1", more, high))
    slick = {name: rubbing(felt, shares["partners"], shares["step"]) for name, felt in high.items()}
    changes.append((f"bushes with a friction of {SLIPPERY:g}", line, slick))
    if gear.bearings.partners.kind == "plain":
        rolling = {name: rubbing(felt, ROLLER_SHARE, 1.0) for name, felt in high.items()}
        changes.append(("rollers on pins at the partners", line, rolling))
    ways = [
        Way(
            change,
            _told(gear_line.wind(felt["luffed"], hand_N)),
            _told(gear_line.wind(felt["loaded"], hand_N)),
        )
        for change, gear_line, felt in changes
    ]
    return tuple(sorted(ways, key=lambda way: -way.loaded_m_s))


def _rub(
    gear: Gear, loaded: Drawn, wind_m_s: float, lever_m: float, turns: float, working: Working
) -> tuple[float | None, float | None, float | None, float | None]:
    """Return pressure at the partners while furling, that times speed, what is allowed, and the wear of a thousand."""
    bearing, material = gear.bearings.partners, material_of(gear.bearings.partners)
    if bearing.kind != "plain" or bearing.length_m is None or material is None:
        return None, None, None, None
    use, D = working.use, gear.partners.diameter_m
    force = loaded.partners_N * (wind_m_s / REFERENCE_M_S) ** 2
    p = use(projected_pressure, where="partners", F=force, L=bearing.length_m, D=D)
    speed = gear.furling.line_speed_m_s / gear.furling.purchase * D / lever_m
    pv = float(use(pressure_times_speed, p=p, V=speed))
    wear = None
    if material.wear_per_Pa is not None:
        wear = float(use(wear_in_turning, k_w=material.wear_per_Pa.high, p=p, D=D, turns=1000 * turns))
    return float(p), pv, None if material.pv_Pa_m_s is None else material.pv_Pa_m_s.low, wear


def _said(answers: dict[str, float], lower: dict[str, float], ways: Sequence[Way], hand_N: float) -> str:
    """Return the answer in words."""

    def wind(name: str) -> str:
        if answers[name] <= 0.0:
            return "not even in a calm"
        if answers[name] >= STRONGEST_M_S:
            return f"in any wind up to {STRONGEST_M_S:.0f} m/s"
        return f"in up to {answers[name]:.1f} m/s ({answers[name] * 3600 / 1852:.0f} kn)"

    loaded = answers["loaded"]
    verdict = (
        "It can be furled under load"
        if loaded >= 8.0
        else "It can hardly be furled under load: let the sail fly first"
    )
    best = ways[0]
    return (
        f"{verdict}. One person pulling {hand_N:.0f} N rolls it away {wind('loaded')} while it draws, and "
        f"{wind('luffed')} when it is let fly, with the friction at its highest; at its lowest up to "
        f"{lower['loaded']:.1f} and {lower['luffed']:.1f} m/s. What would help most: {best.change}, to "
        f"{best.loaded_m_s:.1f} m/s drawing and {best.luffed_m_s:.1f} m/s let fly."
    )


def furling_checks(result: FurlingResult, height_m: float) -> list[Check]:
    """Return the checks of line and bush while furling; wear and hand are told, not judged.

    Parameters
    ----------
    result : FurlingResult
        What furling takes.
    height_m : float
        Of the partners.
    """
    found: list[tuple[About, float, float, str, Callable[..., object], str]] = []
    if result.line_allowed_N is not None:
        short = result.line_pull_N / result.line_allowed_N
        found.append(
            (
                LINE,
                result.line_pull_N,
                result.line_allowed_N,
                "N",
                allowed_line_pull,
                f"{STRONGER_LINE.said(times=short)}, or {LARGER_DRUM.said(times=short)}",
            )
        )
    if result.pressure_Pa is not None and result.pressure_allowed_Pa is not None:
        used = result.pressure_Pa / result.pressure_allowed_Pa
        found.append(
            (
                TURNING_PRESSURE,
                result.pressure_Pa,
                result.pressure_allowed_Pa,
                "Pa",
                projected_pressure,
                f"{LONGER_BUSH.said(times=used)}, or {LET_FLY.said()}",
            )
        )
    if result.pv_Pa_m_s is not None and result.pv_allowed_Pa_m_s is not None:
        used = result.pv_Pa_m_s / result.pv_allowed_Pa_m_s
        found.append(
            (
                PV,
                result.pv_Pa_m_s,
                result.pv_allowed_Pa_m_s,
                "Pa m/s",
                pressure_times_speed,
                f"{LONGER_BUSH.said(times=used)}, or {SLOWER.said()}",
            )
        )
    return [
        check_of(
            about,
            case="furling",
            height_m=height_m,
            demand=demand,
            capacity=capacity,
            unit=unit,
            formula=formula,
            cure=cure,
        )
        for about, demand, capacity, unit, formula, cure in found
    ]


def _notes(gear: Gear) -> tuple[str, ...]:
    notes = ["Forces on the mast are those of all sail out, with no gust and the boat upright."]
    if gear.bearings.step.thrust is None:
        notes.append(
            "The step has no thrust face in the file: the mast is taken to turn on the end of its tube."
        )
    return tuple(notes)
