"""The logbook on the page: looked through, put right, taken back and brought back."""

import re

import pytest

from tintop.logbook.entries import CostPaid, Draft, JobOpened, Reading, Remark, RoadDriven, Withdrawn

MARKUP = '<script>alert(1)</script>"><img src=x>'


def numbers(html: str) -> list[int]:
    return [int(number) for number in re.findall(r'<tr><th scope="row" class="num">(\d+)</th>', html)]


def add(garage, matter, key="added"):
    return garage.record([Draft(key=key, day=garage.today(), who="Kim", matter=matter, clock="14:05")])[0]


def test_the_newest_stands_first_with_who_and_when(page, garage):
    entry = add(garage, Remark(text="Clutch bites low"))
    html = page.get("/history").text
    assert numbers(html) == list(range(entry.number, 0, -1))
    assert "Clutch bites low" in html
    assert "15 Jun 26 14:05" in html.replace("\u00a0", " ")
    assert ">Kim<" in html


def test_it_is_looked_through_by_kind_day_and_words(page, garage):
    entry = add(garage, Remark(text="Clutch bites low"))
    assert numbers(page.get("/history?kind=remark").text) == [entry.number]
    assert numbers(page.get("/history?text=BITES clutch").text) == [entry.number]
    assert numbers(page.get("/history?text=bites kim").text) == [entry.number]
    assert numbers(page.get("/history?text=no+such+word").text) == []
    spring = numbers(page.get("/history?day=2026-04-18").text)
    assert spring == sorted(
        (e.number for e in garage.book.entries if e.day.isoformat() == "2026-04-18"), reverse=True
    )
    assert "aria-invalid" in page.get("/history?day=soon").text


def test_a_hundred_at_a_time(page, garage):
    garage.record(
        [
            Draft(key=f"r{n}", day=garage.today(), who="Kim", matter=Remark(text=f"Remark {n}"))
            for n in range(150)
        ]
    )
    last = garage.book.last_number
    assert numbers(page.get("/history").text) == list(range(last, last - 100, -1))
    assert numbers(page.get("/history?page=2").text) == list(range(last - 100, 0, -1))


def test_taken_back_and_brought_back(page, garage):
    entry = add(garage, JobOpened(job="plugs", title="New plugs"))
    address = f"/history/{entry.number}/withdraw"
    answer = page.post(address, data={"key": "w1", "back": "/ready"})
    assert answer.status_code == 303
    taken = garage.book.last_number
    assert answer.headers["location"] == f"/ready?saved={taken}"
    assert not garage.book.stands(entry.number)
    assert (
        page.post(address, data={"key": "w1", "back": "/ready"}).headers["location"]
        == answer.headers["location"]
    )
    html = page.get(f"/history?number={entry.number}").text
    assert numbers(html) == [taken, entry.number]
    assert "no longer stands" in html
    assert "Bring back" in html
    assert page.post(f"/history/{taken}/withdraw", data={"key": "w2", "back": "/history"}).status_code == 303
    assert garage.book.stands(entry.number)


def test_taken_back_twice_is_a_conflict_that_is_shown(page, garage):
    entry = add(garage, Remark(text="Clutch bites low"))
    page.post(f"/history/{entry.number}/withdraw", data={"key": "w1", "back": "/"})
    answer = page.post(f"/history/{entry.number}/withdraw", data={"key": "w2", "back": "/"})
    assert answer.status_code == 409
    assert "meanwhile" in answer.text
    assert len([e for e in garage.book.entries if isinstance(e.matter, Withdrawn)]) == 1


@pytest.mark.parametrize(
    "back", ["https://elsewhere.example/", "//elsewhere.example", "/\\elsewhere.example", "x"]
)
def test_nobody_is_sent_elsewhere(page, garage, back):
    entry = add(garage, Remark(text="Clutch bites low"))
    answer = page.post(f"/history/{entry.number}/withdraw", data={"key": "w", "back": back})
    assert answer.headers["location"].startswith("/?saved=")


