"""The paddock's handwriting: read right, asked about or refused, and never guessed silently."""

import math
from datetime import date, timedelta

import pint
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from handwriting_cases import ASKED, CASES, GUESSED, PAGE, REFUSED, SURE, TODAY, Case, page
from tintop.errors import BadInput
from tintop.handwriting import (
    FIELD_NAMES,
    Ask,
    Row,
    Understood,
    day_of,
    read_corners,
    read_date,
    read_lap_time,
    read_temperatures_across,
    read_value,
)
from tintop.handwriting.fields import FIELDS
from tintop.handwriting.fuel import read_consumption
from tintop.handwriting.lap_time import clock
from tintop.units import UNITS, format_quantity

registry = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
HOT = "tyre pressure hot"
_UNTIMED = settings(deadline=None)


def _taken(found: object) -> str:
    if isinstance(found, BadInput):
        return REFUSED
    if isinstance(found, Ask):
        return ASKED
    assert isinstance(found, Understood | Row)
    return GUESSED if found.is_guessed else SURE


def _meanings(found: object) -> tuple[Understood | Row, ...]:
    if isinstance(found, Ask):
        return found.choices
    return (found,) if isinstance(found, Understood | Row) else ()


def _check_value(value: Understood, meant: str) -> None:
    """Compare a value with what is meant: a day, a count from an end, or a quantity of pint."""
    if value.quantity == "date":
        assert day_of(value) == date.fromisoformat(meant)
    elif value.quantity == "clicks":
        assert f"{value.value:g} {value.unit}" == meant
    elif value.quantity == "temperature":
        number, unit = meant.split()
        assert value.value == pytest.approx(registry.Quantity(float(number), unit).to("degC").magnitude)
    else:
        expected = registry.Quantity(1.0, "") * registry.parse_expression(meant)
        assert value.value == pytest.approx(expected.to_base_units().magnitude, rel=1e-9)


def _name(case: Case) -> str:
    return f"{case.field}: {case.written} {' '.join(map(str, case.told.values()))}".strip()


@pytest.mark.parametrize("case", CASES, ids=_name)
def test_a_note_is_read_right_or_asked_about(case: Case) -> None:
    found = case.read()
    assert _taken(found) == case.taken
    meanings = _meanings(found)
    assert len(meanings) == len(case.meant)
    for meaning, meant in zip(meanings, case.meant, strict=True):
        values = meaning.values if isinstance(meaning, Row) else (meaning,)
        for value, one in zip(values, meant.split(" | "), strict=True):
            _check_value(value, one)


@pytest.mark.parametrize("case", CASES, ids=_name)
def test_what_is_written_in_full_reads_one_way(case: Case) -> None:
    for meaning in _meanings(case.read()):
        again = Case(case.field, meaning.in_full, SURE).read()
        assert _taken(again) == SURE, (meaning.in_full, again)
        assert isinstance(again, Understood | Row)
        before = meaning.values if isinstance(meaning, Row) else (meaning,)
        after = again.values if isinstance(again, Row) else (again,)
        assert [one.value for one in after] == pytest.approx([one.value for one in before], rel=1e-9)


def test_the_page_shows_what_is_read() -> None:
    assert len(CASES) >= 60
    assert PAGE.read_text("utf-8") == page(), "run python tests/handwriting_cases.py"


def _unit_or(found: object) -> str:
    """Give the unit a note was read in, the units asked about, or that it was refused."""
    return "/".join(one.unit for one in _meanings(found) if isinstance(one, Understood)) or REFUSED


