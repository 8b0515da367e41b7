"""Deflection, creep, frequency and mass of masts of wood, what is told of them, and the examples of practice."""

from __future__ import annotations

import math

import pytest

from rigcalc import check, read_rig
from rigcalc.limits import Check
from rigcalc.materials.timber import Timber, timber_of_rig
from rigcalc.reports import as_json, screen
from rigcalc.rig import TimberUse

from . import (
    ABOVE,
    BURY,
    C24,
    LENGTH,
    SITKA,
    area,
    case,
    even,
    found,
    ids,
    plug,
    pushed,
    rig_text,
    run,
    second,
)


def wood(name: str, D: float, **use: object) -> Timber:
    timber_use = TimberUse(**use)  # type: ignore[arg-type]  # handed through
    return timber_of_rig(name, timber_use, shape="round", solid=True, depth_m=D, length_m=LENGTH, bury_m=BURY)


@pytest.mark.parametrize("name", [SITKA, C24])
def test_deflection_has_the_shear_of_a_test_beam_and_frequency_does_not(name: str) -> None:
    D = 0.12
    result = run(name, stations=even(D), cases=pushed(0.5))
    timber = wood(name, D)
    E = timber.value_Pa("E_apparent")
    tip = 0.5 * ABOVE**2 * LENGTH / (3 * E * second(D))
    assert found(result, "tip-deflection").demand == pytest.approx(tip, rel=1e-9)
    assert timber.value_Pa("E_true") > E
    heavier = run(name, stations=even(D), mast='fittings_mass = "1e-6 kg"')
    assert heavier.mast.natural_frequencies_Hz == pytest.approx(result.mast.natural_frequencies_Hz, rel=1e-4)
    # an overhanging beam of even section: f goes as the root of E_true I/m
    other = run("C30", stations=even(D))
    ratio = (
        timber.value_Pa("E_true")
        / timber.density_kg_m3
        / (wood("C30", D).value_Pa("E_true") / wood("C30", D).density_kg_m3)
    )
    assert result.mast.natural_frequencies_Hz[0] / other.mast.natural_frequencies_Hz[0] == pytest.approx(
        math.sqrt(ratio), rel=1e-9
    )
    assert result.mast.mass_kg == pytest.approx(timber.density_kg_m3 * area(D) * LENGTH, rel=1e-9)


@pytest.mark.parametrize(
    ("name", "more", "times"),
    [
        (SITKA, "", 1 + 0.1 * 0.5),
        (SITKA, '[timber]\nmoisture = "20 %"\nlasting_share = 0.4', 1 + 0.4 * 1.0),
        (C24, "", 1 + 0.1 * 2.0),
        (C24, "[timber]\nservice_class = 1\nlasting_share = 1", 1 + 0.6),
        (C24, "[timber]\nlasting_share = 0", 1.0),
    ],
)
def test_creep(name: str, more: str, times: float) -> None:
    result = run(name, cases=pushed(0.5), more=more)
    crept, at_once = found(result, "creep-deflection"), found(result, "tip-deflection")
    assert crept.demand == pytest.approx(times * at_once.demand, rel=1e-12)
    assert crept.capacity == at_once.capacity


def test_creep_of_wood_in_a_metal_tube_is_that_of_the_stiffness_it_lends() -> None:
    D, t = 0.08, 0.003
    core = plug(0.0, LENGTH, 'material = "C24"')
    result = run("6082-T6 drawn", stations=even(D, t), mast=core, cases=pushed(0.5))
    E_w = wood(C24, D - 2 * t).value_Pa("E_apparent")
    EI = (70e9 * second(D, D - 2 * t), E_w * second(D - 2 * t))
    creep = sum(EI) / (EI[0] + EI[1] / 3) - 1
    crept, at_once = found(result, "creep-deflection"), found(result, "tip-deflection")
    assert crept.demand == pytest.approx((1 + 0.1 * creep) * at_once.demand, rel=1e-9)
    assert "creep-deflection" not in ids(run("6082-T6 drawn", stations=even(D, t)), "")


def test_no_tip_no_creep() -> None:
    lift = case("lift", 'lower_height = "0.5 m"', 'upper_height = "5 m"')
    assert not ids(run(cases=lift), "") & {"creep-deflection", "tip-deflection"}


def test_a_mast_that_folds_fails_its_creep_too() -> None:
    result = run(stations=even(0.05), cases=pushed(10.0, axial=4000.0))
    crept = found(result, "creep-deflection")
    assert crept.utilisation == math.inf
    assert "no equilibrium" in crept.advice or "no answer" in crept.advice


# --- what is told -------------------------------------------------------------------------------


def test_what_was_recalled_and_what_is_not_counted_is_told() -> None:
    told = " ".join(run().warnings)
    assert "Sitka spruce (US): clear wood: knots" in told
    assert "are from memory: load duration" in told
    assert "safety factor" in told and "rolling shear" in told
    graded = " ".join(run(C24, stations=even(0.12, 0.02)).warnings)
    assert (
        "C24: these values and factors are from memory: scarf 1 in 12, k_cr, cracks, rolling shear" in graded
    )
    assert "knots" not in graded


def test_estimates_are_told_once() -> None:
    said = [w for w in run("Norway spruce", stations=even(0.12, 0.02)).warnings if "not in its table" in w]
    assert len(said) == 2
    assert said[0].startswith("Norway spruce: shear strength along the grain")
    assert said[0].count("Norway spruce") == 1


