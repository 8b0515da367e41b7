"""Units at the edge, checked against two outside sources.

Sources: pint, a units library with its own definitions file, independent of this project and of
scipy; and `scipy.constants`, which knows the same definitions.
"""

from __future__ import annotations

import math
import os
import pickle
import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import pint
import pytest
import scipy.constants
from hypothesis import given
from hypothesis import strategies as st

from rigcalc import units
from rigcalc.units import (
    STANDARD_GRAVITY_M_S2,
    UnitError,
    accepted,
    convert,
    dimension_name,
    parse,
    show,
    unit_in,
)

PINT = pint.UnitRegistry()
ROOT = Path(__file__).resolve().parents[1]

# SI unit: (SI unit in pint, dimension, {accepted unit: the same unit in pint's long names})
UNITS = {
    "m": ("meter", "length", {"m": "meter", "cm": "centimeter", "mm": "millimeter", "ft": "foot",
                              "in": "inch"}),
    "m2": ("meter**2", "area", {"m2": "meter**2", "cm2": "centimeter**2", "mm2": "millimeter**2",
                                "ft2": "foot**2", "in2": "inch**2"}),
    "kg": ("kilogram", "mass", {"kg": "kilogram", "g": "gram", "t": "metric_ton", "lb": "pound",
                                "oz": "ounce"}),
    "N": ("newton", "force", {"N": "newton", "kN": "kilonewton", "kgf": "kilogram_force",
                              "lbf": "pound_force"}),
    "N m": ("newton*meter", "moment", {"N m": "newton*meter", "kN m": "kilonewton*meter",
                                       "kgf m": "kilogram_force*meter", "lbf ft": "pound_force*foot"}),
    "Pa": ("pascal", "pressure or stress", {"Pa": "pascal", "kPa": "kilopascal", "MPa": "megapascal",
                                            "GPa": "gigapascal", "psi": "pound_force/inch**2",
                                            "ksi": "1000*pound_force/inch**2"}),
    "N/m": ("newton/meter", "force per length", {"N/m": "newton/meter", "kN/m": "kilonewton/meter",
                                                 "N/mm": "newton/millimeter",
                                                 "lbf/ft": "pound_force/foot",
                                                 "lbf/in": "pound_force/inch"}),
    "m2/s": ("meter**2/second", "kinematic viscosity", {"m2/s": "meter**2/second"}),
    "m/s": ("meter/second", "speed", {"m/s": "meter/second", "kn": "nautical_mile/hour",
                                      "km/h": "kilometer/hour", "mph": "mile/hour"}),
    "rad": ("radian", "angle", {"rad": "radian", "deg": "degree"}),
    "s": ("second", "time", {"s": "second", "min": "minute", "h": "hour"}),
    "Hz": ("hertz", "frequency", {"Hz": "hertz"}),
    "kg/m2": ("kilogram/meter**2", "mass per area", {"kg/m2": "kilogram/meter**2",
                                                     "g/m2": "gram/meter**2",
                                                     "oz/yd2": "ounce/yard**2"}),
    "kg/m3": ("kilogram/meter**3", "density", {"kg/m3": "kilogram/meter**3",
                                               "g/cm3": "gram/centimeter**3",
                                               "lb/ft3": "pound/foot**3"}),
    "kg m2": ("kilogram*meter**2", "moment of inertia", {"kg m2": "kilogram*meter**2"}),
    "1/m": ("1/meter", "curvature", {"1/m": "1/meter"}),
    "1/K": ("1/kelvin", "thermal expansion coefficient", {"1/K": "1/kelvin", "1e-6/K": "1e-6/kelvin"}),
    "degC": ("delta_degree_Celsius", "temperature", {"degC": "delta_degree_Celsius"}),
    "1": ("dimensionless", "pure number", {"1": "dimensionless", "%": "percent"}),
}  # fmt: skip
PAIRS = [(si, name) for si, (_, _, names) in UNITS.items() for name in names]


def written(number: str, name: str) -> str:
    return number if name == "1" else f"{number} {name}"


