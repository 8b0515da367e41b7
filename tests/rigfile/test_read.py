"""A good file read: SI values, defaults on record, the same rig however it is written."""

from __future__ import annotations

import io
import math
import tomllib
from copy import deepcopy
from dataclasses import fields, is_dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from rigcalc import check
from rigcalc.reports import as_dict
from rigcalc.rig import (
    Bearing,
    Bearings,
    Boat,
    Case,
    Fatigue,
    Laminate,
    Limits,
    Mast,
    Material,
    Opening,
    Plies,
    PointLoad,
    Price,
    Rig,
    Sail,
    Sheath,
    Sizing,
    Sleeve,
    Stability,
    State,
    Station,
    Step,
    Stock,
    StockBoard,
    StockCloth,
    StockTube,
    Weld,
    Wind,
)
from rigcalc.rig.fields import Quantity, Table, Tables, described_fields, is_read, key_of, spec_of
from rigcalc.rigfile import load_rig, read_rig, starter_text

from . import GOOD, VARIANTS, bare_of, edited, leaves, put, toml_of

DEG = math.pi / 180

EXPECTED = Rig(
    title="Rig of the tests",
    boat=Boat(
        displacement_kg=640.0,
        waterline_m=0.4,
        lateral_centre_m=0.05,
        design_category="C",
        beam_m=1.8,
        roll_gyration_m=0.75,
        roll_damping=0.06,
        centre_of_gravity_m=0.55,
        ballast_height_m=0.1,
        stability=Stability(
            righting_arm=((0.0, 0.0), (30 * DEG, 0.26), (60 * DEG, 0.35), (110 * DEG, 0.0)),
        ),
    ),
    wind=Wind(
        profile="power-law",
        exponent=0.12,
        air_density_kg_m3=1.25,
        air_viscosity_m2_s=1.5e-5,
        reference_height_m=9.0,
        strouhal="textbook",
        heel_falloff="cos1.3",
    ),
    mast=Mast(
        name="main",
        length_m=6.8,
        bury_m=0.9,
        support="through-deck",
        shape="round",
        material="6061-T6 extruded",
        fittings_mass_kg=0.8,
        fittings_height_m=6.5,
        reference_mass_kg=14.0,
        damping=0.03,
        stations=(
            Station(height_m=0.0, diameter_m=0.1016, wall_m=0.0057),
            Station(height_m=2.81, diameter_m=0.1016, wall_m=0.0058),
            Station(height_m=2.81, diameter_m=0.088, wall_m=0.0042),
            Station(height_m=6.8, diameter_m=0.07, wall_m=0.0044),
        ),
        sleeve=(
            Sleeve(
                start_m=2.4, end_m=2.81, diameter_m=0.089, wall_m=0.0035, material="own alloy", play_m=0.0004
            ),
        ),
        opening=(Opening(height_m=4.0, width_m=0.012, length_m=0.04),),
        weld=(Weld(height_m=2.6, extent_m=0.025),),
        sheath=(Sheath(start_m=4.6, end_m=5.6, laminate="patch", side="over"),),
    ),
    bearings=Bearings(partners=Bearing(stiffness_N_m=2e6), step=Step(stiffness_N_m=3e6)),
    sails=(
        Sail(
            name="mainsail",
            mast="main",
            luff_m=4.8,
            foot_m=2.45,
            tack_height_m=1.4,
            clew_rise_m=0.2,
            head_m=0.7,
            head_angle_rad=25 * DEG,
            roach=0.05,
            centre_of_effort="geometric",
            cloth_mass_kg_m2=0.23,
            hold="rolled",
            cloth_thickness_m=0.0003,
            roll_slack=2.5,
            load_path="membrane",
            leech_sag=0.08,
            clew_held="wishbone",
            spar_height_m=2.5,
        ),
        Sail(name="foresail", mast="fore", corners=((0.0, 1.2), (0.0, 5.5), (-1.6, 1.3))),
        Sail(
            name="lugsail",
            mast="main",
            corners=((0.4, 1.5), (0.4, 4.5), (-1.2, 6.2), (-1.9, 1.6)),
            cloth_mass_kg_m2=0.18,
            hold="battens",
            panels=5,
            parrel_heights_m=(1.6, 2.6, 3.7, 4.8),
        ),
    ),
    states=(
        State(name="both", set=(("mainsail", 1.0), ("foresail", 1.0))),
        State(name="main alone", set=(("mainsail", 1.0), ("foresail", 0.0))),
        State(name="reefed", set=(("mainsail", 0.6), ("foresail", 0.5))),
        State(name="lug alone", set=(("lugsail", 0.8),)),
    ),
    cases=(
        Case(
            name="gust",
            kind="heel-limited",
            state="both",
            basis="RM max",
            dynamic_factor=1.6,
            heel_rad=31 * DEG,
            apparent_wind_angle_rad=35 * DEG,
            coefficients="ims-older",
        ),
        Case(
            name="run",
            kind="wind-limited",
            state="main alone",
            wind_speed_m_s=10.0,
            gust_factor=1.3,
            force_coefficient=1.4,
            longitudinal_moment_N_m=1900.0,
        ),
        Case(
            name="storm",
            kind="bare",
            beaufort=10,
            gust="sea-3s",
            heel_rad=12 * DEG,
            force_angle_rad=90 * DEG,
            drag_crisis="table",
            inclined_flow="cosine-squared",
        ),
        Case(
            name="flat",
            kind="knockdown",
            dynamic_factor=2.0,
            tip_speed_m_s=1.4,
            wet_length_m=1.1,
            sealed="yes",
        ),
        Case(
            name="reviewer",
            kind="given",
            line_load=((0.95, 50.0), (6.8, 0.0)),
            line_load_forward=((0.95, 7.0), (6.7, 7.0)),
            point_load=(PointLoad(height_m=6.6, side_N=100.0, forward_N=20.0),),
            axial_N=200.0,
            torque_N_m=15.0,
            own_weight_heel_rad=33 * DEG,
        ),
        Case(
            name="stated",
            kind="heel-limited",
            state="main alone",
            basis="moment",
            moment_N_m=1500.0,
            arm="partners",
            force_coefficient=1.1,
            force_angle_rad=75 * DEG,
        ),
        Case(
            name="reach",
            kind="heel-limited",
            state="reefed",
            basis="RM30",
            apparent_wind_angle_rad=80 * DEG,
            wind_speed_m_s=12.0,
            gust="none",
        ),
        Case(
            name="quarter",
            kind="wind-limited",
            state="lug alone",
            beaufort=5,
            gust="land-3s",
            coefficients="orc-2013-low",
            true_wind_angle_rad=150 * DEG,
            boat_speed_m_s=2.0,
        ),
        Case(
            name="anchored",
            kind="motion",
            dynamic_factor=1.4,
            roll_amplitude_rad=25 * DEG,
            roll_period_s=2.4,
            pitch_amplitude_rad=9 * DEG,
            pitch_period_s=2.2,
        ),
        Case(
            name="slung",
            kind="lift",
            dynamic_factor=1.3,
            lower_height_m=0.5,
            upper_height_m=4.6,
        ),
    ),
    limits=Limits(yield_factor=1.2, rupture_factor=1.3, axial_stability_factor=3.5, tip_deflection=0.12),
    fatigue=Fatigue(
        days_at_sea=12.0,
        time_per_day_s=7200.0,
        roll_period_s=4.5,
        stress_ratio=0.2,
        detail="machined",
        weld_detail="butt-both-sides",
        factor=1.1,
    ),
    stock=Stock(
        file="tubes.csv",
        series=("inch pipe, schedule 40", "inch pipe, schedule 80"),
        tube=(
            StockTube(
                name="four inch",
                diameter_m=0.102,
                wall_m=0.0056,
                material="6061-T6 drawn",
                length_m=6.4,
                price=21.5,
            ),
        ),
        tube_length_m=6.1,
        max_piece_m=5.9,
        kerf_m=0.0025,
        trim_m=0.014,
        board=(StockBoard(name="clear spruce", width_m=0.147, thickness_m=0.043, length_m=5.3, price=61.5),),
        least_piece_m=0.95,
        scarf_clear_m=0.45,
        plane_width_m=0.0035,
        plane_thickness_m=0.0025,
        wood_ends_m=0.13,
        cloth=(
            StockCloth(
                name="glass 310",
                material="E-glass/epoxy UD 0.55",
                areal_mass_kg_m2=0.311,
                angle_rad=45 * DEG,
                roll_m=1.27,
                roll_length_m=26.0,
                price=7.5,
            ),
            StockCloth(material="E-glass", roll_m=0.61, price_per_kg=9.25),
        ),
        roll_m=1.05,
        lap_m=0.024,
        join_m=0.11,
        cloth_ends_m=0.06,
        cloth_spare=0.13,
        resin_loss=0.27,
        resin_price=15.25,
        table_step_m=0.31,
        fewest=2,
        most=4,
        least_clearance_m=0.00025,
        greatest_clearance_m=0.0022,
        overlap_m=0.15,
        overlap_bores=1.6,
        joint_step_m=0.055,
    ),
    sizing=Sizing(
        minimise="cost",
        materials=(
            "6082-T6 drawn",
            "C24",
            "C24+S-glass/epoxy UD 0.50",
            "whole tube",
            "E-glass/epoxy UD 0.45",
        ),
        smallest_diameter_m=0.046,
        largest_diameter_m=0.213,
        smallest_tip_m=0.054,
        largest_tip_m=0.097,
        smallest_wall_m=0.0026,
        most_mass_kg=41.0,
        lowest_frequency_Hz=0.75,
        bury_m=(0.85, 0.95),
        heights_m=(2.55, 4.65),
        diameter_step_m=0.0021,
        wall_step_m=0.0011,
        ply_mass_kg_m2=0.312,
        off_axis_mass_kg_m2=0.212,
        most_plies=24,
        seed=7,
        price=(Price(material="C24", per_kg=8.25),),
    ),
    materials=(
        Material(
            name="own alloy",
            family="metal",
            E_Pa=70e9,
            G_Pa=26.5e9,
            nu=0.33,
            density_kg_m3=2700.0,
            proof_Pa=201e6,
            ultimate_Pa=251e6,
            welded_proof_Pa=101e6,
            welded_ultimate_Pa=151e6,
            buckling_class="A",
            source="certificate of the mill",
        ),
    ),
    laminates=(
        Laminate(
            name="patch",
            method="chamis",
            criterion="max-strain",
            water="stated",
            water_factor=0.85,
            lasting="passing",
            cycles=200.0,
            fatigue="log",
            safety_factor=1.6,
            interlaminar_Pa=20e6,
            crushing_Pa=90e6,
            bearing_Pa=12e6,
            plies=(
                Plies(
                    material="E-glass/epoxy woven 0.50",
                    angle_rad=0.0,
                    areal_mass_kg_m2=0.31,
                    count=2,
                    start_m=4.5,
                    end_m=5.7,
                ),
                *(
                    Plies(
                        fibre="E-glass",
                        resin="polyester",
                        fibre_fraction=0.45,
                        void_fraction=0.01,
                        strengths="E-glass/epoxy UD 0.55",
                        angle_rad=angle * DEG,
                        thickness_m=0.31e-3,
                    )
                    for angle in (16, -16)
                ),
            ),
        ),
        Laminate(
            name="whole tube",
            plies=(
                Plies(material="E-glass/epoxy UD 0.45", angle_rad=44 * DEG, areal_mass_kg_m2=0.401, count=3),
                Plies(material="E-glass/epoxy UD 0.45", angle_rad=0.0, thickness_m=4.1e-3),
                Plies(material="E-glass/epoxy UD 0.45", angle_rad=0.0, thickness_m=5.1e-3, end_m=2.9),
                Plies(material="E-glass/epoxy UD 0.45", angle_rad=-44 * DEG, areal_mass_kg_m2=0.401, count=3),
            ),
        ),
    ),
    defaults=(),
)


