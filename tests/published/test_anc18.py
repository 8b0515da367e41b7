"""Slope of grain and moisture as aircraft builders reckoned with them.

Source: ANC-18, Design of Wood Aircraft Structures (June 1944), Table 2-2 for red and Sitka spruce and Table
2-4, read in a scan. The tables rest on older averages than those of the Wood Handbook of 2021.
"""

from __future__ import annotations

import math
from functools import partial

import pytest

from rigcalc.formulas.timber import hankinson, moisture_adjusted, moisture_stepwise
from rigcalc.materials.timber import Average, Size, design_timber, find_clear_wood

from .record import Published, Source

SOURCE = Source(
    "ANC-18",
    "timber",
    "read",
    differs=(
        "ANC-18 (1944) and the Wood Handbook (2021) rest on averages of other ages: 5.3 % of crushing "
        "strength for 1 % of moisture there, 5.1 % here; the stepwise rule of the first gives 26 psi in "
        "8,082 more than Eq. 5-3 of the second for Sitka spruce at 18 %. The tool uses Eq. 5-3.",
        "The loss of modulus with the slope of grain that ANC-18 tabulates for spruce is not a Hankinson "
        "curve: the fit used here is 1.2 below the 97 % at 1 in 12, on the safe side, and within half a "
        "per cent at 1 in 10 and 1 in 8.",
    ),
)

SITKA = find_clear_wood("Sitka spruce (US)")


def modulus_over_that_at_1_in_15_pct(run: float) -> float:
    """Return what the design values take, with 0.05 of the modulus across the grain."""

    def at(slope: float) -> float:
        return float(hankinson(P=1.0, Q=0.05, theta=math.atan(slope), n=2.0))

    return 100 * at(1 / run) / at(1 / 15)


def bending_over_that_at_1_in_15_pct(run: float) -> float:
    def at(slope: float) -> float:
        timber = design_timber(
            SITKA.name,
            basis="clear-wood",
            size=Size(section="solid round", depth_m=0.1, span_m=6.0, shear_length_m=0.8),
            moisture=0.12,
            load_duration=600.0,
            slope_of_grain=slope,
        )
        return timber.value_Pa("bending")

    return 100 * at(1 / run) / at(1 / 15)


def change_per_1_pct(average: Average) -> float:
    """Return what Eq. 5-3 of the Wood Handbook makes of 1 % of moisture, in percent."""
    assert average.dry_Pa is not None
    assert average.green_Pa is not None
    wetter = moisture_adjusted(P_12=average.dry_Pa, P_g=average.green_Pa, M=0.13, M_p=SITKA.green_limit)
    return 100 * (average.dry_Pa / float(wetter) - 1)


FIT = "one modulus across the grain stands for all species; the fit errs by 1.2, to the safe side"
AGES = "averages of another age stand behind the table"

CHECKS: list[Published] = [
    Published(
        "Table 2-4",
        "modulus at 1 in 12",
        97.0,
        "%",
        partial(modulus_over_that_at_1_in_15_pct, 12.0),
        1.2,
        FIT,
        kind="model",
    ),
    Published(
        "Table 2-4",
        "modulus at 1 in 10",
        91.0,
        "%",
        partial(modulus_over_that_at_1_in_15_pct, 10.0),
        0.5,
    ),
    Published(
        "Table 2-4", "modulus at 1 in 8", 84.0, "%", partial(modulus_over_that_at_1_in_15_pct, 8.0), 0.5
    ),
    *(
        Published(
            "Table 2-4",
            f"bending at 1 in {run:g}",
            share,
            "%",
            partial(bending_over_that_at_1_in_15_pct, run),
            1e-9,
            "the table's own values, carried through the design values",
            kind="table",
        )
        for run, share in ((12.0, 88.0), (10.0, 78.0), (8.0, 67.0))
    ),
    Published(
        "Table 2-2",
        "bending strength, change for 1 % of moisture",
        3.9,
        "%",
        partial(change_per_1_pct, SITKA.bending),
        0.06,
        AGES,
        kind="model",
    ),
    Published(
        "Table 2-2",
        "modulus, change for 1 % of moisture",
        1.7,
        "%",
        partial(change_per_1_pct, SITKA.modulus),
        0.07,
        AGES,
        kind="model",
    ),
    Published(
        "Table 2-2",
        "crushing along the grain, change for 1 % of moisture",
        5.3,
        "%",
        partial(change_per_1_pct, SITKA.compression),
        0.22,
        "the averages of 2021 give 5.1",
        kind="model",
    ),
    Published(
        "Table 2-2",
        "bending strength of Sitka spruce at 18 %, stepwise against the 8,082 psi of Eq. 5-3",
        8082.0,
        "psi",
        lambda: float(moisture_stepwise(P=10_200.0, p=0.039, steps=6.0)),
        26.0,
        "two rules for one thing, 0.32 % apart; 8,082 psi was worked out from Eq. 5-3",
        kind="model",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()


def test_modulus_of_the_fit_is_never_above_the_table() -> None:
    table = {12.0: 97.0, 10.0: 91.0, 8.0: 84.0}
    over = {run: modulus_over_that_at_1_in_15_pct(run) - share for run, share in table.items()}
    # the table is printed to whole percents
    assert all(difference <= 0.5 for difference in over.values()), over
