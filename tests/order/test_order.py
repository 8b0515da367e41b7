"""The order of a mast: weighed against the check, cut lists that add up, and one answer in every form."""

from __future__ import annotations

import csv
import io
import json
import math
from collections import Counter
from functools import cache
from itertools import product
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from rigcalc import check, load_rig, read_rig
from rigcalc.cli import main
from rigcalc.design.order import Order, order
from rigcalc.errors import RigInputError
from rigcalc.reports import screen
from rigcalc.reports.order import order_json, order_screen
from rigcalc.reports.order_csv import order_csv
from rigcalc.verdict import CAUTIONS

from ..rigfile import VARIANTS, edited
from ..test_combinations import BASE, FILLINGS, SHAPES, SIZES, SUPPORTS

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.toml"))
of_each = pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)


def named(stem: str) -> Path:
    return next(path for path in EXAMPLES if path.stem == stem)


TRAILER, STAVES, GLASS, POLE, SHARPIE = map(
    named, ("trailer_sailer_4m6", "stave_mast_6m", "glass_tube_5m", "sheathed_mast_5m", "sharpie_5m2")
)


@cache
def example(path: Path) -> Order:
    return order(load_rig(path), folder=str(path.parent))


def changed(path: Path, *edits: tuple[str, str], more: str = "") -> Order:
    text = path.read_text(encoding="utf-8")
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return order(read_rig(text + more))


# ---------------------------------------------------------------- weight


@of_each
def test_it_weighs_what_the_check_finds(path: Path) -> None:
    found, rig = example(path), load_rig(path)
    spar_kg = check(rig).mast.mass_kg - rig.mast.fittings_mass_kg
    assert found.check.agrees
    assert found.check.section_kg == pytest.approx(spar_kg, rel=1e-9)
    assert math.fsum(part.kg for part in found.in_place) == pytest.approx(spar_kg, rel=1e-9)
    for part in found.laid:
        assert part.order.check.agrees
        # square to a taper, and of one density: a part in ten thousand of the laminate at the most
        assert abs(part.as_laid_kg) < 2e-4 * part.order.laminate_kg
    if found.wood is not None and found.wood.staves is not None:
        assert found.wood.staves.check.agrees


STOCK = '[stock]\ntube_length = "7 m"\nboard = [{width = "160 mm", thickness = "70 mm", length = "4.2 m"}]\n'


@pytest.mark.parametrize("material", SIZES)
def test_every_make_of_mast_weighs_what_the_check_finds(material: str) -> None:
    heel, tip = SIZES[material]
    weighed = 0
    for shape, support, filling in product(SHAPES, SUPPORTS[:2], FILLINGS):
        words = {"shape": shape, "support": support, "filling": filling, "bearings": STOCK}
        try:
            rig = read_rig(BASE.format(material=material, heel=heel, tip=tip, **words))
        except RigInputError:
            continue
        found = order(rig)
        assert found.check.agrees, words
        assert found.bought
        weighed += 1
    assert weighed >= {"glass": 3, "C24": 10}.get(material, 15)