@pytest.mark.parametrize(
    ("field", "text", "unit"),
    [
        (HOT, "4.99", "bar"), (HOT, "5", REFUSED), (HOT, "13.9", REFUSED), (HOT, "14", "psi"),
        (HOT, "60", "psi"),
        (HOT, "60.1", REFUSED), (HOT, "69.9", REFUSED), (HOT, "70", "psi/kPa"), (HOT, "100", "psi/kPa"),
        (HOT, "100.1", "kPa"), (HOT, "500", "kPa"), (HOT, "500.1", REFUSED), (HOT, "0", "bar"),
        (HOT, "-0.1", REFUSED), (HOT, "7 bar", "bar"), (HOT, "7.01 bar", REFUSED), (HOT, "-0.1 bar", REFUSED),
        ("tyre temperature", "130", "°C"), ("tyre temperature", "130.1", "°F"),
        ("tyre temperature", "300", "°F"),
        ("tyre temperature", "300.1", REFUSED), ("tyre temperature", "0", "°C"),
        ("tyre temperature", "250 C", "°C"), ("tyre temperature", "250.1 C", REFUSED),
        ("tyre temperature", "-40 C", "°C"), ("tyre temperature", "-40.1 C", REFUSED),
        ("coolant temperature", "140", "°C"), ("coolant temperature", "140.1", "°F"),
        ("coolant temperature", "290", "°F"), ("coolant temperature", "290.1", REFUSED),
        ("oil temperature", "160", "°C"), ("oil temperature", "160.1", "°C/°F"),
        ("oil temperature", "190", "°C/°F"), ("oil temperature", "190.1", "°F"),
        ("ambient temperature", "38", "°C"), ("ambient temperature", "38.1", "°C/°F"),
        ("ambient temperature", "50", "°C/°F"), ("ambient temperature", "50.1", "°F"),
        ("ambient temperature", "120", "°F"), ("ambient temperature", "120.1", REFUSED),
        ("track temperature", "65", "°C"), ("track temperature", "65.1", "°C/°F"),
        ("track temperature", "80.1", "°F"),
        ("disc temperature", "149", "°C"), ("disc temperature", "150", "°C/°F"),
        ("disc temperature", "900", "°C/°F"), ("disc temperature", "901", "°F"),
        ("oil pressure", "8", "bar"), ("oil pressure", "8.1", "bar/psi"), ("oil pressure", "12", "bar/psi"),
        ("oil pressure", "12.1", "psi"), ("oil pressure", "120", "psi"), ("oil pressure", "120.1", "psi/kPa"),
        ("oil pressure", "180", "psi/kPa"), ("oil pressure", "180.1", "kPa"),
        ("spring rate", "14.9", REFUSED), ("spring rate", "15", "N/mm"), ("spring rate", "99.9", "N/mm"),
        ("spring rate", "100", "N/mm/lb/in"), ("spring rate", "260", "N/mm/lb/in"),
        ("spring rate", "260.1", "lb/in"), ("spring rate", "1500", "lb/in"),
        ("spring rate", "1500.1", REFUSED),
        ("spring rate", "5 N/mm", "N/mm"), ("spring rate", "4.9 N/mm", REFUSED),
        ("torque", "59.9", "N·m/lb-ft"), ("torque", "60", "N·m/lb-ft"), ("torque", "130", "N·m/lb-ft"),
        ("torque", "130.1", "N·m"), ("torque", "180", "N·m"), ("torque", "180.1", "N·m/lb-ft"),
        ("fuel", "150", "L"), ("fuel", "150.1", REFUSED), ("fuel", "250 L", "L"),
        ("fuel", "250.1 L", REFUSED),
        ("car mass", "1199", "kg"), ("car mass", "1200", "kg/lb"), ("car mass", "1800", "kg/lb"),
        ("car mass", "1801", "lb"), ("driver mass", "109", "kg"), ("driver mass", "110", "kg/lb"),
        ("driver mass", "131", "lb"), ("corner mass", "249", "kg"), ("corner mass", "250", "kg/lb"),
        ("corner mass", "551", "lb"),
        ("ride height", "12", "in"), ("ride height", "30", "mm"), ("ride height", "300", "mm"),
        ("disc thickness", "1.8", "in"), ("disc thickness", "5", "mm"), ("disc thickness", "45.1", REFUSED),
        ("tread depth", "12", "mm"), ("tread depth", "12.1", REFUSED), ("tread depth", "15.1 mm", REFUSED),
        ("fuel consumption", "35", "L/100 km"), ("fuel consumption", "34.9", "L/100 km/mpg_uk/mpg_us"),
        ("fuel consumption", "100", "L/100 km"), ("fuel consumption", "100.1", REFUSED),
        ("fuel consumption", "200 L/100 km", "L/100 km"), ("fuel consumption", "201 L/100 km", REFUSED),
        ("camber", "8", "deg"), ("camber", "8.1", REFUSED), ("camber", "29.9", REFUSED),
        ("camber", "30", "arcmin"),
        ("camber", "480", "arcmin"), ("camber", "481", REFUSED), ("camber", "-8.1 deg", REFUSED),
        ("damper clicks", "60 from full soft", "from full soft"),
        ("damper clicks", "61 from full soft", REFUSED),
        ("damper clicks", "7.5 from full soft", REFUSED), ("damper clicks", "-1 from full soft", REFUSED),
        ("anti-roll bar hole", "12", "hole"), ("anti-roll bar hole", "13", REFUSED),
        ("anti-roll bar hole", "0", REFUSED),
        ("pad thickness", "4.9", "mm without plate"),
        ("pad thickness", "5", "mm without plate/mm with plate"),
        ("pad thickness", "5 with plate", "mm with plate"), ("pad thickness", "4.9 with plate", REFUSED),
        ("pad thickness", "40 no plate", "mm without plate"), ("pad thickness", "40.1 no plate", REFUSED),
        ("toe", "20 mm out each", "mm per wheel"), ("toe", "20.1 mm out each", REFUSED),
        ("toe", "3 deg in each", "deg per wheel"), ("toe", "3.1 deg in each", REFUSED),
        ("toe", "10 out each", "mm per wheel/arcmin per wheel"), ("toe", "10.1 out each", "arcmin per wheel"),
        ("toe", "120 out each", "arcmin per wheel"), ("toe", "121 out each", REFUSED),
        ("toe", "0.99 out each", "mm per wheel/deg per wheel"),
    ],
)  # fmt: skip
def test_thresholds(field: str, text: str, unit: str) -> None:
    assert _unit_or(Case(field, text, "").read()) == unit