def same(found: Any, wanted: Any, path: str = "") -> None:
    """Hold two values of one kind against each other, to a few units in the last digit."""
    assert type(found) is type(wanted), path
    if is_dataclass(wanted):
        for entry in fields(wanted):
            if entry.name != "defaults":
                same(getattr(found, entry.name), getattr(wanted, entry.name), f"{path}.{entry.name}")
    elif isinstance(wanted, tuple):
        assert len(found) == len(wanted), path
        for i, pair in enumerate(zip(found, wanted, strict=True)):
            same(*pair, f"{path}[{i}]")
    elif isinstance(wanted, float):
        assert math.isclose(found, wanted, rel_tol=1e-15, abs_tol=0.0), path
    else:
        assert found == wanted, path


def test_the_good_file_reads_into_si() -> None:
    same(read_rig(GOOD), EXPECTED)


@pytest.mark.parametrize(
    ("name", "stability", "roughness"),
    [
        ("gm and bm", Stability(gm_m=0.5, bm_m=0.9), None),
        (
            "righting moments",
            Stability(moment_30_N_m=1600.0, moment_max_N_m=2200.0, heel_at_max_rad=55 * DEG),
            None,
        ),
        ("log law", EXPECTED.boat.stability, 0.0005),
    ],
)
def test_its_variants_read_into_si(name: str, stability: Stability, roughness: float | None) -> None:
    rig = read_rig(edited(*VARIANTS[name]))
    same(rig.boat.stability, stability)
    if roughness is not None:
        assert (rig.wind.profile, rig.wind.roughness_length_m) == ("log-law", roughness)


