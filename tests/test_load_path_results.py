"""What each load path makes of each case, and the warning when the choice decides the verdict."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from rigcalc import CheckResult, check
from rigcalc.reports import as_dict
from rigcalc.rig import LOAD_PATHS

from .loads_more import MAIN, MAST, rig

CASES = """
[[case]]
name = "gust"
kind = "heel-limited"
dynamic_factor = FACTOR
[[case]]
name = "run"
kind = "wind-limited"
wind_speed = "16 kn"
[[case]]
name = "storm"
kind = "bare"
wind_speed = "50 kn"
[[case]]
name = "flat"
kind = "knockdown"
"""
FACTORS = (1.0, 1.5, 1.7, 2.6)


def sail(path: str) -> str:
    return MAIN.replace('"luff"', f'"{path}"')


@cache
def result(path: str, factor: float = 1.5) -> CheckResult:
    return check(rig(sail(path), CASES.replace("FACTOR", f"{factor}")))


def deciding(found: CheckResult) -> dict[str, str]:
    """Warnings that the load path decides, by case."""
    marked = [w for w in found.warnings if "the load path decides the verdict" in w]
    return {w.split(":")[0]: w for w in marked}


def passes(found: CheckResult, case: str) -> bool:
    return all(c.passed for c in found.checks if c.case == case)


@pytest.mark.parametrize("path", LOAD_PATHS)
def test_every_case_with_sail_set_has_a_row_for_each_path(path: str) -> None:
    rows = [(row.case, row.load_path) for row in result(path).load_paths]
    assert sorted(rows) == sorted((case, p) for case in ("gust", "run") for p in LOAD_PATHS)


@pytest.mark.parametrize("path", LOAD_PATHS)
def test_the_row_of_the_path_in_use_is_the_case_itself(path: str) -> None:
    found = result(path)
    own = [row for row in found.load_paths if row.load_path == path]
    assert len(own) == 2
    for row in own:
        case = next(c for c in found.cases if c.name == row.case)
        assert row.partners_moment_N_m == pytest.approx(case.partners_moment_N_m, rel=1e-12)
        assert row.tip_deflection_m == pytest.approx(case.tip_deflection_m, rel=1e-12)
        # the bent mast is found anew for the row, to within what its search leaves
        assert row.utilisation == pytest.approx(
            max(c.utilisation for c in found.checks if c.case == row.case), rel=1e-9
        )
        assert row.passed is passes(found, row.case)


def test_the_other_rows_are_what_the_other_paths_answer() -> None:
    for asked in LOAD_PATHS:
        for row in result(asked).load_paths:
            there = next(c for c in result(row.load_path).cases if c.name == row.case)
            assert row.partners_moment_N_m == pytest.approx(there.partners_moment_N_m, rel=1e-9)


def test_the_paths_differ_in_the_way_their_rules_say() -> None:
    by_path = {row.load_path: row for row in result("luff").load_paths if row.case == "gust"}
    # half through the leech pulls on the head as well; corners put 3/7 of the force there
    assert by_path["membrane"].utilisation > by_path["luff"].utilisation
    assert by_path["corners"].tip_deflection_m > by_path["luff"].tip_deflection_m


@pytest.mark.parametrize("path", LOAD_PATHS)
def test_a_warning_stands_where_and_only_where_the_verdicts_differ(path: str) -> None:
    warned = 0
    for factor in FACTORS:
        found = result(path, factor)
        for case in ("gust", "run"):
            here = passes(found, case)
            others = [row for row in found.load_paths if row.case == case and row.passed is not here]
            assert (case in deciding(found)) is bool(others)
            if others:
                warned += 1
                text = deciding(found)[case]
                assert text.endswith(f"the case {'fails' if here else 'passes'}.")
                for row in others:
                    assert f"{row.load_path} ({row.utilisation:.2f})" in text
                for row in found.load_paths:
                    if row.case == case and row not in others:
                        assert f"{row.load_path} (" not in text
        assert not {"storm", "flat"} & set(deciding(found))
    # neither always nor never, or the loop above has shown nothing
    assert 0 < warned < 2 * len(FACTORS)


def test_no_warning_where_all_paths_agree() -> None:
    stout = check(
        rig(sail("membrane"), CASES.replace("FACTOR", "1.0"), mast=MAST.replace('"80 mm"', '"140 mm"'))
    )
    assert all(row.passed for row in stout.load_paths) and not deciding(stout)
    slim = check(rig(sail("luff"), CASES.replace("FACTOR", "3.0"), mast=MAST.replace('"80 mm"', '"50 mm"')))
    assert not any(row.passed for row in slim.load_paths) and not deciding(slim)


def test_one_case_alone_has_its_own_rows() -> None:
    made = rig(sail("membrane"), CASES.replace("FACTOR", "1.5"))
    assert {row.case for row in check(made, case="run").load_paths} == {"run"}
    assert check(made, case="storm").load_paths == ()


def test_a_mast_without_sails_has_no_rows() -> None:
    assert check(rig()).load_paths == ()


def test_each_row_puts_every_sail_on_one_path() -> None:
    upper = sail("membrane")
    for old, new in (('"main"', '"topsail"'), ('"4.2 m"', '"1.5 m"'), ('"1.5 m"\nload', '"4.3 m"\nload')):
        upper = upper.replace(old, new)
    lower = sail("luff").replace('"4.2 m"', '"2.6 m"')
    gust = CASES.replace("FACTOR", "1.5").split('[[case]]\nname = "storm"')[0]
    mixed = check(rig(lower, upper, gust))
    made = rig(lower, upper, gust)
    for path in LOAD_PATHS:
        same = replace(made, sails=tuple(replace(s, load_path=path) for s in made.sails))
        for case in check(same).cases:
            row = next(r for r in mixed.load_paths if (r.case, r.load_path) == (case.name, path))
            assert row.partners_moment_N_m == pytest.approx(case.partners_moment_N_m, rel=1e-9)


def test_the_rows_reach_the_json() -> None:
    found = result("membrane")
    rows = as_dict(found)["load_paths"]
    assert rows == [dict(vars(row)) for row in found.load_paths]
    assert set(rows[0]) == {
        "case", "load_path", "partners_moment_N_m", "tip_deflection_m", "utilisation", "passed",
    }  # fmt: skip


@pytest.mark.parametrize("path", LOAD_PATHS)
def test_a_path_told_beside_is_what_a_file_of_that_path_gets(path: str) -> None:
    """The loads by the other paths come of one reckoning; a rig whose own path it is has another."""
    own = {row.case: row for row in result(path).load_paths if row.load_path == path}
    for other in LOAD_PATHS:
        for row in result(other).load_paths:
            if row.load_path == path:
                there = own[row.case]
                assert row.partners_moment_N_m == pytest.approx(there.partners_moment_N_m, rel=1e-10)
                assert row.tip_deflection_m == pytest.approx(there.tip_deflection_m, rel=1e-10)
                assert row.utilisation == pytest.approx(there.utilisation, rel=1e-8)
                assert row.passed == there.passed
