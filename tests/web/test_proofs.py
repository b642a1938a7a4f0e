"""Proofs from the page: every kind of fact typed and read, photographs kept with them or nothing at all."""

from datetime import date

import pytest
from own_book import name_the_book, proof
from test_car import words
from test_originals import PDF, picture

from tintop.logbook.entries import Draft, PaperAdded, Remark
from tintop.logbook.proof_entries import AccidentHappened, ProofRecorded
from tintop.store.revisions import digest_of


@pytest.fixture
def ruled(garage):
    name_the_book(garage)
    return garage


def proofs(garage) -> list[ProofRecorded]:
    return [found for _entry, found in garage.book.of(ProofRecorded)]


def photograph(content: bytes | None = None, name: str = "anchor.jpg"):
    return {"photo": (name, picture() if content is None else content, "image/jpeg")}


TYPED = {
    "test.top": {"x": "-1200", "y": "350", "z": "900", "unit": "mm"},
    "test.opens": {"value": "no"},
    "test.label": {"year": "2026"},
    "test.height": {"value": "23", "unit": "cm", "error": "0.2"},
    "test.plate": {"value": "0 0\n120 0\n120 100\n0 100", "unit": "mm"},
    "test.standard": {"value": "8859-2015"},
    "test.drivers": {"value": "Robin, Sam"},
}
HELD = {
    "test.top": {"values": pytest.approx((-1.2, 0.35, 0.9)), "fact_kind": "point"},
    "test.opens": {"values": (0.0,)},
    "test.label": {"marked": date(2026, 12, 31), "marked_to": "year"},
    "test.height": {"values": (pytest.approx(0.23),), "error": pytest.approx(0.002)},
    "test.plate": {"values": pytest.approx((0.0, 0.0, 0.12, 0.0, 0.12, 0.1, 0.0, 0.1))},
    "test.standard": {"text": "8859-2015"},
    "test.drivers": {"text": "Robin, Sam"},
}


@pytest.mark.parametrize("fact", TYPED)
def test_every_kind_of_fact_is_read_as_it_is_typed(page, ruled, fact):
    answer = proof(page, fact, form="measurement", instrument="Tape", **TYPED[fact])
    assert answer.status_code == 200, answer.text
    (found,) = proofs(ruled)
    assert {name: getattr(found, name) for name in HELD[fact]} == HELD[fact]
    assert f"entry {answer.json()['entry']}" in answer.json()["words"]
    assert ruled.book.entry(answer.json()["entry"]).instrument == "Tape"


@pytest.mark.parametrize("fact", TYPED)
def test_what_is_typed_is_read_back_while_it_is_typed_and_nothing_is_written(page, ruled, fact):
    before = ruled.book.last_number
    found = page.get("/legal/understood", params={"fact": fact, **TYPED[fact]})
    assert found.status_code == 200 and '<span class="read">' in found.text
    assert ruled.book.last_number == before


def test_what_is_understood_stands_in_the_usual_unit(page, ruled):
    query = {"fact": "test.height", "value": "9,5", "unit": "in"}
    assert "241.3" in page.get("/legal/understood", params=query).text
    wrong = page.get("/legal/understood", params={"fact": "test.height", "value": "tall"})
    assert 'class="problem"' in wrong.text
    assert page.get("/legal/understood", params={"fact": "test.nothing", "value": "1"}).status_code == 404


@pytest.mark.parametrize(
    ("fact", "typed"),
    [("test.top", {"x": "-1200", "y": "", "z": "900"}), ("test.top", {}), ("test.height", {"value": "tall"}),
     ("test.height", {"value": "240", "form": "hearsay"}), ("test.label", {"month": "3"}),
     ("test.label", {"year": "2026", "month": "13"}), ("test.label", {"year": "2026", "day_marked": "3"}),
     ("test.standard", {"value": "a good one"}), ("test.plate", {"value": "0 0\n1 1"}),
     ("test.height", {"value": "240", "part": "no-such-part"}), ("test.opens", {"value": "perhaps"}),
     ("test.height", {"value": "240", "form": "photograph"}),
     ("test.height", {"value": "240", "error": "-3"}),
     ("test.height", {"value": "240", "day": "2027-01-01"})],
)  # fmt: skip
def test_what_cannot_be_read_writes_nothing_and_says_why(page, ruled, fact, typed):
    before = ruled.book.last_number
    answer = proof(page, fact, **typed)
    assert answer.status_code == 422
    assert len(answer.json()["sentence"]) > 20
    assert ruled.book.last_number == before