@pytest.mark.parametrize(
    ("field", "text", "usual", "unit"),
    [
        (HOT, "9", "psi", "psi"), (HOT, "8.9", "psi", REFUSED), (HOT, "100", "psi", "psi"),
        (HOT, "100.1", "psi", "kPa"), (HOT, "7", "bar", "bar"), (HOT, "7.1", "bar", REFUSED),
        (HOT, "70", "kPa", "kPa"), (HOT, "69", "kPa", REFUSED), (HOT, "32", "a word", "psi"),
        ("tyre temperature", "32", "°F", "°F"), ("tyre temperature", "31.9", "°F", "°C"),
        ("spring rate", "60", "lb/in", "lb/in"), ("spring rate", "59.9", "lb/in", "N/mm"),
        ("spring rate", "350", "N/mm", "N/mm"), ("spring rate", "351", "N/mm", "lb/in"),
        ("torque", "60", "N·m", "N·m"), ("torque", "59.9", "N·m", "N·m/lb-ft"),
        ("torque", "180", "Nm", "N·m"),
        ("torque", "180.1", "N·m", "N·m/lb-ft"), ("torque", "130.1", "lb-ft", "N·m/lb-ft"),
        ("fuel", "10", "gal_us", "gal_us"), ("distance", "120", "mi", "mi"),
        ("fuel consumption", "5", "L/100 km", "L/100 km"),
        ("fuel consumption", "4.9", "L/100 km", "km/L/mpg_uk/mpg_us"),
        ("fuel consumption", "1", "km/L", "km/L"), ("fuel consumption", "0.99", "km/L", REFUSED),
        ("fuel consumption", "20", "km/L", "km/L"),
        ("fuel consumption", "20.1", "km/L", "L/100 km/mpg_uk/mpg_us"),
        ("fuel consumption", "60", "mpg UK", "mpg_uk"), ("fuel consumption", "60.1", "mpg UK", "L/100 km"),
        ("fuel consumption", "50", "mpg US", "mpg_us"), ("fuel consumption", "50.1", "mpg US", "L/100 km"),
        ("fuel consumption", "3", "mpg UK", "mpg_uk"), ("fuel consumption", "2.99", "mpg UK", "km/L"),
        ("fuel consumption", "3", "mpg US", "mpg_us"), ("fuel consumption", "2.99", "mpg US", "km/L"),
        ("fuel consumption", "50 km/L", None, "km/L"), ("fuel consumption", "50.1 km/L", None, REFUSED),
        ("fuel consumption", "0", None, REFUSED), ("fuel consumption", "-3 km/L", None, REFUSED),
        ("fuel consumption", "8", "mpg US", "mpg_us"), ("fuel consumption", "6 mpg", "mpg_uk", "mpg_uk"),
        ("fuel consumption", "6 mpg", "km/L", "mpg_uk/mpg_us"),
        ("pad thickness", "9", "mm with plate", "mm with plate"),
        ("pad thickness", "9", "mm without plate", "mm without plate"),
        ("toe", "2 out total", "arcmin", "arcmin total"), ("toe", "2 out", "mm", "mm per wheel/mm total"),
        ("damper clicks", "8", "from full hard", "from full hard"),
        ("damper clicks", "8 from soft", "from full hard", "from full soft"),
    ],
)  # fmt: skip
def test_the_usual_unit_is_taken_where_it_is_believable(
    field: str, text: str, usual: str | None, unit: str
) -> None:
    found = Case(field, text, "", told={"usual_unit": usual}).read()
    assert _unit_or(found) == unit


_READINGS = [(name, reading.unit) for name, field in FIELDS.items() for reading in field.readings]


@pytest.mark.parametrize(("name", "unit"), _READINGS)
def test_a_reading_is_believed_to_its_ends_and_no_further(name: str, unit: str) -> None:
    field = FIELDS[name]
    reading = next(one for one in field.readings if one.unit == unit)
    for at, beyond in zip(reading.bare, (-1e-6, 1e-6), strict=True):
        found = read_value(repr(at), name, usual_unit=unit)
        assert unit in [one.unit for one in _meanings(found)]
        if not field.asks_where_two_fit:
            assert isinstance(found, Understood) and found.is_guessed
        assert all(field.is_believable(one.value) for one in _meanings(found))  # type: ignore[union-attr]
        past = Case(name, f"{at + beyond * max(1.0, abs(at)):.9f}", "", told={"usual_unit": unit}).read()
        assert not isinstance(past, Understood) or past.unit != unit
    if reading.usual is not None:
        assert reading.bare[0] <= reading.usual[0] < reading.usual[1] <= reading.bare[1]
        for at in reading.usual:
            assert unit in [one.unit for one in _meanings(read_value(repr(at), name))]  # type: ignore[union-attr]


@pytest.mark.parametrize("name", FIELDS)
def test_a_written_unit_is_believed_to_the_limits_and_no_further(name: str) -> None:
    field = FIELDS[name]
    for at, beyond in zip(field.limits, (-1e-6, 1e-6), strict=True):
        assert isinstance(read_value(f"{at!r} {field.limit_unit}", name), Understood)
        with pytest.raises(BadInput):
            read_value(f"{at + beyond * max(1.0, abs(at)):.9f} {field.limit_unit}", name)


