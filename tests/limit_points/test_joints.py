"""Joints of tubes point by point: which force acts where, what a longer overlap takes away, and the walls told."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from rigcalc import read_rig
from rigcalc.formulas import Working
from rigcalc.limits.joint import Contact, _cure, _thicker_m, joint_contacts
from rigcalc.rig import Rig
from tests.test_fatigue import LIFE
from tests.test_joints import BIG, SMALL, SOFT, STEP, STEPPED, pressed, sleeve
from tests.test_limits import BURY, LENGTH, pushed, ring, tube
from tests.test_loads import case_text, rig_text, run

from . import USES, least, limit_of, solved, told

TURNED = ((0.0, *SMALL), (STEP, *SMALL), (STEP, *BIG), (LENGTH, *BIG))
L = 0.4


def joined(stations: object, end: float, cases: str) -> Rig:
    low = min(STEP, end)
    text = rig_text(stations=stations, bury_m=BURY, mast=sleeve(low, max(STEP, end)), more=cases)  # type: ignore[arg-type]  # as written
    return read_rig(text)


def contacts_of(rig: Rig) -> list[Contact]:
    result, internal = solved(rig)
    return list(joint_contacts(rig, result.model.sections, internal, Working()))


def two_forces(at: float, back: float, tip: float = 10.0) -> str:
    loads = f'{{height = "{LENGTH!r} m", side = "{tip!r} N"}}, {{height = "{at!r} m", side = "{-back!r} N"}}'
    return case_text("given", f"point_load = [{loads}]")


@pytest.mark.parametrize(
    ("stations", "end", "back", "shears"),
    [
        # the tail's lower end is moved: there the moment above is borne, at the step what is below, V and all
        (STEPPED, STEP - L, 0.0, (0.0, 10.0)),
        # the step is the lower end: the moment there is the greater, and no overlap adds to it
        (TURNED, STEP + L, 0.0, (0.0, 0.0)),
        # 30 N pulls back at 4 m: the moment grows upwards, by 20 N, and the other end is the one that is moved
        (STEPPED, STEP - L, 30.0, (0.0, 0.0)),
        (TURNED, STEP + L, 30.0, (20.0, 0.0)),
    ],
)
def test_forces_and_what_no_overlap_takes_away(
    stations: object, end: float, back: float, shears: tuple[float, float]
) -> None:
    """Statics of the couple: each end has the moment of the other over the overlap."""
    low, high = min(STEP, end), max(STEP, end)
    found = contacts_of(joined(stations, end, two_forces(4.0, back)))

    def moment(z: float) -> float:
        return abs(10.0 * (LENGTH - z) - back * max(4.0 - z, 0.0))

    forces = (moment(high) / L, moment(low) / L)
    assert len(found) == 4
    for pair in (found[:2], found[2:]):
        assert pair[0].layer == pair[1].layer
        for one, force, shear in zip(pair, forces, shears, strict=True):
            assert one.force_N == pytest.approx([force], rel=1e-3)
            assert one.shear_N == pytest.approx([shear], rel=1e-3, abs=1e-9)
    below = 0 if stations is STEPPED else 1
    assert [c.layer for c in found] == [below, below, 1 - below, 1 - below]
    # the lower tube ends at the upper end of the lap, the upper one at its lower end
    assert [c.free_end for c in found] == [False, True, True, False]


@pytest.mark.parametrize(
    ("start", "end", "free"),
    [
        (0.0, 2.0, [True, False, True, True]),
        (0.5, 2.0, [False, False, True, True]),
        (0.5, 6.6, [False, False, True, True]),
        (0.5, LENGTH, [False, True, True, True]),
        (0.0, LENGTH, [True, True, True, True]),
    ],
)
def test_a_sleeve_that_stiffens_ends_at_both_its_ends_and_the_tube_at_its_own(
    start: float, end: float, free: list[bool]
) -> None:
    mast = sleeve(start, end, (0.0915, 0.004))
    found = contacts_of(read_rig(rig_text(**tube(*BIG), mast=mast, more=pushed(10.0))))  # type: ignore[arg-type]  # as written
    assert [c.free_end for c in found] == free
    assert all(not np.any(c.shear_N) for c in found)
    # the greatest moment that the sleeve takes, where it stands: a thousandth of the push is a thousandth of that
    light = contacts_of(read_rig(rig_text(**tube(*BIG), mast=mast, more=pushed(0.01))))  # type: ignore[arg-type]  # as written
    for one, little in zip(found, light, strict=True):
        assert little.force_N == pytest.approx(one.force_N / 1000, rel=1e-2)
    # where a tube ends nothing is strained along it
    for one in found:
        assert bool(np.all(one.along_Pa == 0.0)) == one.free_end


def contact(along: list[float], direct: list[float], sides: list[float], under: list[float]) -> Contact:
    any_one = contacts_of(joined(STEPPED, STEP - L, pushed(10.0)))[0]
    parts = {"along_Pa": along, "direct_Pa": direct, "sides_Pa": sides, "under_Pa": under}
    return replace(any_one, **{name: np.array(part) for name, part in parts.items()})


def equivalent(x: float, w: float) -> float:
    """Stress along, and bending round the wall of which two thirds count: of one sign both, the worst."""
    y = w / 1.5
    return math.sqrt(x * x + y * y + x * y)


@pytest.mark.parametrize(
    ("along", "direct", "sides", "under"),
    [
        (60e6, 5e6, 300e6, 200e6),
        (60e6, 55e6, 300e6, 100e6),
        (0.0, 0.0, 200e6, 400e6),
        (95e6, 1e6, 10e6, 90e6),
    ],
)
def test_the_share_of_the_force_that_a_wall_bears(
    along: float, direct: float, sides: float, under: float
) -> None:
    """By a search on the stress itself; the second case is the one that is asked of."""
    capacity = 100e6
    one = contact([1.0, along], [1.0, direct], [1.0, sides], [1.0, under])

    def worst(share: float) -> float:
        return max(equivalent(direct, share * sides), equivalent(along, share * under)) - capacity

    assert worst(1.0) > 0.0
    assert one.eased(capacity, 1) == pytest.approx(brentq(worst, 0.0, 1.0), rel=1e-9)
    assert one.eased(capacity, 0) == 1.0


def test_no_share_of_the_force_eases_a_wall_that_bending_alone_overloads() -> None:
    one = contact([101e6, 250e6, 50e6], [0.0, 0.0, 0.0], [1e6, 1e6, 0.0], [1e6, 1e6, 0.0])
    assert [one.eased(100e6, case) for case in (0, 1)] == [0.0, 0.0]
    # nothing pressed, nothing to ease
    assert one.eased(100e6, 2) == 1.0


def wall_used(
    id: str, size: tuple[float, float], force: float, length: float, layer: str = "sleeve 1"
) -> float:
    stations = ((0.0, *BIG), (STEP, *BIG), (STEP, *size), (LENGTH, *size))
    mast = sleeve(STEP - length, STEP, size, 'play = "0.5 mm"')
    result = run(pushed(force), stations=stations, bury_m=BURY, mast=mast, metal=SOFT)
    return pressed(result, id, layer).utilisation


@pytest.mark.parametrize(
    ("size", "force", "length"), [(SMALL, 300.0, 0.2), (SMALL, 350.0, 0.25), ((0.06, 0.004), 300.0, 0.3)]
)
def test_the_wall_told_is_the_least_tenth_of_a_millimetre_that_is_enough(
    size: tuple[float, float], force: float, length: float
) -> None:
    stations = ((0.0, *BIG), (STEP, *BIG), (STEP, *size), (LENGTH, *size))
    mast = sleeve(STEP - length, STEP, size, 'play = "0.5 mm"')
    one = pressed(
        run(pushed(force), stations=stations, bury_m=BURY, mast=mast, metal=SOFT), "joint-wall", "sleeve 1"
    )
    now, wall = told(r"raise the wall of the sleeve 1 there from (\S+) to about (\S+) mm", one.advice)
    assert one.utilisation > 1.1
    assert now == size[1] * 1e3
    # the heavier tube bends the mast no further: the moments of a force at the tip are its own
    assert wall_used("joint-wall", (size[0], wall * 1e-3), force, length) <= 1.003
    assert wall_used("joint-wall", (size[0], wall * 1e-3 - 1e-4), force, length) > 0.997


@pytest.mark.parametrize(("force", "length"), [(300.0, 0.2), (320.0, 0.21), (350.0, 0.25)])
def test_the_overlap_told_is_the_least_centimetre_that_is_enough(force: float, length: float) -> None:
    one = pressed(
        run(pushed(force), stations=STEPPED, bury_m=BURY, mast=sleeve(STEP - length, STEP), metal=SOFT),
        "joint-wall",
        "sleeve 1",
    )
    now, longer = told(r"lengthen the overlap from (\S+) to about (\S+) m", one.advice)
    assert now == pytest.approx(length, abs=0.005)
    assert wall_used("joint-wall", SMALL, force, longer) <= 1.003
    assert wall_used("joint-wall", SMALL, force, longer - 0.01) > 0.997


def test_an_overlap_is_no_cure_where_all_of_the_force_is_the_masts_own_shear() -> None:
    """A push at the step: nothing above it bends, and each end of an overlap however long feels that push."""
    case = case_text("given", f'point_load = [{{height = "{STEP!r} m", side = "19000 N"}}]')
    thin = ((0.0, 0.102, 0.002), (STEP, 0.102, 0.002), (STEP, 0.0975, 0.003), (LENGTH, 0.0975, 0.003))
    mast = sleeve(STEP - 0.2, STEP, (0.0975, 0.003))
    one = pressed(run(case, stations=thin, bury_m=BURY, mast=mast, metal=SOFT), "joint-wall", "tube")
    assert one.utilisation > 1.0
    assert "lengthen" not in one.advice
    assert one.advice.endswith("plug the tube there, which is not worked out here")


def test_an_overlap_too_short_is_told_in_whole_centimetres() -> None:
    """1.5 times a bore of 118 mm is 177 mm."""
    stations = ((0.0, 0.128, 0.005), (STEP, 0.128, 0.005), (STEP, 0.1175, 0.003), (LENGTH, 0.1175, 0.003))
    rig = read_rig(
        rig_text(
            stations=stations, bury_m=BURY, mast=sleeve(STEP - 0.1, STEP, (0.1175, 0.003)), more=pushed(1.0)
        )
    )
    result, _ = solved(rig)
    overlap = limit_of(result, "joint-overlap", "sleeve 1")
    (one,) = overlap.checks(result.names, result.model.mesh.z_m)
    assert one.demand == pytest.approx(0.177)
    assert "from 0.10 to at least 0.18 m" in one.advice
    # it is asked of the lap alone
    z, there = result.model.sections.z_m, overlap.where
    assert there is not None
    assert np.array_equal(np.broadcast_to(there, z.shape), (z >= STEP - 0.1 - 1e-9) & (z <= STEP) & there)
    assert np.all(overlap.utilisation[0][np.broadcast_to(there, z.shape)] == pytest.approx(1.77))


def test_what_is_told_against_shear_at_whatever_use() -> None:
    result, _ = solved(joined(STEPPED, STEP - 0.13, pushed(10.0)))
    shear = limit_of(result, "joint-shear", "sleeve 1")
    assert shear.where is not None
    at = (int(np.flatnonzero(shear.where.reshape(len(shear.where), -1)[:, 0])[0]), 3)
    for used in USES:
        now, longer, wall, thicker = told(
            r"overlap from (\S+) to about (\S+) m, or raise the wall of the sleeve 1 from (\S+) to about (\S+) mm",
            shear.advise(used, at),
        )
        assert (now, wall) == (0.13, 3.0)
        assert longer == pytest.approx(least(0.13 * used, 0.01))
        assert thicker == pytest.approx(least(3.0 * used, 0.1))


@pytest.mark.parametrize(("length", "governs"), [(0.15, "couple"), (1.9, "mast")])
def test_shear_between_the_ends_is_the_couples_or_the_masts_own(length: float, governs: str) -> None:
    """Packed evenly, V = (M_high + 2 M_low)^2/(3 L (M_high + M_low)), or what the mast is sheared by at that height."""
    force = 10.0
    # 60 N pushes on at 2 m: in the lap above it the mast's own shear is 10 N, below it 70 N
    push = 0.0 if governs == "couple" else 600.0
    low = STEP - length
    result, internal = solved(joined(STEPPED, low, two_forces(2.0, -push, force)))
    shear = limit_of(result, "joint-shear", "tube")
    D, t = BIG
    R, r = D / 2, D / 2 - t
    per_force = 2 / 3 * (R**3 - r**3) / (ring(D, t)[1] * 2 * t)
    M_high = force * (LENGTH - STEP)
    M_low = force * (LENGTH - low) + push * max(2.0 - low, 0.0)
    couple = (M_high + 2 * M_low) ** 2 / (3 * length * (M_high + M_low))
    assert shear.where is not None
    inside = np.broadcast_to(shear.where, shear.demand.shape[1:])
    own = np.broadcast_to(internal.shear_N, shear.demand.shape)[0]
    assert np.any(own[inside] > couple) == (governs == "mast")
    by_hand = math.sqrt(3) * np.maximum(own, couple) * per_force
    assert shear.demand[0][inside] == pytest.approx(by_hand[inside], rel=5e-3)
    assert not np.any(shear.demand[0][~inside])


def test_each_tube_tires_where_it_alone_bears_the_moment() -> None:
    """At the end of the lap the other tube has ended: the range is twice the bending of the one that goes on."""
    force, low = 10.0, STEP - L
    result, _ = solved(joined(STEPPED, low, LIFE + pushed(force)))
    z, kept = result.model.sections.z_m, {}
    for layer, size, height, point in (("tube", BIG, low, 0), ("sleeve 1", SMALL, STEP, -1)):
        one = limit_of(result, "fatigue", layer)
        (element,) = np.flatnonzero(np.isclose(z[:, point], height))
        alone = force * (LENGTH - height) * size[0] / 2 / ring(*size)[1]
        assert one.demand[0, element, point] == pytest.approx(2 * alone, rel=1e-3)
        kept[layer] = one.demand[0]
    # inside the lap both bear it: the tube has little left at its own end
    (end,) = np.flatnonzero(np.isclose(z[:, -1], STEP))
    assert kept["tube"][end, -1] < force * (LENGTH - STEP) * SMALL[0] / 2 / ring(*SMALL)[1]


def test_a_contact_is_found_again_among_some_elements() -> None:
    one = replace(contacts_of(joined(STEPPED, STEP - L, pushed(10.0)))[0], at=(np.array([5, 9]), -1))
    among = one.among(np.array([3, 5, 8, 9]))
    assert among.at[0].tolist() == [1, 3]
    assert among.at[1] == -1
    assert among.force_N is one.force_N


@pytest.mark.parametrize(
    ("share", "shear", "left"),
    [(0.21, 0.0, 0.21), (0.19, 0.0, None), (0.5, 200.0, 1 / 3), (0.4, 250.0, None)],
)
def test_how_much_longer_an_overlap_must_be(share: float, shear: float, left: float | None) -> None:
    """Of 800 N the part above the mast's own shear falls as the length; over five times as long is no cure."""
    result, _ = solved(joined(STEPPED, STEP - L, pushed(10.0)))
    sections = result.model.sections
    capacity = np.full(sections.z_m.shape, 100e6)
    hard = contact([0.0], [0.0], [0.0], [150e6 / share])
    one = replace(hard, force_N=np.array([800.0]), shear_N=np.array([shear]))
    easy = replace(contact([0.0], [0.0], [0.0], [1.0]), force_N=np.array([800.0]), shear_N=np.array([0.0]))
    said = _cure([easy, one], sections.layers[0], capacity, 0)
    _, wall = told(r"raise the wall of the tube there from (\S+) to about (\S+) mm", said)
    wanted = _thicker_m(one, sections.layers[0], 100e6, 0)
    assert wanted is not None
    assert wall == pytest.approx(least(wanted * 1e3, 0.1))
    assert ("lengthen the overlap" in said) is (left is not None)
    if left is not None:
        assert (share * 800.0 - shear) / (800.0 - shear) == pytest.approx(left)
        (longer,) = told(r"to about (\S+) m,", said)
        assert longer == pytest.approx(least(L / left, 0.01))


