"""Sizes of round tube: the generic table, and a user's own list with everything that may be wrong in it."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcalc.errors import RigInputError
from rigcalc.formulas.sections import annulus_area
from rigcalc.materials.tube_lists import (
    LARGEST_FILE_BYTES,
    MOST_TUBES,
    read_tube_list,
    tubes_from_csv,
)
from rigcalc.materials.tube_tables import TubeSize, tube_series, tube_sizes

# ---------------------------------------------------------------- the generic table


def test_every_row_has_a_bore_a_name_and_a_source() -> None:
    sizes = tube_sizes()
    assert len(sizes) == 339
    assert len({(size.diameter_m, size.wall_m) for size in sizes}) == len(sizes)
    assert len({size.name for size in sizes}) == len(sizes)
    for size in sizes:
        assert 0 < size.bore_m < size.diameter_m < 0.3
        assert size.provenance in ("read", "memory")
        assert ("from memory" in size.source) == (size.provenance == "memory")
        assert size.material is None and size.stock_length_m is None
        assert size.price_per_m is None and size.price_per_kg is None


def test_series_are_together() -> None:
    names = [size.series for size in tube_sizes()]
    assert [name for i, name in enumerate(names) if i == 0 or names[i - 1] != name] == list(tube_series())
    assert len(tube_series()) == 10


def named(name: str) -> TubeSize:
    return next(size for size in tube_sizes() if size.name == name)


@pytest.mark.parametrize(
    ("name", "outside_in", "wall_in"),
    [
        ("1.625 x 0.058 in", 1.625, 0.058),
        ("2 in x 16 SWG", 2.0, 0.064),  # 16 SWG is 0.064 in
        ("3 x 0.125 in", 3.0, 0.125),
    ],
)
def test_inch_sizes_are_whole_in_inches(name: str, outside_in: float, wall_in: float) -> None:
    assert named(name).diameter_m == pytest.approx(outside_in * 0.0254, rel=1e-12)
    assert named(name).wall_m == pytest.approx(wall_in * 0.0254, rel=1e-12)


def test_pipe_sizes_are_those_of_their_inches() -> None:
    # 1.900 x 0.145 in, as in the published section of the same pipe; the list has them to 0.1 and 0.01 mm
    pipe = named("NPS 1.5 schedule 40")
    assert pipe.diameter_m == pytest.approx(1.900 * 0.0254, abs=0.05e-3)
    assert pipe.wall_m == pytest.approx(0.145 * 0.0254, abs=0.005e-3)


def test_telescoping_sizes_slide_into_one_another() -> None:
    """0.009 in of play between neighbours in steps of 1/8 in with walls of 0.058 in: arithmetic."""
    sizes = [size for size in tube_sizes() if size.series == "inch telescoping tube"]
    for inner, outer in pairwise(sizes):
        assert outer.bore_m - inner.diameter_m == pytest.approx(0.009 * 0.0254, abs=1e-9)


def test_mass_is_that_of_the_ring() -> None:
    for size in tube_sizes():
        area = annulus_area(D=size.diameter_m, d=size.bore_m)
        assert size.kg_per_m(2700.0) == pytest.approx(2700.0 * area, rel=1e-12)


# ---------------------------------------------------------------- a user's own list

GOOD = """\
name,outside diameter [mm],wall,material,stock length,price per m
light,80,2 mm,6082-T6 drawn,6 m,12.5
heavy,80,1/8 in,6082-T6 drawn,6 m,17
heavy long,80,1/8 in,6082-T6 drawn,20 ft,19
pole,63.5,3 mm,,,
"""


def test_a_good_list_is_read() -> None:
    light, heavy, long, pole = tubes_from_csv(GOOD, source="mine.csv")
    assert light == TubeSize(
        name="light",
        series="mine.csv",
        diameter_m=0.08,
        wall_m=0.002,
        material="6082-T6 drawn",
        stock_length_m=6.0,
        price_per_m=12.5,
        provenance="user",
        source="mine.csv",
    )
    assert heavy.wall_m == pytest.approx(3.175e-3)
    assert long.stock_length_m == pytest.approx(6.096)
    assert (pole.material, pole.stock_length_m, pole.price_per_m) == (None, None, None)
    assert pole.cost_per_m(2700.0) is None


@pytest.mark.parametrize(
    "text",
    [
        "diameter [mm],wall [mm]\n80,2\n",
        "OD (mm),Wall thickness (mm)\n80,2\n",
        "outer_diameter_mm,wall_mm\n80,2\n",
        "diameter mm;wall mm\n80;2\n",
        "diameter\twall\n80 mm\t2 mm\n",
        "wall,diameter\n2 mm,8 cm\n",
        '\ufeffdiameter [mm],wall [mm]\r\n\r\n"80","2"\r\n,\r\n',
        'diameter [mm], wall [mm]\n80, "2 mm"',
        "diameter [cm],wall [mm]\n8 cm,2\n",
    ],
)
def test_ways_to_write_one_list(text: str) -> None:
    (size,) = tubes_from_csv(text)
    assert (size.diameter_m, size.wall_m) == (pytest.approx(0.08), pytest.approx(0.002))
    assert size.name == "80 x 2 mm"


def test_an_inch_sign_is_no_quotation_mark() -> None:
    (size,) = tubes_from_csv('diameter,wall\n3",1/8"\n')
    assert (size.diameter_m, size.wall_m) == (pytest.approx(0.0762), pytest.approx(3.175e-3))


@pytest.mark.parametrize(
    ("heading", "cell", "per_m", "per_kg"),
    [
        ("price per m", "12", 12.0, None),
        ("price_per_m", "0", 0.0, None),
        ("price/kg", "6.5", None, 6.5),
        ("price per ft", "3.048", 10.0, None),
        ("Price per lb", "0.45359237", None, 1.0),
    ],
)
def test_prices(heading: str, cell: str, per_m: float | None, per_kg: float | None) -> None:
    (size,) = tubes_from_csv(f"diameter [mm],wall [mm],{heading}\n80,2,{cell}\n")
    assert size.price_per_m == (None if per_m is None else pytest.approx(per_m))
    assert size.price_per_kg == (None if per_kg is None else pytest.approx(per_kg))
    metre = size.cost_per_m(2700.0)
    assert metre == pytest.approx(per_m if per_kg is None else per_kg * size.kg_per_m(2700.0))


@dataclass(frozen=True)
class Bad:
    """A list, where its problem stands, and what is said of it."""

    text: str
    path: str
    value: str
    tells: str

    def __str__(self) -> str:
        return f"{self.path} {self.value}"[:60] or "empty"


HEAD = "diameter [mm],wall [mm]"
BAD = [
    Bad("", "file", "", "it is empty"),
    Bad("\n \n", "file", "", "it is empty"),
    Bad(HEAD, "file", "", "no tube below the headings"),
    Bad("diameter [mm],name\n80,a", "line 1", "", "Add wall [mm]."),
    Bad(f"{HEAD},colour\n80,2,red", "line 1, colour", "", "the columns are outside diameter, wall"),
    Bad(f"{HEAD},stock lenght\n80,2,6 m", "line 1, stock lenght", "", "Did you mean stock length?"),
    Bad(f"{HEAD},\n80,2,", "line 1, ", "", "Rename the column, or take it out."),
    Bad(f"{HEAD},od [mm]\n80,2,80", "line 1", "outside diameter", "two columns are headed so"),
    Bad(f"{HEAD},price per m,price/m\n80,2,1,1", "line 1", "price per m", "two columns are headed so"),
    Bad("diameter [kg],wall [mm]\n80,2", "line 1, diameter [kg]", "kg", "a length is wanted"),
    Bad("diameter [mms],wall [mm]\n80,2", "line 1, diameter [mms]", "mms", "Did you mean mm?"),
    Bad(f"{HEAD},price\n80,2,1", "line 1, price", "", "Head it price per m or price per kg."),
    Bad(
        f"{HEAD},price per tube\n80,2,1", "line 1, price per tube", "tube", "price is for a length or a mass"
    ),
    Bad(f"{HEAD},price per m [EUR]\n80,2,1", "line 1, price per m [EUR]", "EUR", "Head it price per m."),
    Bad(f"{HEAD},name [mm]\n80,2,1", "line 1, name [mm]", "mm", "a name has no unit"),
    Bad(f"{HEAD}\n80", "line 2", "1 cells", "there are 2 columns"),
    Bad(f"{HEAD}\n80,2,6", "line 2", "3 cells", "there are 2 columns"),
    Bad(f'{HEAD}\n"80,2', "line 2", "", "not valid CSV"),
    Bad(f'{HEAD}\n"80"x,2', "line 2", "", "not valid CSV"),
    Bad(f"{HEAD}\n,2", "line 2, diameter [mm]", "", "a length is wanted"),
    Bad(f"{HEAD}\neighty,2", "line 2, diameter [mm]", "eighty", "Write a plain number"),
    Bad(f"{HEAD}\n80,nan", "line 2, wall [mm]", "nan", "Write a plain number"),
    Bad(f"{HEAD}\n80,1e999", "line 2, wall [mm]", "1e999", "too large"),
    Bad(f"{HEAD}\n80,2 kg", "line 2, wall [mm]", "2 kg", "a length is wanted"),
    Bad(f"{HEAD}\n80,1/8 in", "line 2, wall [mm]", "1/8 in", "the heading says mm"),
    Bad("diameter [m],wall [mm]\n80 mm,2", "line 2, diameter [m]", "80 mm", "the heading says m"),
    Bad("diameter,wall [mm]\n80,2", "line 2, diameter", "80", "Head it outside diameter [mm]."),
    Bad("diameter [mm];wall [mm]\n80;2,5", "line 2, wall [mm]", "2,5", "Write 2.5."),
    Bad(f"{HEAD}\n8000,2", "line 2, diameter [mm]", "8000", "outside 10 mm to 800 mm"),
    Bad(f"{HEAD}\n-80,2", "line 2, diameter [mm]", "-80", "Is the unit right?"),
    Bad(f"{HEAD}\n80,0", "line 2, wall [mm]", "0", "outside 0.5 mm to 60 mm"),
    Bad(f"{HEAD}\n80,40", "line 2, wall", "40 mm", "it leaves no bore in a tube of 80 mm"),
    Bad(f"{HEAD}\n80,2\n80,2.0", "line 3", "80 mm x 2 mm", "the same tube stands in line 2"),
    Bad(f"{HEAD},length\n80,2,6000 m", "line 2, length", "6000 m", "outside 500 mm to 30 m"),
    Bad(f"{HEAD},price per m\n80,2,-1", "line 2, price per m", "-1", "from 0 to 1e+09"),
    Bad(f"{HEAD},price per m\n80,2,40 %", "line 2, price per m", "40 %", "Write the number alone."),
    Bad(f"{HEAD},price per m\n80,2,12 EUR", "line 2, price per m", "12 EUR", "a bare number is wanted"),
    Bad(
        f"{HEAD},price per m,price per kg\n80,2,1,2",
        "line 2, price per kg",
        "2",
        "Leave one of the two empty.",
    ),
    Bad(f"{HEAD},name\n80,2,a\x1b[31m", "line 2, name", "a\x1b[31m", "a text of one line is wanted"),
    Bad(f'{HEAD},name\n80,2,"a\nb"', "line 3, name", "a\nb", "a text of one line is wanted"),
]


@pytest.mark.parametrize("bad", BAD, ids=str)
def test_bad_list(bad: Bad) -> None:
    with pytest.raises(RigInputError) as caught:
        tubes_from_csv(bad.text)
    (problem,) = caught.value.problems
    assert (problem.path, problem.value) == (bad.path, bad.value)
    assert bad.tells in f"{problem.allowed}. {problem.remedy}"
    assert problem.allowed and problem.remedy[-1] in ".?"
    told = str(caught.value)
    assert told.startswith("1 problem in the list of tubes:")
    assert all(line.isprintable() for line in told.splitlines())


def test_every_problem_is_told_at_once() -> None:
    text = f"{HEAD},price per m\n80,x,1\n,2,1\n90,2\n80,2,z\n100,60,1\n"
    with pytest.raises(RigInputError) as caught:
        tubes_from_csv(text)
    assert [p.path for p in caught.value.problems] == [
        "line 2, wall [mm]",
        "line 3, diameter [mm]",
        "line 4",
        "line 5, price per m",
        "line 6, wall",
    ]


def test_a_list_that_is_far_too_long() -> None:
    lines = [f"{100 + i / 100},2" for i in range(MOST_TUBES + 1)]
    assert len(tubes_from_csv("\n".join([HEAD, *lines[:-1]]))) == MOST_TUBES
    with pytest.raises(RigInputError, match="at most 2000 tubes"):
        tubes_from_csv("\n".join([HEAD, *lines]))


def test_a_file_is_read(tmp_path: Path) -> None:
    file = tmp_path / "shop.csv"
    file.write_bytes(b"\xef\xbb\xbfdiameter [mm],wall [mm]\n80,2\n")
    (size,) = read_tube_list(file)
    assert size.source == size.series == "shop.csv"
    file.write_bytes(b"diameter [mm],wall [mm],name\n80,2,\xe9\n")
    with pytest.raises(RigInputError, match="not UTF-8 at byte 34"):
        read_tube_list(file)
    file.write_bytes(b" " * (LARGEST_FILE_BYTES + 1))
    with pytest.raises(RigInputError, match="over 1,000,000 bytes"):
        read_tube_list(file)
    with pytest.raises(FileNotFoundError):
        read_tube_list(tmp_path / "none.csv")


@given(st.text(alphabet='diameterwall [mm],;\t\n\r"0123456789./ inprc', max_size=120) | st.text(max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    for written in (text, f"{HEAD},name\n{text}"):
        try:
            sizes = tubes_from_csv(written)
        except RigInputError as error:
            assert error.problems
        else:
            assert sizes
            assert all(size.bore_m > 0 for size in sizes)


def test_neither_needs_numpy() -> None:
    code = (
        "import sys; from rigcalc.materials import tube_lists, tube_tables; tube_tables.tube_sizes(); "
        "tube_lists.tubes_from_csv('diameter [mm],wall [mm]\\n80,2'); sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code]).returncode == 0