@pytest.mark.parametrize(
    ("text", "litres"),
    [
        ("empty", 0.0), ("quarter", 12.5), ("a quarter", 12.5), ("half", 25.0), ("Half a tank", 25.0),
        ("three quarters", 37.5), ("three quarter of a tank", 37.5), ("full", 50.0), ("brim", 50.0),
        ("brimmed", 50.0), ("1/8 tank", 6.25), ("7/8", 43.75), ("1/2", 25.0), ("4/4", 50.0),
    ],
)  # fmt: skip
def test_a_share_of_the_tank(text: str, litres: float) -> None:
    found = read_value(text, "fuel", tank=0.05)
    assert isinstance(found, Understood) and found.is_guessed
    assert found.value == pytest.approx(1e-3 * litres)


@pytest.mark.parametrize(
    ("text", "cans"), [("a can", 1), ("1 can", 1), ("two cans", 2), ("3 jerry cans", 3), ("half a can", 0.5)]
)
def test_cans_are_asked_by_their_size(text: str, cans: float) -> None:
    found = read_value(text, "fuel")
    assert isinstance(found, Ask)
    assert [1e3 * one.value for one in found.choices] == pytest.approx(
        [size * cans for size in (5, 10, 20, 25)]
    )


@pytest.mark.parametrize(
    ("text", "taken", "says"),
    [
        ("-2 mm total", GUESSED, "1 mm toe-out per wheel (2 mm total)"),
        ("+2 mm total", GUESSED, "1 mm toe-in per wheel (2 mm total)"),
        ("1 mm toe in per wheel", SURE, "1 mm toe-in per wheel (2 mm total)"),
        ("+1 mm toe out per wheel", SURE, "1 mm toe-out per wheel (2 mm total)"),
        ("toe-in 1 mm each", SURE, "1 mm toe-in per wheel (2 mm total)"),
        ("-1 mm out per wheel", REFUSED, ""), ("1 widget out per wheel", REFUSED, ""), ("+2", ASKED, ""),
        ("0", GUESSED, "no toe"), ("0 mm", SURE, "no toe"), ("0 out", GUESSED, "no toe"),
        ("1 16ths in each", SURE, "1.59 mm toe-in per wheel (3.17 mm total), from 1 sixteenths per wheel"),
        ('1/16" in each', SURE, "1.59 mm toe-in per wheel (3.17 mm total), from 0.0625 in per wheel"),
        ("1/8 out total", GUESSED, "1.59 mm toe-out per wheel (3.17 mm total), from 0.125 in total"),
        ("3.04 deg in each", REFUSED, ""),
    ],
)  # fmt: skip
def test_toe_signs_and_words(text: str, taken: str, says: str) -> None:
    found = Case("toe", text, "").read()
    assert _taken(found) == taken
    assert not isinstance(found, Understood) or found.says == says


@pytest.mark.parametrize(
    ("text", "units"),
    [
        ("0.019", ["mm"]), ("0.02", ["mm", "deg"]), ("0.991", ["mm"]), ("1", ["mm", "arcmin", "1/16 in"]),
        ("1.01", ["mm", "arcmin", "1/16 in"]), ("0.999", ["mm"]), ("8", ["mm", "arcmin", "1/16 in"]),
        ("8.1", ["mm", "arcmin"]), ("0.001", ["mm"]),
    ],
)  # fmt: skip
def test_units_of_a_bare_toe(text: str, units: list[str]) -> None:
    found = Case("toe", f"{text} out each", "").read()
    assert [
        one.unit.removesuffix(" per wheel") for one in _meanings(found) if isinstance(one, Understood)
    ] == units


def test_toe_asks_only_for_what_is_open() -> None:
    found = read_value("2 mm out", "toe")
    assert (
        isinstance(found, Ask)
        and found.question == "'2 mm out' leaves open: per wheel or total. Which is meant?"
    )


@pytest.mark.parametrize(
    ("text", "taken", "says"),
    [
        ("0", GUESSED, "0 deg"), ("0 deg", SURE, "0 deg"),
        ("minus 2.5 deg", SURE, "-2.5 deg, top leaning in"),
        ("2.5 deg negative", SURE, "-2.5 deg, top leaning in"),
        ("0.5 deg pos", SURE, "0.5 deg, top leaning out"),
        ("plus 0.5 deg", SURE, "0.5 deg, top leaning out"),
        ("positive 0.5°", SURE, "0.5 deg, top leaning out"),
        ("2.5", GUESSED, "-2.5 deg, top leaning in; minus assumed"), ("-2.5 neg", REFUSED, ""),
        ("2.5 mm", REFUSED, ""), ("8.01 deg", REFUSED, ""), ("-8 deg", SURE, "-8 deg, top leaning in"),
    ],
)  # fmt: skip
def test_camber_signs_and_words(text: str, taken: str, says: str) -> None:
    found = Case("camber", text, "").read()
    assert _taken(found) == taken
    assert not isinstance(found, Understood) or found.says == says