def test_laminates_lie_on_one_another_and_weigh_what_the_check_finds() -> None:
    """Plies of two densities that end in turn, sheaths over them and over a box, and one inside a tube."""
    plies = """[[laminate]]
name = "two"
plies = [
  {material = "E-glass/epoxy woven 0.50", angle = "45 deg", areal_mass = "300 g/m2", end = "1.7 m"},
  {material = "carbon/epoxy UD 0.60", angle = "0 deg", areal_mass = "200 g/m2", count = 2},
]
"""
    sheath = '[[mast.sheath]]\nstart = "0.4 m"\nend = "2.2 m"\nlaminate = "two"\n{}\n[[sail]]\nname = "main"'
    over = changed(GLASS, ('[[sail]]\nname = "main"', sheath.format("")), more=plies)
    assert over.check.agrees and len(over.laid) == 1 and "sheaths" in over.laid[0].name
    # the sheath begins on what the mast's own plies leave
    first = next(i for i, ply in enumerate(over.laid[0].plies) if ply.laminate == "two")
    below = over.laid[0].order.plies[first - 1].rows[0].width_m
    assert over.laid[0].order.plies[first].rows[0].width_m > below
    inside = changed(SHARPIE, ('[[sail]]                         # sprit-boomed leg-of-mutton\nname = "main"',
                               sheath.format('side = "inside"')),
                     more=plies.replace(', end = "1.7 m"', ""))  # fmt: skip
    assert inside.check.agrees and inside.laid[0].name == "sheath inside the mast"
    # the first ply lies innermost: its girth is that of the bore less all walls
    row = inside.laid[0].order.plies[0].rows[0]
    wall = sum(cut.ply.thickness_m for cut in inside.laid[0].order.plies)
    girth = math.pi * (0.0889 - 2 * 0.004 - 2 * wall + inside.laid[0].order.plies[0].ply.thickness_m)
    assert row.width_m - 0.02 == pytest.approx(girth, abs=2e-4)


@pytest.mark.parametrize("name", [name for name in VARIANTS if name != "laminate"])
def test_the_good_files_can_be_ordered(name: str) -> None:
    found = order(read_rig(edited(*VARIANTS[name], ('file = "tubes.csv"\n', ""))))
    assert found.check.agrees
    assert set(CAUTIONS) < set(found.cautions)


# ---------------------------------------------------------------- tubes


@of_each
def test_pieces_fit_their_bars_and_none_is_missing(path: Path) -> None:
    found, stock = example(path), load_rig(path).stock
    kerf, trim = (0.003, 0.010) if stock is None else (stock.kerf_m, stock.trim_m)
    for lot in found.metal.lots if found.metal is not None else ():
        cut = Counter({piece.name: 0 for piece in lot.pieces})
        for bar in lot.plan.bars:
            used = sum(piece.length_m + kerf for piece in bar.pieces) - kerf
            assert used <= bar.stock.length_m - (0.0 if lot.cut_to_size else trim) + 1e-9
            cut.update(piece.name for piece in bar.pieces for _ in range(bar.times))
        assert cut == Counter(piece.name for piece in lot.pieces)


def test_the_tail_of_the_upper_length_is_one_piece_with_it() -> None:
    found = example(TRAILER)
    assert found.metal is not None
    lower, upper = found.metal.lots
    assert [(p.heights_m[0], p.heights_m[-1]) for p in (*lower.pieces, *upper.pieces)] == [
        (0.0, 3.2),
        (2.8, 6.8),
    ]
    assert upper.pieces[0].name == "length 2 of 2 from the heel, tail and all"
    assert [lot.tube.name for lot in (lower, upper)] == ["NPS 3.5 schedule 40", "NPS 3 schedule 10S"]
    assert lower.plan.bars[0].offcut_m == pytest.approx(6.0 - 0.010 - 3.2 - 0.003)
    (packing,) = [part for part in found.named if part.group == "joint"]
    # 101.6 less two walls of 5.74, less 88.9
    assert dict(packing.sizes_m)["bare tubes apart by, on the diameter"] == pytest.approx(1.22e-3)


def test_a_sleeve_of_another_size_or_place_is_a_piece_of_its_own() -> None:
    tail = 'start = "2.80 m"\nend = "3.20 m"\ndiameter = "88.9 mm"\nwall = "3.05 mm"'
    other = changed(TRAILER, (tail, tail.replace("3.05", "3.6")))
    across = changed(TRAILER, (tail, tail.replace('"3.20 m"', '"3.10 m"')
                               + '\n\n[[mast.sleeve]]\n' + tail.replace('"2.80 m"', '"3.10 m"')))  # fmt: skip
    for found, lengths in ((other, [3.2, 3.6, 0.4]), (across, [3.2, 3.7, 0.3])):
        assert found.metal is not None and found.check.agrees
        pieces = [piece for lot in found.metal.lots for piece in lot.pieces]
        assert sorted(p.length_m for p in pieces) == pytest.approx(sorted(lengths))
        assert any(piece.name.startswith("sleeve") for piece in pieces)


