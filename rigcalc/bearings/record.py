"""What the bearings, the furling gear and the hull are told to bear."""

from __future__ import annotations

from typing import Literal

from ..frozen import dataclass
from .play import PlayWindow


@dataclass(frozen=True)
class Rollers:
    """How the rollers share the worst force: by Stribeck's load zone, and roller by roller at the worst place."""

    count: int
    largest_by_zone_N: float
    largest_by_place_N: float
    total_N: float
    contact_pressure_Pa: float


@dataclass(frozen=True)
class BearingResult:
    """One bearing in its worst case.

    Parameters
    ----------
    name : str
        ``partners`` or ``step``.
    kind, material : str or None
        As the file has them; without a kind only the force is told.
    case : str
        Where the force is greatest.
    force_N : float
        That force.
    journal_m, length_m : float
        What turns in it, and how long it is; no length, no pressure.
    pressure_Pa, peak_pressure_Pa : float or None
        On the projected area, and at the middle of a close bush.
    standing_Pa, turning_Pa : float or None
        Allowed while the mast stands and turns.
    slope_rad, slope_case : float, str
        Greatest slope of the mast against the bearing.
    edge_free_length_m : float or None
        Longest bush that is not touched by both edges at that slope.
    contact_width_m, contact_pressure_Pa : float or None
        Hertz's line contact in the bore: the greatest width that bears, and the pressure on it. The half-space it
        stands on is strained in so close a fit, and a thin bush on a stiff backing bears on less.
    creep_m : float or None
        What a lasting load presses the bush in.
    lasting_pressure_Pa, lasting_allowed_Pa : float or None
        Pressure of that load, and what the bush bears for weeks.
    edge_pressure_Pa : float or None
        Highest pressure in the bush where the mast leans in it, the bush giving way as a layer.
    touches_both_edges : bool
        Whether the mast bears on both edges then.
    window : PlayWindow or None
        The clearance to machine, over heat and water.
    play_left_m : (float, float) or None
        Least and greatest play over all of them with the clearance of the file.
    rollers : Rollers or None
        How rollers share the load.
    notes : tuple of str
        What could not be worked out, and why.
    """

    name: str
    kind: str | None
    material: str | None
    case: str
    force_N: float
    journal_m: float
    length_m: float | None
    pressure_Pa: float | None
    peak_pressure_Pa: float | None
    standing_Pa: float | None
    turning_Pa: float | None
    slope_rad: float
    slope_case: str
    edge_free_length_m: float | None
    contact_width_m: float | None
    contact_pressure_Pa: float | None
    creep_m: float | None
    lasting_pressure_Pa: float | None
    lasting_allowed_Pa: float | None
    edge_pressure_Pa: float | None
    touches_both_edges: bool
    window: PlayWindow | None
    play_left_m: tuple[float, float] | None
    rollers: Rollers | None
    notes: tuple[str, ...]


@dataclass(frozen=True)
class ThrustResult:
    """The weight on the step.

    Parameters
    ----------
    case, down_N : str, float
        Worst case, and how hard the mast stands on the step.
    uplift_case, uplift_N : str or None, float
        Case in which it is drawn out hardest, and how hard; nothing where it never is.
    inverted_N : float
        Its weight, which it hangs by when the boat lies upside down.
    pressure_Pa : float or None
        On the face; None where the file has none.
    torque_low_N_m, torque_high_N_m : float or None
        Friction by both bounds of the coefficient.
    cone_holds_N : float or None
        Side force up to which a cone keeps the heel down under the least weight on it; None for other faces.
    """

    case: str
    down_N: float
    uplift_case: str | None
    uplift_N: float
    inverted_N: float
    pressure_Pa: float | None
    torque_low_N_m: float | None
    torque_high_N_m: float | None
    cone_holds_N: float | None