def test_small_counts() -> None:
    assert [one.says for one in _meanings(read_value("0 from soft", "damper clicks"))] == [
        "0 clicks from full soft"
    ]
    assert [one.says for one in _meanings(read_value("1 from soft", "damper clicks"))] == [
        "1 click from full soft"
    ]
    assert [one.value for one in _meanings(read_value("1", "anti-roll bar hole"))] == [1.0]


def test_pads_say_what_was_assumed() -> None:
    assumed, known = (read_value("9 mm with plate", "pad thickness", plate=plate) for plate in (None, 0.0052))
    assert [one.says for one in _meanings(assumed)] == [
        "4 mm of friction material, after 5 mm of plate assumed"
    ]
    assert [one.says for one in _meanings(known)] == ["3.8 mm of friction material, after 5.2 mm of plate"]
    assert (
        _taken(read_value("0", "pad thickness"))
        == _taken(read_value("9 no plate", "pad thickness"))
        == GUESSED
    )


def test_pads_are_asked_above_the_new_thickness_only() -> None:
    at = read_value("12", "pad thickness", new_thickness=0.012)
    above = read_value("12.1", "pad thickness", new_thickness=0.012)
    assert isinstance(at, Understood) and at.is_guessed and "7 mm if the plate was measured too" in at.says
    assert isinstance(above, Ask)


@pytest.mark.parametrize(
    ("text", "expected", "laps"),
    [
        ("15 s", None, [15.0]), ("14.9 s", None, []), ("1200 s", None, [1200.0]), ("1201 s", None, []),
        ("20:00", None, [1200.0]), ("20:01", None, []), ("0:15", None, [15.0]), ("0:14", None, []),
        ("59.9", None, [119.9, 179.9, 59.9]), ("60", None, [60.0]), ("15", None, [75.0, 135.0, 15.0]),
        ("14.9", None, [74.9, 134.9]), ("43.2", 54.0, [43.2]), ("43.2", 54.1, [43.2]),
        ("43.2", 27.0, [43.2]), ("43.2", 103.0, [103.2, 163.2, 43.2]), ("43.2", 102.0, [103.2, 163.2, 43.2]),
        ("43.2", 101.9, [103.2, 43.2]), ("43.2", 129.0, [103.2, 163.2, 43.2]), ("43.2", 129.1, [163.2, 43.2]),
        ("143.2", 64.5, [103.2, 143.2]), ("143.2", 64.4, [143.2]), ("103.2", 63.0, [63.2, 103.2]),
        ("300", 103.0, [300.0]), ("43.2", 5000.0, [103.2, 163.2, 43.2]),
        ("43.2", math.nan, [103.2, 163.2, 43.2]),
        ("1:43:20", 103.0, [103.2]), ("1:60", None, []), ("1:43.1234", None, []), ("-43.2", None, []),
        ("1:03.05", None, [63.05]), ("2:00", None, [120.0]), ("1.43", 100.0, [103.0]),
    ],
)  # fmt: skip
def test_lap_times(text: str, expected: float | None, laps: list[float]) -> None:
    found = Case("lap time", text, "", told={"expected": expected}).read()
    assert [one.value for one in _meanings(found) if isinstance(one, Understood)] == pytest.approx(laps)


@_UNTIMED
@given(st.integers(15_000, 1_200_000))
def test_a_lap_time_shown_as_a_clock_reads_back(milliseconds: int) -> None:
    seconds = milliseconds / 1000.0
    for text in (clock(seconds), clock(seconds).replace(".", ",")):
        found = read_lap_time(text)
        assert isinstance(found, Understood) and not found.is_guessed
        assert found.value == pytest.approx(seconds, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "told", "days"),
    [
        ("12/12/26", {}, ["2026-12-12"]), ("12/13/26", {}, ["2026-12-13"]),
        ("12-5-2026", {}, ["2026-05-12", "2026-12-05"]),
        ("5.6.26", {"order": "month first"}, ["2026-05-06"]),
        ("1/5/98", {"order": "day first"}, ["1998-05-01"]),
        ("1/5/75", {"order": "day first"}, ["2075-05-01"]),
        ("1/5/77", {"order": "day first"}, ["1977-05-01"]),
        ("29.2.2028", {}, ["2028-02-29"]), ("29.2.2027", {}, []), ("1.1.1950", {}, ["1950-01-01"]),
        ("1.1.1949", {}, []), ("1.1.2100", {}, ["2100-01-01"]), ("1.1.2101", {}, []),
        ("02/2028", {"is_expiry": True}, ["2028-02-29"]), ("2027-02", {"is_expiry": True}, ["2027-02-28"]),
        ("13/2028", {"is_expiry": True}, []), ("2028", {}, ["2028-01-01", "2028-12-31"]),
        ("2028", {"is_expiry": False}, ["2028-01-01"]),
        ("12/14", {"is_expiry": True}, ["2014-12-31"]), ("12/38", {"is_expiry": True}, ["2038-12-31"]),
        ("12/39", {"is_expiry": True}, []), ("12/13", {"is_expiry": True}, []),
        ("03/24", {"order": "month first", "is_expiry": True}, ["2027-03-24", "2024-03-31"]),
        ("14/5", {"is_expiry": True}, ["2026-05-14"]), ("13/5", {"is_expiry": True}, ["2027-05-13"]),
        ("14/5", {"is_expiry": False}, ["2026-05-14"]), ("15/5", {"is_expiry": False}, ["2025-05-15"]),
        ("12 December", {}, ["2025-12-12"]), ("12 Nov", {}, ["2026-11-12"]),
        ("Sept 3rd, 2026", {}, ["2026-09-03"]),
        ("12-May-26", {}, ["2026-05-12"]), ("May 2026", {"is_expiry": True}, ["2026-05-31"]),
        ("May '26", {"is_expiry": True}, ["2026-05-31"]),
        ("May 26", {}, ["2026-05-26", "2026-05-01", "2026-05-31"]),
        ("May 32", {}, ["2032-05-01", "2032-05-31"]), ("1st of June 2026", {}, ["2026-06-01"]),
        ("20260512", {}, ["2026-05-12"]), ("2026-13-01", {}, []), ("Today", {}, ["2026-05-14"]),
        ("tomorrow", {}, ["2026-05-15"]), ("12 Brumaire", {}, []), ("32 May 2026", {}, []),
        ("12.5.", {}, ["2026-05-12"]),
    ],
)  # fmt: skip
def test_dates(text: str, told: dict[str, object], days: list[str]) -> None:
    found = Case("date", text, "", told=told).read()
    assert [day_of(one).isoformat() for one in _meanings(found) if isinstance(one, Understood)] == days


