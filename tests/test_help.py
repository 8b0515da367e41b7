"""The help of every command: its examples are run, its exit codes are those there are, and slips get a remedy."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from rigcalc.cli import main
from rigcalc.cli.commands import BOAT, COMMANDS, EXIT_CODES, GROUPS
from rigcalc.rigfile import starter_text

Capture = pytest.CaptureFixture[str]

QUICK = """
[[case]]
name = "gust"
kind = "heel-limited"

[size]
materials = ["6061-T6 extruded", "Sitka spruce (US)"]

[doubt]
samples = 300
"""
"""Keeps the examples short: how many cases, materials and samples they look at is no matter here."""


def run(capsys: Capture, *words: str) -> tuple[int, str, str]:
    code = main(words)
    told = capsys.readouterr()
    return code, told.out, told.err


def examples_in(text: str) -> list[list[str]]:
    """Return the words of every example of a help, as a shell would part them."""
    block = text[text.index("examples:") : text.index("exit codes:")]
    lines = re.findall(r"^  rigcalc ?(.*)$", block, re.MULTILINE)
    # what an example is for stands two blanks away
    return [shlex.split(re.split(r"\s{2,}", line)[0]) for line in lines]


@pytest.mark.parametrize("command", COMMANDS)
def test_every_example_of_a_help_is_true(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.chdir(tmp_path)
    assert run(capsys, "new", "--from", "glass_tube_5m", "glass.toml")[0] == 0
    _, out, _ = run(capsys, command, "--help")
    found = examples_in(out)
    assert len(found) == len(COMMANDS[command].examples) and (len(found) > 1 or command == "schema")
    for words in found:
        assert words[0] == command
        Path(BOAT).unlink(missing_ok=True)
        if command != "new":
            Path(BOAT).write_text(starter_text() + QUICK, encoding="utf-8")
        code, told, err = run(capsys, *words)
        assert code == 0, (words, err)
        if "-o" in words:
            assert Path(words[words.index("-o") + 1]).stat().st_size > 100
        elif command != "new":
            assert told


def test_the_examples_of_the_whole_are_among_those_of_the_commands(capsys: Capture) -> None:
    _, out, _ = run(capsys, "--help")
    known = [shlex.split(f"{c.name} {said}") for c in COMMANDS.values() for said, _ in c.examples]
    found = examples_in(out)
    assert len(found) >= 5 and all(words in known for words in found)


def test_the_commands_stand_in_the_way_of_the_work(capsys: Capture) -> None:
    _, out, _ = run(capsys, "--help")
    assert list(GROUPS) == ["start", "check", "design", "buy", "show"]
    told = re.findall(
        r"^(?:  |    )([a-z]+)(?: {2,}.*)?$", out[out.index("by the way of the work") :], re.MULTILINE
    )
    wanted = [name for group, commands in GROUPS.items() for name in (group, *(c.name for c in commands))]
    assert told[: len(wanted)] == wanted


@pytest.mark.parametrize("command", COMMANDS)
def test_a_help_explains_its_exit_codes(command: str, capsys: Capture) -> None:
    _, out, _ = run(capsys, command, "--help")
    told = re.findall(r"^  (\d+) +(.*)$", out[out.index("exit codes:") :], re.MULTILINE)
    assert dict(told) == {code: EXIT_CODES[code] for code in (*COMMANDS[command].codes, "70")}
    assert out.startswith(f"usage: rigcalc {command} ")


def test_options_of_one_name_mean_one_thing() -> None:
    """What several commands take is spelt alike: one long form, one metavar, the same short form."""
    from rigcalc.cli.words import parser

    _, of = parser()
    seen: dict[str, set[tuple[object, ...]]] = {}
    for own in of.values():
        for action in own._actions:
            for name in action.option_strings:
                if name.startswith("--") and name not in ("--paper", "--help"):
                    known = (action.dest, action.metavar, tuple(action.option_strings), type(action).__name__)
                    seen.setdefault(name, set()).add(known)
    assert {name: found for name, found in seen.items() if len(found) > 1} == {}


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("chekc", BOAT), "there is no command 'chekc'. Did you mean check?"),
        (("xyzzy",), "`rigcalc --help` lists them."),
        ((BOAT, "check"), f"the command comes first, as in `rigcalc check {BOAT}`"),
        ((), "a COMMAND is missing"),
        (("check",), "FILE is missing. `rigcalc check --help` shows examples"),
        (("check", BOAT, "--jsno"), "check has no option --jsno. Did you mean --json?"),
        (("check", BOAT, "--jsno=1"), "Did you mean --json?"),
        (("check", BOAT, "--xyzzy"), "It has --help, --json"),
        (("--json", "check", BOAT), "--json belongs behind the command"),
        (("check", BOAT, "other.toml"), "'other.toml' is one word too many for check"),
        (("materials", "Sitka", "spruce"), "a name with blanks stands in quotes"),
        (("check", "--case"), "expected one argument"),
        (("explain", BOAT, "yield"), f"the word comes first: rigcalc explain yield {BOAT}"),
        (("check", "nowhere.toml"), "nowhere.toml: No such file or directory. Check the path"),
        (("check", "."), ".: "),
    ],
    ids=" ".join,
)
def test_a_slip_is_told_with_its_remedy(
    words: tuple[str, ...], told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.chdir(tmp_path)
    code, out, err = run(capsys, *words)
    assert (code, out) == (2, "")
    assert told in err and "Traceback" not in err


def test_explain_takes_its_file_behind_an_option_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(capsys, "new", BOAT)[0] == 0
    assert run(capsys, "explain", "yield", "--json", BOAT) == run(capsys, "explain", "yield", BOAT, "--json")


def test_a_paper_is_known_in_small_and_capital_letters(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(capsys, "new", BOAT)[0] == 0
    assert run(capsys, "drawing", BOAT, "-o", "a.svg", "--paper", "a4")[0] == 0
    assert run(capsys, "drawing", BOAT, "-o", "b.svg", "--paper", "A4")[0] == 0
    assert Path("a.svg").read_bytes() == Path("b.svg").read_bytes()
