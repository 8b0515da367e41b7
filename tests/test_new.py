"""`rigcalc new`: the starter file, what is switched off in it, and the examples wherever the package runs from."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from rigcalc import check
from rigcalc.cli import main
from rigcalc.rigfile import read_rig, starter_text
from rigcalc.rigfile.described import field_key
from rigcalc.rigfile.examples import example_files, example_title

Capture = pytest.CaptureFixture[str]

HOME = Path(__file__).parent.parent
EXAMPLES = sorted((HOME / "examples").glob("*.toml"))
INSTEAD = ("gm", "bm", "moment_30", "moment_max", "shape", "head")
"""Switched off in the starter because something else stands in their place, or they need more beside them."""


def run(capsys: Capture, *words: str) -> tuple[int, str, str]:
    code = main(words)
    told = capsys.readouterr()
    return code, told.out, told.err


def switched_on(text: str, but: tuple[str, ...]) -> str:
    """Return the starter with every line that is switched off taken in, those of some keys or tables left out."""
    lines, skip = [], False
    for line in text.splitlines():
        if not re.match(r"#[\w\[]", line):
            lines.append(line)
            continue
        bare = line[1:]
        if table := re.match(r"\[+([\w.]+)\]+", bare):
            skip = table[1] in but
        key = re.match(r"(\w+) =", bare)
        lines.append(line if skip or (key and key[1] in but) else bare)
    return "\n".join(lines)


# ---------------------------------------------------------------- the starter


def test_what_is_switched_off_in_the_starter_works() -> None:
    text = switched_on(starter_text(), (*INSTEAD, "timber"))
    rig = read_rig(text)
    assert rig.furling and rig.fatigue and rig.sizing and rig.stock and len(rig.cases) == 3 and rig.states
    assert rig.bearings.step.thrust and rig.sails[0].hold == "rolled"
    assert check(rig).turning is not None


def test_its_other_stability_data_work() -> None:
    text = starter_text()
    table = text[text.index("righting_arm = [") : text.index("# ... or what you can measure")]
    for keys in (("gm", "bm"), ("moment_30", "moment_max")):
        other = text.replace(table, "")
        for key in keys:
            assert other.count(f"#{key} = ") == 1
            other = other.replace(f"#{key} = ", f"{key} = ")
        assert check(read_rig(other)).cases


def test_its_timber_table_works_with_timber() -> None:
    text = switched_on(starter_text(), (*INSTEAD, "fatigue", "wall_loss")).replace(
        "6061-T6 extruded", "Sitka spruce (US)"
    )
    assert read_rig(text).timber.moisture == pytest.approx(0.15)


def test_it_names_every_table_there_is() -> None:
    text = starter_text()
    for table in re.findall(r"\[+([a-z][\w.]*)\]+", text):
        assert field_key(table), table
    from rigcalc.rig import Rig
    from rigcalc.rig.fields import Table, Tables, described_fields, spec_of

    for key, entry in described_fields(Rig).items():
        if isinstance(spec_of(entry), Table | Tables):
            assert re.search(rf"\[\[?{key}[\].]", text), key


def test_it_fits_a_narrow_editor() -> None:
    assert max(map(len, starter_text().splitlines())) <= 110


# ---------------------------------------------------------------- the examples


def test_the_examples_are_listed_by_name_and_title(capsys: Capture) -> None:
    code, out, err = run(capsys, "new", "--list")
    assert (code, err) == (0, "")
    assert [line.split()[0] for line in out.splitlines()] == [file.stem for file in EXAMPLES]
    for file, line in zip(EXAMPLES, out.splitlines(), strict=True):
        assert line.endswith(example_title(file))


@pytest.mark.parametrize("name", [file.stem for file in EXAMPLES])
def test_an_example_is_copied_as_it_stands(name: str, tmp_path: Path, capsys: Capture) -> None:
    out = tmp_path / "mine.toml"
    assert run(capsys, "new", "--from", name, str(out))[0] == 0
    assert out.read_bytes() == (HOME / "examples" / f"{name}.toml").read_bytes()
    assert run(capsys, "new", "--from", f"{name}.toml", "-")[1] == out.read_text(encoding="utf-8")


def test_an_example_of_no_such_name(capsys: Capture) -> None:
    code, out, err = run(capsys, "new", "--from", "trailer-sailer", "-")
    assert (code, out) == (2, "") and "Did you mean trailer_sailer_4m6?" in err
    _, _, err = run(capsys, "new", "--from", "xyzzy", "-")
    assert "rigcalc new --list" in err


def test_a_file_is_written_over_only_when_told(tmp_path: Path, capsys: Capture) -> None:
    file = tmp_path / "boat.toml"
    file.write_text("mine", encoding="utf-8")
    code, _, err = run(capsys, "new", str(file))
    assert code == 2 and "--force" in err and file.read_text(encoding="utf-8") == "mine"
    assert run(capsys, "new", "--force", str(file))[0] == 0
    assert file.read_text(encoding="utf-8") == starter_text()


@pytest.mark.parametrize(
    "words", [(), ("--list", "boat.toml"), ("--list", "--force"), ("--from", "sharpie_5m2")]
)
def test_words_of_new_that_do_not_go_together(words: tuple[str, ...], capsys: Capture) -> None:
    code, out, err = run(capsys, "new", *words)
    assert (code, out) == (2, "") and err.startswith("rigcalc: ")


def test_another_folder_of_that_name_is_not_taken_for_the_examples(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Beside an installed package stand strangers: without the project's own file a folder says nothing."""
    from rigcalc.rigfile import examples

    (tmp_path / "examples").mkdir()
    (tmp_path / "examples" / "stranger.toml").write_text('title = "x"', encoding="utf-8")
    monkeypatch.setattr(examples, "__file__", str(tmp_path / "rigcalc" / "rigfile" / "examples.py"))
    assert "stranger" not in example_files()


@pytest.mark.slow
def test_a_wheel_carries_the_examples(tmp_path: Path) -> None:
    source = tmp_path / "source"
    source.mkdir()
    for name in ("rigcalc", "examples"):
        shutil.copytree(HOME / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(HOME / name, source / name)
    pip = [sys.executable, "-m", "pip", "--disable-pip-version-check"]
    subprocess.run(
        [
            *pip,
            "wheel",
            "-q",
            "--no-deps",
            "--no-index",
            "--no-build-isolation",
            "-w",
            str(tmp_path),
            str(source),
        ],
        check=True,
        capture_output=True,
    )
    (wheel,) = tmp_path.glob("*.whl")
    inside = zipfile.ZipFile(wheel).namelist()
    assert sum(name.endswith(".toml") and "share/rigcalc/examples/" in name for name in inside) == len(
        EXAMPLES
    )
    assert not any(name.startswith("examples/") for name in inside)
    where = tmp_path / "installed"
    subprocess.run(
        [*pip, "install", "-q", "--no-deps", "--no-index", "--target", str(where), str(wheel)],
        check=True,
        capture_output=True,
    )
    ran = subprocess.run(
        [sys.executable, "-m", "rigcalc", "new", "--from", "sharpie_5m2", "-"],
        env={**os.environ, "PYTHONPATH": str(where)},
        cwd=tmp_path,
        capture_output=True,
        check=True,
    )
    assert ran.stdout == (HOME / "examples" / "sharpie_5m2.toml").read_bytes()