@pytest.mark.parametrize(
    ("along", "direct", "sides", "under"),
    [
        (0.0, 0.0, 900e6, 500e6),
        (0.0, 0.0, 5000e6, 500e6),
        (120e6, 30e6, 200e6, 400e6),
        (20e6, 140e6, 250e6, 10e6),
    ],
)
@pytest.mark.parametrize("lost", [0.0, 2e-4])
def test_the_wall_that_bears_the_force_by_a_search_on_its_sizes(
    along: float, direct: float, sides: float, under: float, lost: float
) -> None:
    """At one outside the oval is R sqrt(R/t) long: bending round falls as t^1.5 R^0.5, along as the second moment."""
    D, t, capacity = 0.1, 0.003, 100e6
    size: Any = SimpleNamespace(outer_m=np.full((50, 8), D), wall_m=np.full((50, 8), t))
    size.as_new = SimpleNamespace(wall_m=np.full((50, 8), t + lost))
    one = contact([0.0, along], [0.0, direct], [0.0, sides], [0.0, under])

    def per_force(R: float, wall: float) -> float:
        return R / (R * math.sqrt(R / wall) * wall**2)

    def worst(wall: float) -> float:
        round_it = per_force((D - wall) / 2, wall) / per_force((D - t) / 2, t)
        bent = along * ring(D, t)[1] / ring(D, wall)[1]
        return max(equivalent(direct * t / wall, sides * round_it), equivalent(bent, under * round_it))

    thickest = D / 2 * 0.9
    wall = brentq(lambda x: worst(x) - capacity, t, thickest)
    assert wall > 1.2 * t
    assert _thicker_m(one, size, capacity, 1) == pytest.approx(wall + lost, rel=1e-9)
    # no wall is told where hardly a bore is left and it is not enough
    assert _thicker_m(one, size, worst(thickest) / 1.05, 1) is None
    assert _thicker_m(one, size, worst(thickest) * 1.001, 1) == pytest.approx(thickest + lost, rel=1e-2)
    # and where nothing presses, the wall that is there
    assert _thicker_m(one, size, capacity, 0) == pytest.approx(t + lost, rel=1e-12)


@pytest.mark.parametrize(("low", "high", "short"), [(2.2, 3.12, 0.12), (2.87, 3.8, 0.13)])
def test_of_two_joints_of_one_sleeve_the_one_that_fails_is_lengthened(
    low: float, high: float, short: float
) -> None:
    """A sleeve inside both tubes, much longer in one than in the other."""
    inner = sleeve(low, high, (0.0855, 0.003), 'play = "0.1 mm"')
    result, _ = solved(
        read_rig(rig_text(stations=STEPPED, bury_m=BURY, mast=inner, more=pushed(300.0), metal=SOFT))
    )
    one = limit_of(result, "joint-wall", "sleeve 1")
    (check,) = one.checks(result.names, result.model.mesh.z_m)
    assert check.utilisation > 1.0
    assert f"lengthen the overlap from {short:.2f} to about" in check.advice