def test_the_tail_of_a_lower_length_inside_the_upper() -> None:
    upper, tail = (
        '"{} m", diameter = "88.9 mm", wall = "3.05 mm"',
        'start = "{} m"\nend = "{} m"\ndiameter = "88.9 mm"\n',
    )
    lower = '"{}diameter = "{} mm", wall = "5.74 mm"'
    text = [
        *((lower.format(z, "101.6"), lower.format(z, "88.9")) for z in ('0 m",    ', '3.20 m", ')),
        *((upper.format(z), f'"{z} m", diameter = "95 mm", wall = "3 mm"') for z in ("3.20", "6.80")),
        (
            tail.format("2.80", "3.20") + 'wall = "3.05 mm"\nplay = "0.2 mm"',
            tail.format("3.20", "3.60") + 'wall = "5.74 mm"',
        ),
    ]
    found = changed(TRAILER, *text)
    assert found.metal is not None and found.check.agrees
    ends = [(p.heights_m[0], p.heights_m[-1]) for lot in found.metal.lots for p in lot.pieces]
    assert ends == [(0.0, 3.6), (3.2, 6.8)]


def test_where_a_size_comes_from_is_told() -> None:
    own = '[stock]\ntube = [{name = "big", diameter = "101.6 mm", wall = "5.74 mm", length = "4 m", price = 40}]\n'
    table = TRAILER.read_text(encoding="utf-8")
    start, end = table.index("[stock]"), table.index("[[sail]]")
    found = order(read_rig(table[:start] + own + table[end:]))
    assert found.metal is not None
    lower, upper = found.metal.lots
    assert (lower.tube.name, lower.listed, lower.cut_to_size) == ("big", "own", False)
    assert (upper.listed, upper.cut_to_size) == ("generic", True)
    assert lower.cost == pytest.approx(4 * 40.0) and upper.cost is None
    assert found.cost == pytest.approx(160.0)
    assert "NPS 3 schedule 10S" in found.unpriced and "big" not in found.unpriced
    odd = changed(TRAILER, ('start = "2.80 m"\nend = "3.20 m"\ndiameter = "88.9 mm"\nwall = "3.05 mm"',
                            'start = "2.80 m"\nend = "3.60 m"\ndiameter = "82.1 mm"\nwall = "3.3 mm"'))  # fmt: skip
    assert odd.metal is not None
    assert [lot.listed for lot in odd.metal.lots] == ["generic", "generic", "none"]
    assert any(line.name == "82.1 x 3.3 mm" and "in no list" in line.note for line in odd.bought)


def test_a_taper_is_ordered_as_drawn() -> None:
    found = example(SHARPIE)
    assert found.metal is not None and not found.metal.lots
    (drawn,) = found.metal.drawn
    assert drawn.piece.diameters_m == (0.0889, 0.0889, 0.0603)
    assert "as drawn" in found.bought[0].note


def test_a_bar_too_short_is_refused_and_a_piece_too_long_to_carry_is_told() -> None:
    with pytest.raises(RigInputError, match="the longest bar yields") as caught:
        changed(TRAILER, ('tube_length = "6 m"', 'tube_length = "3.5 m"'))
    assert [p.path for p in caught.value.problems] == ["stock, for length 2 of 2 from the heel, tail and all"]
    told = changed(TRAILER, ('max_piece = "4.5 m"', 'max_piece = "3.5 m"')).warnings
    assert len(told) == 1 and "4.00 m long" in told[0] and "3.50 m" in told[0]
    assert example(TRAILER).warnings == ()