def refused(text: str, unit: str) -> UnitError:
    with pytest.raises(UnitError) as caught:
        parse(text, unit)
    return caught.value


@pytest.mark.parametrize("si", UNITS)
def test_the_table_here_holds_every_accepted_unit(si: str) -> None:
    names = accepted(si)
    assert names[0] == si
    assert set(names) == set(UNITS[si][2])
    assert all(accepted(name) == names for name in names)


def test_every_dimension_is_in_the_table_here() -> None:
    with pytest.raises(KeyError) as caught:
        parse("1 furlong", "furlong")
    listed = caught.value.args[0].removeprefix("'furlong' is not one of the SI units ").split(", ")
    assert listed == sorted(listed, key=list(UNITS).index)
    assert set(listed) == set(UNITS)


@pytest.mark.parametrize(("si", "name"), PAIRS)
def test_factor_agrees_with_pint(si: str, name: str) -> None:
    si_in_pint, _, names = UNITS[si]
    expected = PINT.Quantity(1.0, "dimensionless") * PINT.parse_expression(names[name])
    assert parse(written("7.25", name), si) == pytest.approx(
        7.25 * expected.to(si_in_pint).magnitude, rel=1e-14
    )


@pytest.mark.parametrize(("si", "name"), PAIRS)
def test_one_unit_is_number_times_factor_exactly(si: str, name: str) -> None:
    assert parse(written("7.1", name), si) == 7.1 * parse(written("1", name), si)


@pytest.mark.parametrize(
    ("text", "si", "factor"),
    [
        ("1 in", "m", scipy.constants.inch),
        ("1 ft", "m", scipy.constants.foot),
        ("1 g", "kg", scipy.constants.gram),
        ("1 t", "kg", scipy.constants.metric_ton),
        ("1 lb", "kg", scipy.constants.pound),
        ("1 oz", "kg", scipy.constants.ounce),
        ("1 kgf", "N", scipy.constants.kilogram_force),
        ("1 lbf", "N", scipy.constants.pound_force),
        ("1 psi", "Pa", scipy.constants.psi),
        ("1 kn", "m/s", scipy.constants.knot),
        ("1 km/h", "m/s", scipy.constants.kmh),
        ("1 mph", "m/s", scipy.constants.mph),
        ("1 min", "s", scipy.constants.minute),
        ("1 h", "s", scipy.constants.hour),
        ("1 deg", "rad", scipy.constants.degree),
    ],
)
def test_factor_is_that_of_scipy_constants(text: str, si: str, factor: float) -> None:
    assert parse(text, si) == factor


def test_standard_gravity_is_that_of_scipy_constants() -> None:
    assert scipy.constants.g == STANDARD_GRAVITY_M_S2