def test_an_expiry_by_year_alone_says_that_it_is_its_last_day() -> None:
    found = read_date("2028", TODAY, is_expiry=True)
    assert isinstance(found, Understood) and found.is_guessed
    assert found.says == "Sunday 31 December 2028 (runs out in 2028, taken as its last day)"


@_UNTIMED
@given(st.dates(date(1950, 1, 1), date(2100, 12, 31)))
def test_a_day_written_in_any_plain_way_reads_back(day: date) -> None:
    month = day.strftime("%B")
    for text in (day.isoformat(), f"{day.day} {month} {day.year}", f"{month} {day.day}, {day.year}"):
        found = read_date(text, TODAY)
        assert isinstance(found, Understood) and not found.is_guessed and day_of(found) == day
    figures = read_date(f"{day.day}/{day.month}/{day.year}", TODAY)
    assert day in {day_of(one) for one in _meanings(figures) if isinstance(one, Understood)}
    assert isinstance(figures, Ask) == (day.day <= 12 and day.day != day.month)


@_UNTIMED
@given(st.dates(date(1980, 1, 1), date(2080, 1, 1)), st.integers(1, 12), st.booleans())
def test_a_month_alone_is_never_read_on_the_unsafe_side(today: date, month: int, is_expiry: bool) -> None:
    found = read_date(f"{month}/{today.year}", today, is_expiry=is_expiry)
    assert isinstance(found, Understood) and found.is_guessed
    day = day_of(found)
    assert (day + timedelta(days=1 if is_expiry else 0)).day == 1


@pytest.mark.parametrize(
    ("text", "field", "numbers"),
    [
        ("32/30", HOT, [32, 32, 30, 30]), ("32 / 30", HOT, [32, 32, 30, 30]),
        ("32 30", HOT, [32, 32, 30, 30]),
        ("32; 31; 30; 29", HOT, [32, 31, 30, 29]), ("24,5 24,0 23,5 23,0 psi", HOT, [24.5, 24, 23.5, 23]),
        ("FL:32 FR:31 RL:30 RR:29", HOT, [32, 31, 30, 29]), ("rear 30 front 32", HOT, [32, 32, 30, 30]),
        ("32", HOT, [32, 32, 32, 32]), ("all four: 32", HOT, [32] * 4), ("59/61", HOT, [59, 59, 61, 61]),
    ],
)  # fmt: skip
def test_corners(text: str, field: str, numbers: list[float]) -> None:
    found = read_corners(text, field)
    assert isinstance(found, Row) and found.places == ("FL", "FR", "RL", "RR")
    expected = [registry.Quantity(number, "psi").to("Pa").magnitude for number in numbers]
    assert [one.value for one in found.values] == pytest.approx(expected)


@pytest.mark.parametrize(
    "text",
    [
        "32 31 30",
        "FL 32 FR 31",
        "FL 32 FL 31 RL 30 RR 30",
        "FL 32 FR 31 RL 30 RR",
        "32/",
        "/",
        "32 30 psi bar",
        "1 2 3 4 5",
    ],
)
def test_a_row_with_the_wrong_count_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        read_corners(text, HOT)


