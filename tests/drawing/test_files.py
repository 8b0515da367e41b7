"""The three kinds of file: the same content, the same bytes each time, and DXF as strict readers want it."""

from __future__ import annotations

import hashlib
import io
import math
import os
import re
import subprocess
import sys
import zlib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import pytest

from rigcalc import check, read_rig
from rigcalc.cli import main
from rigcalc.reports.drawing import (
    PAPERS,
    UNAPPROVED,
    WRITERS,
    dxf_text,
    missing_letters,
    pdf_bytes,
    png_bytes,
)
from rigcalc.reports.drawing.dxf import encoded
from rigcalc.reports.drawing.hatching import hatch_lines
from rigcalc.reports.drawing.layout import drawing_of
from rigcalc.reports.drawing.scene import LAYERS, Arc, Circle, Drawing, Hatch, Line, Polyline, Text
from rigcalc.rigfile import starter_text

from . import RIGS, drawn, of_each, of_each_example, rig_of, texts

Capture = pytest.CaptureFixture[str]
SUFFIXES = [".pdf", ".svg", ".dxf"]


def all_texts(drawing: Drawing) -> Counter[str]:
    return Counter(text.text for sheet in drawing.sheets for text in texts(sheet))


# ---------------------------------------------------------------- DXF


def pairs(text: str) -> list[tuple[int, str]]:
    """Return group codes and values, which stand on lines of their own, one after the other."""
    lines = text.split("\n")
    assert lines.pop() == ""  # ends in a line end
    assert len(lines) % 2 == 0
    found = []
    for code, value in zip(lines[::2], lines[1::2], strict=True):
        assert re.fullmatch(r" *\d+", code), code
        assert value.isascii()
        assert value.isprintable()
        found.append((int(code), value))
    return found


REAL, WHOLE = (*range(10, 60),), (*range(60, 80),)
REQUIRED = {
    "LINE": {10, 20, 11, 21},
    "CIRCLE": {10, 20, 40},
    "ARC": {10, 20, 40, 50, 51},
    "TEXT": {10, 20, 40, 1},
    "POLYLINE": {66, 70},
    "VERTEX": {10, 20},
    "SEQEND": set(),
}
"""Entities that R12 knows and that are written, with the groups each must have (DXF reference, R12: from memory)."""
ALLOWED = {
    "LINE": {8, 10, 20, 30, 11, 21, 31},
    "CIRCLE": {8, 10, 20, 30, 40},
    "ARC": {8, 10, 20, 30, 40, 50, 51},
    "TEXT": {8, 10, 20, 30, 40, 1, 50, 41, 7, 72, 11, 21, 31},
    "POLYLINE": {8, 66, 70, 10, 20, 30},
    "VERTEX": {8, 10, 20, 30},
    "SEQEND": {8},
}


class Dxf:
    """A reader of R12 that takes nothing for granted."""

    def __init__(self, text: str) -> None:
        groups = pairs(text)
        assert groups[-1] == (0, "EOF")
        self.sections: dict[str, list[tuple[int, str]]] = {}
        name = ""
        for i, (code, value) in enumerate(groups[:-1]):
            if (code, value) == (0, "SECTION"):
                assert not name, "a section in a section"
                assert groups[i + 1][0] == 2
                name = groups[i + 1][1]
                assert name not in self.sections
                self.sections[name] = []
            elif (code, value) == (0, "ENDSEC"):
                assert name
                name = ""
            else:
                assert name, "something outside all sections"
                if not (code == 2 and value == name and not self.sections[name]):
                    self.sections[name].append((code, value))
        assert not name
        for code, value in groups:
            if code in REAL:
                assert math.isfinite(float(value)), (code, value)
            if code in WHOLE:
                int(value)

    @property
    def header(self) -> dict[str, dict[int, str]]:
        found: dict[str, dict[int, str]] = {}
        for code, value in self.sections["HEADER"]:
            if code == 9:
                found[value] = {}
            else:
                found[list(found)[-1]][code] = value
        return found

    def table(self, name: str) -> list[dict[int, str]]:
        """Return the entries of a table; its count must be theirs."""
        inside, rows, count = False, list[dict[int, str]](), -1
        groups = self.sections["TABLES"]
        for i, (code, value) in enumerate(groups):
            if (code, value) == (0, "TABLE"):
                inside = groups[i + 1] == (2, name)
            elif (code, value) == (0, "ENDTAB"):
                inside = False
            elif inside and code == 0:
                assert value == name
                rows.append({})
            elif inside and rows:
                rows[-1].setdefault(code, value)
            elif inside and code == 70:
                count = int(value)
        assert len(rows) == count
        return rows

    @property
    def entities(self) -> list[tuple[str, dict[int, str]]]:
        found: list[tuple[str, dict[int, str]]] = []
        for code, value in self.sections["ENTITIES"]:
            if code == 0:
                assert value in REQUIRED, f"{value} is not of R12, or not looked for"
                found.append((value, {}))
                continue
            kind, groups = found[-1]
            assert code in ALLOWED[kind], (kind, code)
            assert code not in groups, (kind, code)
            groups[code] = value
        for kind, groups in found:
            assert REQUIRED[kind] <= set(groups), kind
        return found