def test_a_post_stands_beside_the_spar() -> None:
    found = order(read_rig(edited(*VARIANTS["post"], ('file = "tubes.csv"\n', ""))))
    assert found.metal is not None
    (post,) = [d.piece for d in found.metal.drawn if not d.piece.in_spar]
    assert post.heights_m == (-0.4, 0.0, 0.9) and post.material == "own alloy"
    assert [part.name for part in found.apart if "post" in part.name] == ["post, which does not turn"]


# ---------------------------------------------------------------- wood


def test_taper_table_of_the_stave_mast() -> None:
    wood = example(STAVES).wood
    assert wood is not None and wood.staves is not None
    heights = [row.height_m for row in wood.staves.rows]
    assert heights == pytest.approx(sorted({*np.round(0.3 * np.arange(24), 9), 2.6}))
    at = {round(row.height_m, 3): row for row in wood.staves.rows}
    assert at[0.9].width_m == pytest.approx(0.132 * math.tan(math.pi / 12))
    assert at[0.9].thickness_m == pytest.approx((0.132 - 0.080 * math.cos(math.pi / 12)) / 2)
    assert math.degrees(at[0.9].bevel_rad) == pytest.approx(15.0, abs=0.01)


def test_boards_of_the_stave_mast() -> None:
    """Strips of 30.4 mm out of 145 lie four across on edge; 18 pieces' strips take five boards."""
    found = example(STAVES)
    assert found.wood is not None and found.wood.staves is not None
    best, other = found.wood.staves.plans
    assert (best.board.name, best.boards, best.cost) == ("clear spruce, planed", 5, 310.0)
    assert best.cost is not None and other.cost is not None and best.cost <= other.cost
    assert (best.strips_across, best.strips_deep, best.on_edge) == (4, 1, True)
    pieces = Counter(
        round(p.length_m, 6) for bar in best.strips.bars for p in bar.pieces for _ in range(bar.times)
    )
    assert sorted(pieces.values()) == [12, 12]
    assert found.cost == 310.0 and found.unpriced == ("plug 1, rough", "plug 2, rough")
    # the scarfs keep clear of the partners in every stave, end for end too
    for at in best.lay.scarfs_m:
        for middle in (at, found.wood.staves.batten.length_m - at):
            assert abs(middle - (0.9 + 0.05)) >= 0.3 + best.lay.scarf_m / 2 - 1e-9


def test_a_stave_that_no_board_yields_is_refused_where_the_board_stands() -> None:
    with pytest.raises(RigInputError) as caught:
        changed(
            STAVES,
            ('thickness = "44 mm"', 'thickness = "20 mm"'),
            ('thickness = "50 mm"', 'thickness = "20 mm"'),
        )
    assert [p.path for p in caught.value.problems] == ["stock.board[0]", "stock.board[1]"]
    with pytest.raises(RigInputError, match="is not to be scarfed"):
        changed(STAVES, ('scarf_slope = "1/12"', "scarf_slope = 0"))


def test_the_pole_is_told_as_a_billet() -> None:
    wood = example(POLE).wood
    assert wood is not None
    (blank,) = wood.blanks
    size = (blank.batten.width_m, blank.batten.thickness_m, blank.batten.length_m, blank.batten.count)
    assert size == pytest.approx((0.095 + 0.004, 0.095 + 0.003, 5.1, 1))
    assert [row.forward_m for row in wood.rows][:3] == pytest.approx([0.080, 0.0875, 0.095])
    listed = '[stock]\nboard = [{{width = "120 mm", thickness = "{}", length = "6 m", price = 80}}]\n'
    stout = changed(POLE, more=listed.format("110 mm")).wood
    thin = changed(POLE, more=listed.format("45 mm")).wood
    assert stout is not None and stout.plans[0].boards == 1
    assert (
        thin is not None and not thin.plans and "none of the boards listed yields it" in thin.blanks[0].note
    )