@pytest.mark.parametrize(
    ("text", "field", "says"),
    [
        ("32,31", HOT, "32.31 psi (2.23 bar) hot, FL FR RL RR"),
        ("32 psi/2.1 bar", HOT, "32 psi (2.21 bar) hot, FL FR; 2.1 bar (30.5 psi) hot, RL RR"),
        ("FL 2.1 FR 2.1 RL 2.1 RR 2.1 bar", HOT, "2.1 bar (30.5 psi) hot, FL FR RL RR"),
        ("6/32 6/32 8/32 8/32", "tread depth", "0.1875 in, FL FR; 0.25 in, RL RR"),
        ("0/2 mm out total", "toe", "no toe, FL FR; 1 mm toe-out per wheel (2 mm total), RL RR"),
        (
            "9/4", "pad thickness",
            "9 mm of friction material, plate not counted, FL FR; "
            "4 mm of friction material, plate not counted, RL RR",
        ),
        (
            "-2.5 -2.4 -2 -2", "camber",
            "FL -2.5 deg, top leaning in; FR -2.4 deg, top leaning in; "
            "RL -2 deg, top leaning in; RR -2 deg, top leaning in",
        ),
    ],
)  # fmt: skip
def test_rows_as_they_are_said(text: str, field: str, says: str) -> None:
    found = read_corners(text, field)
    assert isinstance(found, Row)
    assert found.says == says


def test_temperatures_with_commas_between_and_what_is_asked_of_them() -> None:
    found = read_temperatures_across("85,82,78")
    assert isinstance(found, Ask) and found.question == "Is '85' the inner or the outer edge?"
    assert [one.value for one in found.choices[0].values] == [85.0, 82.0, 78.0]


def test_a_row_that_may_mix_units_is_asked() -> None:
    found = read_corners("400/70", "spring rate")
    assert isinstance(found, Ask)
    mixed, uniform = found.choices
    assert [one.unit for one in mixed.values] == ["lb/in", "lb/in", "N/mm", "N/mm"]
    assert {one.unit for one in uniform.values} == {"lb/in"}


def test_front_and_rear_are_assumed_and_said_so() -> None:
    assumed, named = read_corners("32/30 psi", HOT), read_corners("F 32 psi R 30 psi", HOT)
    assert isinstance(assumed, Row) and assumed.is_guessed
    assert assumed.says == "32 psi (2.21 bar) hot, FL FR; 30 psi (2.07 bar) hot, RL RR"
    assert isinstance(named, Row) and not named.is_guessed


@pytest.mark.parametrize("text", ["in 85 82 78 out °C", "i85 m82 o78 C", "outer 78 middle 82 inner 85 °C"])
def test_named_edges_are_not_asked(text: str) -> None:
    found = read_temperatures_across(text)
    assert isinstance(found, Row) and not found.is_guessed
    assert found.places == ("inner", "middle", "outer")
    assert [one.value for one in found.values] == [85.0, 82.0, 78.0]


def test_three_temperatures_that_read_the_same_both_ways_are_not_asked() -> None:
    assert isinstance(read_temperatures_across("85 82 85"), Row)


_WRITABLE = [(name, unit.name) for name, field in FIELDS.items() for unit in UNITS[field.quantity]]


@_UNTIMED
@given(st.sampled_from(_WRITABLE), st.floats(0.02, 0.98), st.integers(4, 9))
def test_a_value_with_its_unit_reads_back(pair: tuple[str, str], share: float, digits: int) -> None:
    name, unit = pair
    field = FIELDS[name]
    low, high = (
        registry.Quantity(limit, _PINT.get(field.limit_unit, field.limit_unit))
        .to(_SI[field.quantity])
        .magnitude
        for limit in field.limits
    )
    value = low + share * (high - low)
    text = format_quantity(value, unit, digits, field.quantity)
    for written in (text, text.replace(".", ",")):
        if written != text and text.partition(" ")[0].partition(".")[2].isdigit():
            assume(len(text.partition(" ")[0].partition(".")[2]) != 3)
        found = read_value(written, name)
        assert isinstance(found, Understood) and not found.is_guessed, (written, found)
        offset = 273.15 if field.quantity == "temperature" else 0.0
        within = 6.0 * 10.0**-digits
        assert found.value + offset == pytest.approx(value + offset, rel=within, abs=within)


_PINT = {"°C": "degC", "N·m": "N*m"}
_SI = {
    "pressure": "Pa", "temperature": "degC", "spring rate": "N/m", "length": "m", "torque": "N*m",
    "volume": "m**3", "mass": "kg", "angle": "rad",
}  # fmt: skip


@_UNTIMED
@given(
    st.sampled_from(FIELD_NAMES), st.decimals(0, 999, places=2), st.sampled_from(["", " psi", " mm", " out"])
)
def test_a_comma_reads_as_a_point(field: str, number: object, words: str) -> None:
    point, comma = (
        Case(field, f"{text}{words}", "").read() for text in (f"{number}", f"{number}".replace(".", ","))
    )
    assert _taken(point) == _taken(comma)
    ours, theirs = _meanings(point), _meanings(comma)
    assert [one.in_full for one in ours] == [one.in_full for one in theirs]