@of_each
def test_dxf_is_read_by_a_strict_reader(name: str) -> None:
    dxf = Dxf(dxf_text(drawn(name)))
    assert list(dxf.sections) == ["HEADER", "TABLES", "ENTITIES"]
    assert dxf.header["$ACADVER"] == {1: "AC1009"}
    line_types = {row[2] for row in dxf.table("LTYPE")}
    layers = {row[2]: row for row in dxf.table("LAYER")}
    (style,) = dxf.table("STYLE")
    assert {row[6] for row in layers.values()} <= line_types
    assert set(layers) == {"0", *(layer.name for layer in LAYERS)}
    assert all(re.fullmatch(r"[A-Z0-9_]{1,31}", layer) for layer in layers)
    inside_polyline = False
    for kind, groups in dxf.entities:
        assert groups[8] in layers
        assert not groups.get(7) or groups[7] == style[2]
        # vertices stand in a polyline, which ends
        if kind == "POLYLINE":
            assert not inside_polyline
            assert groups[66] == "1"
            inside_polyline = True
        elif kind == "SEQEND":
            assert inside_polyline
            inside_polyline = False
        else:
            assert inside_polyline == (kind == "VERTEX")
        # a text that is not at its left end needs the second point
        if kind == "TEXT":
            assert (groups.get(72, "0") != "0") == (11 in groups)
            assert float(groups[40]) >= 2.5
        if 40 in groups:
            assert float(groups[40]) > 0.0
    assert not inside_polyline


@of_each
def test_dxf_holds_what_the_scene_holds_layer_by_layer(name: str) -> None:
    drawing = drawn(name)
    wanted: Counter[tuple[str, str]] = Counter()
    for sheet in drawing.sheets:
        for item in sheet.items:
            layer = item.layer.name
            match item:
                case Hatch():
                    wanted[layer, "LINE"] += len(hatch_lines(item))
                case Polyline():
                    wanted[layer, "POLYLINE"] += 1
                    wanted[layer, "SEQEND"] += 1
                    wanted[layer, "VERTEX"] += len(item.points)
                case _:
                    wanted[layer, type(item).__name__.upper()] += 1
    found = Counter((groups[8], kind) for kind, groups in Dxf(dxf_text(drawing)).entities)
    assert found == wanted
    assert wanted["HATCHING", "LINE"] > 100


@of_each_example
def test_things_in_dxf_lie_where_the_scene_has_them(name: str) -> None:
    sheet = drawn(name).stacked()
    entities = Dxf(dxf_text(drawn(name))).entities

    def near(kind: str, *codes: int) -> list[tuple[float, ...]]:
        return sorted(tuple(float(g[c]) for c in codes) for k, g in entities if k == kind)

    circles = sorted((i.centre[0], i.centre[1], i.radius) for i in sheet.items if isinstance(i, Circle))
    assert near("CIRCLE", 10, 20, 40) == [pytest.approx(c, abs=1e-5) for c in circles]
    arcs = sorted(
        (i.centre[0], i.centre[1], i.radius, i.start_deg % 360, i.end_deg % 360)
        for i in sheet.items
        if isinstance(i, Arc)
    )
    assert near("ARC", 10, 20, 40, 50, 51) == [pytest.approx(a, abs=1e-5) for a in arcs]
    lines = [i for i in sheet.items if isinstance(i, Line)]
    lines += [line for i in sheet.items if isinstance(i, Hatch) for line in hatch_lines(i)]
    ends = sum(x for i in lines for x in (*i.start, *i.end))
    assert sum(map(sum, near("LINE", 10, 20, 11, 21))) == pytest.approx(ends, abs=1e-5 * 4 * len(lines))
    written = Counter(g[1] for k, g in entities if k == "TEXT")
    assert written == Counter(encoded(i.text) for i in sheet.items if isinstance(i, Text))


