import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx
from scipy import stats

from books import HOUR, MM, Writer, on
from tintop.logbook.entries import Area, Measure
from tintop.logbook.wear import READING_DOUBT, ForecastWear, Wear, WearState, wears

DAY = on("2026-12-31")
PAD = Measure.PAD_THICKNESS


def worn(*readings: tuple[str, float, float], **part) -> Writer:
    """Front pads, 12 mm new and 3 mm at least; then by tuple: day of a run, its hours, reading after it."""
    book = Writer()
    part = {"thickness_new": 12 * MM, "thickness_least": 3 * MM} | part
    book.part("2026-01-01", "pads", family="front pads", **part)
    book.fit("2026-01-02", "pads")
    for day, hours, thickness in readings:
        book.run(day, f"run {day}", hours=hours)
        book.read(day, PAD, thickness * MM, part="pads", session=f"run {day}")
    return book


def only(book: Writer, hours: float = 2.0, forecast: ForecastWear | None = None) -> Wear:
    (wear,) = wears(book.book, DAY, hours * HOUR, forecast)
    return wear


def test_rate_and_rest_by_hand():
    """12 mm new, 9 after 2 h, 6 after 4 h: 1.5 mm/h. 2 h more leave 3 mm; 1 h more leaves 4.5 mm."""
    book = worn(("2026-03-01", 2, 9.0), ("2026-04-01", 2, 6.0))
    wear = only(book, hours=1)
    assert wear.rate is not None
    assert wear.rate.rate * HOUR / MM == approx(1.5)
    assert wear.rate.basis == "its own 3 thicknesses"
    assert wear.at_end == approx(4.5 * MM)
    assert wear.lasts == approx(2 * HOUR)
    assert wear.state is WearState.LASTS
    assert only(book, hours=2.01).state is WearState.RUNS_OUT
    assert (wear.readings, wear.read, wear.read_on) == (2, 6 * MM, on("2026-04-01"))


def test_the_range_comes_from_the_scatter_of_the_readings():
    """Against an independent library: slope ± t(n − 2) standard errors."""
    thicknesses = [(2.0, 10.4), (4.0, 7.6), (6.0, 6.9), (8.0, 4.1)]
    book = worn(*((f"2026-0{month}-01", 2, mm) for month, (_, mm) in enumerate(thicknesses, 2)))
    line = stats.linregress([0.0] + [h for h, _ in thicknesses], [12.0] + [mm for _, mm in thicknesses])
    half = stats.t.ppf(0.975, 3) * line.stderr
    rate = only(book).rate
    assert rate is not None
    assert rate.rate * HOUR / MM == approx(-line.slope)
    assert rate.high * HOUR / MM == approx(-line.slope + half, rel=1e-3)
    assert rate.low * HOUR / MM == approx(-line.slope - half, rel=1e-3)


def test_readings_without_scatter_keep_the_doubt_of_the_gauge():
    """0, 2, 4 h: Σ(x − mean)² = 8 h², so the half range is 1.96 × 0.1 mm / √8 h."""
    rate = only(worn(("2026-03-01", 2, 9.0), ("2026-04-01", 2, 6.0))).rate
    assert rate is not None
    assert (rate.high - rate.rate) * HOUR == approx(1.96 * READING_DOUBT / math.sqrt(8.0))


def test_close_when_only_the_range_reaches_the_least():
    wear = only(worn(("2026-03-01", 2, 9.0), ("2026-04-01", 2, 6.0)), hours=1.95)
    assert wear.at_end is not None and wear.at_end_low is not None and wear.at_end_high is not None
    assert wear.at_end_low < 3 * MM < wear.at_end < wear.at_end_high
    assert wear.state is WearState.CLOSE


def test_running_since_the_last_reading_counts():
    book = worn(("2026-03-01", 2, 9.0), ("2026-04-01", 2, 6.0))
    book.run("2026-05-01", "unread", hours=1)
    wear = only(book, hours=0.5)
    assert wear.thickness == approx(4.5 * MM)
    assert wear.at_end == approx(3.75 * MM)
    assert wear.driven_since == HOUR


def test_the_thinnest_place_decides():
    book = worn()
    book.run("2026-03-01", "race", hours=2)
    for corner, place, thickness in (
        ("FL", "inner pad", 8.0),
        ("FL", "outer pad", 9.0),
        ("FR", "inner pad", 7.0),
        ("FR", "outer pad", 9.5),
    ):
        book.read("2026-03-01", PAD, thickness * MM, corner=corner, place=place, session="race")
    wear = only(book, hours=1)
    assert wear.place == "FR, inner pad"
    assert wear.at_end == approx(4.5 * MM)


