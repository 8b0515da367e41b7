"""What wood is told at whatever use: the least whole step that is enough, by the closed form of each limit."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from rigcalc import check, read_rig
from rigcalc.limits.record import Limit
from tests.timber_masts import C24, SITKA, even, plug, pushed, rig_text

from . import USES, least, limit_of, solved, told

HEIGHTS = '[bearings.partners]\nlength = "70 mm"\n[bearings.step]\nlength = "50 mm"\n'
POST = 'support = "post"\npost = {diameter = "50 mm", wall = "5 mm", material = "6082-T6 drawn"}'
AT = (3, 2)


def limit(id: str, material: str = SITKA, layer: str = "tube", **parts: object) -> Limit:
    result, _ = solved(read_rig(rig_text(material, **{"cases": pushed(1.0, axial=1.0), **parts})))  # type: ignore[arg-type]  # handed through
    return limit_of(result, id, layer)


def share(used: float) -> int:
    """Return the whole per cents that a load may keep, rounded down."""
    return math.floor(100 / used + 1e-6)


@pytest.mark.parametrize(("at", "height"), [("partners", 70.0), ("step", 50.0)])
def test_crushed(at: str, height: float) -> None:
    advise = limit(f"crushing-{at}", stations=even(0.12), more=HEIGHTS).advise
    for used in USES:
        taller, h, stouter, D = told(
            r"about (\d+) mm against the mast in place of (\d+), "
            r"or make the mast there about (\d+) mm in place of (\d+)",
            advise(used, AT),
        )
        assert (h, D) == (height, 120.0)
        assert taller == pytest.approx(least(height * used, 1.0))
        assert stouter == pytest.approx(least(120.0 * used, 1.0))


@pytest.mark.parametrize(("id", "power"), [("wall-bending-partners", 2.0), ("rolling-shear-partners", 1.0)])
def test_pressed_on_a_post(id: str, power: float) -> None:
    """Bending of the wall falls as its square, shear as the wall."""
    advise = limit(id, stations=even(0.14, 0.03), mast=POST, more=HEIGHTS).advise
    for used in USES:
        t, wall, h, taller = told(
            r"wall there from (\S+) to about (\S+) mm, or raise the height of the partners from (\d+) to about (\d+)",
            advise(used, AT),
        )
        assert (t, h) == (30.0, 70.0)
        assert wall == pytest.approx(least(30.0 * used ** (1 / power), 0.1))
        assert taller == pytest.approx(least(70.0 * used, 1.0))


def test_a_column() -> None:
    """Stiffness as the use, and a twentieth power more of it: a stiffer column is a stockier one."""
    advise = limit("column", stations=even(0.08)).advise
    for used in USES:
        stiffer, cut = told(r"about (\S+) times, or cut the thrust to (\d+)%", advise(used, AT))
        assert stiffer == pytest.approx(least(used**1.05, 0.01))
        assert cut == share(used)


@pytest.mark.parametrize("tail", [0, 40])
def test_the_end_of_a_plug(tail: int) -> None:
    """Shear falls as the length of transfer and half the taper: what is told gives one such length back."""
    mast = plug(0.0, 1.6, *([f'tail = "{tail} mm"'] if tail else []))
    advise = limit("plug-end", layer="plug 1", stations=even(0.12, 0.024), mast=mast).advise
    lengths = []
    for used in USES:
        to, now, kept = told(
            r"over about (\d+) mm in place of (\d+), or end it where the moment is at most (\d+)%",
            advise(used, AT),
        )
        assert (now, kept) == (tail, share(used))
        # used (l + tail/2) = l + to/2, to of at most a millimetre too much
        lengths.append([(extra - used * tail) / 2 / (used - 1) for extra in (to - 1, to)])
    low, high = max(pair[0] for pair in lengths), min(pair[1] for pair in lengths)
    assert low <= high
    assert 0.3 < low / 120 < 0.45


@pytest.mark.parametrize(
    ("material", "id", "power"),
    [
        # clear wood loses a part of its strength as the piece grows: Eq. 9-18 and 9-20 of the Wood Handbook
        (SITKA, "bending", 3 - 1 / 18),
        (SITKA, "compression", 3 - 1 / 18),
        (SITKA, "shear", 2 - 1 / 5),
        (C24, "bending", 3.0),
        (C24, "shear", 2.0),
    ],
)
@pytest.mark.parametrize("wall", [None, 0.021])
def test_a_larger_mast(material: str, id: str, power: float, wall: float | None) -> None:
    advise = limit(id, material, stations=even(0.11, wall)).advise
    for used in USES:
        said, times = advise(used, AT), used ** (1 / power)
        now, size = told(r"the diameter from (\d+) to about (\d+) mm", said)
        (off,) = told(r"take (\d+)% off the load", said)
        assert (now, size) == (110.0, pytest.approx(least(110.0 * times, 1.0)))
        assert off == pytest.approx(least(100 * (1 - 1 / used), 1.0))
        if wall is None:
            assert "wall" not in said
        else:
            t, thicker = told(r"and the wall from (\S+) to about (\S+) mm", said)
            assert (t, thicker) == (21.0, pytest.approx(least(21.0 * times, 0.1)))


@pytest.mark.parametrize(("material", "power"), [(SITKA, 1.25), (C24, 1.0)])
def test_a_deeper_bury(material: str, power: float) -> None:
    """The bury's shear is the moment over its depth; clear wood loses a fifth power of its strength as it grows."""
    found = limit("shear", material, stations=even(0.11), bury=0.73)
    for used in USES:
        now, deeper = told(r"deepen the bury from (\S+) to about (\S+) m", found.advise(used, (0, 0)))
        assert (now, deeper) == (0.73, pytest.approx(least(0.73 * used**power, 0.01)))
    assert "bury" not in found.advise(1.5, (len(found.demand[0]) - 1, 0))