def test_the_planks_of_a_box() -> None:
    words = {"shape": 'shape = "box"', "support": "", "filling": "", "bearings": ""}
    heel = 'diameter = "120 mm", breadth = "100 mm", wall = "18 mm"'
    rig = read_rig(BASE.format(material="C24", heel=heel, tip=heel, **words))
    wood = order(rig).wood
    assert wood is not None
    sides, between = wood.blanks
    assert (sides.batten.width_m, sides.batten.thickness_m) == pytest.approx((0.124, 0.021))
    assert (between.batten.width_m, between.batten.thickness_m) == pytest.approx((0.064 + 0.004, 0.021))
    assert sides.batten.count == between.batten.count == 2


# ---------------------------------------------------------------- cloth


def test_cloth_of_the_glass_tube() -> None:
    found = example(GLASS)
    (part,) = found.laid
    assert len(part.order.plies) == 17 and [ply.count for ply in part.plies].count(4) == 4
    cuts = zip(part.order.plies, part.plies, strict=True)
    assert all(cut.ply.cut_rad == pytest.approx(abs(ply.angle_rad)) for cut, ply in cuts)
    light, heavy = part.order.rolls
    assert light.bias_m == light.cut_m > 0.0 and heavy.bias_m == 0.0
    assert part.costs == (
        pytest.approx(light.length_m * 1.27 * 4.20),
        pytest.approx(heavy.length_m * 1.27 * 0.5 * 11.80),
    )
    resin = found.bought[-1]
    assert resin.cost == pytest.approx(part.order.resin_kg * 14.50)
    assert found.cost == pytest.approx(math.fsum([*map(float, part.costs), float(resin.cost)]))  # type: ignore[arg-type]
    # 0.45 of glass by volume in 1775.5 kg/m3: 0.644 by mass, the rest of the cloth laid is resin
    share = 0.45 * 2540 / 1775.5
    fibre = math.fsum(cut.fibre_kg for cut in part.order.plies)
    assert part.order.resin_kg == pytest.approx(fibre * (1 / share - 1) * 1.25)
    heights = [height for height, _, _ in part.order.mandrel]
    assert heights == pytest.approx(sorted({*np.round(0.3 * np.arange(17), 9), 5.0}))


def test_a_cloth_whose_fibres_lie_so_needs_no_bias() -> None:
    stitched = """
[[stock.cloth]]
name = "stitched"
material = "E-glass/epoxy UD 0.45"
areal_mass = "200 g/m2"
angle = "45 deg"
roll = "1.27 m"

[[sail]]
name = "main\""""
    found = changed(GLASS, ('[[sail]]\nname = "main"', stitched.lstrip()))
    names = [roll.cloth.name for roll in found.laid[0].order.rolls]
    assert names == ["stitched", "glass UD 500 g"]
    assert all(roll.bias_m == 0.0 for roll in found.laid[0].order.rolls)
    assert found.unpriced == ("stitched",)


def test_without_a_cloth_its_roll_is_assumed_and_told() -> None:
    found = example(POLE)
    assert "stock.roll" in {a.path for a in found.assumptions}
    assert "stock.roll" not in {a.path for a in example(GLASS).assumptions}
    assert "the width of its roll is assumed" in " ".join(order_screen(found).split())


GLASS_OUT = (
    ('bore = "84 mm"},       # the mandrel', 'diameter = "100 mm"},       # the mandrel'),
    ('{height = "0.90 m", bore = "84 mm"}', '{height = "0.90 m", diameter = "100 mm"}'),
    ('bore = "46 mm"', 'diameter = "62 mm"'),
)


def test_a_smooth_outside_over_plies_that_end_is_refused() -> None:
    with pytest.raises(RigInputError, match=r"begin or end at z = 1\.8, 3\.2 m: .*mandrel with steps"):
        changed(GLASS, *GLASS_OUT)
    even = changed(GLASS, *GLASS_OUT, (', end = "3.20 m"', ""), (', end = "1.80 m"', ""))
    wall = sum(cut.ply.thickness_m for cut in even.laid[0].order.plies)
    assert even.check.agrees
    assert even.laid[0].order.mandrel[0][2] == pytest.approx(0.100 - 2 * wall)


