"""`doubt` against `check`, run one by one on rigs that differ as the sample does."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import fields, replace
from statistics import NormalDist
from typing import Any

import numpy as np
import pytest

from rigcalc import check
from rigcalc.cli import main
from rigcalc.design.doubt import PERCENT, Doubt, Doubted, _explained, doubt
from rigcalc.formulas import Working
from rigcalc.materials.timber import Timber
from rigcalc.reports.doubt import doubt_json, doubt_screen
from rigcalc.rig import Doubts, Rig
from rigcalc.rigfile import read_rig
from rigcalc.structure import sections as section_module
from rigcalc.structure.made_of import Elastic, MadeOf
from rigcalc.verdict.evaluate import evaluate

from ..rigfile import VARIANTS, edited
from . import EXAMPLES, LOADS, example, pushed, sigma, with_doubt

NORMAL = NormalDist()
Z = {p: NORMAL.inv_cdf(p / 100) for p in PERCENT}
BEARINGS = ("partners", "step", "furling", "deck", "hold-down", "thrust")
ALLOY = """
[[material]]
name = "test alloy"
family = "metal"
E = "70 GPa"
G = "26.3 GPa"
density = "2700 kg/m3"
proof = "240 MPa"
ultimate = "260 MPa"
source = "invented"
"""


def of(found: Doubt, id: str) -> Doubted:
    return next(one for one in found.checks if one.id == id)


def used(rig: Rig, id: str) -> float:
    """Return the greatest utilisation that `check` finds."""
    return max(c.utilisation for c in check(rig).checks if c.id == id)


def rigs() -> dict[str, Rig]:
    found = {file.stem: example(file.stem) for file in sorted(EXAMPLES.glob("*.toml"))}
    made = ("box", "post", "staves", "species", "laminate", "own foam", "doubt")
    return {**found, **{name: read_rig(edited(*VARIANTS[name])) for name in made}}


@pytest.mark.parametrize("name", rigs())
def test_without_a_spread_it_is_the_check(name: str) -> None:
    rig = rigs()[name]
    result = check(rig)
    found = doubt(with_doubt(rig, samples=100))
    spar = [c for c in result.checks if c.layer != "post" and not c.id.startswith(BEARINGS)]
    assert {c.id for c in spar if c.utilisation > 0.0} == {one.id for one in found.checks}
    for one in found.checks:
        told = max(c.utilisation for c in spar if c.id == one.id)
        assert one.used == told
        assert one.percentiles == pytest.approx([told] * 4, rel=1e-6)
        assert one.chance == float(told > 1.0)
        assert any(c.case == one.case and c.utilisation >= told * (1 - 1e-9) for c in spar if c.id == one.id)
    assert found.chance == float(any(not c.passed for c in spar))
    assert found.shares == ()


@pytest.mark.parametrize("name", rigs())
def test_every_make_of_mast_has_an_answer(name: str) -> None:
    found = doubt(replace(rigs()[name], doubt=None), samples=130)
    assert found.samples == 130
    assert max(one.chance for one in found.checks) <= found.chance <= sum(one.chance for one in found.checks)
    for one in found.checks:
        assert list(one.percentiles) == sorted(one.percentiles)
        # a wall is a shell only where it is thin, and that it is not in every mast
        assert one.percentiles[0] > 0.0 or one.id == "shell-buckling"
        assert (one.percentiles[1] > 1.0) == (one.chance > 0.5) or abs(one.chance - 0.5) < 0.01
    assert [one.chance for one in found.checks] == sorted((one.chance for one in found.checks), reverse=True)
    json.loads(doubt_json(found))
    assert "A falling mast can kill or maim" in doubt_screen(found)


def test_a_mast_that_fails_fails_surely() -> None:
    rig = pushed(2000.0)
    assert not check(rig).passed
    assert doubt(with_doubt(rig, samples=100)).chance == 1.0


def scaled_moment(rig: Rig, f: float) -> Rig:
    stability = rig.boat.stability
    more = {
        name: getattr(stability, name) * f
        for name in ("moment_30_N_m", "moment_max_N_m", "gm_m", "bm_m")
        if getattr(stability, name) is not None
    }
    return replace(rig, boat=replace(rig.boat, stability=replace(stability, **more)))


def scaled_wall(rig: Rig, f: float) -> Rig:
    stations = tuple(replace(s, wall_m=s.wall_m * f) for s in rig.mast.stations if s.wall_m is not None)
    assert len(stations) == len(rig.mast.stations)
    return replace(rig, mast=replace(rig.mast, stations=stations))


def scaled_wind(rig: Rig, f: float) -> Rig:
    cases = tuple(
        case if case.wind_speed_m_s is None else replace(case, wind_speed_m_s=case.wind_speed_m_s * f)
        for case in rig.cases
    )
    return replace(rig, cases=cases)


def test_righting_moment_alone() -> None:
    rig = example("glass_tube_5m")
    rig = replace(rig, cases=tuple(case for case in rig.cases if case.kind == "heel-limited"))
    found = doubt(with_doubt(rig, righting_moment=0.1))
    for id in ("tip-deflection", "ply max-strain"):
        one = of(found, id)
        for p, value in zip(PERCENT, one.percentiles, strict=True):
            f = math.exp(sigma(0.1) * Z[p])
            assert value == pytest.approx(used(rig, id) * f, rel=0.03)
            # the bent mast of the check, though the moment is a quarter greater
            assert value == pytest.approx(used(scaled_moment(rig, f), id), rel=0.001)
    assert [share.input for share in found.shares] == ["righting moment"]
    assert found.shares[0].share > 0.99


def proved(told: float) -> Rig:
    """Return the plain tube of a metal that it uses so much of in yield."""
    rig = pushed(400.0)
    alloy = rig.materials[0]
    assert alloy.proof_Pa is not None
    alloy = replace(alloy, proof_Pa=alloy.proof_Pa * used(rig, "yield") / told)
    return replace(rig, materials=(alloy,))


@pytest.mark.parametrize("spread", [0.05, 0.2])
def test_strength_alone_is_log_normal_above_its_lower_5_per_cent(spread: float) -> None:
    s = sigma(spread)
    rig = proved(math.exp(1.645 * s) * 0.98)
    told = used(rig, "yield")
    found = of(doubt(with_doubt(rig, metal_strength=spread, samples=4000)), "yield")
    assert told > 1.0 and found.used == told
    chance = NORMAL.cdf(math.log(told) / s - 1.645)
    assert 0.05 < chance < 0.95
    assert found.chance == pytest.approx(chance, abs=0.004)
    for p, value in zip(PERCENT, found.percentiles, strict=True):
        assert value == pytest.approx(told * math.exp(s * (Z[p] - 1.645)), rel=0.01)


def test_a_strength_at_the_limit_fails_one_mast_in_twenty() -> None:
    # what the check takes is the lower 5 %: a mast used to exactly 1 fails where a strength is below that
    found = of(doubt(with_doubt(proved(1.0), metal_strength=0.07, samples=4000)), "yield")
    assert found.used == pytest.approx(1.0, rel=1e-9)
    assert found.chance == pytest.approx(0.05, abs=0.004)


def test_the_class_of_a_wall_goes_by_strength_alone() -> None:
    for wall, slack in (("4 mm", 1.02), ("1.2 mm", 1.25)):
        rig = read_rig(LOADS.replace("4 mm", wall))
        found = of(doubt(with_doubt(rig, metal_strength=0.2, metal_stiffness=0.2)), "wall-class")
        alloy = rig.materials[0]
        assert alloy.proof_Pa is not None
        for p, value in zip(PERCENT, found.percentiles, strict=True):
            proof = alloy.proof_Pa * math.exp(sigma(0.2) * (1.645 - Z[p]))
            true = used(replace(rig, materials=(replace(alloy, proof_Pa=proof),)), "wall-class")
            # never told better than it is; of stronger metal than the check takes, a little worse
            assert true * 0.98 < value
            assert value < true * (slack if p >= 95.0 else 1.4)


def test_stiffness_alone() -> None:
    rig = pushed(400.0)
    told = used(rig, "tip-deflection")
    found = doubt(with_doubt(rig, metal_stiffness=0.1, samples=4000))
    chance = NORMAL.cdf(math.log(told) / sigma(0.1))
    assert 0.05 < chance < 0.95
    assert of(found, "tip-deflection").chance == pytest.approx(chance, abs=0.004)
    assert len(set(np.round(of(found, "yield").percentiles, 9))) == 1


def test_wind_alone_goes_as_its_square() -> None:
    rig = example("sharpie_5m2")
    rig = replace(rig, cases=tuple(case for case in rig.cases if case.kind == "bare"))
    found = doubt(with_doubt(rig, wind=0.1))
    told = used(rig, "tip-deflection")
    for p, value in zip(PERCENT, of(found, "tip-deflection").percentiles, strict=True):
        assert value == pytest.approx(told * math.exp(2 * sigma(0.1) * Z[p]), rel=0.01)


def test_wall_alone() -> None:
    rig = pushed(400.0)
    found = doubt(with_doubt(rig, wall=0.15))
    for id in ("tip-deflection", "yield", "flattening"):
        for p, value in zip(PERCENT, of(found, id).percentiles, strict=True):
            # a thinner wall is used more; that it weighs less, and so bends less far, is left out: the safe side
            other = scaled_wall(rig, math.exp(-sigma(0.15) * Z[p]))
            assert value == pytest.approx(used(other, id), rel=0.01)


def test_the_sample_is_that_of_plain_trials() -> None:
    text = (EXAMPLES / "sharpie_5m2.toml").read_text(encoding="utf-8")
    text = text.replace('material = "6061-T6 drawn"', 'material = "test alloy"')
    text = text.replace('wind_speed = "21 kn"', 'wind_speed = "22 kn"')
    rig = read_rig(text + ALLOY)
    kept = ("gust, full sail", "running, full sail")
    rig = replace(rig, cases=tuple(case for case in rig.cases if case.name in kept))
    spreads = {
        "wind": 0.1,
        "righting_moment": 0.1,
        "wall": 0.05,
        "metal_strength": 0.07,
        "metal_stiffness": 0.05,
    }
    found = doubt(with_doubt(rig, samples=2000, **spreads))
    normal = np.random.default_rng(7).standard_normal((200, len(spreads)))
    tried: dict[str, list[float]] = {"tip-deflection": [], "yield": [], "any": []}
    for z in normal:
        f = dict(zip(spreads, np.exp(z * [sigma(s) for s in spreads.values()]), strict=True))
        alloy = rig.materials[0]
        strong = f["metal_strength"] * math.exp(1.645 * sigma(0.07))
        other = scaled_wind(scaled_wall(scaled_moment(rig, f["righting_moment"]), f["wall"]), f["wind"])
        alloy = replace(
            alloy,
            proof_Pa=alloy.proof_Pa * strong,
            ultimate_Pa=alloy.ultimate_Pa * strong,
            E_Pa=alloy.E_Pa * f["metal_stiffness"],
        )
        checks = evaluate(replace(other, materials=(alloy,)), other.cases, Working()).checks
        tried["any"].append(max(c.utilisation for c in checks))
        for id in ("tip-deflection", "yield"):
            tried[id].append(max(c.utilisation for c in checks if c.id == id))
    plain = float(np.mean(np.array(tried["any"]) > 1.0))
    assert 0.1 < found.chance < 0.9
    assert abs(found.chance - plain) < 3 * math.sqrt(plain * (1 - plain) / 200)
    for id in ("tip-deflection", "yield"):
        logs = np.sort(np.log(tried[id]))
        low, median, high = np.log(of(found, id).percentiles[:3])
        spread = float(np.std(logs))
        assert median == pytest.approx(np.median(logs), abs=3 * 1.25 * spread / math.sqrt(200))
        assert (high - low) / (Z[95.0] - Z[5.0]) == pytest.approx(spread, rel=3 / math.sqrt(400))


def test_a_sheath_feels_how_stiff_its_wood_is(monkeypatch: pytest.MonkeyPatch) -> None:
    rig = example("sheathed_mast_5m")
    found = doubt(with_doubt(rig, timber_stiffness=0.22))
    whole = section_module.elastic

    def softer(f: float) -> Callable[[MadeOf], Elastic]:
        def elastic(made_of: MadeOf) -> Elastic:
            e = whole(made_of)
            if not isinstance(made_of, Timber):
                return e
            stiff = {x.name: getattr(e, x.name) * f for x in fields(e) if x.name != "density_kg_m3"}
            return replace(e, **stiff)

        return elastic

    for p, wood in ((95.0, math.exp(-sigma(0.22) * Z[95.0])), (5.0, math.exp(sigma(0.22) * Z[95.0]))):
        monkeypatch.setattr(section_module, "elastic", softer(wood))
        for id in ("ply max-strain", "tip-deflection", "interlaminar", "bearing"):
            assert of(found, id).percentiles[PERCENT.index(p)] == pytest.approx(used(rig, id), rel=0.05)
        monkeypatch.undo()
    assert of(found, "ply max-strain").percentiles[2] > 1.2 * of(found, "ply max-strain").used


def test_shares_of_what_adds_up() -> None:
    rng = np.random.default_rng(3)
    weights = np.array([3.0, 2.0, 1.0, 0.0])
    x = rng.standard_normal((20_000, 4))
    worst = x @ weights
    for i, weight in enumerate(weights):
        part = weight**2 / float(weights @ weights)
        # first-order index of the rank of a normal sum
        index = 6 / math.pi * math.asin(part / 2)
        assert _explained(np.exp(x[:, i]), worst) == pytest.approx(index, abs=0.015)


@pytest.mark.parametrize("count", [100, 1000])
def test_a_sole_input_explains_all_and_an_idle_one_nothing(count: int) -> None:
    rng = np.random.default_rng(4)
    one, idle = rng.random((2, count))
    assert _explained(one, -(one**3)) > 0.99
    found = [_explained(rng.permutation(idle), one) for _ in range(200)]
    # no more than so few bins of chance make, whatever the number of masts
    assert np.mean(found) < 12 / count
    assert _explained(one, np.ones(count)) == 0.0
    assert _explained(one, np.full(count, np.inf)) == 0.0
    assert _explained(one, np.where(one > 0.5, np.inf, 1.0)) > 0.9


def test_idle_inputs_of_a_rig() -> None:
    shares = {s.input: s.share for s in doubt(pushed(400.0), samples=2000).shares}
    assert set(shares) == {
        "wind",
        "righting moment",
        "swing",
        "wall",
        "strength of metal",
        "stiffness of metal",
    }
    for idle in ("wind", "righting moment", "swing"):
        assert shares[idle] < 0.01
    assert sum(shares.values()) == pytest.approx(1.0, abs=0.05)


def test_same_bytes_twice_and_another_seed_within_the_error() -> None:
    rig = replace(example("sharpie_5m2"), doubt=Doubts(samples=1000))
    first, again = doubt(rig), doubt(rig)
    assert doubt_json(first) == doubt_json(again)
    other = doubt(replace(rig, doubt=Doubts(samples=1000, seed=2)))
    assert doubt_json(other) != doubt_json(first)
    for one in first.checks:
        assert abs(one.chance - of(other, one.id).chance) <= 4 * math.hypot(
            one.error, of(other, one.id).error
        )
    worst = first.checks[0]
    assert worst.error == pytest.approx(math.sqrt(worst.chance * (1 - worst.chance) / 1000))


@pytest.mark.parametrize("spreads", [{}, {"wind": 0.4, "swing": 0.8}], ids=["as they stand", "wide"])
def test_cases_left_aside_cannot_matter(spreads: dict[str, float]) -> None:
    rig = replace(example("sharpie_5m2"), doubt=Doubts(samples=1500, **spreads))  # type: ignore[arg-type]
    found = doubt(rig)
    assert found.left_aside or spreads
    if found.left_aside:
        alone = replace(rig, cases=tuple(case for case in rig.cases if case.name in found.left_aside))
        assert doubt(alone).chance == 0.0


def test_a_check_keeps_the_case_that_governs_it() -> None:
    # stability is used most in a case in which nothing is used much
    more = '\n[[case]]\nname = "thrust"\nkind = "given"\naxial = "300 N"\n'
    rig = pushed(400.0, more)
    result = check(rig)
    thrust = [c for c in result.checks if c.case == "thrust"]
    assert max(c.utilisation for c in thrust) < 0.3
    assert of(doubt(rig, samples=200), "axial-stability").case == "thrust"


def no_equilibrium() -> Rig:
    return read_rig(LOADS.replace('own_weight_heel = "30 deg"', 'axial = "400 kN"'))


def test_no_answer_fails_and_is_told() -> None:
    found = doubt(no_equilibrium(), samples=100)
    assert found.chance == 1.0
    tip = of(found, "tip-deflection")
    assert tip.chance == 1.0 and tip.used == math.inf and set(tip.percentiles) == {math.inf}
    document = json.loads(doubt_json(found))
    entry = next(one for one in document["checks"] if one["id"] == "tip-deflection")
    assert entry["used"] is None and entry["percentiles"] == [None] * 4
    row = next(line for line in doubt_screen(found).splitlines() if line.startswith("tip-deflection"))
    assert row.split()[1] == "-" and row.split()[4:8] == ["-"] * 4


def test_a_mast_in_slings_alone() -> None:
    text = LOADS[: LOADS.index("[[case]]")] + (
        '[[case]]\nname = "slung"\nkind = "lift"\nlower_height = "0.5 m"\nupper_height = "4.6 m"\n'
    )
    found = doubt(read_rig(text), samples=100)
    assert found.chance == 0.0 and "tip-deflection" not in {one.id for one in found.checks}


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    try:
        code = main(["doubt", *words])
    except SystemExit as stop:
        code = int(stop.code or 0)
    captured = capsys.readouterr()
    return code, captured.out, captured.err


def test_text_and_json_agree(capsys: pytest.CaptureFixture[str]) -> None:
    file = str(EXAMPLES / "trailer_sailer_4m6.toml")
    code, text, _ = run(capsys, file, "--samples", "300")
    other, plain, _ = run(capsys, file, "--samples", "300", "--json")
    assert code == other == 0
    document: dict[str, Any] = json.loads(plain)
    assert document["samples"] == 300 and document["percent"] == list(PERCENT)
    for entry in document["checks"][:12]:
        row = next(line for line in text.splitlines() if line.startswith(entry["id"] + " "))
        assert row.endswith(entry["case"])
        numbers = [f"{entry['used']:.2f}", *(f"{p:.2f}" for p in entry["percentiles"])]
        cells = row.removeprefix(entry["id"]).split()
        assert [cells[0], *cells[3:7]] == numbers
        shown = float(cells[1].rstrip("%")) / 100
        assert shown == pytest.approx(entry["chance"], abs=0.006)
    for share in document["shares"]:
        assert f"{share['share']:4.0%}  {share['input']}, spread {share['spread']:.0%}" in text
    for note in (*document["notes"], *document["cautions"]):
        assert " ".join(note.split()) in " ".join(text.split())
    winds = document["furling_m_s"]
    assert winds == sorted(winds, reverse=True)
    turning = check(example("trailer_sailer_4m6")).turning
    assert turning is not None and turning.furling is not None
    assert turning.furling.luffed_m_s <= winds[-1] <= winds[0] <= turning.furling.luffed_low_m_s


@pytest.mark.parametrize("samples", ["99", "200001", "-5", "many", "1.5"])
def test_a_bad_number_of_masts(samples: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, error = run(capsys, str(EXAMPLES / "given_loads.toml"), "--samples", samples)
    assert (code, out) == (2, "")
    assert "--samples" in error and "Traceback" not in error


def test_exit_codes(tmp_path: Any, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "rig.toml"
    file.write_text(LOADS.replace('side = "100 N"', 'side = "2000 N"'), encoding="utf-8")
    code, out, _ = run(capsys, str(file), "--samples", "100")
    assert code == 1 and "FAIL" in out
    file.write_text(LOADS + "\n[doubt]\nwind = 2\nsamples = 5\n", encoding="utf-8")
    code, out, error = run(capsys, str(file))
    assert (code, out) == (2, "")
    assert "doubt.wind" in error and "doubt.samples" in error and "Traceback" not in error
