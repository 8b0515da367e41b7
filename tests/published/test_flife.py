"""Life of a narrow-band stress record, in amplitudes.

Source: ladisk/FLife, ``tests/test_basic.py``, a public package of spectral fatigue, read: a record of root
mean square 100, S-N curve s^k N = C with k = 6 and C = 1.8e19, narrow-band life 1064.2006 s. The rate of
upcrossings is not printed; 352.377 Hz was worked back from the life, so this shows that the two agree on the
gamma function and on powers, not on the rate. The source counts amplitudes: in ranges its curve is 2^k C.
"""

from __future__ import annotations

from math import gamma

import pytest

from rigcalc.formulas.fatigue import narrow_band_damage

from .record import Published, Source

SOURCE = Source("tests of FLife, a package of spectral fatigue", "fatigue", "read")

RATE_HZ = 352.377


def life_s() -> float:
    """Return the time to a damage of one."""
    cycles, amplitude = 1e6, 100.0
    borne_once = 2 * (1.8e19) ** (1 / 6)
    damage = narrow_band_damage(n=cycles, S_C=borne_once, N_C=1.0, sigma=amplitude, m=6.0, g=gamma(4.0))
    return float(cycles / RATE_HZ / damage)


CHECKS: list[Published] = [
    Published(
        "test_basic, narrow band",
        "life",
        1064.2006,
        "s",
        life_s,
        0.002,
        "half a unit of the last digit of the rate, 1.5e-6 of the life; the rate was worked back from it",
        kind="inferred",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