@dataclass(frozen=True)
class HullLoad:
    """What one case asks of the hull: forces of the mast on it, to leeward, forward and down.

    Each is the larger of the straight and the bent mast: ``partners_mast`` and ``step_mast`` tell which. On the other
    tack the side forces change sign. ``couple_N_m`` is the moment that partners and step, or the foot of a post, must
    hold together.
    """

    case: str
    partners_side_N: float
    partners_forward_N: float
    step_side_N: float
    step_forward_N: float
    step_down_N: float
    couple_N_m: float
    partners_mast: Literal["straight", "bent"]
    step_mast: Literal["straight", "bent"]

    @property
    def mast(self) -> str:
        """The mast whose forces these are, in a word where partners and step have the same."""
        if self.partners_mast == self.step_mast:
            return self.partners_mast
        return f"{self.partners_mast}, step {self.step_mast}"


@dataclass(frozen=True)
class RollAt:
    """The roll at one height when all of a sail is rolled on."""

    height_m: float
    mast_m: float
    roll_m: float


@dataclass(frozen=True)
class Way:
    """A change of the furling gear, and the wind up to which one person can then furl."""

    change: str
    luffed_m_s: float
    loaded_m_s: float


@dataclass(frozen=True)
class HeldTorque:
    """Torque that the drum must hold under a sail in one case, and how far the mast twists under it."""

    case: str
    torque_N_m: float
    twist_rad: float


@dataclass(frozen=True)
class FurlingResult:
    """Rolling the sail away.

    Parameters
    ----------
    turns : float
        Turns of the mast from all set to all rolled.
    rolls : tuple of RollAt
        Diameters along the luff.
    drum_layers, line_m : float
        Layers of line on the full drum, and line on it.
    pull_low_N, pull_high_N : float
        Pull of the hand in the wind named, by both bounds of friction, the sail loaded.
    wind_m_s : float
        That wind.
    luffed_m_s, loaded_m_s : float
        Wind up to which one person can furl, at the high bound of friction: with the sail let fly, and drawing.
    luffed_low_m_s, loaded_low_m_s : float
        The same at the low bound.
    shares : tuple of (str, float)
        What the torque is made of, in the wind named, at the high bound.
    line_pull_N, line_allowed_N : float, float or None
        Greatest pull in the line on the drum, and what it may bear.
    pressure_Pa, pressure_allowed_Pa : float or None
        Pressure at the partners while furling in the loaded wind, and what the bush bears turning.
    pv_Pa_m_s, pv_allowed_Pa_m_s : float or None
        Pressure times speed at the partners while furling in the loaded wind, and what the bush bears.
    wear_m : float or None
        Depth worn off there by a thousand furls in that wind.
    held : tuple of HeldTorque
        Torque held in every case with sail set.
    ways : tuple of Way
        Changes, the one that helps most first.
    said : str
        The answer in words.
    notes : tuple of str
        What was taken for granted.
    """

    turns: float
    rolls: tuple[RollAt, ...]
    drum_layers: int
    line_m: float
    wind_m_s: float
    pull_low_N: float
    pull_high_N: float
    luffed_m_s: float
    loaded_m_s: float
    luffed_low_m_s: float
    loaded_low_m_s: float
    shares: tuple[tuple[str, float], ...]
    line_pull_N: float
    line_allowed_N: float | None
    pressure_Pa: float | None
    pressure_allowed_Pa: float | None
    pv_Pa_m_s: float | None
    pv_allowed_Pa_m_s: float | None
    wear_m: float | None
    held: tuple[HeldTorque, ...]
    ways: tuple[Way, ...]
    said: str
    notes: tuple[str, ...]


@dataclass(frozen=True)
class TurningResult:
    """Everything about what the mast stands and turns in.

    Parameters
    ----------
    partners, step : BearingResult
        The two bearings.
    thrust : ThrustResult
        The weight.
    hull : tuple of HullLoad
        What the hull must carry, case by case.
    furling : FurlingResult or None
        Rolling the sail away, where the file has the gear for it.
    """

    partners: BearingResult
    step: BearingResult
    thrust: ThrustResult
    hull: tuple[HullLoad, ...]
    furling: FurlingResult | None