def test_defaults_are_exactly_those_that_play_a_part_and_were_left_out() -> None:
    assert set(read_rig(GOOD).defaults) == {
        "bearings.lines_down",
        "sail[0].camber",
        "sail[1].centre_of_effort",
        "sail[1].hold",
        "sail[1].load_path",
        "sail[1].leech_sag",
        "sail[1].clew_held",
        "sail[1].cloth_mass",
        "sail[2].centre_of_effort",
        "sail[2].load_path",
        "mast.wall_loss",
        "case[0].arm",
        "case[0].force_coefficient",
        "case[1].dynamic_factor",
        "case[1].force_angle",
        "case[2].dynamic_factor",
        "case[2].force_coefficient",
        "case[5].dynamic_factor",
        "case[6].arm",
        "case[6].dynamic_factor",
        "case[6].coefficients",
        "case[6].force_coefficient",
        "case[7].dynamic_factor",
        "case[7].force_coefficient",
        "stock.cloth[1].angle",
        *(f"laminate[0].plies[{i}].start" for i in (1, 2)),
        *(f"laminate[1].plies[{i}].start" for i in range(4)),
        *(
            f"laminate[1].{key}"
            for key in (
                "criterion",
                "water",
                "lasting",
                "cycles",
                "fatigue",
                "safety_factor",
                "interlaminar",
                "crushing",
                "bearing",
            )
        ),
    }