@of_each_example
def test_dxf_is_read_by_a_library(name: str) -> None:
    ezdxf = pytest.importorskip("ezdxf")
    document = ezdxf.read(io.StringIO(dxf_text(drawn(name))))
    assert document.dxfversion == "AC1009"
    assert not document.audit().has_errors
    space = document.modelspace()
    sheet = drawn(name).stacked()
    assert len(space.query("CIRCLE")) == sum(isinstance(i, Circle) for i in sheet.items)
    assert len(space.query("POLYLINE")) == sum(isinstance(i, Polyline) for i in sheet.items)
    assert {e.dxf.layer for e in space} <= {layer.name for layer in LAYERS}


# ---------------------------------------------------------------- PDF and SVG


def pdf_texts(data: bytes) -> str:
    """Return what the pages of a PDF say, text by text with a bar after each.

    Letters beyond Latin-1 are drawn apart from the rest; there are none in a drawing but those of a title. Two
    letters drawn as one have a code that is the writer's own, and come out as nothing: `unjoined` does the same.
    """
    said = []
    for stream in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", data, re.DOTALL):
        try:
            page = zlib.decompress(stream)
        except zlib.error:
            continue
        for shown in re.findall(rb"BT(.*?)ET", page, re.DOTALL):
            letters = b"".join(re.findall(rb"\(((?:\\.|[^()\\])*)\)", shown, re.DOTALL))
            plain = re.sub(rb"\\(\d{3})", lambda m: bytes([int(m[1], 8)]), letters)
            bare = re.sub(rb"\\(.)", rb"\1", plain, flags=re.DOTALL)
            # one byte or two to a letter, by the version of what wrote it
            read = bare.decode("utf-16-be" if b"\x00" in bare else "latin-1")
            said.append("".join(c for c in read if c.isprintable()))
    return "|".join(said)


def unjoined(text: str) -> str:
    """Return a text without the letters that a font may draw as one."""
    return re.sub("ff[il]|f[fil]", "", text)


def svg_texts(data: bytes) -> Counter[str]:
    root = ElementTree.fromstring(data)
    return Counter("".join(e.itertext()) for e in root.iter("{http://www.w3.org/2000/svg}text"))


@of_each_example
def test_svg_says_what_the_scene_says_as_text(name: str) -> None:
    assert svg_texts(WRITERS[".svg"](drawn(name))) == all_texts(drawn(name))