_LIGHT = 'areal_mass = "200 g/m2", count = 2},\n  {material = "E-glass/epoxy UD 0.45", '


@pytest.mark.parametrize(
    ("old", "new", "path", "tells"),
    [
        ('angle = "0 deg",   areal_mass = "500 g/m2", count = 4', 'angle = "0 deg", thickness = "3 mm"',
         "laminate[0].plies[2]", "no cloth is as heavy"),
        (f'angle = "45 deg",  {_LIGHT}angle = "-45 deg"', f'angle = "10 deg",  {_LIGHT}angle = "-10 deg"',
         "laminate[0].plies[0].angle", "cut on the bias at 15 deg or more"),
        ('areal_mass = "200 g/m2"\nroll = "1.27 m"', 'areal_mass = "200 g/m2"\nroll = "0.05 m"',
         "laminate[0].plies[0].join", "must be longer than its two joins"),
    ],
)  # fmt: skip
def test_what_cannot_be_cut_is_refused_where_it_stands(old: str, new: str, path: str, tells: str) -> None:
    with pytest.raises(RigInputError, match=tells) as caught:
        changed(GLASS, (old, new))
    assert path in [p.path for p in caught.value.problems]


def test_a_sheath_across_a_step_is_cut_for_each_side() -> None:
    """From 101.6 to 95 mm, walls meeting: no sleeve is needed."""
    text = TRAILER.read_text(encoding="utf-8")
    sleeve = text[text.index("[[mast.sleeve]]") : text.index("[fatigue]")]
    sheath = '[[mast.sheath]]\nstart = "3 m"\nend = "4 m"\nlaminate = "wrap"\n\n'
    upper = '"{} m", diameter = "88.9 mm", wall = "3.05 mm"'
    edits = [(upper.format(z), f'"{z} m", diameter = "95 mm", wall = "5 mm"') for z in ("3.20", "6.80")]
    ply = '{material = "E-glass/epoxy woven 0.50", angle = "0 deg", areal_mass = "300 g/m2"}'
    more = f'[[laminate]]\nname = "wrap"\nplies = [{ply}]\n'
    found = changed(TRAILER, (sleeve, sheath), *edits, more=more)
    assert found.check.agrees
    assert [part.start_m for part in found.laid] == [0.0, 3.2]
    stretches = [(part.start_m + cut.rows[0].height_m, part.start_m + cut.rows[-1].height_m)
                 for part in found.laid for cut in part.order.plies]  # fmt: skip
    assert stretches == [(3.0, 3.2), (3.2, pytest.approx(4.0))]
    assert any("crosses a step" in w for w in found.warnings)


# ---------------------------------------------------------------- reports


def rows_of(found: Order) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(order_csv(found))))


@of_each
def test_text_csv_and_json_agree(path: Path) -> None:
    found = example(path)
    document = json.loads(order_json(found))
    rows, text = rows_of(found), order_screen(found, shown_in="metric")
    bought = [row for row in rows if row["kind"].startswith("buy ")]
    assert len(bought) == len(document["bought"]) == len(found.bought)
    for row, entry, line in zip(bought, document["bought"], found.bought, strict=True):
        assert row["item"] == entry["name"] == line.name
        for key in ("length_m", "mass_kg", "cost"):
            value = getattr(line, key)
            assert entry[key] == value
            assert row[key] == "" if value is None else float(row[key]) == pytest.approx(value, abs=1e-6)
        assert line.name[:31] in text
        if line.length_m is not None:
            assert f"{line.length_m:.3f}" in text
        if line.cost is not None:
            assert f"{line.cost:.2f}" in text
    assert document["check"]["agrees"] is True
    assert f"{document['check']['pieces_kg']:.3f} kg" in text
    masses = [float(row["mass_kg"]) for row in rows if row["kind"] == "in place"]
    assert masses[-2] == pytest.approx(masses[-1], abs=1e-6)
    assert document["schema_version"] == "1"
    assert document["cost"] == found.cost