def test_the_place_that_will_be_thinnest_goes_before_the_one_that_is():
    """FL went from 12 to 8 mm in 2 h, FR only from 9 to 7.9 mm: FL is the thinner two hours on."""
    book = worn(thickness_new=None)
    book.read("2026-02-01", PAD, 12 * MM, corner="FL", part="pads")
    book.read("2026-02-01", PAD, 9 * MM, corner="FR", part="pads")
    book.run("2026-03-01", "race", hours=2)
    book.read("2026-03-01", PAD, 8 * MM, corner="FL", part="pads", session="race")
    book.read("2026-03-01", PAD, 7.9 * MM, corner="FR", part="pads", session="race")
    wear = only(book)
    assert (wear.place, wear.at_end) == ("FL", approx(4 * MM))


def test_a_place_read_once_takes_the_rate_of_the_parts_quickest_place():
    """FL went from 12 to 8 mm in 2 h; FR, read once at 7 mm, is taken to lose 2 mm/h too."""
    book = worn(thickness_new=None)
    book.read("2026-02-01", PAD, 12 * MM, corner="FL", part="pads")
    book.run("2026-03-01", "race", hours=2)
    book.read("2026-03-01", PAD, 8 * MM, corner="FL", part="pads", session="race")
    book.read("2026-03-01", PAD, 7 * MM, corner="FR", part="pads", session="race")
    wear = only(book, hours=1)
    assert (wear.place, wear.at_end) == ("FR", approx(5 * MM))
    assert wear.rate is not None
    assert wear.rate.basis == "its quickest place, by its own 2 thicknesses"


def test_a_reading_before_it_ran_goes_before_the_thickness_as_new():
    """Said to be 12 mm new, read 11 mm when fitted, 9 mm after 2 h: 1 mm/h, not 1.5."""
    book = worn()
    book.read("2026-01-02", PAD, 11 * MM, part="pads")
    book.run("2026-03-01", "race", hours=2)
    book.read("2026-03-01", PAD, 9 * MM, part="pads", session="race")
    rate = only(book).rate
    assert rate is not None
    assert rate.rate * HOUR / MM == approx(1.0)


def test_the_range_grows_with_what_was_driven_since_the_reading():
    """0, 2, 4 h give ±0.0693 mm/h, over 1 h since and 1 h to come 0.139 mm; with the gauge's 0.196, 0.240."""
    book = worn(("2026-03-01", 2, 9.0), ("2026-04-01", 2, 6.0))
    book.run("2026-05-01", "unread", hours=1)
    wear = only(book, hours=1)
    assert wear.at_end is not None and wear.at_end_low is not None
    assert (wear.at_end - wear.at_end_low) / MM == approx(0.240, abs=5e-4)


@pytest.mark.parametrize(
    ("part", "readings", "why"),
    [
        ({"thickness_new": None}, (), "it was never measured, and its thickness as new is not known"),
        (
            {"thickness_least": None},
            (("2026-03-01", 2, 9.0),),
            "the least thickness at which it is changed is not known",
        ),
        (
            {"thickness_new": None},
            (("2026-03-01", 2, 9.0),),
            "how quickly it wears is not known: measure it again after running",
        ),
        ({}, (), "how quickly it wears is not known: measure it again after running"),
    ],
)  # fmt: skip
def test_what_is_not_known_is_said_to_be(part, readings, why):
    wear = only(worn(*readings, **part))
    assert (wear.state, wear.why_unknown) == (WearState.UNKNOWN, why)


def test_a_part_bought_used_does_not_start_as_thick_as_new():
    book = worn(("2026-03-01", 2, 9.0), counted_before={"running time": 5 * HOUR})
    assert only(book).rate is None


def test_worn_is_worn_whatever_the_rate():
    assert only(worn(("2026-03-01", 2, 3.0), thickness_new=None)).state is WearState.WORN
    assert only(worn(("2026-03-01", 2, 2.0))).state is WearState.WORN


def test_a_thickness_that_grew_is_no_negative_wear():
    wear = only(worn(("2026-03-01", 2, 12.1)), hours=2)
    assert wear.rate is not None
    assert (wear.rate.rate, wear.lasts) == (0.0, None)
    assert wear.at_end == approx(12.1 * MM)
    assert wear.rate.high > 0.0