@pytest.mark.parametrize("si", UNITS)
def test_dimension_names(si: str) -> None:
    assert {dimension_name(name) for name in UNITS[si][2]} == {UNITS[si][1]}


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("7.2 m", "m", 7.2),
        ("  7.2m ", "m", 7.2),
        ("7. m", "m", 7.0),
        (".5 m", "m", 0.5),
        ("+7.2 m", "m", 7.2),
        ("-7.2 m", "m", -7.2),
        ("\u22127.2 m", "m", -7.2),
        ("7.2\u00a0m", "m", 7.2),
        ("3/8 in", "m", 0.375 * 0.0254),
        ("-3/8 in", "m", -0.375 * 0.0254),
        ("1 1/2 in", "m", 1.5 * 0.0254),
        ("1 100/128 in", "m", 1.78125 * 0.0254),
        ('3"', "m", 3 * 0.0254),
        ("14'", "m", 14 * 0.3048),
        ("14 ft 3 in", "m", 4.3434),
        ("14ft 3in", "m", 4.3434),
        ("14' 3\"", "m", 4.3434),
        ("14'3\"", "m", 4.3434),
        ("14\u2032 3\u2033", "m", 4.3434),
        ("-14 ft 3 in", "m", -4.3434),
        ("-0 ft 3 in", "m", -0.0762),
        ("0 ft 0 in", "m", 0.0),
        ("14 ft 11.5 in", "m", 179.5 * 0.0254),
        ("14 ft 3 1/2 in", "m", 171.5 * 0.0254),
        ("14' 3 1/2\"", "m", 171.5 * 0.0254),
        ("14 ft 3/4 in", "m", 168.75 * 0.0254),
        ("2e5 N/m", "N/m", 2e5),
        ("2E+5N/m", "N/m", 2e5),
        ("5 Nm", "N m", 5.0),
        ("5 N*m", "N m", 5.0),
        ("5 N\u00b7m", "N m", 5.0),
        ("5 N \u00b7 m", "N m", 5.0),
        ("5 kNm", "N m", 5e3),
        ("5 kN*m", "N m", 5e3),
        ("300 g/m\u00b2", "kg/m2", 0.3),
        ("300 g / m2", "kg/m2", 0.3),
        ("1.6 g/cm\u00b3", "kg/m3", 1600.0),
        ("180\u00b0", "rad", math.pi),
        ("180 \u00b0", "rad", math.pi),
        ("5 \u00b0C", "degC", 5.0),
        ("23e-6 1/K", "1/K", 23e-6),
        ("23e-6/K", "1/K", 23e-6),
        ("23 1e-6/K", "1/K", 23e-6),
        ("23e-6 / K", "1/K", 23e-6),
        ("0e5 m", "m", 0.0),
        ("0.2/m", "1/m", 0.2),
        ("0.35", "1", 0.35),
        ("3/4", "1", 0.75),
        ("40%", "1", 0.4),
        ("-40 %", "1", -0.4),
    ],
)
def test_spellings(text: str, unit: str, value: float) -> None:
    assert parse(text, unit) == pytest.approx(value, rel=1e-15, abs=0.0)


@pytest.mark.parametrize(
    ("text", "unit", "name"),
    [
        ("7.2 m", "m", "m"),
        ("88.9mm", "m", "mm"),
        ("14' 3\"", "m", "in"),
        ("14'", "m", "ft"),
        ("5 kN*m", "N m", "kN m"),
        ("180°", "rad", "deg"),
        ("0.35", "1", "1"),
        ("40%", "1", "%"),
    ],
)
def test_the_unit_that_was_written(text: str, unit: str, name: str) -> None:
    assert unit_in(text, unit) == name
    number = convert(parse(text, unit), unit, name)
    assert parse(f"{number!r} {name.removesuffix('1')}", unit) == pytest.approx(parse(text, unit), rel=1e-15)


def test_the_unit_of_what_cannot_be_read() -> None:
    with pytest.raises(UnitError, match="has no unit"):
        unit_in("7.2", "m")


def test_foot_pounds_in_either_order() -> None:
    assert parse("5 ft lbf", "N m") == parse("5 lbf ft", "N m") == parse("5 ft*lbf", "N m")


def test_no_unit() -> None:
    error = refused("7.2", "m")
    assert error.kind == "no unit"
    assert str(error) == (
        "'7.2' has no unit. Allowed: a length in m, cm, mm, ft or in. Add the unit, for example 7.2 m."
    )


@pytest.mark.parametrize(
    ("text", "unit", "meant"),
    [
        ("3 KG", "kg", "kg"),
        ("3 Mm", "m", "mm"),
        ("3 MM", "m", "mm"),
        ("30 Deg", "rad", "deg"),
        ("3 mPa", "Pa", "MPa"),
        ("12 knots", "m/s", "kn"),
        ("12 kts", "m/s", "kn"),
        ("12 kph", "m/s", "km/h"),
        ("3 lbs", "kg", "lb"),
        ("3 LBS", "kg", "lb"),
        ("3 lbs", "N", "lbf"),
        ("3 ft lb", "N m", "lbf ft"),
        ("3 ft-lbs", "N m", "lbf ft"),
        ("14 feet", "m", "ft"),
        ("3 inches", "m", "in"),
        ("7 metres", "m", "m"),
        ("7 N/mm2", "Pa", "MPa"),
        ("3 m^2", "m2", "m2"),
        ("3 kg/m^3", "kg/m3", "kg/m3"),
        ("3 oz/yd", "kg/m2", "oz/yd2"),
        ("5 C", "degC", "degC"),
        ("293 K", "degC", "degC"),
        ("5 percent", "1", "%"),
    ],
)
def test_unknown_unit_with_what_was_meant(text: str, unit: str, meant: str) -> None:
    error = refused(text, unit)
    assert error.kind == "unknown unit"
    assert error.remedy == f"Did you mean {meant}?"
    assert error.fault == f"has the unknown unit {text.split(' ', 1)[1]}"


