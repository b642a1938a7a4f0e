"""Events: planned, changed, closed; everything that belongs to one on its page."""

import re

import pytest

from tintop.logbook.entries import MeetingClosed, MeetingPlanned
from tintop.logbook.meetings import meetings
from tintop.logbook.sessions import sessions

MARKUP = '<script>alert(1)</script>"><img src=x>'
AUTUMN = {
    "key": "autumn-1",
    "name": "Autumn Three Hours",
    "first_day": "2026-09-12",
    "last_day": "2026-09-13",
    "circuit": "circuits/larkmoor.csv",
    "document": "events/midsummer.toml",
    "road_distance": "120 mi",
    "session_1": "Practice",
    "kind_1": "practice",
    "minutes_1": "25",
    "session_2": "Race",
    "kind_2": "race",
    "minutes_2": "3 h",
}


def plans(garage, name) -> list[MeetingPlanned]:
    return [plan for _entry, plan in garage.book.of(MeetingPlanned) if plan.meeting == name]


def test_next_and_past_stand_apart(page):
    html = page.get("/events").text
    assert html.index("Midsummer Two Hours") < html.index("<h2>Past</h2>") < html.index("Spring Two Hours")
    assert "Fourth of twenty-one" in html


def test_an_event_is_planned_as_typed(page, garage):
    answer = page.post("/events", data=AUTUMN)
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/events/autumn-three-hours-2026?saved=")
    (plan,) = plans(garage, "autumn-three-hours-2026")
    assert plan.road_distance == pytest.approx(120 * 1609.344)
    assert [(one.name, one.kind, one.duration) for one in plan.sessions] == [
        ("Practice", "practice", 1500.0),
        ("Race", "race", 10800.0),
    ]
    assert (plan.last_day - plan.first_day).days == 1
    assert page.get(answer.headers["location"]).status_code == 200


