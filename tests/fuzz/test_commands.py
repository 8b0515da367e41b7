"""Hostile words and hostile files beside the rig file: what is varied, where is written, and lists of tubes."""

from __future__ import annotations

import tomllib
from pathlib import Path
from random import Random

import pytest

from rigcalc.design.vary import axes_of
from rigcalc.materials.tube_lists import tubes_from_csv
from rigcalc.rigfile import starter_text
from rigcalc.rigfile.paths import numbers_at
from tests.rigfile import GOOD

from .damage import damaged
from .judge import answered, no_hang
from .outputs import told
from .values import NUMBERS, TEXTS, UNITS

PATHS = (
    "mast.bury", "mast.length", "mast.stations[*].wall", "mast.stations[1].diameter", "sail[0].luff", "sail[*]", "mast",
    "", ".", "[", "]", "mast.", ".mast", "mast..bury", "mast.stations[", "mast.stations[]", "mast.stations[-1].wall",
    "mast.stations[99999999999999999999].wall", "mast.stations[1e3].wall", "mast.stations[*][*]",
    "mast.stations[٣].wall",
    "title", "case[0].wind_speed", "boat.stability.righting_arm[*][1]", "wind.exponent", "mast.stations[*].height",
    "a" * 5000, "mast" + ".bury" * 2000, "[*]" * 2000, "mast.stations" + "[0]" * 3000, "\x00", "\udcff", "é.ü",
)  # fmt: skip


def vary_words(rng: Random) -> str:
    def end() -> str:
        number = rng.choice((*NUMBERS, "0.7", "1", "1.2")) + rng.choice((" ", "")) + rng.choice((*UNITS, "m"))
        return rng.choice((number, number, f"x{rng.choice((*NUMBERS, '0.9', '1.1'))}", rng.choice(TEXTS)))

    if rng.random() < 0.2:
        return (
            f"mast.bury={rng.choice(('0.7 m:0.8 m', 'x0.9:x1.1', '28 in:3 ft 1/2 in'))}:{rng.choice('2345')}"
        )
    points = rng.choice(
        ("2", "3", "7", "0", "1", "-3", "1e2", "٣", "", "9" * 5000, "2.0", " 4 ", "x2", "1_0")
    )
    words = f"{rng.choice(PATHS)}={end()}:{end()}:{points}"
    if rng.random() < 0.3:
        at = rng.randrange(len(words) + 1)
        words = (
            words[:at]
            + rng.choice(("", ":", "=", "==", ",", "\n", "é", "[*]"))
            + words[at + rng.randrange(3) :]
        )
    return words


@pytest.mark.parametrize("chunk", range(4))
def test_what_is_varied(chunk: int) -> None:
    rng, raw = Random(f"vary {chunk}"), tomllib.loads(GOOD if chunk % 2 else starter_text())
    read = 0
    for _ in range(500):
        asked = [vary_words(rng) for _ in range(rng.choice((1, 1, 1, 2, 3)))]
        with no_hang():
            read += answered(lambda asked=asked: axes_of(raw, asked)) is not None  # type: ignore[misc]
    assert 0 < read < 400, "the words are all good, or all bad"


@pytest.mark.parametrize("path", PATHS)
def test_a_path_into_the_file(path: str) -> None:
    with no_hang():
        answered(lambda: numbers_at(tomllib.loads(GOOD), path))


BAD_WORDS = (
    ["--vary", "mast.bury=0.7 m:0.8 m:2", "--vary", "mast.bury=0.7 m:0.8 m:2"],
    ["--vary", "mast.bury"],
    ["--vary", ""],
    ["--vary", "mast.bury=0.7 m:0.8 m:2", "--case", "\x1b[31m"],
    ["--csv"],
    ["--plot", "a.svg"],
    ["--vary", "mast.bury=0.7 m:0.8 m:2", "--json", "--csv"],
    ["--case", ""],
    ["--case", "x" * 5000],
)


@pytest.mark.parametrize("words", BAD_WORDS, ids=" ".join)
def test_bad_words(words: list[str], tmp_path: Path) -> None:
    file = tmp_path / "rig.toml"
    file.write_text(starter_text(), encoding="utf-8")
    code, said, error = told(["check", str(file), *words])
    assert code == 2 and not said and error.startswith("rigcalc: ")


WRITERS = (
    ("check", "--vary", "mast.bury=0.7 m:0.8 m:2", "--plot", "{}.svg"),
    ("plot", "--what", "boat", "-o", "{}.svg"),
    ("drawing", "-o", "{}.dxf"),
    ("report", "-o", "{}.md"),
    ("export", "--to", "csv", "-o", "{}"),
)
NOWHERE = ("missing/out", "rig.toml/out", "a" * 300, "locked/out", "taken")
"""Where nothing can be written: no folder, a file for a folder, too long a name, no right, a folder of that name."""


@pytest.mark.parametrize("where", NOWHERE, ids=lambda where: where[:12])
@pytest.mark.parametrize("words", WRITERS, ids=lambda words: words[0])
def test_what_cannot_be_written(
    words: tuple[str, ...], where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("rig.toml").write_text(starter_text(), encoding="utf-8")
    Path("locked").mkdir(mode=0o500)
    for suffix in ("", ".svg", ".dxf", ".md"):
        Path(f"taken{suffix}").mkdir()
    target = [word.format(where) for word in words]
    if words[0] == "plot" and where == "taken":
        target[-1] = "taken.svg/missing/out.svg"  # a folder takes figures
    code, _, error = told([*target, "rig.toml"])
    if where.startswith("locked") and code in (0, 1):
        pytest.skip("whoever runs the tests may write anywhere")
    assert code == 2 and error.startswith("rigcalc: ") and "Traceback" not in error


TUBES = """name;outside diameter [mm];wall [mm];material;stock length [m];price per m
a;60;2.5;6061-T6 drawn;5;12.5
b;50,5;2;6061-T6 drawn;5;9
c;45;3;;6.5;7.25
"""


@pytest.mark.parametrize("chunk", range(4))
def test_a_list_of_tubes(chunk: int) -> None:
    rng = Random(f"tubes {chunk}")
    for _ in range(500):
        text = (
            TUBES
            if rng.random() < 0.5
            else TUBES.replace("50,5", "50.5").replace(";", rng.choice((",", "\t")))
        )
        data = damaged(text, rng, "diameter mm,wall\n25.4 mm,1/8 in\n" + starter_text())
        try:
            hurt = data.decode()
        except UnicodeDecodeError:
            continue
        with no_hang():
            answered(lambda hurt=hurt: tubes_from_csv(hurt))  # type: ignore[misc]


@pytest.mark.parametrize("name", ["zeros", "no text", "large", "folder", "missing", "quotes"])
def test_a_list_of_tubes_on_the_disk(name: str, tmp_path: Path) -> None:
    listed = tmp_path / "tubes.csv"
    contents = {
        "zeros": bytes(5000),
        "no text": bytes(range(256)),
        "large": b"#" * 1_000_001,
        "quotes": b'"' * 999,
    }
    if name in contents:
        listed.write_bytes(contents[name])
    elif name == "folder":
        listed.mkdir()
    file = tmp_path / "rig.toml"
    file.write_text(starter_text() + '\n[stock]\nfile = "tubes.csv"\n', encoding="utf-8")
    for command in ("order", "size"):
        with no_hang():
            code, said, error = told([command, str(file)])
        assert code == 2 and not said and "Traceback" not in error
