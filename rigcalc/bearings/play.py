"""The play to machine between bush and mast, so that it turns hot and wet and does not rattle in the cold.

Lengths change from the bench by temperature and moisture. A bush that nothing holds carries its bore with it. Held
by its housing, its outside follows that, and what it would have grown goes inwards with the wall. Glued, it is held
both ways; pressed, only while it stays tight, and plastic loses its tightness with time, so both are looked at;
loose, only once it has grown into its hole. Glue holds it along the mast as well. It is taken as machined dry.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from typing import Literal

from ..formulas import Working
from ..formulas.bearings import (
    bonded_thickening,
    bush_grip,
    free_bush_play_change,
    gripped_bore_loss,
    pressed_bore_loss,
    thermal_growth,
)
from ..frozen import dataclass

Held = Literal["glued", "pressed", "loose"]


@dataclass(frozen=True, kw_only=True)
class Bush:
    """A bush between mast and housing.

    Parameters
    ----------
    diameter_m : float
        Of its bore, which is nearly that of the mast.
    wall_m : float
        Its thickness.
    expansion_per_K : tuple of float
        Lowest and highest coefficient of expansion.
    swelling : float
        Linear growth from dry to soaked, at most.
    nu : float
        Poisson's ratio.
    held : {"glued", "pressed", "loose"}
        How its housing holds it; "glued" stands for screwed as well.
    misfit_m : float
        How much wider it is than its hole; below zero for one that is loose.
    """

    diameter_m: float
    wall_m: float
    expansion_per_K: tuple[float, float]
    swelling: float
    nu: float
    held: Held
    misfit_m: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Weather:
    """A state the mast must turn in.

    Parameters
    ----------
    name : str
        In words.
    warmer_K : float
        Warmer than the workshop by this.
    soaked : float
        Share of the way from dry to soaked.
    """

    name: str
    warmer_K: float
    soaked: float


@dataclass(frozen=True, kw_only=True)
class Play:
    """How the play changes from the bench to one state, at least and at most."""

    weather: str
    least_change_m: float
    most_change_m: float


@dataclass(frozen=True, kw_only=True)
class PlayWindow:
    """What may be machined.

    Parameters
    ----------
    least_m, most_m : float
        Play on the diameter at the bench, the bush in its housing. There is none where least is over most.
    tightest, loosest : str
        The states that set them.
    plays : tuple of Play
        Every state.
    before_fitting_m : float
        To be added when the bore is machined before the bush is pressed in.
    """

    least_m: float
    most_m: float
    tightest: str
    loosest: str
    plays: tuple[Play, ...]
    before_fitting_m: float

    @property
    def possible(self) -> bool:
        return self.least_m <= self.most_m

    def play_m(self, machined_m: float) -> tuple[float, float]:
        """Return the least and greatest play over all states for one that was machined."""
        return (
            machined_m + min(p.least_change_m for p in self.plays),
            machined_m + max(p.most_change_m for p in self.plays),
        )


def play_window(
    bush: Bush,
    *,
    mast_expansion_per_K: float,
    mast_swelling: float,
    housing_expansion_per_K: float,
    weathers: Sequence[Weather],
    least_play_m: float,
    most_play_m: float,
    out_of_round_m: float,
    working: Working,
) -> PlayWindow:
    """Return the play to machine.

    Parameters
    ----------
    bush : Bush
        The bush.
    mast_expansion_per_K, mast_swelling : float
        Of the mast; swelling from the bench to soaked, for timber.
    housing_expansion_per_K : float
        Of the hull or post round the bush.
    weathers : sequence of Weather
        At least one.
    least_play_m, most_play_m : float
        Play on the diameter that must be left, and that is still no rattle.
    out_of_round_m : float
        By how much the mast's largest diameter is over the one that was measured, tolerance included.
    working : Working
        Keeps the steps.
    """
    if not weathers:
        raise ValueError("there is no weather to turn in")
    if (bush.held == "loose" and bush.misfit_m > 0) or (bush.held == "pressed" and bush.misfit_m < 0):
        raise ValueError(f"a {bush.held} bush is not wider than its hole by {bush.misfit_m} m")

    def changes(weather: Weather) -> Play:
        mast = working.use(thermal_growth, alpha=mast_expansion_per_K, dT=weather.warmer_K)
        mast += mast_swelling * weather.soaked
        housing = working.use(thermal_growth, alpha=housing_expansion_per_K, dT=weather.warmer_K)
        found = []
        # soaked at most: a maker's figure for swelling is an upper one
        for alpha, soaked in product(bush.expansion_per_K, (0.0, weather.soaked)):
            own = working.use(thermal_growth, alpha=alpha, dT=weather.warmer_K) + bush.swelling * soaked
            for misfit in _misfits(bush):
                found.append(_change(bush, float(own), float(housing), float(mast), misfit, working))
        return Play(weather=weather.name, least_change_m=min(found), most_change_m=max(found))

    plays = tuple(changes(weather) for weather in weathers)
    tightest = min(plays, key=lambda p: p.least_change_m)
    loosest = max(plays, key=lambda p: p.most_change_m)
    return PlayWindow(
        least_m=least_play_m + out_of_round_m - tightest.least_change_m,
        most_m=most_play_m - loosest.most_change_m,
        tightest=tightest.weather,
        loosest=loosest.weather,
        plays=plays,
        before_fitting_m=float(
            working.use(pressed_bore_loss, i=bush.misfit_m if bush.held == "pressed" else 0.0, share=1.0)
        ),
    )


def _misfits(bush: Bush) -> tuple[float, ...]:
    """Return the misfits to look at: a pressed bush as fitted, and when it has gone slack."""
    return (bush.misfit_m, 0.0) if bush.held == "pressed" else (bush.misfit_m,)


def _change(bush: Bush, own: float, housing: float, mast: float, misfit: float, working: Working) -> float:
    """Return how much play is gained since the bench."""
    D, t = bush.diameter_m, bush.wall_m
    free = working.use(free_bush_play_change, D=D, epsilon_b=own, epsilon_s=mast)
    grip = float(working.use(bush_grip, D=D, t=t, epsilon_b=own, epsilon_h=housing, i=misfit))
    held = grip - misfit if bush.held == "glued" else max(grip, 0.0) - max(misfit, 0.0)
    thicker = working.use(bonded_thickening, nu=bush.nu) if bush.held == "glued" else bush.nu
    return float(free - working.use(gripped_bore_loss, where="bush", x=held, D=D, t=t, kappa=thicker))