GO_WITH = {
    "wind.profile": ("exponent",),
    "mast.fittings_mass": ("fittings_height",),
    "sail.hold": ("cloth_thickness", "roll_slack", "panels"),
    "sail.clew_held": ("spar_height",),
    "case.basis": ("moment",),
    "case.force_coefficient": ("force_angle",),
    "laminate.water": ("water_factor",),
}
"""Key -> keys beside it that nothing reads once it is left out."""


def test_a_default_is_on_record_once_its_key_is_left_out_and_only_then() -> None:
    raw, rig = tomllib.loads(GOOD), read_rig(GOOD)
    assert len(set(rig.defaults)) == len(rig.defaults)
    tried = 0
    for path, _ in leaves(raw):
        parts = [part for part in path if isinstance(part, str)]
        name = "".join(f"[{p}]" if isinstance(p, int) else f".{p}" for p in path)[1:]
        entry = _field(parts)
        if entry is None or not spec_of(entry).default_from:
            assert name not in rig.defaults
            continue
        table = deepcopy(raw)
        holder: Any = table
        for key in path[:-1]:
            holder = holder[key]
        del holder[path[-1]]
        assert name not in rig.defaults
        for other in GO_WITH.get(bare_of(path), ()):
            holder.pop(other, None)
        assert name in read_rig(toml_of(table)).defaults
        tried += 1
    assert tried >= 55


