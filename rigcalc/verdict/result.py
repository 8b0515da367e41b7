"""The answer of a check: everything a reader, a file or a plot takes, and nothing else."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..bearings import TurningResult
from ..frozen import dataclass
from ..limits import Check
from ..notebook import InNotebook

Floats = NDArray[np.float64]

SCHEMA_VERSION = "1"


@dataclass(frozen=True)
class Assumption:
    """Something taken for granted: a default with its source, or a choice of the method."""

    path: str
    value: str
    default: bool
    source: str


@dataclass(frozen=True)
class Shedding:
    """Wind that sheds vortices in time with one of the mast's frequencies.

    Parameters
    ----------
    condition : str
        ``bare``, or ``sail rolled``.
    mode : int
        1 or 2.
    wind_m_s : float
        Critical wind.
    sway_m : float or None
        Sway it may build up to, where the source's factors hold; None elsewhere.
    scruton : float
        Mass and damping against the air.
    """

    condition: str
    mode: int
    frequency_Hz: float
    wind_m_s: float
    sway_m: float | None
    scruton: float


@dataclass(frozen=True)
class StabilityCost:
    """What the mast's mass costs the boat, in all and against a reference mast.

    Parameters
    ----------
    compared_with_kg : float
        Mass of the reference mast; zero when none is given, so that the whole mast counts.
    gm_loss_m, moment_30_loss_N_m : float
        Loss of metacentric height, and of righting moment at 30 deg.
    roll_inertia_kg_m2 : float
        Moment of inertia in roll of the mast about the boat's centre of gravity.
    ballast_kg : float
        Ballast that would make up for the difference in mass.
    """

    compared_with_kg: float
    gm_loss_m: float
    moment_30_loss_N_m: float
    roll_inertia_kg_m2: float
    ballast_kg: float


@dataclass(frozen=True)
class MastResult:
    """The spar as it is, without a load.

    Parameters
    ----------
    axial_stability_N : float
        Compression at the tip that makes the mast unstable, own weight left out.
    """

    length_m: float
    mass_kg: float
    centre_of_gravity_m: float
    natural_frequencies_Hz: tuple[float, float]
    axial_stability_N: float
    stability_cost: StabilityCost
    vortex_shedding: tuple[Shedding, ...]


@dataclass(frozen=True)
class PathResult:
    """What one load path makes of one case."""

    case: str
    load_path: str
    partners_moment_N_m: float
    tip_deflection_m: float
    utilisation: float
    passed: bool


@dataclass(frozen=True)
class CaseResult:
    """What one case does to the mast.

    Forces of the bearings are those on the mast; their parts are positive to leeward and forward. Forces
    and moments are those of the straight mast, which stand in balance, and ``bent_...`` the largest on the bent one,
    None where it found no equilibrium; the limits take the larger, as ``partners_N`` and ``step_N`` do.
    Sizes without a direction are resultants of both planes. A mast that is not round is solved at every angle
    it can be turned to: ``turn_deg`` is the one at which the tip goes farthest.
    """

    name: str
    kind: str
    state: str
    wind_speed_m_s: float | None
    heel_deg: float | None
    partners_force_N: float
    partners_side_N: float
    partners_forward_N: float
    step_force_N: float
    step_side_N: float
    step_forward_N: float
    step_thrust_N: float
    partners_moment_N_m: float
    max_moment_N_m: float
    max_moment_height_m: float
    bent_partners_force_N: float | None
    bent_step_force_N: float | None
    bent_moment_N_m: float | None
    bury_shear_N: float
    bent_bury_shear_N: float | None
    torque_N_m: float
    tip_deflection_m: float
    tip_deflection_large_m: float | None
    turn_deg: float | None
    partners_slope_rad: float
    axial_load_factor: float | None
    notes: tuple[str, ...]

    @property
    def partners_N(self) -> float:
        """Force of the upper bearing, the larger of straight and bent mast."""
        return max(self.partners_force_N, self.bent_partners_force_N or 0.0)

    @property
    def step_N(self) -> float:
        """Force of the lower bearing across the mast, the larger of straight and bent mast."""
        return max(self.step_force_N, self.bent_step_force_N or 0.0)


@dataclass(frozen=True)
class PostResult:
    """What one case does to the post that the mast turns on.

    Parameters
    ----------
    top_force_N, top_side_N, top_forward_N : float
        Force of the mast on the top of the post, the larger of straight and bent mast.
    foot_moment_N_m : float
        Moment at its foot: that of all loads above.
    top_deflection_m, top_slope_rad : float
        How far the top moves and leans.
    socket_top_force_N, socket_foot_force_N : float or None
        Forces at both ends of the socket; None where the foot is clamped.
    """

    case: str
    top_force_N: float
    top_side_N: float
    top_forward_N: float
    foot_moment_N_m: float
    top_deflection_m: float
    top_slope_rad: float
    socket_top_force_N: float | None
    socket_foot_force_N: float | None


@dataclass(frozen=True)
class Stations:
    """Values along the mast; a height that stands twice is a jump. Case arrays are (cases, heights)."""

    height_m: Floats
    diameter_m: Floats
    wall_m: Floats
    EI_N_m2: Floats
    cases: tuple[str, ...]
    shear_side_N: Floats
    shear_forward_N: Floats
    moment_side_N_m: Floats
    moment_forward_N_m: Floats
    slope_side_rad: Floats
    slope_forward_rad: Floats
    deflection_side_m: Floats
    deflection_forward_m: Floats
    utilisation: Floats


@dataclass(frozen=True)
class CheckResult(InNotebook):
    """From one rig to its verdict.

    Parameters
    ----------
    schema_version, rigcalc_version, title : str
        Of the form of this, of the program, and of the rig.
    cautions, warnings : tuple of str
        What every reader must know, and what this rig should make him look at.
    assumptions : tuple of Assumption
        Everything that was taken for granted.
    mast : MastResult
        The spar by itself: mass in kg, frequencies in Hz.
    cases : tuple of CaseResult
        What each case does to it: forces in N, moments in N m, lengths in m.
    load_paths : tuple of PathResult
        What each way of the sail's force into the mast would give.
    post : tuple of PostResult
        What the mast does to its post, by case; empty without one.
    turning : TurningResult or None
        Bearings and furling, where the file describes any.
    checks : tuple of Check
        One for each limit, layer and case.
    stations : Stations
        Arrays along the mast: (heights,), and (cases, heights).
    """

    schema_version: str
    rigcalc_version: str
    title: str
    cautions: tuple[str, ...]
    warnings: tuple[str, ...]
    assumptions: tuple[Assumption, ...]
    mast: MastResult
    cases: tuple[CaseResult, ...]
    load_paths: tuple[PathResult, ...]
    post: tuple[PostResult, ...]
    turning: TurningResult | None
    checks: tuple[Check, ...]
    stations: Stations

    def __repr__(self) -> str:
        worst = self.governing
        return (
            f"<CheckResult {self.title!r}: {self.verdict.upper()}, {len(self.checks)} checks in "
            f"{len(self.cases)} cases; {worst.id} in {worst.case!r} is used {worst.utilisation:.2f}>"
        )

    @property
    def passed(self) -> bool:
        """Whether every check passes."""
        return all(check.passed for check in self.checks)

    @property
    def verdict(self) -> str:
        return "pass" if self.passed else "fail"

    @property
    def governing(self) -> Check:
        """The check with the greatest utilisation; the first of equals."""
        return max(self.checks, key=lambda check: check.utilisation)