@_UNTIMED
@given(st.sampled_from(FIELD_NAMES), st.decimals(0, 3000, places=1))
def test_a_bare_number_understood_is_always_called_guessed(field: str, number: object) -> None:
    try:
        found = read_value(str(number), field, tank=0.05, new_thickness=0.012)
    except BadInput:
        return
    assert isinstance(found, Ask) or found.is_guessed


_WORDS = """
1/16 1/2 ½ . , : ; ' " - + / % # ° ² ٣ e9 1e999 nan inf psi bar kPa °C F mm in out total per wheel
each lb lb/in N/mm k gal mpg km/L L/100 km hot cold with plate without friction from full soft hard
clicks hole 2nd neg FL FR RL RR LF front rear all inner outer May 12th '26 today half tank can cans
lap m s 00 0 0x1
"""
_PIECE = st.one_of(st.integers(0, 2100).map(str), st.sampled_from(_WORDS.split()), st.text(max_size=3))
_SCRAWL = st.tuples(st.sampled_from(["", " ", "/"]), st.lists(_PIECE, max_size=9)).map(
    lambda parts: parts[0].join(parts[1])
)
_USUAL = st.one_of(
    st.none(), st.sampled_from(["psi", "mm total", "from full soft", "US gal", "mpg US", ""]), st.text()
)


@_UNTIMED
@given(st.one_of(_SCRAWL, st.text()), st.sampled_from([*FIELD_NAMES, "", "date", "nothing"]), _USUAL)
@example("9" * 5000, HOT, None)
@example("1,234,567", "distance", None)
@example("1e400 psi", HOT, None)
def test_any_text_is_understood_asked_or_refused_with_a_sentence(
    text: str, field: str, usual: str | None
) -> None:
    readers = (
        lambda: read_value(text, field, usual_unit=usual, tank=0.05, new_thickness=0.012),
        lambda: read_corners(text, field, usual_unit=usual),
        lambda: read_temperatures_across(text, usual_unit=usual, usual_order=usual),
        lambda: read_lap_time(text, 103.0),
        lambda: read_lap_time(text),
        lambda: read_date(text, TODAY, order=usual),
        lambda: read_date(text, TODAY, is_expiry=True),
    )
    for read in readers:
        try:
            found = read()
        except BadInput as refusal:
            assert "expected" in str(refusal)
            continue
        if isinstance(found, Ask):
            assert len({choice.in_full for choice in found.choices}) == len(found.choices) >= 2
            assert found.question.endswith("?")
            for choice in found.choices:
                values = choice.values if isinstance(choice, Row) else ()
                assert not any(one.is_guessed for one in (choice, *values))
        for meaning in _meanings(found):
            values = meaning.values if isinstance(meaning, Row) else (meaning,)
            assert all(math.isfinite(value.value) for value in values)
            assert meaning.says and meaning.in_full


@_UNTIMED
@given(_SCRAWL, st.sampled_from(FIELD_NAMES))
def test_whatever_is_understood_reads_one_way_in_full(text: str, field: str) -> None:
    for meaning in _meanings(Case(field, text, "", told={}).read()):
        again = read_value(meaning.in_full, field)
        assert isinstance(meaning, Understood) and isinstance(again, Understood) and not again.is_guessed
        assert again.value == pytest.approx(meaning.value, rel=1e-8, abs=1e-12)


@pytest.mark.parametrize("text", [None, 32, 2.2, "", "   ", b"32"])
def test_what_is_no_text_is_refused(text: object) -> None:
    for field in FIELD_NAMES:
        with pytest.raises(BadInput):
            read_value(text, field)


def test_a_refusal_names_field_found_expected_and_cure() -> None:
    with pytest.raises(BadInput) as refusal:
        read_value("32 bar", HOT)
    assert str(refusal.value) == (
        "tyre pressure hot: found '32 bar'; expected 0 to 7 bar. Write \"32 psi\" if that is meant."
    )


@_UNTIMED
@given(st.floats(1.0, 60.0), st.sampled_from(["mpg US", "mpg imperial", "km/L", "L/100 km"]))
def test_consumptions_agree_with_pint(number: float, unit: str) -> None:
    written = f"{number:.3f}"
    pints = {"mpg US": "mile/gallon", "mpg imperial": "mile/imperial_gallon", "km/L": "km/L"}
    if unit == "L/100 km":
        expected = registry.Quantity(float(written) / 100.0, "L/km").to("m**2").magnitude
    else:
        expected = (1.0 / registry.Quantity(float(written), pints[unit])).to("m**2").magnitude
    assume(2e-8 <= expected <= 2e-6)
    found = read_consumption(f"{written} {unit}")
    assert isinstance(found, Understood) and not found.is_guessed
    assert found.value == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("field", "written"),
    [(HOT, "32/30"), ("tyre temperature", "85/82/78"), ("coolant temperature", "130+"),
     ("pad thickness", "9/8"), ("fuel", "20 buckets")],
)  # fmt: skip
def test_a_refusal_quotes_what_was_written_unchanged(field: str, written: str) -> None:
    with pytest.raises(BadInput) as refusal:
        read_value(written, field)
    assert refusal.value.problems[0].found == repr(written)