def _field(parts: list[str]) -> Any:
    """Return the field that keys lead to, or None for names that are not of the format."""
    table: Any = Rig
    entry: Any = None
    for part in parts:
        entry = described_fields(table).get(part) if isinstance(table, type) else None
        if entry is None:
            return None
        spec = spec_of(entry)
        table = spec.of if isinstance(spec, Table | Tables) else None
    return entry


def test_every_default_of_a_read_rig_is_the_one_of_its_dataclass() -> None:
    rig = read_rig(GOOD)

    def held(table: Any, path: str) -> None:
        for entry in fields(table):
            if "spec" not in entry.metadata:
                continue
            here = f"{path}.{key_of(entry)}".removeprefix(".")
            value = getattr(table, entry.name)
            if here in rig.defaults:
                assert value == entry.default
                assert is_read(entry, table)
            for i, item in enumerate(value if isinstance(value, tuple) else ()):
                if is_dataclass(item):
                    held(item, f"{here}[{i}]")
            if is_dataclass(value):
                held(value, here)

    held(rig, "")


# the same rig in US units

# Exact by definition: inch and pound of the international yard and pound agreement of 1959, standard
# gravity of the 3rd CGPM, nautical mile of the First International Extraordinary Hydrographic
# Conference of 1929; all as NIST SP 811, appendix B, repeats them (from memory).
INCH, POUND, GRAVITY = Fraction("0.0254"), Fraction("0.45359237"), Fraction("9.80665")
FOOT, OUNCE, LBF = 12 * INCH, POUND / 16, POUND * GRAVITY
US = {
    "m": ("ft", FOOT),
    "mm": ("in", INCH),
    "kg": ("lb", POUND),
    "N": ("lbf", LBF),
    "N m": ("lbf ft", LBF * FOOT),
    "kN m": ("lbf ft", LBF * FOOT),
    "N/m": ("lbf/ft", LBF / FOOT),
    "MPa": ("ksi", 1000 * LBF / INCH**2),
    "GPa": ("psi", LBF / INCH**2),
    "m/s": ("kn", Fraction(1852, 3600)),
    "g/m2": ("oz/yd2", OUNCE / (3 * FOOT) ** 2),
    "kg/m3": ("lb/ft3", POUND / FOOT**3),
}
SI = {
    "mm": Fraction(1, 1000),
    "kN m": Fraction(1000),
    "MPa": Fraction(10**6),
    "GPa": Fraction(10**9),
    "g/m2": Fraction(1, 1000),
}


def in_us_units(text: str) -> str:
    """Return a quantity in feet, pounds and knots, to the last digit of a float; anything else as it is."""
    number, _, unit = text.partition(" ")
    if unit not in US:
        return text
    other, size = US[unit]
    value = Fraction(number) * SI.get(unit, Fraction(1)) / size
    return f"{float(value)!r} {other}"


def us_rig() -> tuple[str, int]:
    """Return the good file in US units and how many quantities that changed."""
    table, changed = tomllib.loads(GOOD), 0
    for path, value in leaves(tomllib.loads(GOOD)):
        if isinstance(value, str) and in_us_units(value) != value:
            put(table, path, in_us_units(value))
            changed += 1
    return toml_of(table), changed


