"""Every command of the README and every cell of the tutorial is run, and what it answers is what stands below it."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from . import readme
from .readme import (
    README,
    TUTORIAL,
    answer_of,
    cells,
    differences,
    edit,
    readme_outputs,
    same,
    shown,
    tutorial_outputs,
)

TEXT = README.read_text(encoding="utf-8")


def test_the_readme_says_what_comes() -> None:
    assert list(differences(TEXT, readme_outputs(TEXT))) == [], "run python -m tests.readme"


def test_the_tutorial_says_what_comes() -> None:
    text = TUTORIAL.read_text(encoding="utf-8")
    assert list(differences(text, tutorial_outputs(text))) == [], "run python -m tests.readme"


def test_the_tutorial_is_cells_of_plain_python() -> None:
    text = TUTORIAL.read_text(encoding="utf-8")
    ast.parse(text)
    heading, *rest = cells(text)
    assert heading == "" and len(rest) >= 20
    for cell in rest:
        if cell.startswith("# %% [markdown]"):
            assert all(line.startswith("#") or not line for line in cell.splitlines())


def test_the_readme_is_short_and_goes_the_whole_way() -> None:
    assert len(TEXT.splitlines()) <= 300
    for command in ("new", "check", "size", "compare", "doubt", "order", "report", "drawing"):
        assert re.search(rf"^rigcalc {command} ", TEXT, flags=re.M), command


def test_every_file_that_the_readme_leads_to_is_there() -> None:
    paths = re.findall(r"\]\((?!https?:|#)([^)#]+)", TEXT)
    assert paths
    for path in paths:
        assert (README.parent / path).exists(), path


# --- what reads them ---


def test_an_output_that_does_not_come_is_seen() -> None:
    text = "```sh\nrigcalc new boat.toml\n```\n\n```text\nWrote a boat.\n```\n"
    come = readme_outputs(text)
    assert "Wrote boat.toml." in come
    assert len(list(differences(text, come))) == 1
    assert list(differences(come, readme_outputs(come))) == []
    with pytest.raises(ValueError, match="an output without its command"):
        readme_outputs("```text\nnothing\n```\n")


def test_a_cut_is_marked_and_counted() -> None:
    ten = "".join(f"{i}\n" for i in range(1, 11))
    assert shown(ten, None) == ten
    assert shown(ten, "1-2,5") == "1\n2\n[... 2 more lines]\n5\n[... 5 more lines]\n"
    assert shown(ten, "2-10") == "[... 1 more line]\n" + ten[2:]
    for wrong in ("1-11", "5,2", "0-3"):
        with pytest.raises(ValueError, match="there are 10 lines"):
            shown(ten, wrong)


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [
        ("used 0.88 of 5 m", "used 0.89 of 5 m", True),
        ("used 0.88", "used 0.90", False),
        ("used 0.88", "used 0.880", False),
        ("a  9.99  b", "a 10.00  b", True),
        ("PASS: 29", "FAIL: 29", False),
        ("29 checks", "30 checks", False),
        ("5150 N", "5151 N", True),
        ("29% fail", "30% fail", True),
        ("29% fail", "31% fail", False),
        ("29% fail", "29 fail", False),
    ],
)
def test_only_the_last_digit_is_left_free(one: str, other: str, alike: bool) -> None:
    assert same(one, other) is alike
    assert list(differences("a\n", "a\nb\n")) == ["it has 1 lines, and 2 come"]


def test_an_edit_takes_the_place_of_one_line(tmp_path: Path) -> None:
    path = tmp_path / "boat.toml"
    path.write_text('luff = "4 m"\nfoot = "2 m"  # tack to clew\n', encoding="utf-8")
    edit(path, 'foot = "3 m"\n')
    assert path.read_text(encoding="utf-8") == 'luff = "4 m"\nfoot = "3 m"\n'
    with pytest.raises(ValueError, match="has 0 lines like: head"):
        edit(path, 'head = "1 m"\n')


def test_other_programs_are_not_run() -> None:
    with pytest.raises(ValueError, match="not a command of rigcalc"):
        answer_of("rigcalc --version\nrm -r .\n")
    assert readme.PROGRESS.match("rigcalc: 6061-T6 extruded: 487 masts tried, lightest so far 11.58 kg")