def test_an_instance_the_fact_does_not_have_is_refused(page, ruled):
    assert proof(page, "test.anchor", "middle", x="1", y="1", z="1").status_code == 422
    assert proof(page, "test.anchor", x="1", y="1", z="1").status_code == 422
    assert proof(page, "test.none", value="1").status_code == 404
    assert proofs(ruled) == []


def test_a_label_that_cannot_be_read_counts_as_expired(page, ruled):
    assert proof(page, "test.label", value="unreadable", form="label").status_code == 200
    assert proofs(ruled)[0].marked_to == "unreadable"
    assert "Belt in date" in words(page.get("/legal").text).partition("Expires before the event is over")[2]


def test_photographs_are_kept_with_the_proof_and_shown_small(page, ruled):
    answer = proof(
        page, "test.top", files=photograph(), form="measurement", part="front-pads-1", **TYPED["test.top"]
    )
    assert answer.status_code == 200
    (found,) = proofs(ruled)
    ((_entry, paper),) = ruled.book.of(PaperAdded)
    assert found.papers == (paper.digest,) == (digest_of(picture()),)
    assert paper.about == "front-pads-1"
    assert f"/papers/originals/{paper.digest}/small" in page.get("/legal/fact/test.top").text


def test_sent_twice_it_is_recorded_once(page, ruled):
    for _time in range(2):
        answer = proof(page, "test.top", files=photograph(), form="measurement", **TYPED["test.top"])
        assert answer.status_code == 200
    assert len(proofs(ruled)) == len(list(ruled.book.of(PaperAdded))) == 1


@pytest.mark.parametrize(
    "content",
    [b"", b"PK\x03\x04 not a picture", picture()[:200], PDF[:30], b"\x00\x00\x00\x18ftypheic" + bytes(80)],
)
def test_a_wrong_photograph_keeps_the_whole_proof_out(page, ruled, content):
    before = ruled.book.last_number
    answer = proof(page, "test.top", files=photograph(content), form="measurement", **TYPED["test.top"])
    assert answer.status_code == 422
    assert "anchor.jpg" in answer.json()["sentence"]
    assert ruled.book.last_number == before
    folder = ruled.folder / "originals"
    assert not folder.exists() or not list(folder.iterdir())


def test_a_wrong_value_keeps_its_photograph_out(page, ruled):
    answer = proof(page, "test.height", files=photograph(), value="tall")
    assert answer.status_code == 422
    folder = ruled.folder / "originals"
    assert not folder.exists() or not list(folder.iterdir())


def test_without_a_script_it_comes_back_with_what_was_typed(page, ruled):
    typed = {"key": "k", "fact": "test.height", "each": "", "value": "tall", "unit": "mm", "serial": "A 17"}
    answer = page.post("/legal/proofs", data=typed)
    assert answer.status_code == 422
    assert 'value="tall"' in answer.text and 'value="A 17"' in answer.text
    saved = page.post(
        "/legal/proofs", data={**typed, "value": "240", "back": "/legal/walk", "event": "midsummer"}
    )
    assert saved.status_code == 303
    assert saved.headers["location"].startswith("/legal/walk?saved=")


def test_the_fact_page_shows_its_history_and_what_asks_for_it(page, ruled):
    proof(page, "test.height", value="240", unit="mm", form="measurement", instrument="Tape", who="Sam")
    proof(page, "test.height", value="250", unit="mm", form="measurement")
    text = words(page.get("/legal/fact/test.height").text)
    assert text.index("250 mm") < text.index("240 mm")
    assert "with Tape" in text and "Sam" in text and "Height of numbers" in text and "4.4" in text
    assert text.count("counts") == 1
    assert page.get("/legal/fact/test.nothing").status_code == 404


def test_a_proof_is_corrected_and_the_correction_counts(page, ruled):
    first = proof(page, "test.height", value="240", unit="mm", form="measurement").json()["entry"]
    assert proof(page, "test.height", value="204", unit="mm", corrects=str(first)).status_code == 200
    assert [found.values for found in proofs(ruled)] == [(pytest.approx(0.204),)]
    again = proof(page, "test.height", value="241", unit="mm", corrects=str(first))
    assert again.status_code == 409
    assert [found.values for found in proofs(ruled)] == [(pytest.approx(0.204),)]


