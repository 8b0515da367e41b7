"""What the table of a species lacks, from the lowest ratio found among the species that have it.

A value so estimated is as low for its base as that of the weakest species of the table; every chain that
starts from one says so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from types import MappingProxyType
from typing import Any, Final

from ...frozen import dataclass
from ..timber_tables import TEST_MOISTURE, Average, ClearWood, clear_woods

_FROM: Final = {"shear": "compression", "compression_perp": "compression", "tension_perp": "shear"}
"""Property: the one it is estimated from, in the order in which they are filled."""
_GROWS_WET: Final = ("bending", "modulus", "compression", "shear", "compression_perp", "tension_perp")
_CALLED: Final = {
    "bending": "bending strength",
    "modulus": "the modulus",
    "compression": "crushing strength",
    "shear": "shear strength along the grain",
    "compression_perp": "the proportional limit across the grain",
    "tension_perp": "tension strength across the grain",
}


@dataclass(frozen=True)
class Filled:
    """A species with what it lacked.

    Parameters
    ----------
    wood : ClearWood
        With as much as can be estimated.
    dry, green : mapping
        Attribute of what was estimated -> how, at 12 % moisture and green.
    """

    wood: ClearWood
    dry: Mapping[str, str]
    green: Mapping[str, str]

    def cautions(self, moisture: float) -> tuple[str, ...]:
        """Return what the user must be told at a moisture."""
        found = []
        wet = {} if abs(moisture - TEST_MOISTURE) < 1e-9 else self.green
        for which, at in ((self.dry, ""), (wet, "green values of ")):
            if which:
                names = ", ".join(_CALLED[name] for name in which)
                found.append(
                    f"{self.wood.name}: {at}{names} are not in its table; estimated by the lowest ratio found in other "
                    "species, the safe side"
                )
        return tuple(found)


def filled(wood: ClearWood) -> Filled:
    """Return a species with what it lacks estimated, as far as it can be.

    Parameters
    ----------
    wood : ClearWood
        Shear and crushing across the grain follow from crushing along it, tension across the grain from
        shear, and green values from those at 12 %.
    """
    dry: dict[str, str] = {}
    green: dict[str, str] = {}
    for of, base in _FROM.items():
        own, known = _average(wood, of), _average(wood, base)
        if own.dry_Pa is None and known.dry_Pa is not None:
            ratio, count = _lowest(of, base)
            wood = _with(wood, of, replace(own, dry_Pa=ratio * known.dry_Pa))
            dry[of] = (
                f"{ratio:.3f} of {_CALLED[base]}, the lowest of {count} species in these tables (derived)"
            )
    for of in _GROWS_WET:
        own = _average(wood, of)
        if own.dry_Pa is not None and own.green_Pa is None:
            ratio, count = _lowest_green(of)
            wood = _with(wood, of, replace(own, green_Pa=ratio * own.dry_Pa))
            green[of] = f"green value {ratio:.3f} of that at 12 %, the lowest of {count} species (derived)"
    return Filled(wood, MappingProxyType(dry), MappingProxyType(green))


def _with(wood: ClearWood, of: str, average: Average) -> ClearWood:
    changed: dict[str, Any] = {of: average}
    return replace(wood, **changed)


def _average(wood: ClearWood, of: str) -> Average:
    found = getattr(wood, of)
    assert isinstance(found, Average)
    return found


@cache
def _lowest(of: str, base: str) -> tuple[float, int]:
    return _least(lambda wood: (_average(wood, of).dry_Pa, _average(wood, base).dry_Pa))


@cache
def _lowest_green(of: str) -> tuple[float, int]:
    return _least(lambda wood: (_average(wood, of).green_Pa, _average(wood, of).dry_Pa))


def _least(pick: Callable[[ClearWood], tuple[float | None, float | None]]) -> tuple[float, int]:
    """Return the lowest ratio among the species that have both, and how many they are."""
    ratios = [
        over / under for over, under in map(pick, clear_woods()) if over is not None and under is not None
    ]
    return min(ratios), len(ratios)