def family() -> Writer:
    """Two earlier sets wore 1 and 2 mm/h at their quickest place; a new set is on."""
    book = Writer()
    for number, (day, left) in enumerate((("2026-02-01", 10.0), ("2026-03-01", 8.0)), 1):
        book.part("2026-01-01", f"set {number}", family="front pads", thickness_new=12 * MM)
        book.fit(day, f"set {number}", replaces="" if number == 1 else "set 1")
        book.run(day, f"race {number}", hours=2)
        book.read(day, PAD, left * MM, part=f"set {number}", session=f"race {number}", place="inner")
        book.read(day, PAD, 11 * MM, part=f"set {number}", session=f"race {number}", place="outer")
    book.part("2026-04-01", "pads", family="front pads", thickness_new=12 * MM, thickness_least=3 * MM)
    book.fit("2026-04-01", "pads", replaces="set 2")
    return book


def test_a_new_part_takes_its_familys_rate():
    """Mean of 1 and 2 mm/h is 1.5; the range of one more is t(1) × 0.7071 × √1.5 = 11 mm/h either way."""
    wear = only(family())
    assert wear.rate is not None
    assert wear.rate.rate * HOUR / MM == approx(1.5)
    assert (wear.rate.high - wear.rate.rate) * HOUR / MM == approx(
        12.706 * 0.70711 * math.sqrt(1.5), rel=1e-3
    )
    assert wear.rate.basis == "2 earlier parts of its family"
    assert wear.at_end == approx(9 * MM)
    assert wear.read is None


def test_its_own_readings_go_before_its_familys():
    book = family()
    book.run("2026-05-01", "own", hours=1)
    book.read("2026-05-01", PAD, 11.5 * MM, part="pads", session="own")
    rate = only(book).rate
    assert rate is not None
    assert (rate.rate * HOUR / MM, rate.basis) == (approx(0.5), "its own 2 thicknesses")


def forecast(front: float, rear: float = 0.0) -> ForecastWear:
    """A race of two hours that takes so many mm off each pad."""
    used = (front * MM, front * MM, rear * MM, rear * MM)
    return ForecastWear(running=2 * HOUR, used={PAD: used}, doubt={PAD: (0.2, 0.2, 0.2, 0.2)})


def test_own_readings_lead_and_the_forecast_stands_beside_them():
    """Own 1.5 mm/h; a forecast of 4 mm in 2 h is 2 mm/h: 6 − 2 × 1.5 = 3 mm by the one, 2 by the other."""
    wear = only(worn(("2026-03-01", 2, 9.0), ("2026-04-01", 2, 6.0)), forecast=forecast(4.0))
    assert wear.rate is not None and wear.forecast is not None
    assert (wear.rate.rate * HOUR / MM, wear.rate.basis) == (approx(1.5), "its own 3 thicknesses")
    assert wear.at_end == approx(3 * MM)
    assert wear.forecast.left == approx(2 * MM)
    assert wear.forecast.low < wear.forecast.left < wear.forecast.high


def test_two_sets_of_the_family_lead_and_one_gives_way_to_a_worse_forecast():
    """Two sets, of 1 and 2 mm/h, leave 12 − 1.5 × 2; one of 1 mm/h gives way to a forecast of 2 mm/h."""
    two = only(family(), forecast=forecast(4.0))
    assert two.rate is not None and two.forecast is not None
    assert (two.at_end, two.rate.basis) == (approx(9 * MM), "2 earlier parts of its family")
    assert two.forecast.left == approx(8 * MM)
    book = Writer()
    for part, day in (("old", "2026-01-02"), ("pads", "2026-04-01")):
        book.part("2026-01-01", part, family="front pads", thickness_new=12 * MM)
        book.fit(day, part, replaces="old" if part == "pads" else "")
    book.run("2026-02-01", "old", hours=2)
    book.read("2026-02-01", PAD, 10 * MM, part="old", session="old")
    one, milder = only(book, forecast=forecast(4.0)), only(book, forecast=forecast(1.0))
    assert one.rate is not None and milder.rate is not None
    assert (one.at_end, one.forecast) == (approx(8 * MM), None)
    assert one.rate.basis == "the race forecast (1 earlier part of its family: 1.00 mm/h)"
    assert milder.rate.basis == "1 earlier part of its family (the race forecast: 0.50 mm/h)"


