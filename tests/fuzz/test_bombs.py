"""Files made to hurt: each is answered or refused, in a moment."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from rigcalc.cli import main
from rigcalc.rig.fields import Curve, Heights, Tables, spec_of
from tests.rigfile import every_field

from .bombs import COUNTS, MANY, ONE, RAW, Change, made
from .judge import Tally, checked, no_hang, read_or_refused

FILE_COMMANDS = (
    ("check",),
    ("check", "--json"),
    ("check", "--vary", "mast.bury=x0.9:x1.1:2"),
    ("working",),
    ("cases",),
    ("reef",),
    ("laminate",),
    ("order",),
    ("report",),
    ("size",),
    ("compare",),
    ("doubt",),
    ("bearings",),
    ("export", "--to", "csv"),
    ("plot", "--what", "list"),
    ("drawing", "-o", "nowhere.svg"),
    ("materials", "--own"),
)
"""Every command that reads a rig file; the file comes last."""


@pytest.mark.parametrize("name", RAW)
def test_bytes_that_are_no_rig(name: str) -> None:
    with no_hang():
        assert read_or_refused(RAW[name]) is None


@pytest.mark.parametrize("name", ONE)
def test_one_thing_that_no_rig_has(name: str) -> None:
    with no_hang():
        assert read_or_refused(made(ONE[name])) is None


@pytest.mark.parametrize("count", COUNTS)
@pytest.mark.parametrize("name", MANY)
def test_very_many_of_something(name: str, count: int) -> None:
    tally = Tally()
    with tally.timed(name):
        rig = read_or_refused(made(MANY[name], count))
        if rig is not None:
            checked(rig)
    print(f"{name}: {tally.slowest_s:.2f} s")
    if count == 10_000:
        assert rig is None, "a list of ten thousand is beyond any rig"


def test_every_list_has_its_most() -> None:
    for path, entry in every_field():
        spec = spec_of(entry)
        if isinstance(spec, Tables | Curve | Heights):
            assert 2 <= spec.most <= 2000, path


def written(folder: Path, name: str, change: Change, count: int = 0) -> str:
    path = folder / name
    path.write_bytes(made(change, count))
    return str(path)


@pytest.mark.parametrize("command", FILE_COMMANDS, ids=" ".join)
def test_what_is_no_file_or_no_rig(
    command: tuple[str, ...],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "empty.toml").write_bytes(b"")
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe\x00")
    (tmp_path / "deep.toml").write_bytes(RAW["lists in lists"])
    (tmp_path / "large.toml").write_bytes(RAW["too large"])
    (tmp_path / "short.toml").write_bytes(made(ONE["a mast of a millimetre"]))
    (tmp_path / "loop.toml").symlink_to("loop.toml")
    names = [
        "missing.toml",
        ".",
        "",
        "\udcff.toml",
        "a" * 5000,
        "loop.toml",
        "/dev/null",
        "/dev/zero",
        "empty.toml",
    ]
    names += [
        "bytes.toml",
        "deep.toml",
        "large.toml",
        "short.toml",
        "missing/rig.toml",
        "empty.toml/rig.toml",
    ]
    for name in names:
        if name.startswith("/dev/") and not os.path.exists(name):
            continue
        with no_hang():
            code = main([*command, name])
        said = capsys.readouterr()
        assert code == 2, f"{name!r}: {code}"
        assert said.out == "" and said.err and "Traceback" not in said.err
    assert not (tmp_path / "nowhere.svg").exists()
