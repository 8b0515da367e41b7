"""How large the largest stress range of a life may be: Miner's sum of narrow-band cycles along the S-N curve."""

from __future__ import annotations

import math
from functools import cache

import numpy as np

from ..formulas.fatigue import curve_range, narrow_band_damage, rms_of_largest, slope_past_the_knee
from ..frozen import dataclass
from ..roots import root

REFERENCE_CYCLES = 2e6
KNEE_CYCLES = 5e6
CUT_OFF_CYCLES = 1e8
MOST_TERMS = 10_000


@dataclass(frozen=True)
class Curve:
    """S-N curve of EN 1999-1-3: one slope to the knee, a flatter one to the cut-off, and no damage below.

    Parameters
    ----------
    category_Pa : float
        Stress range borne two million times, partial factor taken off.
    slope : float
        Slope up to the knee.
    """

    category_Pa: float
    slope: float

    @property
    def knee_Pa(self) -> float:
        """Stress range at the knee."""
        return float(curve_range(S_C=self.category_Pa, N_C=REFERENCE_CYCLES, N=KNEE_CYCLES, m=self.slope))

    @property
    def flatter(self) -> float:
        """Slope past the knee."""
        return float(slope_past_the_knee(m=self.slope))

    @property
    def cut_off_Pa(self) -> float:
        """Stress range below which a cycle does no damage."""
        return float(curve_range(S_C=self.knee_Pa, N_C=KNEE_CYCLES, N=CUT_OFF_CYCLES, m=self.flatter))


def upper_gamma(a: float, x: float) -> float:
    """Return the integral of t^(a-1) exp(-t) from x on, to about the rounding of a number.

    By the series of the part below x (DLMF 8.7.1) where x is below a + 1, and by Legendre's continued fraction (DLMF
    8.9.2) above, both from memory. `scipy.special` has it, but takes longer to load than a check may take to start;
    tests hold the two together.

    Parameters
    ----------
    a, x : float
        Above zero.

    Raises
    ------
    ArithmeticError
        If neither settles.
    """
    if not (0.0 < a < math.inf and 0.0 < x < math.inf):
        raise ValueError(f"the incomplete gamma function of {a} and {x} is not worked out here")
    front = math.exp(a * math.log(x) - x)
    if x < a + 1:
        term = total = 1 / a
        for n in range(1, MOST_TERMS):
            term *= x / (a + n)
            total += term
            if term < total * 1e-17:
                return math.gamma(a) - front * total
    else:
        # from the front, by Steed's way: the fraction is 1/(b0 - a1/(b1 - a2/(b2 - ...)))
        b = x + 1 - a
        d = change = total = 1 / b
        for n in range(1, MOST_TERMS):
            over, b = n * (a - n), b + 2
            d = 1 / (b + over * d)
            change *= b * d - 1
            total += change
            if abs(change) < abs(total) * 1e-17:
                return front * total
    raise ArithmeticError(f"the incomplete gamma function of {a} and {x} did not settle")


def rayleigh_damage(curve: Curve, *, largest_Pa: float, cycles: float) -> float:
    """Return the damage of a narrow-band life: its ranges are spread as Rayleigh's.

    Parameters
    ----------
    curve : Curve
        What the detail bears.
    largest_Pa : float
        Range that one of the cycles exceeds.
    cycles : float
        Their number.
    """

    def above(m: float, range_Pa: float) -> float:
        """Integral of the gamma function of 1 + m/2 over all cycles of more than a range."""
        return upper_gamma(1 + m / 2, range_Pa**2 / (8 * sigma**2))

    sigma = float(rms_of_largest(S=largest_Pa, N=cycles))
    knee, steep, flat = curve.knee_Pa, curve.slope, curve.flatter
    parts = ((steep, above(steep, knee)), (flat, above(flat, curve.cut_off_Pa) - above(flat, knee)))
    return float(
        sum(narrow_band_damage(n=cycles, S_C=knee, N_C=KNEE_CYCLES, sigma=sigma, m=m, g=g) for m, g in parts)
    )


@cache
def largest_range(curve: Curve, *, cycles: float) -> float:
    """Return the largest stress range of a narrow-band life that uses up Miner's sum of 1.

    The damage grows with the largest range. At the cut-off it is the share of a cycle or two in a hundred
    million; where the largest range alone would use up the life, at N_D^(1/m) knees, it is above 1.
    """

    def excess(log_range: float) -> float:
        return float(np.log(rayleigh_damage(curve, largest_Pa=float(np.exp(log_range)), cycles=cycles)))

    low, high = curve.cut_off_Pa, curve.knee_Pa * KNEE_CYCLES ** (1 / curve.slope)
    return float(np.exp(root(excess, np.log(low), np.log(high), xtol=1e-14, rtol=1e-14)))