@of_each_example
def test_pdf_says_what_the_scene_says_as_text(name: str) -> None:
    data = pdf_bytes(drawn(name))
    found = Counter(unjoined(text) for text in pdf_texts(data).split("|"))
    wanted = Counter[str]()
    for text, count in all_texts(drawn(name)).items():
        wanted[unjoined(text)] += count
    assert found == wanted
    assert len(re.findall(rb"/Type /Page\b", data)) == len(drawn(name).sheets)
    assert b"CreationDate" not in data
    assert b"ModDate" not in data
    width, height = PAPERS["A3"].width, PAPERS["A3"].height
    box = re.search(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", data)
    assert box
    assert [float(v) * 25.4 / 72 for v in box.groups()] == pytest.approx([width, height], abs=0.01)


@of_each
@pytest.mark.parametrize("suffix", SUFFIXES)
def test_cautions_are_in_every_file(name: str, suffix: str) -> None:
    _, result = rig_of(name)
    data = WRITERS[suffix](drawn(name))
    if suffix == ".pdf":
        words = " ".join(pdf_texts(data).split("|"))
    elif suffix == ".svg":
        root = ElementTree.fromstring(data)
        words = " ".join("".join(e.itertext()) for e in root.iter("{http://www.w3.org/2000/svg}text"))
    else:
        words = " ".join(g[1] for k, g in Dxf(data.decode("ascii")).entities if k == "TEXT")
    words = unjoined(words)
    assert UNAPPROVED in words
    assert "Reviewed by: ____" in words
    for caution in result.cautions:
        assert unjoined(caution) in words


def test_the_picture_has_ink_on_it() -> None:
    import matplotlib.image

    pixels = matplotlib.image.imread(io.BytesIO(png_bytes(drawn("sharpie_5m2").sheets[0], dots_per_inch=50)))
    dark = (pixels[..., :3].mean(axis=2) < 0.5).mean()
    assert 0.005 < dark < 0.2
    assert pixels.shape[:2] == pytest.approx((297 / 25.4 * 50, 420 / 25.4 * 50), abs=1.5)


# ---------------------------------------------------------------- the same bytes


@of_each_example
@pytest.mark.parametrize("suffix", SUFFIXES)
def test_the_same_file_twice(name: str, suffix: str) -> None:
    rig, result = rig_of(name)
    assert WRITERS[suffix](drawing_of(rig, result)) == WRITERS[suffix](drawn(name))


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_neither_seed_nor_settings_of_the_user_change_a_byte(tmp_path: Path, suffix: str) -> None:
    settings = tmp_path / "matplotlibrc"
    settings.write_text(
        "font.size: 31\nlines.linewidth: 9\nsvg.fonttype: path\ntext.color: red\n", encoding="utf-8"
    )
    found = []
    for seed, more in (("1", {}), ("2", {"MATPLOTLIBRC": str(settings), "SOURCE_DATE_EPOCH": "86400"})):
        out = tmp_path / f"mast{seed}{suffix}"
        ran = subprocess.run(
            [sys.executable, "-m", "rigcalc", "drawing", str(RIGS["trailer_sailer_4m6"]), "-o", str(out)],
            env={**os.environ, "PYTHONHASHSEED": seed, **more},
            capture_output=True,
            check=True,
        )
        assert ran.stdout == b""
        found.append(out.read_bytes())
    assert found[0] == found[1]


# ---------------------------------------------------------------- the command


def run(capsys: Capture, *words: str) -> tuple[int, str, str]:
    code = main(["drawing", *words])
    out, err = capsys.readouterr()
    return code, out, err


@pytest.mark.parametrize("suffix", [*SUFFIXES, ".PDF"])
def test_a_drawing_is_written(capsys: Capture, tmp_path: Path, suffix: str) -> None:
    file = tmp_path / f"mast{suffix}"
    code, out, err = run(capsys, str(RIGS["sharpie_5m2"]), "-o", str(file))
    assert (code, out) == (0, "")
    assert err == (
        f"Wrote {file}, {len(drawn('sharpie_5m2').sheets)} sheets of A3. Not approved for construction: have it "
        "reviewed.\n"
    )
    of_file = drawing_of(*rig_of("sharpie_5m2"), raw=RIGS["sharpie_5m2"].read_bytes())
    assert file.read_bytes() == WRITERS[suffix.lower()](of_file)


@pytest.mark.parametrize("paper", PAPERS)
def test_every_paper(capsys: Capture, tmp_path: Path, paper: str) -> None:
    file = tmp_path / "mast.dxf"
    code, _, err = run(capsys, str(RIGS["sharpie_5m2"]), "-o", str(file), "--paper", paper, "--units", "us")
    assert code == 0
    assert f"of {paper}." in err
    raw = RIGS["sharpie_5m2"].read_bytes()
    assert file.read_bytes() == WRITERS[".dxf"](
        drawing_of(*rig_of("sharpie_5m2"), paper=paper, shown_in="us", raw=raw)
    )


def test_the_papers_of_the_command_are_those_there_are(capsys: Capture, tmp_path: Path) -> None:
    assert main(["drawing", "x.toml", "-o", "x.pdf", "--paper", "B5"]) == 2
    offered = re.findall(r"'(\w+)'", capsys.readouterr().err.partition("choose from")[2])
    assert offered in ([], list(PAPERS))
    assert main(["drawing", "--help"]) == 0
    assert "{" + ",".join(PAPERS) + "}" in capsys.readouterr().out


@pytest.mark.parametrize("name", ["mast.png", "mast", "mast.dwg", "pdf"])
def test_a_suffix_that_is_none_of_them(capsys: Capture, tmp_path: Path, name: str) -> None:
    file = tmp_path / name
    code, out, err = run(capsys, str(RIGS["sharpie_5m2"]), "-o", str(file))
    assert (code, out) == (2, "")
    assert ".pdf, .svg or .dxf" in err
    assert name in err
    assert "Traceback" not in err
    assert not file.exists()


def test_where_nothing_can_be_written(capsys: Capture, tmp_path: Path) -> None:
    code, _, err = run(capsys, str(RIGS["sharpie_5m2"]), "-o", str(tmp_path / "no" / "mast.dxf"))
    assert code == 2
    assert "mast.dxf" in err
    assert "Traceback" not in err


def test_a_mast_that_fails_is_drawn_and_said_to_fail(capsys: Capture, tmp_path: Path) -> None:
    rig = tmp_path / "thin.toml"
    rig.write_text(starter_text().replace('wall = "3 mm"', 'wall = "1.2 mm"'), encoding="utf-8")
    file = tmp_path / "mast.dxf"
    code, _, err = run(capsys, str(rig), "-o", str(file))
    assert code == 1
    assert "The check of this mast FAILS: do not build it." in err
    assert "FAIL: not to be built as drawn" in file.read_text(encoding="ascii")


def test_a_bad_rig_file_is_told_of_and_nothing_written(capsys: Capture, tmp_path: Path) -> None:
    rig = tmp_path / "bad.toml"
    rig.write_text(starter_text().replace("bury", "burry"), encoding="utf-8")
    code, _, err = run(capsys, str(rig), "-o", str(tmp_path / "mast.dxf"))
    assert code == 2
    assert "mast.burry" in err
    assert not (tmp_path / "mast.dxf").exists()


@pytest.mark.parametrize("title", ["$x_1$ & <b> 100 %%", "Møre – Zoë’s båt", "Лодка", "(a'b)"])
def test_titles_are_plain_text_everywhere(title: str) -> None:
    starter = "Starter: 4.6 m open boat with one freestanding mast"
    rig = read_rig(starter_text().replace(starter, title))
    assert rig.title == title
    drawing = drawing_of(rig, check(rig))
    assert svg_texts(WRITERS[".svg"](drawing)) == all_texts(drawing)
    assert title in all_texts(drawing)
    assert missing_letters(drawing) == ""
    assert pdf_bytes(drawing).startswith(b"%PDF")
    assert encoded(title) in {groups.get(1) for _, groups in Dxf(dxf_text(drawing)).entities}


def test_letters_that_the_font_lacks_are_told_of(capsys: Capture, tmp_path: Path) -> None:
    rig = tmp_path / "boat.toml"
    rig.write_text(starter_text().replace("Starter", "\u8239\u5e06"), encoding="utf-8")
    code, _, err = run(capsys, str(rig), "-o", str(tmp_path / "mast.pdf"))
    assert code == 0
    assert "the font of the PDF has no \u5e06 \u8239; the .svg has." in err
    code, _, err = run(capsys, str(rig), "-o", str(tmp_path / "mast.svg"))
    assert code == 0
    assert "the font of" not in err
    assert "\u8239\u5e06" in (tmp_path / "mast.svg").read_text(encoding="utf-8")


def heavy(*words: str) -> Iterator[str]:
    code = (
        "import sys; from rigcalc.cli import main; main(sys.argv[1:]); "
        "print(*{n.split('.')[0] for n in sys.modules}, file=sys.stderr)"
    )
    ran = subprocess.run([sys.executable, "-c", code, *words], capture_output=True, check=True)
    yield from ran.stderr.decode().splitlines()[-1].split()


def test_dxf_has_no_need_of_matplotlib(tmp_path: Path) -> None:
    given = str(RIGS["given_loads"])
    assert "matplotlib" not in set(heavy("drawing", given, "-o", str(tmp_path / "mast.dxf")))
    assert "matplotlib" in set(heavy("drawing", given, "-o", str(tmp_path / "mast.svg")))


def test_the_function_writes_what_the_command_writes(tmp_path: Path) -> None:
    from rigcalc import drawing

    rig_file, out = tmp_path / "boat.toml", tmp_path / "mast.dxf"
    rig_file.write_text(starter_text(), encoding="utf-8")
    assert main(["drawing", str(rig_file), "-o", str(out), "--paper", "A2"]) == 0
    rig = read_rig(starter_text())
    assert drawing(rig, form="dxf", paper="A2", raw=rig_file.read_bytes()) == out.read_bytes()
    with pytest.raises(ValueError, match="no such form of drawing: 'docx'"):
        drawing(rig, form="docx")  # type: ignore[arg-type]  # a user may
    with pytest.raises(ValueError, match="no such paper: 'A9'"):
        drawing(rig, paper="A9")


def test_a_sheet_tells_which_file_it_was_drawn_from(tmp_path: Path) -> None:
    """So that who holds it can see whether the file has changed since."""
    file, out = tmp_path / "mast.toml", tmp_path / "mast.svg"
    file.write_text(starter_text(), encoding="utf-8")
    assert main(["drawing", str(file), "-o", str(out)]) == 0
    digest = hashlib.sha256(file.read_bytes()).hexdigest()
    assert f"sha256 {digest[:12]}: " in out.read_text(encoding="utf-8")