def close(found: Any, wanted: Any, path: str = "") -> None:
    """Hold two results against each other, numbers to 1e-12 of the largest beside them."""
    assert type(found) is type(wanted), path
    if isinstance(wanted, dict):
        assert found.keys() == wanted.keys()
        for key in wanted:
            close(found[key], wanted[key], f"{path}.{key}")
    elif isinstance(wanted, list) and wanted and isinstance(wanted[0], float):
        scale = max(map(abs, wanted))
        assert found == pytest.approx(wanted, rel=1e-12, abs=1e-12 * scale), path
    elif isinstance(wanted, list):
        assert len(found) == len(wanted), path
        for i, pair in enumerate(zip(found, wanted, strict=True)):
            close(*pair, f"{path}[{i}]")
    elif isinstance(wanted, float):
        assert math.isclose(found, wanted, rel_tol=1e-12, abs_tol=1e-12), path
    else:
        assert found == wanted, path


def test_a_rig_in_us_units_is_the_same_rig() -> None:
    text, changed = us_rig()
    assert changed > 80
    close(as_dict(check(read_rig(text)), stations=True), as_dict(check(read_rig(GOOD)), stations=True))


@pytest.mark.parametrize(
    ("written", "metres"),
    [
        ('length = "6.8 m"', 6.8),
        ('length = "680 cm"', 6.8),
        ('length = " 6800  mm "', 6.8),
        ('length = "6.8e3mm"', 6.8),
        ('length = "22 ft 3 23/32 in"', float(22 * FOOT + (3 + Fraction(23, 32)) * INCH)),
    ],
)
def test_a_length_may_be_written_in_many_ways(written: str, metres: float) -> None:
    text = GOOD.replace('length = "6.8 m"', written)
    text = text.replace('{height = "6.8 m", diameter', f'{{height = "{metres!r} m", diameter')
    text = text.replace('["6.8 m", "0 N/m"]', '["6 m", "0 N/m"]')
    assert read_rig(text).mast.length_m == pytest.approx(metres, rel=1e-15)


# order, and where the file comes from


def test_the_order_of_tables_and_keys_plays_no_part() -> None:
    def backwards(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: backwards(value[key]) for key in reversed(value)}
        return [backwards(item) for item in value] if isinstance(value, list) else value

    raw = tomllib.loads(GOOD)
    turned = backwards(raw)
    assert list(turned) != list(raw)
    # what the sails of a state are listed in shows in nothing but that list
    for state, wanted in zip(turned["state"], raw["state"], strict=True):
        state["set"] = wanted["set"]
    assert read_rig(toml_of(turned)) == read_rig(GOOD)


def test_long_and_short_tables_are_the_same() -> None:
    assert read_rig(toml_of(tomllib.loads(GOOD))) == read_rig(GOOD)


def test_a_rig_is_read_from_a_path_and_from_standard_input(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "rig.toml"
    file.write_text(GOOD, encoding="utf-8")
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(GOOD.encode())))
    assert load_rig(file) == load_rig(str(file)) == load_rig("-") == read_rig(GOOD)


def test_a_missing_file_is_an_os_error(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        load_rig(tmp_path / "none.toml")


def test_a_rig_is_frozen() -> None:
    rig = read_rig(GOOD)
    with pytest.raises(AttributeError):
        rig.mast.length_m = 1.0  # type: ignore[misc]  # that it cannot be set is the point
    assert hash(rig) == hash(read_rig(GOOD))


def test_tables_left_out_are_read_as_empty_ones() -> None:
    rig = read_rig(starter_text())
    assert (rig.wind, rig.bearings, rig.limits) == (Wind(), Bearings(), Limits())
    emptied = read_rig(starter_text() + "[wind]\n[bearings.partners]\n[limits]\n")
    assert emptied == rig


def test_names_of_fields_carry_their_unit() -> None:
    seen = 0
    for table in (Boat, Stability, Wind, Mast, Station, Sleeve, Opening, Weld, Sail, Case, Limits, Material):
        for key, entry in described_fields(table).items():
            spec = spec_of(entry)
            if isinstance(spec, Quantity) and spec.unit != "1":
                assert entry.name == f"{key}_{spec.unit.replace(' ', '_').replace('/', '_')}"
                seen += 1
    assert seen > 40