def test_defaults_of_timber_are_told_with_their_sources_and_those_it_does_not_read_are_not() -> None:
    paths = {a.path for a in run().assumptions}
    assert {"timber.moisture", "timber.load_duration", "timber.scarf_slope", "timber.safety_factor"} <= paths
    assert not paths & {"timber.service_class", "mast.wall_loss", "limits.yield_factor"}
    of_class = {a.path: a for a in run(C24).assumptions}
    assert "timber.moisture" not in of_class
    assert of_class["timber.service_class"].value == "3"
    metal = {a.path for a in run("6082-T6 drawn", stations=even(0.08, 0.003)).assumptions}
    assert not any(path.startswith(("timber", "bearings.partners.length")) for path in metal)
    degrees = next(a for a in run().assumptions if a.path == "timber.temperature")
    assert degrees.value == "20 degC"


def test_the_answer_prints() -> None:
    result = run(stations=even(0.12, 0.02), mast=plug(0.0, 2.0), cases=pushed(3000.0))
    assert "FAIL" in screen(result)
    assert '"creep-deflection"' in as_json(result)


def test_one_key_changes_what_it_should() -> None:
    """Every key of [timber] that a species reads moves some check of a hollow, plugged, bent mast."""
    base = run(stations=even(0.12, 0.02), mast=plug(0.0, 1.5), cases=pushed(50.0, axial=200.0))
    for line in (
        "moisture = 0.12",
        "slope_of_grain = 0",
        'load_duration = "10 min"',
        'temperature = "40 degC"',
        'round_form_factor = "NDS"',
        "hollow_form_factor = 0.8",
        "scarf_slope = 0",
        "lasting_share = 0.3",
        "safety_factor = 2",
    ):
        other = run(
            stations=even(0.12, 0.02),
            mast=plug(0.0, 1.5),
            cases=pushed(50.0, axial=200.0),
            more=f"[timber]\n{line}",
        )
        moved = [
            a.id for a, b in zip(base.checks, other.checks, strict=True) if a.utilisation != b.utilisation
        ]
        assert moved, line


# --- practice -----------------------------------------------------------------------------------


def test_the_rule_of_ten_percent_more_diameter() -> None:
    """Common practice: hollow instead of solid, 10 % more diameter and a wall of 15 to 20 % of it.

    Plugged through the partners it is about as strong, stiffer and lighter.
    """
    D = 0.12
    pole = run(stations=even(D), cases=pushed(10.0))
    hollow = run(stations=even(1.1 * D, 0.2 * 1.1 * D), mast=plug(0.0, 1.6), cases=pushed(10.0))
    assert found(hollow, "bending").demand < found(pole, "bending").demand
    assert found(hollow, "tip-deflection").demand < found(pole, "tip-deflection").demand
    assert hollow.mast.mass_kg < pole.mast.mass_kg
    assert 0.9 < found(hollow, "bending").utilisation / found(pole, "bending").utilisation < 1.2


def test_an_old_table_of_spruce_spars() -> None:
    """A pole by a table of spars of 1927: it breaks at the partners first, and at a load a little boat knows.

    Source: N. Skene, Elements of Yacht Design (1927), quoted on a page on small sailing boats (dabblersails.com,
    read): a spruce mast 120 in above the partners, unballasted boat, jib-headed sail, is 1.86 in there, 1.75, 1.58,
    1.35 and 1.07 in at four equal stations and 0.755 in at the top. Common practice, not a strength rule. The pull of
    the sail is taken to fall from foot to head like its width.
    """
    inch, above, bury = 0.0254, 120 * 0.0254, 0.3
    sizes = (1.86, 1.75, 1.58, 1.35, 1.07, 0.755)
    length = round(bury + above, 9)
    heights = [round(bury + above * i / 5, 9) for i in range(6)]
    stations = ((0.0, 1.86 * inch, None), *((z, D * inch, None) for z, D in zip(heights, sizes, strict=True)))

    def pulled(foot_N_m: float) -> Check:
        load = f'line_load = [["{bury!r} m", "{foot_N_m!r} N/m"], ["{length!r} m", "0 N/m"]]'
        return found(run(stations=stations, cases=case("given", load), length=length, bury=bury), "bending")

    foot = 1.0 / pulled(1.0).utilisation
    at_limit = pulled(0.95 * foot)
    assert at_limit.height_m == pytest.approx(bury)
    assert at_limit.utilisation == pytest.approx(0.95, rel=0.02)
    # 3 to 5 m2 on a 3 m luff at 55 to 72 Pa, the 1.15 to 1.5 lb/ft2 reckoned with such spars (a builders' forum, read),
    # come to 110 to 240 N/m at the foot: the code's allowance is met by the least of them
    assert 80.0 < foot < 240.0


def test_a_round_of_staves_is_nearly_a_tube() -> None:
    """0.983 of a round tube's second moment with 8 staves and a wall of 0.2 D between the corners, 0.993 with 12."""
    D, T = 0.10, 0.02
    for sides, ratio in ((8, 0.983), (12, 0.993)):
        # the wall is given at the corners of the bore, where it is thinnest
        corner = D / 2 - (D / 2 - T) / math.cos(math.pi / sides)
        staves = run(stations=even(D, corner), mast=f'shape = "staves"\nsides = {sides}', cases=pushed(0.1))
        tube = run(stations=even(D, T), cases=pushed(0.1))
        tips = found(tube, "tip-deflection").demand / found(staves, "tip-deflection").demand
        assert tips == pytest.approx(ratio, abs=6e-4)
        assert any("thinnest that turning leaves" in text for text in staves.warnings)


def test_a_rig_with_two_bases_keeps_each_to_its_own() -> None:
    text = rig_text(stations=even(0.12, 0.02), mast=plug(0.0, 2.0, 'material = "C24"'))
    result = check(read_rig(text))
    for one in result.checks:
        if one.layer == "tube" and "MPa;" in one.source:
            assert "k_mod" not in one.source
        if one.layer == "plug 1" and "MPa;" in one.source:
            assert "k_mod" in one.source and "moisture" not in one.source
