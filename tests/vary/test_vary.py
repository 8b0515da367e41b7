"""The rows are those of files edited by hand and checked one by one."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from rigcalc import check, read_rig
from rigcalc.design.vary import VariedRow, varied_rigs, vary, with_front
from rigcalc.errors import RigInputError
from rigcalc.rigfile import starter_text
from rigcalc.verdict import CAUTIONS, NoSuchCaseError

STARTER = starter_text()
LIFTED = STARTER + (
    '[[case]]\nname = "run"\nkind = "wind-limited"\nwind_speed = "8 m/s"\n'
    '[[case]]\nname = "slung"\nkind = "lift"\nlower_height = "2 m"\nupper_height = "3 m"\n'
)


def by_hand(*edits: tuple[str, str], text: str = STARTER) -> dict[str, object]:
    """Check a file edited in some places; return what a row should say."""
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    result = check(read_rig(text))
    standing = [case for case in result.cases if case.kind != "lift"]
    return {
        "verdict": result.verdict,
        "mass_kg": result.mast.mass_kg,
        "utilisation": result.governing.utilisation,
        "check": result.governing.id,
        "case": result.governing.case,
        "tip_deflection_m": max(max(c.tip_deflection_m, c.tip_deflection_large_m or 0.0) for c in standing),
        "partners_force_N": max(max(c.partners_force_N, c.bent_partners_force_N or 0.0) for c in standing),
        "step_force_N": max(max(c.step_force_N, c.bent_step_force_N or 0.0) for c in standing),
        "frequency_Hz": result.mast.natural_frequencies_Hz[0],
        "warnings": result.warnings,
    }


def said(row: VariedRow, like: dict[str, object]) -> dict[str, object]:
    return {name: getattr(row, name) for name in like}


def test_one_number_as_by_hand() -> None:
    found = vary(STARTER, ["mast.bury=0.6 m:0.8 m:3"])
    assert [row.values for row in found.rows] == [(0.6,), (0.7,), (0.8,)]
    for row, bury in zip(found.rows, ("0.6 m", "0.7 m", "0.8 m"), strict=True):
        expected = by_hand(('bury = "0.75 m"', f'bury = "{bury}"'))
        assert said(row, expected) == expected
        assert row.label == f"mast.bury {bury}"
    assert found.passed
    assert set(CAUTIONS) <= set(found.cautions)


def test_two_numbers_as_by_hand() -> None:
    found = vary(STARTER, ["mast.stations[*].diameter=80 mm:100 mm:2", "mast.stations[*].wall=2 mm:3 mm:2"])
    assert [row.values for row in found.rows] == [(80.0, 2.0), (80.0, 3.0), (100.0, 2.0), (100.0, 3.0)]
    for row in found.rows:
        expected = by_hand(
            ('"88.9 mm"', f'"{row.values[0]:g} mm"'), ('wall = "3 mm"', f'wall = "{row.values[1]:g} mm"')
        )
        assert said(row, expected) == expected
    assert {row.verdict for row in found.rows} == {"pass", "fail"}


def test_factors_as_by_hand() -> None:
    found = vary(STARTER, ["mast.stations[*].diameter=x0.9:x1.1:3"])
    for row, size in zip(found.rows, ("80.01", "88.9", "97.79"), strict=True):
        expected = by_hand(('"88.9 mm"', f'"{size} mm"'))
        assert said(row, expected) == expected
    as_it_is = by_hand()
    assert said(found.rows[1], as_it_is) == as_it_is


def test_the_arms_as_by_hand() -> None:
    found = vary(STARTER, ["boat.stability.righting_arm=x0.5:x2:2"])
    old = ("0.13 m", "0.22 m", "0.27 m", "0.25 m")
    for row, new in zip(
        found.rows,
        (("0.065 m", "0.11 m", "0.135 m", "0.125 m"), ("0.26 m", "0.44 m", "0.54 m", "0.5 m")),
        strict=True,
    ):
        # quotes keep what has been put in from being replaced again
        marked = [(f'"{a}"]', f"<{b}>]") for a, b in zip(old, new, strict=True)]
        expected = by_hand(*marked, ("<", '"'), (">", '"'))
        assert said(row, expected) == expected
    assert found.rows[0].utilisation != found.rows[1].utilisation


def test_feet_and_inches() -> None:
    found = vary(STARTER, ["mast.bury=2 ft 3 in:3 ft 3 in:3"])
    assert found.axes[0].unit == "in"
    assert [row.values for row in found.rows] == [(27.0,), (33.0,), (39.0,)]
    expected = by_hand(('bury = "0.75 m"', 'bury = "33 in"'))
    assert said(found.rows[1], expected) == expected


def test_one_end_in_another_unit() -> None:
    found = vary(STARTER, ["mast.bury=600 mm:0.8 m:3"])
    assert (found.axes[0].unit, found.axes[0].values) == ("mm", (600.0, 700.0, 800.0))


def test_one_case_only() -> None:
    found = vary(LIFTED, ["case[0].wind_speed=6 m/s:8 m/s:2"], case="run")
    assert {row.case for row in found.rows} == {"run"}
    assert found.rows[0].partners_force_N != found.rows[1].partners_force_N
    with pytest.raises(NoSuchCaseError):
        vary(LIFTED, ["mast.bury=0.6 m:0.8 m:3"], case="walk")


def test_a_mast_in_slings_does_not_stand() -> None:
    found = vary(LIFTED, ["case[0].wind_speed=6 m/s:8 m/s:2"])
    expected = by_hand(text=LIFTED)
    assert said(found.rows[1], expected) == expected
    alone = vary(LIFTED, ["mast.bury=0.6 m:0.7 m:2"], case="slung").rows[0]
    assert (alone.partners_force_N, alone.step_force_N, alone.tip_deflection_m) == (None, None, None)
    assert alone.utilisation is not None


def test_a_case_that_is_not_at_every_point() -> None:
    # the standard set has a gust for a state that is not all sail
    text = STARTER + '[[state]]\nname = "reefed"\nset = {main = 0.5}\n'
    found = vary(text, ["state[0].set.main=0.5:1:2"], case="gust, reefed")
    assert [row.verdict for row in found.rows] == ["pass", "refused"]
    assert found.rows[1].why == "case: none is named 'gust, reefed' at this point"


def test_refused_points_say_why_and_the_others_go_on() -> None:
    found = vary(STARTER, ["mast.bury=0.75 m:6.75 m:3"])
    assert [row.verdict for row in found.rows] == ["pass", "refused", "refused"]
    one, other = found.rows[1:]
    assert one.refused_at == "sail[0]" and "it reaches below the partners, 3.75 m" in one.why
    assert other.refused_at == "mast.bury" and "it must be less than the length, 5.6 m" in other.why
    assert (other.mass_kg, other.utilisation, other.check) == (None, None, "")
    assert found.passed


def test_all_refused() -> None:
    found = vary(STARTER, ["boat.stability.gm=0.5 m:0.6 m:2"])
    assert {row.verdict for row in found.rows} == {"refused"}
    assert not found.passed


def test_rigs_with_their_labels() -> None:
    asked = ["mast.bury=0.75 m:6.75 m:2", "mast.stations[*].wall=x0.8:x1:2"]
    points = list(varied_rigs(STARTER, asked))
    assert [point.label for point in points] == [
        "mast.bury 0.75 m, mast.stations[*].wall x0.8",
        "mast.bury 0.75 m, mast.stations[*].wall x1",
        "mast.bury 6.75 m, mast.stations[*].wall x0.8",
        "mast.bury 6.75 m, mast.stations[*].wall x1",
    ]
    assert points[1].rig == read_rig(STARTER)
    assert points[0].rig == read_rig(STARTER.replace('wall = "3 mm"', 'wall = "2.4 mm"'))
    assert points[2].rig is None and points[2].refused[0].path == "mast.bury"


# the front


def row(mass: float, tip: float | None, verdict: str = "pass") -> VariedRow:
    return VariedRow("", (), verdict, mass_kg=mass, tip_deflection_m=tip)


def test_the_front() -> None:
    rows = [
        row(10.0, 0.5),  # lightest that passes
        row(12.0, 0.4),
        row(12.0, 0.45),  # as heavy as the one before, and bends more
        row(13.0, 0.4),  # bends as much, and is heavier
        row(14.0, 0.3),
        row(15.0, 0.35),  # worse in both
        row(8.0, 0.2, "fail"),  # better than all, but it fails
        row(9.0, None),
        row(14.0, 0.3),  # the same again
        row(12.0 * (1 + 1e-13), 0.4),  # the same but for rounding
    ]
    marked = with_front(rows)
    assert [r.front for r in marked] == [True, True, False, False, True, False, False, False, True, True]
    assert [replace(r, front=None) for r in marked] == rows


def test_no_point_of_the_front_is_beaten_and_every_other_is() -> None:
    asked = ["mast.stations[*].diameter=85 mm:110 mm:4", "mast.stations[*].wall=2 mm:4 mm:3"]
    rows = [r for r in vary(STARTER, asked).rows if r.verdict == "pass"]
    pairs = [(r.mass_kg or math.nan, r.tip_deflection_m or math.nan) for r in rows]
    for r, (mass, tip) in zip(rows, pairs, strict=True):
        beaten = any(m < mass and t < tip for m, t in pairs)
        assert r.front is not beaten
    assert len({r.front for r in rows}) == 2


def test_there_is_no_front_of_what_no_builder_chooses() -> None:
    assert not vary(STARTER, ["wind.air_density=1.2 kg/m3:1.3 kg/m3:2"]).has_front
    asked = ["mast.stations[*].wall=2 mm:3 mm:2", "sail[0].luff=4 m:4.3 m:2"]
    assert not vary(STARTER, asked).has_front
    assert vary(STARTER, asked[:1]).has_front


# what is asked


@pytest.mark.parametrize(
    ("asked", "problem"),
    [
        (["mast.bury"], "'mast.bury': a path, two ends and a number of points are wanted"),
        (["mast.bury=0.6 m:0.8 m"], "a path, two ends and a number of points are wanted"),
        (["=0.6 m:0.8 m:3"], "a path, two ends and a number of points are wanted"),
        (["mast.bury=0.6:0.8 m:3"], "mast.bury is '0.6': it has no unit"),
        (["mast.bury=0.6 m:0.8 kg:3"], "it does not fit: kg is a mass"),
        (["mast.bury=0.6 m:0.8 m:1"], "2 to 200 points are wanted"),
        (["mast.bury=0.6 m:0.8 m:201"], "2 to 200 points are wanted"),
        (["mast.bury=0.6 m:0.8 m:many"], "varied in 'many' points"),
        (["mast.bury=0.6 m:0.8 m:²"], "2 to 200 points are wanted"),
        (["mast.bury=0.6 m:0.6 m:3"], "the ends do not differ"),
        (["mast.bury=x0.6:0.8 m:3"], "either both ends are factors, or none is"),
        (["mast.bury=x0:x1:3"], "a factor must be above 0"),
        (["mast.bury=xx:x1:3"], "it does not start with a plain number"),
        (["boat.stability.gm=x0.9:x1.1:3"], "the file does not give it"),
        (["boat.stability.righting_arm=0.1 m:0.2 m:3"], "its numbers differ, so they can only be multiplied"),
        (["mast.sides=6:9:3"], "every point must be a whole number"),
        (["mast.sides=x1:x2:2"], "a whole number is not multiplied"),
        (["mast.burry=0.6 m:0.8 m:3"], "Did you mean mast.bury?"),
        ([], "one or two quantities can be varied at once"),
        (["mast.bury=0.6 m:0.8 m:3"] * 3, "one or two quantities can be varied at once"),
        (
            ["mast.stations[*].wall=x0.9:x1:2", "mast.stations[1].wall=2 mm:3 mm:2"],
            "mast.stations[*].wall varies the same number",
        ),
        (["mast.bury=0.6 m:0.8 m:41", "mast.stations[0].wall=2 mm:3 mm:49"], "2009 points: at most 2000"),
    ],
)
def test_what_cannot_be_asked(asked: list[str], problem: str) -> None:
    with pytest.raises(RigInputError, match=re.escape(problem)):
        vary(STARTER, asked)


def test_all_that_is_wrong_is_said_at_once() -> None:
    with pytest.raises(RigInputError) as caught:
        vary(STARTER, ["mast.burry=0.6 m:0.8 m:3", "title=1:2:3"])
    assert [problem.path for problem in caught.value.problems] == ["mast.burry", "title"]


def test_a_file_that_is_wrong_as_it_stands() -> None:
    with pytest.raises(RigInputError, match=r"1 problem in the rig file:\n  mast\.length is 5\.6: "):
        vary(STARTER.replace('length = "5.60 m"', "length = 5.60"), ["mast.bury=0.6 m:0.8 m:3"])
