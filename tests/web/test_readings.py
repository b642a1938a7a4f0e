"""One reading outside a session, typed as it is read."""

import pytest

from tintop.logbook.entries import Measure, Reading
from tintop.logbook.mass_ledger import mass_ledger
from tintop.web.reading_fields import KINDS


def read(garage, measure) -> list[Reading]:
    return [reading for _entry, reading in garage.book.of(Reading) if reading.measure is measure]


@pytest.mark.parametrize("address", sorted(KINDS))
def test_every_kind_has_its_form(page, address):
    assert f'href="/reading/{address}"' in page.get("/reading").text
    html = page.get(f"/reading/{address}").text
    assert f'data-understand="{KINDS[address].field}"' in html


def test_pads_after_the_event(page, garage):
    sent = {
        "key": "p",
        "value_inner_FL": "8.4",
        "value_outer_FL": "8,1 mm without plate",
        "instrument": "Caliper",
    }
    assert page.post("/reading/pads", data=sent).status_code == 303
    assert page.post("/reading/pads", data=sent).status_code == 303
    found = read(garage, Measure.PAD_THICKNESS)
    assert [(one.corner, one.place, one.value) for one in found] == [
        ("FL", "inner pad", pytest.approx(0.0084)),
        ("FL", "outer pad", pytest.approx(0.0081)),
    ]
    assert 'value="Caliper"' in page.get("/reading/pads").text


def test_corner_loads_become_a_weighing(page, garage):
    loads = {
        f"value_at_{corner}": text
        for corner, text in zip(("FL", "FR", "RL", "RR"), ("292", "288", "201", "199"), strict=True)
    }
    answer = page.post("/reading/corner-loads", data={**loads, "words": "driver aboard"})
    assert answer.status_code == 303
    (weighing,) = mass_ledger(garage.book, garage.today()).corners
    assert weighing.loads == (292.0, 288.0, 201.0, 199.0)
    assert weighing.place == "driver aboard"


def test_undo_takes_back_all_four_corners(page, garage):
    loads = dict.fromkeys((f"value_at_{corner}" for corner in ("FL", "FR", "RL", "RR")), "250 kg")
    answer = page.post("/reading/corner-loads", data={**loads, "key": "four"})
    number = answer.headers["location"].rpartition("=")[2]
    assert len(read(garage, Measure.CORNER_LOAD)) == 4
    undone = page.post(f"/history/{number}/withdraw", data={"key": "u", "back": "/", "together": "yes"})
    assert undone.status_code == 303
    assert read(garage, Measure.CORNER_LOAD) == []


@pytest.mark.parametrize(
    ("address", "field", "text", "status"),
    [("mass", "value", "", 422), ("mass", "value", "heavy", 422), ("pads", "value_inner_RL", "9", 422),
     ("mass", "value", "968", 303), ("nothing", "value", "1", 404), ("mass", "day", "soon", 422)],
)  # fmt: skip
def test_what_is_asked_or_wrong_writes_nothing(page, garage, address, field, text, status):
    before = garage.book.last_number
    answer = page.post(f"/reading/{address}", data={field: text})
    assert answer.status_code == status
    assert (garage.book.last_number == before) is (status != 303)


def test_a_reader_writes_nothing(reader, garage):
    before = garage.book.last_number
    assert reader.post("/reading/mass", data={"value": "968"}).status_code == 403
    assert garage.book.last_number == before


def test_markup_is_shown_as_text(page):
    markup = '<script>alert(1)</script>"><img src=x>'
    page.post(
        "/reading/corner-loads",
        data={"value_at_FL": "292", "words": markup, "who": markup, "instrument": markup},
    )
    for answer in (
        page.get("/reading/corner-loads"),
        page.post(
            "/reading/corner-loads",
            data=dict.fromkeys(("value_at_FL", "words", "who", "day", "clock"), markup),
        ),
    ):
        assert "<script>alert" not in answer.text
        assert "<img" not in answer.text
