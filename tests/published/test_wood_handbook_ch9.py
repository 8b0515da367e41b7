"""Size effect and tapered edge of wooden beams.

Source: USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-282 (2021), chapter 9: Eq. 9-16 with its
example on p. 9-9, Eq. 9-18 with its example on p. 9-10, Eq. 9-19; read in a copy.
"""

from __future__ import annotations

import math

import pytest
from scipy.special import beta

from rigcalc.formulas.timber import (
    standard_size_factor,
    taper_bending_stress,
    taper_cross_stress,
    taper_shear_stress,
    uniform_load_size_ratio,
)

from .record import Published, Source

SOURCE = Source(
    "Wood Handbook, chapter 9",
    "timber",
    "read",
    differs=(
        "The constant 3.876 of Eq. 9-19 is 3.888 by the integral behind it; to the power of 1/18 that is "
        "0.02 % of a strength.",
    ),
)

SLOPE = math.atan(0.1)
INCH = 0.0254


def deep_beam_psi() -> float:
    size = {"h_1": 10 * INCH, "L_1": 216 * INCH, "a_1": 72 * INCH}
    return 10_000.0 * float(standard_size_factor(A_0=56 * INCH**2, m=18.0, **size))


def taper_Pa(moment_N_m: float) -> float:
    return float(taper_bending_stress(M=moment_N_m, b=0.1, h_0=0.2))


def one_beam_both_ways() -> float:
    # a uniform load and a load in the middle of one beam
    return float(uniform_load_size_ratio(h_u=1.0, L_u=1.0, h_c=1.0, L_c=1.0, a_c=0.0))


CHECKS: list[Published] = [
    Published(
        "Eq. 9-18, example, p. 9-10",
        "bending strength of a beam 10 in deep on 216 in, loaded at its thirds",
        7_330.0,
        "psi",
        deep_beam_psi,
        5.0,
        step=10.0,
    ),
    Published(
        "Eq. 9-16, example, p. 9-9",
        "stress along a tapered edge, 100 x 200 mm",
        375.0,
        "Pa",
        lambda: taper_Pa(1.0),
        1e-9,
        "exact",
    ),
    Published(
        "Eq. 9-16, example, p. 9-9",
        "shear stress there",
        37.5,
        "Pa",
        lambda: float(taper_shear_stress(f_x=taper_Pa(1.0), alpha=SLOPE)),
        1e-9,
        "exact",
    ),
    Published(
        "Eq. 9-16, example, p. 9-9",
        "stress across the grain there",
        3.75,
        "Pa",
        lambda: float(taper_cross_stress(f_x=taper_Pa(1.0), alpha=SLOPE)),
        1e-9,
        "exact",
    ),
    Published(
        "Eq. 9-19, p. 9-11",
        "strength under a uniform load over that under one in the middle",
        3.876 ** (-1 / 18),
        "1",
        one_beam_both_ways,
        1e-12,
        "the printed constant itself",
        kind="formula",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()


def test_the_printed_constant_is_nearly_that_of_the_integral() -> None:
    """3.876 of Eq. 9-19 is nineteen times the integral of the moment to the 18th, which is 3.888."""
    integral = 19 * 4**18 * beta(19, 19)
    assert integral == pytest.approx(3.888, abs=5e-4)
    assert (integral / 3.876) ** (1 / 18) == pytest.approx(1.0, abs=2e-4)