def test_unknown_unit_like_none_here() -> None:
    assert str(refused("5 furlong", "m")) == (
        "'5 furlong' has the unknown unit furlong. Allowed: a length in m, cm, mm, ft or in. "
        "Use one of the units allowed here."
    )


@pytest.mark.parametrize(
    ("text", "unit", "fault"),
    [
        ("3 kg", "m", "kg is a mass; a length is wanted"),
        ("5 m2", "m", "m2 is an area; a length is wanted"),
        ("5 deg", "N", "deg is an angle; a force is wanted"),
        ("5 m", "rad", "m is a length; an angle is wanted"),
        ("5 kg", "1", "kg is a mass; a pure number is wanted"),
        ("40 %", "m", "% is a pure number; a length is wanted"),
        ("14 ft 3 in", "kg", "in is a length; a mass is wanted"),
        ("5'", "kg", "ft is a length; a mass is wanted"),
        ("5 Nm", "N", "N m is a moment; a force is wanted"),
    ],
)
def test_wrong_dimension(text: str, unit: str, fault: str) -> None:
    error = refused(text, unit)
    assert error.kind == "wrong dimension"
    assert error.fault == f"does not fit: {fault}"
    assert fault in str(error)
    assert error.remedy == "Use one of the units allowed here."


@pytest.mark.parametrize(
    ("text", "unit", "meant"),
    [("3 kn", "N", "kN"), ("3 kN", "m/s", "kn"), ("3 lb", "N", "lbf"), ("3 kg", "N", "kgf")],
)
def test_wrong_dimension_with_what_was_meant(text: str, unit: str, meant: str) -> None:
    error = refused(text, unit)
    assert (error.kind, error.remedy) == ("wrong dimension", f"Did you mean {meant}?")


@pytest.mark.parametrize(
    ("text", "fault", "remedy"),
    [
        ("7,2 m", "has a decimal comma", "Write 7.2 m."),
        ("0,125 m", "has a decimal comma", "Write 0.125 m."),
        ("1,234.5 m", "has a thousands separator", "Write 1234.5 m."),
        ("1,234,567 m", "has a thousands separator", "Write 1234567 m."),
        ("1 500 m", "has a thousands separator", "Write 1500 m."),
        ("1\u202f500\u202f000 m", "has a thousands separator", "Write 1500000 m."),
        ("1'500 m", "has a thousands separator", "Write 1500 m."),
        (
            "1,234 m",
            "has a comma, either for decimals or as a thousands separator",
            "Write 1.234 m or 1234 m, whichever is meant.",
        ),
    ],
)
def test_separators_and_decimal_commas(text: str, fault: str, remedy: str) -> None:
    error = refused(text, "m")
    assert (error.kind, error.fault, error.remedy) == ("number", fault, remedy)


@pytest.mark.parametrize(
    "text",
    ["inf m", "-inf m", "nan m", "infinity m", "0x10 m", "-0X1F m", "1_000 m", "1.234.567 m", "1.234,5 m",
     "14 ft, 3 in", "", " ", "m", "kg", "- 3 m", "--3 m", "+-3 m", "1e400 m", "1e-400 m", "1e308 ksi",
     "1/0 in", "1 1/0 in", "1 3/2 in", "1 2/2 in", "1.5/2 in", "3/8.5 in", "1-1/2 in", "1e5.5 m", "5 1",
     "1+1 m", "2**3 m", "3*400 m", "3\u00b7500 m", "3\u00b2 m", "10\u00b3 m", "1e5\u00b2 m",
     "\u0663 m", "\uff13 m", "\u00bd in", "1\u00bd in", "__import__('os')"],
)  # fmt: skip
def test_numbers_refused(text: str) -> None:
    unit = "Pa" if "ksi" in text else "m"
    error = refused(text, unit)
    assert error.kind == "number"
    assert "Write a plain number such as 7.2, 2e5, 3/8 or 1 1/2, then its unit." in str(error)