def test_nothing_is_thinner_than_gone():
    """6 mm at 1.5 mm/h are gone in 4 h: after 12 h more nothing is left, not −12 mm."""
    wear = only(worn(("2026-03-01", 2, 9.0), ("2026-04-01", 2, 6.0)), 12, forecast=forecast(9.0))
    assert (wear.at_end, wear.at_end_low) == (0.0, 0.0)
    assert wear.at_end_high is not None and wear.at_end_high >= 0.0
    assert wear.forecast is not None
    assert (wear.forecast.left, wear.forecast.low) == (0.0, 0.0)


def test_a_forecast_alone_serves_when_nothing_was_measured():
    wear = only(worn(), forecast=forecast(4.0))
    assert wear.rate is not None
    assert (wear.at_end, wear.rate.basis) == (approx(8 * MM), "the race forecast")


def test_a_forecast_for_the_rear_says_nothing_of_the_front():
    assert only(worn(), forecast=forecast(0.0, 9.0)).at_end == approx(12 * MM)


def test_readings_that_name_no_part_belong_to_the_part_then_at_that_corner():
    book = Writer()
    for part, area in (("front", Area.FRONT_AXLE), ("rear", Area.REAR_AXLE)):
        book.part("2026-01-01", part, family=f"{part} pads", area=area, thickness_new=12 * MM)
        book.fit("2026-01-02", part)
    book.part("2026-01-01", "discs", family="front discs", thickness_new=22 * MM)
    book.fit("2026-01-02", "discs")
    book.run("2026-03-01", "race", hours=2)
    book.read("2026-03-01", PAD, 9 * MM, corner="FL", session="race")
    book.read("2026-03-01", PAD, 11 * MM, corner="RL", session="race")
    book.read("2026-03-01", Measure.DISC_THICKNESS, 21.8 * MM, corner="FL", session="race")
    book.part("2026-04-01", "front 2", family="front pads", area=Area.FRONT_AXLE, thickness_new=12 * MM)
    book.fit("2026-04-01", "front 2", replaces="front")
    book.read("2026-04-02", PAD, 12 * MM, corner="FL")
    found = {each.part: each.read for each in wears(book.book, DAY, HOUR)}
    assert found == {"front 2": 12 * MM, "rear": 11 * MM, "discs": 21.8 * MM}


def test_a_set_of_tyres_wears_in_its_own_sessions():
    book = Writer()
    for tyres in ("set 1", "set 2"):
        book.part("2026-01-01", tyres, family=f"{tyres} tyres", area=Area.OUTSIDE, thickness_new=5 * MM,
                  thickness_least=2 * MM)  # fmt: skip
        book.fit("2026-01-02", tyres)
    book.run("2026-03-01", "one", hours=2, tyres="set 1")
    book.read("2026-03-01", Measure.TREAD_DEPTH, 4 * MM, corner="FL", session="one")
    book.run("2026-03-02", "two", hours=2, tyres="set 2")
    book.read("2026-03-02", Measure.TREAD_DEPTH, 3 * MM, corner="FL", session="two")
    rates = {
        each.part: each.rate.rate * HOUR / MM for each in wears(book.book, DAY, HOUR) if each.rate is not None
    }
    assert rates == approx({"set 1": 0.5, "set 2": 1.0})


@settings(deadline=None)
@given(
    hours=st.lists(st.floats(0.5, 3.0), min_size=1, max_size=5),
    rate=st.floats(0.1, 1.0),
    more=st.floats(0.1, 3.0),
    planned=st.floats(0.0, 5.0),
)
def test_what_is_left_never_rises_when_a_session_is_added(hours, rate, more, planned):
    """A pad that wears exactly at a rate; one more session without a reading."""
    total, runs = 0.0, []
    for number, each in enumerate(hours):
        total += each
        runs.append((f"2026-02-{number + 1:02d}", each, 12.0 - rate * total))
    book = worn(*runs)
    before = only(book, planned).at_end
    book.run("2026-06-01", "more", hours=more)
    after = only(book, planned).at_end
    assert before is not None and after is not None
    driven = total + planned
    assert before == pytest.approx(max(12.0 - rate * driven, 0.0) * MM, abs=1e-9)
    assert after == pytest.approx(max(12.0 - rate * (driven + more), 0.0) * MM, abs=1e-9)
    assert after <= before