@of_each
def test_cautions_and_defaults_stand_in_every_form(path: Path) -> None:
    found = example(path)
    document, rows = json.loads(order_json(found)), rows_of(found)
    text = " ".join(order_screen(found).split())
    assert document["cautions"] == list(found.cautions) and len(found.cautions) > len(CAUTIONS)
    assert [row["item"] for row in rows if row["kind"] == "caution"] == list(found.cautions)
    assert all(" ".join(caution.split()) in text for caution in found.cautions)
    for taken in found.assumptions:
        assert taken.source and taken.path.removeprefix("stock.") in text
        assert any(row["note"] == taken.source for row in rows if row["kind"] == "default")


@of_each
@pytest.mark.parametrize("shown_in", ["both", "metric", "us"])
def test_text_fits_its_columns_and_is_the_same_twice(path: Path, shown_in: Any) -> None:
    found = example(path)
    text = order_screen(found, shown_in=shown_in)
    assert max(map(len, text.splitlines())) <= 120
    again = order(load_rig(path), folder=str(path.parent))
    assert order_screen(again, shown_in=shown_in) == text
    assert (order_json(again), order_csv(again)) == (order_json(found), order_csv(found))


def test_long_names_do_not_burst_the_table() -> None:
    text = edited(('file = "tubes.csv"\n', "")).replace(
        "own alloy", "an alloy of " + 20 * "very " + "long name"
    )
    assert max(map(len, order_screen(order(read_rig(text))).splitlines())) <= 120


def test_inches_are_the_same_lengths() -> None:
    text = order_screen(example(TRAILER), shown_in="us")
    assert "4 x 0.226 in" in text and "236.22" in text  # 6 m
    assert " mm" not in text.split("Defaults")[0]


# ---------------------------------------------------------------- command


@of_each
def test_from_the_command_line(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = example(path)
    for words, wanted in (
        ((), order_screen(found)),
        (("--units", "us"), order_screen(found, shown_in="us")),
        (("--csv",), order_csv(found)),
        (("--json",), order_json(found)),
    ):
        assert main(["order", str(path), *words]) == 0
        assert capsys.readouterr() == (wanted, "")


def test_one_form_at_a_time(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["order", str(TRAILER), "--csv", "--json"]) == 2
    assert "not allowed with" in capsys.readouterr().err


def test_the_list_of_tubes_stands_beside_the_rig_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    text = TRAILER.read_text(encoding="utf-8").replace('tube_length = "6 m"', 'file = "mine.csv"')
    file = tmp_path / "boat.toml"
    file.write_text(text, encoding="utf-8")
    assert main(["order", str(file)]) == 2
    assert 'stock.file is "mine.csv": it cannot be read' in capsys.readouterr().err
    (tmp_path / "mine.csv").write_text(
        "name,od [mm],wall [mm],length,price per kg\nheel tube,101.6,5.74,3.5 m,9\n", encoding="utf-8"
    )
    assert main(["order", str(file)]) == 0
    assert "heel tube" in capsys.readouterr().out
    monkeypatch.chdir(tmp_path)  # standard input is taken to stand in the working directory
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(text.encode())))
    assert main(["order", "-"]) == 0
    assert "heel tube" in capsys.readouterr().out


def test_a_check_says_nothing_of_stock_it_does_not_read() -> None:
    rig = load_rig(TRAILER)
    assert any(path.startswith("stock.") for path in rig.defaults)
    result = check(rig)
    assert not any(a.path.startswith("stock") for a in result.assumptions)
    assert "kerf" not in screen(result)