def test_a_photograph_is_added_to_a_proof_there_is(page, ruled):
    first = proof(page, "test.height", value="240", unit="mm", form="measurement").json()["entry"]
    assert proof(page, "test.height", adds_to=str(first)).status_code == 422
    assert proof(page, "test.top", adds_to=str(first), files=photograph()).status_code == 422
    assert proof(page, "test.height", adds_to=str(first), files=photograph()).status_code == 200
    (found,) = proofs(ruled)
    assert found.values == (pytest.approx(0.24),) and found.papers == (digest_of(picture()),)


def test_a_proof_taken_back_proves_nothing(page, ruled):
    number = proof(page, "test.opens", value="yes").json()["entry"]
    assert "Passed" in page.get("/legal").text
    assert page.post(f"/history/{number}/withdraw", data={"key": "u", "back": "/legal"}).status_code == 303
    assert "Passed" not in page.get("/legal").text


def test_the_phones_own_day_is_kept_but_never_one_to_come(page, ruled):
    proof(page, "test.height", value="240", unit="mm", made_on="2026-06-12")
    proof(page, "test.opens", value="yes", made_on="2031-01-01")
    days = {found.fact: entry.day for entry, found in ruled.book.of(ProofRecorded)}
    assert days == {"test.height": date(2026, 6, 12), "test.opens": ruled.today()}


def test_crew_records_and_a_reader_only_looks(crew, reader, ruled):
    assert proof(crew, "test.opens", value="yes").status_code == 200
    assert proof(reader, "test.opens", value="no").status_code == 403
    assert len(proofs(ruled)) == 1
    html = reader.get("/legal/fact/test.opens").text
    assert html and "<form" not in html


def test_markup_in_a_name_is_words(page, ruled):
    name = '<img src=x>"'
    assert proof(page, "test.drivers", value=name, form="witness").status_code == 200
    walk = "/legal/walk?station=papers"
    for path in ("/legal", walk, "/legal/fact/test.licence", "/legal/fact/test.drivers"):
        html = page.get(path).text
        assert "<img src=x" not in html and "&lt;img src=x" in html, path


def _at_stake(garage) -> dict[str, int]:
    """Entries a forged correction could erase, by what they are."""
    day = garage.today()
    written = garage.record(
        [
            Draft(key="hit", day=day, who="Robin", matter=AccidentHappened(what="Into the tyre wall")),
            Draft(key="remark", day=day, who="Robin", matter=Remark(text="Pulls to the left")),
        ]
    )
    return {"hit": written[0].number, "remark": written[1].number}


@pytest.mark.parametrize("target", ["hit", "remark", "other fact", "other side", "abc", "-1", "0", "99999"])
def test_a_correction_takes_the_place_of_a_proof_of_the_same_fact_alone(page, crew, ruled, target):
    at_stake = _at_stake(ruled)
    top = proof(page, "test.top", form="measurement", **TYPED["test.top"]).json()["entry"]
    left = proof(page, "test.anchor", "left", x="1", y="1", z="1").json()["entry"]
    named = {**at_stake, "other fact": top, "other side": left}.get(target, target)
    before = ruled.book.last_number
    for client in (page, crew):
        typed = {"value": "240", "unit": "mm"} if target != "other side" else {"x": "2", "y": "2", "z": "2"}
        fact, each = ("test.anchor", "right") if target == "other side" else ("test.height", "")
        answer = proof(client, fact, each, corrects=str(named), **typed)
        assert answer.status_code == 422 and "to correct" in answer.json()["sentence"]
    assert ruled.book.last_number == before
    assert all(ruled.book.stands(number) for number in (*at_stake.values(), top, left))


@pytest.mark.parametrize("each", ["Kim", "<b>Robin</b>", "Robin\nSam", "Robin ", "", "Robin\u200b"])
def test_only_a_name_that_is_recorded_has_facts_of_its_own(page, ruled, each):
    assert proof(page, "test.licence", "Robin", year="2030").status_code == 422
    proof(page, "test.drivers", value="Robin, Sam", form="witness")
    before = ruled.book.last_number
    assert proof(page, "test.licence", "Robin", year="2025").status_code == 200
    if each.strip() != "Robin":
        assert proof(page, "test.licence", each, year="2025", form="label").status_code == 422
        assert ruled.book.last_number == before + 1