def annulus(t: float, D: float = 120.0) -> float:
    return 1 - (1 - 2 * t / D) ** 4


@pytest.mark.parametrize(
    ("id", "bears"),
    [
        # EI sqrt(t), t^2, and EI t: what a wall bears at one diameter
        ("splitting", lambda t: annulus(t) * math.sqrt(t)),
        ("flattening", lambda t: t**2),
        ("wall-buckling", lambda t: annulus(t) * t),
    ],
)
@pytest.mark.parametrize("t", [1.7, 8.0, 20.0])
def test_a_thicker_wall(id: str, bears: Callable[[float], float], t: float) -> None:
    advise, most = limit(id, stations=even(0.12, t / 1000)).advise, bears(60.0) / bears(t)
    uses = [*USES, most * (1 - 1e-3), most * (1 + 1e-3)]
    for used in uses:
        said = advise(used, AT)
        if used > most:
            assert said == "fill the bore there with a glued plug of wood"
            continue
        now, wall = told(r"raise the wall from (\S+) to about (\S+) mm, or fill the bore there", said)
        assert now == pytest.approx(t)
        # found to a millionth of the diameter, and told in tenths
        assert bears(wall) >= used * bears(t) * (1 - 1e-4)
        assert bears(wall - 0.1) < used * bears(t) * (1 + 1e-3)
    assert most > USES[0]


@pytest.mark.parametrize("material", [SITKA, C24])
def test_a_bore_is_filled_where_a_bar_bears_it(material: str) -> None:
    """1/(1 - k^4) of the modulus, at the bar's own strength; in shear (1 + k + k^2)/(1 - k^4) of it."""
    D, t = 0.12, 0.02
    k = (D - 2 * t) / D
    bar, tube = (
        {c.id: c.capacity for c in check(read_rig(rig_text(material, stations=even(D, wall)))).checks}
        for wall in (None, t)
    )
    shear = limit("shear", material, stations=even(D, t)).advise
    gain = (1 + k + k**2) / (1 - k**4)
    for used, enough in ((gain * 0.999, True), (gain * 1.001, False)):
        assert shear(used, AT).startswith("fill the bore there") is enough
    bending = limit("bending", material, stations=even(D, t)).advise
    filled = [used for used in USES if bending(used, AT).startswith("fill the bore there")]
    # never where the bar would fail; from the least use on, to no less than what the modulus alone gains
    assert filled == USES[: len(filled)]
    assert filled[-1] <= bar["bending"] / tube["bending"] / (1 - k**4)
    assert USES[len(filled)] > 1 / (1 - k**4)