def test_the_same_key_plans_once(page, garage):
    first = page.post("/events", data=AUTUMN)
    number = garage.book.last_number
    second = page.post("/events", data=AUTUMN)
    assert first.headers["location"] == second.headers["location"]
    assert garage.book.last_number == number


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("name", ""), ("first_day", "31/31/2026"), ("last_day", "2026-09-01"),
        ("circuit", "circuits/../car.toml"), ("road_distance", "far"), ("minutes_2", ""),
        ("minutes_1", "1:30"), ("session_2", "practice"), ("kind_1", "parade"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_at_its_field_and_what_was_typed_stays(page, garage, field, text):
    before = garage.book.last_number
    answer = page.post("/events", data={**AUTUMN, field: text})
    assert answer.status_code == 422
    assert garage.book.last_number == before
    assert re.search(rf'<(input|select) id="{field}"[^>]*aria-invalid="true"', answer.text)
    assert "120 mi" in answer.text or field == "road_distance"


def test_a_plan_is_changed_by_a_correction(page, garage):
    html = page.get("/events/midsummer").text
    stands = re.search(r'name="stands" value="(\d+)"', html)[1]
    change = {**AUTUMN, "key": "change-1", "stands": stands, "name": "Midsummer, moved"}
    assert page.post("/events/midsummer/plan", data=change).status_code == 303
    (plan,) = plans(garage, "midsummer")
    assert plan.name == "Midsummer, moved"
    late = {**change, "key": "change-2", "name": "Midsummer, moved twice"}
    answer = page.post("/events/midsummer/plan", data=late)
    assert answer.status_code == 409
    assert "Midsummer, moved twice" in answer.text
    assert "<strong>Midsummer, moved</strong>" in answer.text
    assert plans(garage, "midsummer")[0].name == "Midsummer, moved"


def test_an_event_is_closed_and_closed_better(page, garage):
    answer = page.post(
        "/events/midsummer/close", data={"key": "c1", "result": "Stopped, gearbox", "finish": "no"}
    )
    assert answer.status_code == 303
    again = page.post(
        "/events/midsummer/close", data={"key": "c2", "result": "Third in class", "finish": "yes"}
    )
    assert again.status_code == 303
    ended = [one for _entry, one in garage.book.of(MeetingClosed) if one.meeting == "midsummer"]
    assert [(one.result, one.is_finished) for one in ended] == [("Third in class", True)]
    assert page.post("/events/midsummer/close", data={"key": "c3", "result": ""}).status_code == 422


def test_the_numbers_are_those_of_the_book(page, garage):
    html = page.get("/events/spring").text
    (session,) = sessions(garage.book, garage.today())
    assert session.fuel_per_lap is not None
    assert f"{1e3 * session.fuel_per_lap:.2f}" in html
    assert f"{1e3 * session.fuel_per_hour:.1f}" in html
    assert "1:42.40" in html
    assert "1:43.10" in html
    assert "33.5" in html
    spring = next(one for one in meetings(garage.book, garage.today()) if one.planned.meeting == "spring")
    assert spring.driven_duration == 7200.0
    assert "2 h 00 min" in html
    assert "£310.00" in html


def test_a_reader_sees_the_event_without_money_and_changes_nothing(reader, garage):
    before = garage.book.last_number
    html = reader.get("/events/spring").text
    assert "1:42.40" in html
    assert "310" not in html
    assert "Entry fee" not in html
    for address in ("/events", "/events/midsummer/plan", "/events/midsummer/close"):
        assert reader.post(address, data=AUTUMN).status_code == 403
    assert garage.book.last_number == before


def test_markup_is_shown_as_text(page):
    page.post("/events", data={**AUTUMN, "name": MARKUP, "session_1": MARKUP})
    page.post("/events/midsummer/close", data={"key": "x", "result": MARKUP})
    for address in (
        "/events",
        "/events/midsummer",
        "/events/script-alert-1-script-img-src-x-2026",
        "/history",
    ):
        html = page.get(address).text
        assert "<script>alert" not in html
        assert "<img" not in html
    answer = page.post("/events", data=dict.fromkeys(AUTUMN, MARKUP))
    assert answer.status_code == 422
    assert "<script>alert" not in answer.text


def test_an_event_that_is_not_there(page):
    assert page.get("/events/none").status_code == 404
    assert page.post("/events/none/close", data={"result": "x"}).status_code == 404


def ticked(html: str) -> set[str]:
    return set(re.findall(r'name="book_([a-z0-9_-]+)" value="yes" checked', html))


def test_rule_books_are_named_and_proposed_again_for_the_next_event(page, garage):
    assert ticked(page.get("/events").text) == set()
    page.post("/events", data={**AUTUMN, "book_road_drive": "yes"})
    (plan,) = plans(garage, "autumn-three-hours-2026")
    assert plan.rule_books == ("road_drive",)
    assert ticked(page.get("/events").text) == {"road_drive"}
    html = page.get("/events/autumn-three-hours-2026").text
    assert ticked(html) == {"road_drive"}
    assert "The drive there and back" in html and 'href="/legal?event=autumn-three-hours-2026"' in html


def test_a_rule_book_that_is_unticked_applies_no_longer(page, garage):
    page.post("/events", data={**AUTUMN, "book_road_drive": "yes"})
    stands = re.search(r'name="stands" value="(\d+)"', page.get("/events/autumn-three-hours-2026").text)
    changed = {**AUTUMN, "key": "autumn-2", "stands": stands[1]}
    assert page.post("/events/autumn-three-hours-2026/plan", data=changed).status_code == 303
    assert [plan.rule_books for plan in plans(garage, "autumn-three-hours-2026")] == [()]


def test_a_book_that_is_gone_is_still_shown_where_it_was_named(page, garage):
    garage.save_document("rule_books/harrow.toml", BOOK, based_on=None, who="Robin", why="")
    page.post("/events", data={**AUTUMN, "book_harrow": "yes"})
    (garage.folder / "rule_books" / "harrow.toml").unlink()
    assert page.get("/events/autumn-three-hours-2026").status_code == 200


BOOK = """[book]
id = "harrow"
title = "Harrow Down series"
edition = "2026"
jurisdiction = "Harrow Down Touring Club"
valid_from = 2026-01-01
cautions = ["A working aid, never the regulations."]

[[clause]]
id = "cut-off-inside"
group = "electrics"
title = "Cut-off from the seat"
requirement = "The driver reaches the cut-off, belted."
reference = "4.2"
severity = "stops you racing"
known = "own"
shown = ["mass.with_driver"]
"""


def test_the_order_of_books_is_shown_and_changed(page, garage):
    garage.save_document("rule_books/harrow.toml", BOOK, based_on=None, who="Robin", why="")
    ticks = {f"book_{id}": "yes" for id in ("harrow", "road_drive", "united_kingdom_club")}
    page.post("/events", data={**AUTUMN, **ticks})
    (plan,) = plans(garage, "autumn-three-hours-2026")
    assert plan.rule_books[-1] == "harrow" and len(plan.rule_books) == 3
    html = page.get("/events/autumn-three-hours-2026").text
    shown = dict(re.findall(r'name="place_([a-z_]+)" value="([0-9]+)"', html))
    assert [id for id, _place in sorted(shown.items(), key=lambda each: int(each[1]))] == [*plan.rule_books]
    assert "Builds on no book" in html and "are ticked together" not in html
    stands = re.search(r'name="stands" value="([0-9]+)"', html)[1]
    places = {"place_harrow": "1", "place_united_kingdom_club": "2", "place_road_drive": "3"}
    address = "/events/autumn-three-hours-2026/plan"
    change = {**AUTUMN, **ticks, "stands": stands, "key": "order"}
    wrong = page.post(address, data={**change, **places, "place_harrow": "first"})
    assert wrong.status_code == 422 and "expected a number, such as 2" in wrong.text
    assert page.post(address, data={**change, **places}).status_code == 303
    (plan,) = plans(garage, "autumn-three-hours-2026")
    assert plan.rule_books == ("harrow", "united_kingdom_club", "road_drive")


def test_books_of_two_countries_are_said_to_be_ticked_together(page, garage):
    page.post("/events", data={**AUTUMN, "book_united_kingdom_club": "yes", "book_germany": "yes"})
    html = page.get("/events/autumn-three-hours-2026").text
    assert "Books of Germany and United Kingdom are ticked together" in html or (
        "Books of United Kingdom and Germany are ticked together" in html
    )