def test_a_reading_is_put_right(page, garage):
    old = next(entry for entry, _reading in garage.book.of(Reading))
    html = page.get(f"/history/{old.number}/correct").text
    assert 'value="33.5"' in html
    sent = {
        "key": "c1",
        "value": "2.4 bar",
        "corner": "FR",
        "place": "",
        "who": "Kim",
        "instrument": "Dial gauge",
    }
    assert page.post(f"/history/{old.number}/correct", data=sent).status_code == 303
    (reading,) = [reading for _entry, reading in garage.book.of(Reading)]
    assert (reading.value, reading.corner, reading.written) == (pytest.approx(240000.0), "FR", "2.4 bar")
    assert reading.session == "spring-race"
    shown = page.get(f"/history?number={old.number}").text
    assert f'corrects <a href="/history?number={garage.book.last_number}">{old.number}</a>' in shown
    late = page.post(f"/history/{old.number}/correct", data={**sent, "key": "c2", "value": "2.3 bar"})
    assert late.status_code == 409
    assert 'value="2.3 bar"' in late.text
    assert "2.4 bar" in late.text
    wrong = page.post(f"/history/{garage.book.last_number}/correct", data={**sent, "key": "c3", "value": "x"})
    assert wrong.status_code == 422
    assert 'id="value" name="value" type="text" value="x"' in wrong.text


def test_road_words_and_costs_are_put_right(page, garage):
    road = add(garage, RoadDriven(distance=180e3, meeting="spring"), "road")
    remark = add(garage, Remark(text="Clutch bites low", about="spring"), "remark")
    cost = next(entry for entry, found in garage.book.of(CostPaid) if not found.is_planned)
    for entry, change in (
        (road, {"distance": "120 mi"}),
        (remark, {"text": "Clutch bites high\nafter lap ten"}),
        (cost, {"amount": "315"}),
    ):
        html = page.get(f"/history/{entry.number}/correct").text
        sent = dict(re.findall(r'<input id="([^"]+)" name="[^"]+" type="\w+" value="([^"]*)"', html))
        for name, options in re.findall(r'<select id="([^"]+)"[^>]*>(.*?)</select>', html, re.S):
            chosen = re.search(r'<option value="([^"]*)" selected', options)
            sent[name] = chosen[1] if chosen else ""
        answer = page.post(
            f"/history/{entry.number}/correct", data={**sent, "key": f"k{entry.number}", **change}
        )
        assert answer.status_code == 303, answer.text
    assert next(one for _entry, one in garage.book.of(RoadDriven)) == RoadDriven(
        distance=pytest.approx(120 * 1609.344), meeting="spring"
    )
    assert next(one for _entry, one in garage.book.of(Remark)).text == "Clutch bites high\nafter lap ten"
    entry, paid = next((e, one) for e, one in garage.book.of(CostPaid) if not one.is_planned)
    assert (paid.cents, paid.meeting, entry.day) == (31500, "spring", cost.day)


def test_a_reader_looks_and_changes_nothing(reader, garage):
    entry = add(garage, Remark(text="Clutch bites low"))
    assert "Clutch bites low" in reader.get("/history").text
    assert reader.post(f"/history/{entry.number}/withdraw", data={"key": "w", "back": "/"}).status_code == 403
    assert reader.get(f"/history/{entry.number}/correct").status_code == 403
    assert reader.post(f"/history/{entry.number}/correct", data={"text": "x"}).status_code == 403
    assert garage.book.stands(entry.number)
    cost = next(found for found, _cost in garage.book.of(CostPaid))
    garage.withdraw(cost.number, "Robin", reason="it was 325")
    assert "325" not in reader.get("/history").text


def test_markup_is_shown_as_text(page, garage):
    entry = garage.record(
        [
            Draft(
                key="m",
                day=garage.today(),
                who=MARKUP,
                matter=Remark(text=MARKUP, about=MARKUP),
                instrument=MARKUP,
                note=MARKUP,
            )
        ]
    )[0]
    for address in (
        "/history",
        f"/history?number={entry.number}",
        f"/history/{entry.number}/correct",
        "/history?kind=%3Cscript%3Ealert(1)&day=%3Cscript%3Ealert(1)&text=%3Cscript%3Ealert(1)&number=%3Cimg",
    ):
        html = page.get(address).text
        assert "<script>alert" not in html
        assert "<img" not in html


@pytest.mark.parametrize("address", ["/history/999/withdraw", "/history/999/correct", "/history/1/correct"])
def test_what_is_not_there_is_said(page, address):
    assert page.post(address, data={"key": "x", "back": "/"}).status_code == 404


def test_why_an_entry_is_taken_back_is_asked_first_and_kept(page, garage):
    address = "/car/parts/front-pads-1"
    html = page.get(address).text
    form = html[html.index('class="take-back"') :].partition("</details>")[0]
    number = int(re.search(r'action="/history/([0-9]+)/withdraw"', form)[1])
    assert re.search(r'name="reason"[^>]* required', form)
    sent = {"key": "why", "back": address, "reason": "wrong side"}
    assert page.post(f"/history/{number}/withdraw", data=sent).status_code == 303
    taken = garage.book.entry(garage.book.last_number)
    assert (taken.corrects, taken.matter.reason) == (number, "wrong side")