@pytest.mark.parametrize("text", ["inf", "nan", "0x10", "1_000", "5 1", "1e999", "e5", "1/2/3"])
def test_pure_numbers_refused(text: str) -> None:
    error = refused(text, "1")
    assert error.kind == "number"
    assert "Allowed: a pure number, bare or in %." in str(error)


@pytest.mark.parametrize(
    "text",
    ["14 ft 12 in", "14 ft 13.5 in", "14 ft 1/0 in", "14 ft -3 in", "14 ft +3 in", "14' -3\"",
     "14.5 ft 3 in", "14 ft 3", "3 in 14 ft", "3 m 20 cm", "14 ft 3 in 2 in", "1 ft 2 ft"],
)  # fmt: skip
def test_mixed_quantities_refused(text: str) -> None:
    error = refused(text, "m")
    assert error.kind == "number"
    assert error.remedy.startswith("Only feet and inches go together, as in 14 ft 3 1/2 in: whole feet")


def test_error_carries_its_parts_through_pickle() -> None:
    error = refused("3 kg", "m")
    copy = pickle.loads(pickle.dumps(error))
    assert isinstance(copy, ValueError)
    assert (copy.text, copy.allowed) == ("3 kg", "a length in m, cm, mm, ft or in")
    assert str(copy) == str(error)


def test_a_product_too_small_for_a_float_is_refused() -> None:
    assert parse("1e-323 1/K", "1/K") > 0.0
    assert refused("1e-323 1e-6/K", "1/K").kind == "number"


def test_one_allowed_unit_is_named_alone() -> None:
    assert refused("3 s", "Hz").allowed == "a frequency in Hz"
    assert refused("3 s", "m2").allowed == "an area in m2, cm2, mm2, ft2 or in2"


@pytest.mark.parametrize(
    ("value", "unit", "digits", "text"),
    [
        (7.2, "m", 4, "7.2 m"),
        (4.3434, "m", 4, "4.343 m"),
        (4.3434, "m", 2, "4.3 m"),
        (-4.3434, "m", 4, "-4.343 m"),
        (123456.0, "N", 4, "123500 N"),
        (9999499.0, "N", 4, "9999000 N"),
        (9999999.0, "N", 4, "1e7 N"),
        (0.0001, "m", 4, "0.0001 m"),
        (0.00009999, "m", 4, "9.999e-5 m"),
        (7e10, "Pa", 4, "7e10 Pa"),
        (7.0e10, "Pa", 1, "7e10 Pa"),
        (7.1349e10, "Pa", 3, "7.13e10 Pa"),
        (23e-6, "1/K", 4, "2.3e-5 1/K"),
        (0.8, "1", 4, "0.8"),
        (12.0, "1", 4, "12"),
        (0.0, "m", 4, "0 m"),
        (-0.0, "m", 4, "0 m"),
    ],
)
def test_show(value: float, unit: str, digits: int, text: str) -> None:
    assert show(value, unit, digits=digits) == text


@pytest.mark.parametrize(("value", "digits"), [(math.nan, 4), (math.inf, 4), (1.0, 0)])
def test_show_refuses_what_it_cannot_write(value: float, digits: int) -> None:
    with pytest.raises(ValueError, match="cannot show"):
        show(value, "m", digits=digits)


def test_show_and_convert_take_si_units_only() -> None:
    for call in (lambda: show(1.0, "ft"), lambda: convert(1.0, "ft", "m"), lambda: parse("1 m", "ft")):
        with pytest.raises(KeyError, match="'ft' is not one of the SI units"):
            call()
    for call in (lambda: dimension_name("furlong"), lambda: accepted("furlong")):
        with pytest.raises(KeyError):
            call()


