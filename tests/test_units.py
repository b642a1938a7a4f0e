"""Units against pint, and what is refused."""

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.errors import BadInput
from tintop.units import UNITS, display_unit, format_quantity, parse_quantity, unit_named

registry = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)

PINT = {
    ("mass", "kg"): "kg", ("mass", "g"): "g", ("mass", "t"): "metric_ton", ("mass", "lb"): "pound",
    ("length", "m"): "m", ("length", "mm"): "mm", ("length", "cm"): "cm", ("length", "km"): "km",
    ("length", "in"): "inch", ("length", "ft"): "foot", ("length", "mi"): "mile",
    ("area", "m2"): "m**2", ("area", "cm2"): "cm**2", ("area", "mm2"): "mm**2", ("area", "in2"): "inch**2",
    ("area", "ft2"): "foot**2",
    ("volume", "L"): "litre", ("volume", "cm3"): "cm**3", ("volume", "m3"): "m**3",
    ("volume", "gal_uk"): "imperial_gallon", ("volume", "gal_us"): "gallon",
    ("pressure", "bar"): "bar", ("pressure", "psi"): "psi", ("pressure", "kPa"): "kPa",
    ("pressure", "hPa"): "hPa", ("pressure", "Pa"): "Pa", ("pressure", "MPa"): "MPa",
    ("pressure", "inHg"): "inch_Hg", ("pressure", "N/mm2"): "N/mm**2",
    ("speed", "km/h"): "km/hour", ("speed", "m/s"): "m/s", ("speed", "mph"): "mile/hour",
    ("speed", "mm/s"): "mm/s", ("speed", "in/s"): "inch/s",
    ("engine speed", "rpm"): "rpm", ("engine speed", "rad/s"): "rad/s",
    ("torque", "N·m"): "N*m", ("torque", "lb-ft"): "force_pound*foot", ("torque", "kgf·m"): "kgf*m",
    ("power", "kW"): "kW", ("power", "hp"): "horsepower", ("power", "PS"): "metric_horsepower",
    ("power", "W"): "W",
    ("force", "N"): "N", ("force", "kN"): "kN", ("force", "lbf"): "force_pound", ("force", "kgf"): "kgf",
    ("spring rate", "N/mm"): "N/mm", ("spring rate", "lb/in"): "force_pound/inch",
    ("damping", "N·s/m"): "N*s/m", ("damping", "N·s/mm"): "N*s/mm",
    ("damping", "lb·s/in"): "force_pound*s/inch",
    ("spring rate", "N/m"): "N/m", ("spring rate", "kgf/mm"): "kgf/mm",
    ("roll stiffness", "N·m/deg"): "N*m/degree", ("roll stiffness", "N·m/rad"): "N*m/rad",
    ("roll stiffness", "kN·m/rad"): "kN*m/rad",
    ("angle", "deg"): "degree", ("angle", "rad"): "rad", ("angle", "arcmin"): "arcminute",
    ("time", "s"): "s", ("time", "ms"): "ms", ("time", "min"): "minute", ("time", "h"): "hour",
    ("duration", "h"): "hour", ("duration", "min"): "minute", ("duration", "s"): "s",
    ("specific consumption", "g/kWh"): "g/(kW*hour)",
    ("specific consumption", "lb/hph"): "pound/(horsepower*hour)",
    ("density", "kg/m3"): "kg/m**3", ("density", "kg/L"): "kg/litre",
    ("specific energy", "MJ/kg"): "MJ/kg", ("specific energy", "J/kg"): "J/kg",
    ("heat capacity", "J/K"): "J/K", ("heat capacity", "kJ/K"): "kJ/K",
    ("conductance", "W/K"): "W/K", ("conductance", "kW/K"): "kW/K",
    ("mass flow", "kg/s"): "kg/s", ("mass flow", "kg/min"): "kg/minute", ("mass flow", "kg/h"): "kg/hour",
    ("specific heat", "J/(kg·K)"): "J/(kg*K)", ("specific heat", "kJ/(kg·K)"): "kJ/(kg*K)",
    ("inertia", "kg·m2"): "kg*m**2",
    ("wear depth", "mm/GJ"): "mm/GJ", ("wear depth", "um/MJ"): "micrometre/MJ", ("wear depth", "m/J"): "m/J",
    ("wear volume", "mm3/MJ"): "mm**3/MJ", ("wear volume", "mm3/kJ"): "mm**3/kJ",
    ("wear volume", "m3/J"): "m**3/J",
    ("camber loss", "1/rad2"): "1/rad**2", ("camber loss", "1/deg2"): "1/degree**2",
    ("power to mass", "W/kg"): "W/kg", ("power to mass", "hp/t"): "horsepower/metric_ton",
    ("power to mass", "PS/t"): "metric_horsepower/metric_ton", ("power to mass", "hp/lb"): "horsepower/pound",
    ("mass to power", "kg/kW"): "kg/kW", ("mass to power", "kg/hp"): "kg/horsepower",
    ("mass to power", "kg/PS"): "kg/metric_horsepower", ("mass to power", "lb/hp"): "pound/horsepower",
    ("mass to power", "kg/W"): "kg/W",
    ("electrical resistance", "ohm"): "ohm", ("electrical resistance", "kohm"): "kiloohm",
    ("voltage", "V"): "volt", ("voltage", "mV"): "millivolt",
    ("acceleration", "m/s2"): "m/s**2", ("acceleration", "gn"): "standard_gravity",
    ("temperature difference", "K"): "delta_degC", ("temperature difference", "°F"): "delta_degF",
}  # fmt: skip

OUTSIDE_PINT = {"temperature", "share", "number", "ratio", "rate", "sound level"}


