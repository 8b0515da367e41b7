"""The cases run when a file names none: which, why, and that the reader would take them as written."""

from __future__ import annotations

from collections import Counter
from dataclasses import MISSING, fields, replace

import pytest

from rigcalc import check
from rigcalc.loads import sails_of_state, standard_cases
from rigcalc.rig import Case, Rig
from rigcalc.rig.fields import Quantity, key_of, spec_of

from .loads_more import GZ, MAIN, MAST, ONE_REEF, TWO_REEFS, rig

ROLLED = MAIN.replace('load_path = "luff"', 'hold = "rolled"')
MOMENT_30 = '[boat.stability]\nmoment_30 = "1275 N m"\n'
MOMENT_MAX = '[boat.stability]\nmoment_max = "1520 N m"\n'
WALL_SIDED = '[boat.stability]\ngm = "0.55 m"\nbm = "0.6 m"\n'
SHORT_TABLE = (
    '[boat.stability]\nrighting_arm = [["0 deg", "0 m"], ["15 deg", "0.2 m"], ["20 deg", "0.19 m"]]\n'
)
WHOLE = '[[state]]\nname = "everything"\nset = {main = 1}\n'
MIZZEN = '[[sail]]\nname = "mizzen"\nmast = "mizzen"\nluff = "3 m"\nfoot = "1.5 m"\ntack_height = "1.5 m"\n'
MIZZEN_ALONE = '[[state]]\nname = "mizzen alone"\nset = {mizzen = 1}\n'
MAIN_ALONE = '[[state]]\nname = "main alone"\nset = {main = 1}\n'
OF_THE_MAST = ["storm, no sail", "rolling", "knockdown"]
RIGS = {
    "sail": rig(MAIN),
    "states": rig(MAIN, ONE_REEF, TWO_REEFS),
    "rolled": rig(ROLLED, ONE_REEF),
    "moment at 30": rig(MAIN, stability=MOMENT_30),
    "largest moment": rig(MAIN, stability=MOMENT_MAX),
    "wall-sided": rig(MAIN, stability=WALL_SIDED),
    "short table": rig(MAIN, stability=SHORT_TABLE),
    "no sail": rig(),
    "two masts": rig(MAIN, MIZZEN, MAIN_ALONE, MIZZEN_ALONE),
}


def names(made: Rig) -> list[str]:
    return [case.name for case, _ in standard_cases(made)]


def case_of(made: Rig, name: str) -> Case:
    return next(case for case, _ in standard_cases(made) if case.name == name)


def reason_of(made: Rig, name: str) -> str:
    return next(reason for case, reason in standard_cases(made) if case.name == name)


def test_a_boat_with_a_sail_has_a_gust_and_a_run() -> None:
    made = RIGS["sail"]
    assert names(made) == ["gust, all sail", "running, all sail", *OF_THE_MAST]
    kinds = [case.kind for case, _ in standard_cases(made)]
    assert kinds == ["heel-limited", "wind-limited", "bare", "motion", "knockdown"]


@pytest.mark.parametrize(
    ("name", "basis"),
    [
        ("sail", "RM max"),
        ("largest moment", "RM max"),
        ("short table", "RM max"),
        ("moment at 30", "RM30"),
        ("wall-sided", "RM30"),
    ],
)
def test_the_basis_is_the_largest_moment_or_that_at_30_deg_where_it_is_unknown(name: str, basis: str) -> None:
    made = RIGS[name]
    assert case_of(made, "gust, all sail").basis == basis
    assert basis in reason_of(made, "gust, all sail")


def test_each_state_has_a_gust_of_its_own() -> None:
    made = RIGS["states"]
    assert names(made)[:3] == ["gust, all sail", "gust, one reef", "gust, two reefs"]
    assert case_of(made, "gust, two reefs").state == "two reefs"
    assert {case_of(made, n).basis for n in names(made)[:3]} == {"RM max"}
    # the run is under all sail alone
    assert [n for n in names(made) if n.startswith("running")] == ["running, all sail"]


def test_a_state_that_is_all_sail_is_not_run_twice() -> None:
    assert names(rig(MAIN, WHOLE, ONE_REEF)) == names(rig(MAIN, ONE_REEF))


def test_a_state_of_the_other_mast_alone_is_not_run() -> None:
    found = names(RIGS["two masts"])
    assert "gust, main alone" in found
    assert "gust, mizzen alone" not in found


def test_the_storm_is_on_the_roll_too_where_the_sail_rolls() -> None:
    bare, rolled = RIGS["sail"], RIGS["rolled"]
    assert case_of(bare, "storm, no sail") == case_of(rolled, "storm, no sail")
    assert "rolled" in reason_of(rolled, "storm, no sail")
    assert reason_of(bare, "storm, no sail").endswith("alone")
    # and the reason is true: the roll catches more wind than the spar
    force = {name: check(made, case="storm, no sail").cases[0] for name, made in RIGS.items() if made.sails}
    assert force["rolled"].partners_force_N > 1.05 * force["sail"].partners_force_N


def test_an_unknown_state_sets_no_sail_in_silence() -> None:
    with pytest.raises(ValueError, match="one ref"):
        sails_of_state(RIGS["states"], "one ref")


def test_without_sails_no_sailing_case_is_run() -> None:
    assert names(RIGS["no sail"]) == OF_THE_MAST


@pytest.mark.parametrize("name", RIGS)
def test_every_case_has_a_reason_and_a_name_of_its_own(name: str) -> None:
    found = standard_cases(RIGS[name])
    assert max(Counter(case.name for case, _ in found).values()) == 1
    for _, reason in found:
        assert len(reason.split()) >= 5
        assert not reason.endswith(".")
        assert reason[0].islower()


def as_written(case: Case) -> str:
    """A case as its table in a rig file, with what differs from the defaults."""
    lines = ["[[case]]"]
    for entry in fields(case):
        value = getattr(case, entry.name)
        if entry.default is not MISSING and value == entry.default:
            continue
        spec = spec_of(entry)
        text = f'"{value!r} {spec.unit}"' if isinstance(spec, Quantity) else repr(value)
        lines.append(f"{key_of(entry)} = " + (text if not isinstance(value, str) else f'"{value}"'))
    return "\n".join(lines)


SOURCES = {
    "states": ((MAIN, ONE_REEF, TWO_REEFS), GZ),
    "rolled": ((ROLLED, ONE_REEF), GZ),
    "wall-sided": ((MAIN,), WALL_SIDED),
    "moment at 30": ((MAIN,), MOMENT_30),
    "short table": ((MAIN,), SHORT_TABLE),
    "no sail": ((), GZ),
}


@pytest.mark.parametrize("name", SOURCES)
def test_the_reader_takes_the_standard_cases_as_its_own(name: str) -> None:
    parts, stability = SOURCES[name]
    standard = [case for case, _ in standard_cases(RIGS[name])]
    text = "\n".join(as_written(case) for case in standard)
    made = rig(*parts, text, stability=stability)
    assert list(made.cases) == standard


def test_named_or_not_the_standard_cases_give_one_answer() -> None:
    parts, stability = SOURCES["wall-sided"]
    left_out = rig(*parts, stability=stability, mast=MAST)
    named = replace(left_out, cases=tuple(case for case, _ in standard_cases(left_out)))
    first, second = check(left_out), check(named)
    assert first.cases == second.cases
    assert first.checks == second.checks
    told = [a for a in first.assumptions if a.path.startswith("case '")]
    assert [a.source for a in told] == [reason for _, reason in standard_cases(left_out)]
    assert not any(a.path.startswith("case '") for a in second.assumptions)