@pytest.mark.parametrize(("si", "name"), PAIRS)
def test_convert_agrees_with_pint(si: str, name: str) -> None:
    si_in_pint, _, names = UNITS[si]
    expected = PINT.Quantity(7.25, si_in_pint) / PINT.parse_expression(names[name])
    assert convert(7.25, si, name) == pytest.approx(expected.to("dimensionless").magnitude, rel=1e-14)


def test_convert_reads_the_same_spellings() -> None:
    assert convert(5e3, "N m", "kN\u00b7m") == 5.0
    assert convert(0.0254, "m", '"') == 1.0


@pytest.mark.parametrize(
    ("unit", "to", "kind", "fragment"),
    [
        ("N", "lbs", "unknown unit", "Did you mean lbf?"),
        ("N", "kg", "wrong dimension", "kg is a mass; a force is wanted"),
        ("m", "1", "wrong dimension", "1 is a pure number; a length is wanted"),
        ("m", "", "unknown unit", "Allowed: a length in m, cm, mm, ft or in."),
    ],
)
def test_convert_refuses(unit: str, to: str, kind: str, fragment: str) -> None:
    with pytest.raises(UnitError) as caught:
        convert(1.0, unit, to)
    assert caught.value.kind == kind
    assert fragment in str(caught.value)


@given(st.floats(allow_nan=False, allow_infinity=False), st.sampled_from(sorted(UNITS)))
def test_shown_in_full_reads_back_exactly(value: float, unit: str) -> None:
    assert parse(show(value, unit, digits=17), unit) == value


@given(st.floats(min_value=1e-6, max_value=1e12), st.sampled_from(PAIRS))
def test_converted_reads_back(value: float, pair: tuple[str, str]) -> None:
    si, name = pair
    assert parse(written(repr(convert(value, si, name)), name), si) == pytest.approx(value, rel=1e-15, abs=0)


@given(
    st.integers(0, 200),
    st.integers(0, 11),
    st.integers(0, 63),
    st.sampled_from(["{} ft {} {}/64 in", "{}' {} {}/64\""]),
)
def test_feet_and_inches_against_exact_fractions(feet: int, inches: int, parts: int, form: str) -> None:
    exact = (12 * feet + inches + Fraction(parts, 64)) * Fraction(254, 10_000)
    got = parse(form.format(feet, inches, parts), "m")
    assert abs(Fraction(got) - exact) <= exact * Fraction(1, 10**15)


@given(
    st.text() | st.text(alphabet="0123456789.,/+-eE_'\" %xmftingkNPasdhK1²·°−"),
    st.sampled_from(sorted(UNITS)),
)
def test_any_text_is_read_to_a_finite_number_or_refused(text: str, unit: str) -> None:
    try:
        assert math.isfinite(parse(text, unit))
    except UnitError as error:
        assert error.allowed in str(error)
        assert error.kind in ("number", "no unit", "unknown unit", "wrong dimension")


@pytest.mark.parametrize(
    "code",
    [
        "",
        "units.parse('7.2 m', 'm'); units.parse('30 deg', 'rad'); units.parse('40 %', '1')",
        "units.parse('14 ft', 'm'); units.parse('20 kn', 'm/s'); units.parse('300 psi', 'Pa')",
    ],
)
def test_no_unit_loads_anything_heavy(code: str) -> None:
    program = (
        f"import sys; import rigcalc.units as units; {code}\n"
        "print(*sorted({'numpy', 'scipy'} & set(sys.modules)))"
    )
    path = os.pathsep.join([str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])])
    done = subprocess.run(
        [sys.executable, "-c", program],
        capture_output=True,
        text=True,
        check=True,
        env=os.environ | {"PYTHONPATH": path},
    )
    assert done.stdout.split() == []


def test_the_units_that_are_defined_are_those_of_scipy_to_the_last_bit() -> None:
    for name, factor in units._DEFINED.items():
        assert factor == float(getattr(scipy.constants, name)), name