def test_every_unit_has_an_oracle() -> None:
    ours = {(kind, unit.name) for kind, units in UNITS.items() for unit in units if kind not in OUTSIDE_PINT}
    assert ours == set(PINT)


@pytest.mark.parametrize(("kind", "name"), PINT)
def test_factors_agree_with_pint(kind: str, name: str) -> None:
    expected = registry.Quantity(1.0, PINT[kind, name]).to_base_units().magnitude
    # mercury of a conventional density: the tables agree to seven digits
    tolerance = 1e-6 if name == "inHg" else 1e-12
    assert parse_quantity(f"1 {name}", kind) == pytest.approx(expected, rel=tolerance)


@given(st.floats(-200.0, 2000.0))
def test_temperatures_agree_with_pint(number: float) -> None:
    text = f"{number:.6f}"
    for unit, theirs in (("°C", "degC"), ("°F", "degF")):
        expected = registry.Quantity(float(text), theirs).to("degC").magnitude
        assert parse_quantity(f"{text} {unit}", "temperature") == pytest.approx(expected, abs=1e-9)
    if float(text) >= 0.0:
        expected = registry.Quantity(float(text), "kelvin").to("degC").magnitude
        assert parse_quantity(f"{text} K", "temperature") == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("32 psi", "pressure", 220632.233),
        ("450 lb/in", "spring rate", 78807.0759),
        ("1,25 bar", "pressure", 125000.0),
        ("8.4 gal_uk", "volume", 0.038187156),
        ("101 mph", "speed", 45.15104),
        ("25 °C", "temperature", 25.0),
        ("77 F", "temperature", 25.0),
        ("165 hp", "power", 123040.479),
        ("90 lb-ft", "torque", 122.023615),
        ("6500 rpm", "engine speed", 680.678408),
        ("1:43.2", "time", 103.2),
        ("1:43,2", "time", 103.2),
        ("2:00:00", "duration", 7200.0),
        ("2 h", "duration", 7200.0),
        ("-2.5 deg", "angle", math.radians(-2.5)),
        ("−2.5°", "angle", math.radians(-2.5)),
        ("55 %", "share", 0.55),
        (0.55, "share", 0.55),
        ("0.6", "rate", 0.6),
        ("12mm", "length", 0.012),
        ("206 Nm", "torque", 206.0),
        ("1060 KG", "mass", 1060.0),
        ("0,745 kg/L", "density", 745.0),
        ("350 N/mm²", "pressure", 350e6),
        ("98.5 dB(A)", "sound level", 98.5),
        ("130 hp/t", "power to mass", 96.9409833),
        ("0,5 Ω", "electrical resistance", 0.5),
        ("25 g", "acceleration", 245.16625),
    ],
)
def test_paddock_writing_is_read(text: str, kind: str, expected: float) -> None:
    assert parse_quantity(text, kind) == pytest.approx(expected, rel=1e-8)


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("32", "pressure", ["without a unit", '"32 psi"']),
        (2.2, "pressure", ["without a unit", '"2.2 bar"']),
        ("220", "pressure", ['"220 kPa"']),
        ("150", "spring rate", ['"150 N/mm" or "150 lb/in"']),
        ("32 psy", "pressure", ["unknown unit", "Did you mean psi?"]),
        ("32 kg", "pressure", ["which is a mass", "bar, psi"]),
        ("1,200 kg", "mass", ["only one way", "1200 or 1.2"]),
        ("2:00", "duration", ["only one way", "2:00:00"]),
        ("5 mPa", "pressure", ["unknown unit"]),
        ("55", "share", ['"55 %"']),
        ("1e999 kg", "mass", ["finite"]),
        ("nan kg", "mass", ["a mass in kg"]),
        ("", "mass", ["nothing"]),
        ("heavy", "mass", ["'heavy'"]),
        ("-300 °C", "temperature", ["absolute zero"]),
        ("1:99.9", "time", ["1:43.2"]),
        (True, "share", ["true"]),
    ],
)
def test_what_cannot_be_read_is_refused_with_a_cure(text: str, kind: str, words: list[str]) -> None:
    with pytest.raises(BadInput) as refusal:
        parse_quantity(text, kind, "field")
    sentence = str(refusal.value)
    assert sentence.startswith("field: found")
    for word in words:
        assert word in sentence


@given(st.sampled_from(sorted(PINT)), st.floats(1e-3, 1e5))
def test_written_values_read_back(unit: tuple[str, str], number: float) -> None:
    kind, name = unit
    value = number * unit_named(name, kind).factor
    text = format_quantity(value, name, digits=12, quantity=kind)
    assert parse_quantity(text, kind) == pytest.approx(value, rel=1e-10)


@given(st.sampled_from(sorted(UNITS)), st.text(max_size=30))
def test_any_text_gives_a_finite_number_or_a_refusal(kind: str, text: str) -> None:
    try:
        assert math.isfinite(parse_quantity(text, kind))
    except BadInput as refusal:
        assert "found" in str(refusal)


@given(
    st.sampled_from(sorted(UNITS)), st.from_regex(r"[-+]?[0-9.,:e]{1,12} ?[a-zA-Z°%/23]{0,5}", fullmatch=True)
)
def test_near_misses_give_a_finite_number_or_a_refusal(kind: str, text: str) -> None:
    try:
        assert math.isfinite(parse_quantity(text, kind))
    except BadInput as refusal:
        assert "\n" not in str(refusal)


def test_display_units_are_known() -> None:
    for kind in UNITS:
        assert unit_named(display_unit(kind), kind) in UNITS[kind]
    with pytest.raises(BadInput):
        unit_named("furlong")