@pytest.mark.parametrize("value", ["\u200b", "\u3164", "Robin\u202e, Sam", "\u2060Robin", "Rob\x07in"])
def test_what_nobody_can_see_is_no_value(page, ruled, value):
    before = ruled.book.last_number
    assert proof(page, "test.drivers", value=value, form="witness").status_code == 422
    assert proof(page, "test.height", value="240", unit="mm", serial=value).status_code in (422, 200)
    assert not [one for one in proofs(ruled) if one.fact == "test.drivers"]
    assert all(one.serial in ("", "\u3164") for one in proofs(ruled)), before


def test_a_key_used_for_something_else_saves_nothing_and_says_so(page, ruled):
    first = proof(page, "test.height", value="240", unit="mm", key="one")
    number = first.json()["entry"]
    assert proof(page, "test.height", value="240", unit="mm", key="one").json()["entry"] == number
    before = ruled.book.last_number
    for fact, typed in (
        ("test.height", {"value": "250", "unit": "mm"}),
        ("test.opens", {"value": "yes"}),
        ("test.height", {"value": "240", "unit": "mm", "serial": "A 17"}),
        ("test.height", {"value": "240", "unit": "mm", "corrects": str(number)}),
    ):
        answer = proof(page, fact, key="one", **typed)
        assert answer.status_code == 409 and f"entry {number}" in answer.json()["sentence"], typed
    picture_late = proof(page, "test.height", value="240", unit="mm", key="one", files=photograph())
    assert picture_late.status_code == 409
    hit = {"key": "one", "what": "Kerb", "force": "hard"}
    assert page.post("/legal/accident", data=hit).status_code == 409
    assert ruled.book.last_number == before


def test_a_correction_keeps_the_photographs_but_those_taken_away(page, ruled):
    first = proof(page, "test.height", value="240", unit="mm", files=photograph()).json()["entry"]
    second = proof(page, "test.height", value="241", unit="mm", corrects=str(first)).json()["entry"]
    digest = digest_of(picture())
    assert [one.papers for one in proofs(ruled)] == [(digest,)]
    assert f'name="without_{digest}"' in page.get("/legal/fact/test.height").text
    away = {f"without_{digest}": "yes"}
    proof(page, "test.height", value="242", unit="mm", corrects=str(second), **away)
    assert [one.papers for one in proofs(ruled)] == [()]


SHORT = [
    ("test.label", {"year": "26"}, date(2026, 12, 31), "2026, <em>guessed"),
    ("test.label", {"year": "2025", "month": "nov"}, date(2025, 11, 30), "November 2025"),
    ("test.label", {"year": "25", "month": "Nov.", "day_marked": "5"}, date(2025, 11, 5), "guessed"),
]


@pytest.mark.parametrize(("fact", "typed", "day", "words_back"), SHORT)
def test_a_date_in_short_is_read_and_a_guess_is_said(page, ruled, fact, typed, day, words_back):
    assert words_back in page.get("/legal/understood", params={"fact": fact, **typed}).text
    assert proof(page, fact, form="label", **typed).status_code == 200
    assert [one.marked for one in proofs(ruled)] == [day]


def test_what_is_wrong_with_a_date_is_said_by_its_boxes(page, ruled):
    sentence = proof(page, "test.label", month="3").json()["sentence"]
    assert "no year" in sentence and "month '3'" in sentence and "2024-03-15" not in sentence


def test_the_verdict_comes_back_with_what_was_saved(page, ruled):
    near = proof(page, "test.anchor", "left", x="1", y="1", z="1").json()["verdict"]
    assert near.startswith("Open for another reason: Shoulder strap, side view")
    assert proof(page, "test.opens", value="yes").json()["verdict"] == "Passes: Bonnet opened by marshals."
    assert "Fail: Bonnet" in proof(page, "test.opens", value="no").json()["verdict"]
    figure = proof(page, "test.height", value="260", unit="mm").json()["verdict"]
    assert figure.startswith("Open for another reason: Height of numbers")
    close = proof(page, "test.plate", value="90 x 100 mm", unit="mm").json()["verdict"]
    assert close.startswith("Advised against: Area of the plate") and "90 cm" in close and "100 cm" in close


def test_the_usual_doubt_is_read_back_before_it_is_saved(page, ruled):
    query = {"fact": "test.height", "value": "240", "unit": "mm"}
    usual = words(page.get("/legal/understood", params=query).text)
    assert "240.0 mm ± 1.0 mm, ± as usual for it" in usual
    own = words(page.get("/legal/understood", params={**query, "error": "3"}).text)
    assert "± 3 mm" in own and "usual" not in own
