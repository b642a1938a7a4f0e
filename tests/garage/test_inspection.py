"""A garage's car inspected for an event: by its own books, on what its logbook proves, made once."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inspected_garages import CLUB, TODAY, WRITTEN, draft, new_garage, planned, proof, prove
from tintop.answer import Verdict
from tintop.errors import BadInput
from tintop.garage.answers import given_before, legal_answer, standing
from tintop.garage.inspection import inspected, inspection_of, season_of
from tintop.garage.keeper import Garage
from tintop.logbook.entries import Area, PartAdded, PartFitted, Withdrawn
from tintop.logbook.proof_entries import ProofRecorded
from tintop.rules.evidence import Form
from tintop.rules.facts import FactKey
from tintop.rules.findings import Ruling

EVENT = planned()


@pytest.fixture
def garage(tmp_path):
    found = new_garage(tmp_path / "garage")
    yield found
    found.close()


def rulings(garage: Garage, meeting=EVENT) -> dict[str, Ruling]:
    return {each.id: each.ruling for each in inspection_of(garage, meeting).findings}


def save(garage: Garage, name: str, text: str) -> None:
    stands = garage.store.digests().get(name)
    garage.save_document(name, text, based_on=stands, who="Robin", why="trial")


def test_nothing_is_proven_at_first_and_everything_when_it_is_recorded(garage):
    assert set(rulings(garage).values()) == {Ruling.NOT_PROVEN}
    answer = legal_answer(garage, EVENT)
    assert answer.verdict is Verdict.NOT_PROVEN
    assert "2 clauses that may stop you racing have no evidence" in answer.sentence
    prove(garage)
    assert set(rulings(garage).values()) == {Ruling.PASS}
    answer = legal_answer(garage, EVENT)
    assert answer.verdict is Verdict.YES
    assert answer.works == ("Book club, 2026, your copy",)


@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(fact=st.sampled_from(sorted(WRITTEN)), data=st.data())
def test_taking_any_one_proof_back_turns_its_clause_not_proven(tmp_path_factory, fact, data):
    garage = new_garage(tmp_path_factory.mktemp("proofs") / "garage")
    try:
        prove(garage)
        number = next(e.number for e, one in garage.book.of(ProofRecorded) if one.fact == fact)
        garage.record([draft(Withdrawn(), corrects=number)])
        assert rulings(garage) == {
            f"club:{name.replace('.', '-')}": Ruling.NOT_PROVEN if name == fact else Ruling.PASS
            for name in WRITTEN
        }
    finally:
        garage.close()


def test_a_belt_that_ran_out_and_five_straps_stop_the_car(garage):
    prove(garage, belts__label="2025", belts__straps="5")
    assert rulings(garage)["club:belts-label"] is Ruling.EXPIRES
    answer = legal_answer(garage, EVENT)
    assert answer.verdict is Verdict.NO
    assert answer.sentence.startswith("Not legal: 2 clauses stop you racing, first ")


def test_a_lamp_too_low_is_to_be_mended(garage):
    prove(garage, lamp__height="390 mm")
    answer = legal_answer(garage, EVENT)
    assert answer.verdict is Verdict.CLOSE
    assert "1 to be mended or proven" in answer.sentence


def test_an_event_that_names_no_book_is_not_proven_and_says_so(garage):
    bare = planned("bare", rule_books=())
    assert inspection_of(garage, bare).findings == ()
    found = standing(garage, bare, "legal")
    assert found.answer is not None and found.answer.verdict is Verdict.NOT_PROVEN
    assert "no rule book is named for Bare" in found.answer.sentence


def test_a_book_that_is_not_there_is_said_in_words(garage):
    found = standing(garage, planned("lost", rule_books=("clubb",)), "legal")
    assert found.answer is None
    assert "no rule book 'clubb'" in found.sentence and "club" in found.sentence


def test_an_inspection_is_made_once_until_what_it_stands_on_changes(garage):
    first = inspection_of(garage, EVENT)
    assert inspection_of(garage, EVENT) is first
    prove(garage)
    second = inspection_of(garage, EVENT)
    assert second is not first and inspection_of(garage, EVENT) is second
    save(garage, "rule_books/club.toml", CLUB.replace('"400 mm"', '"500 mm"'))
    assert rulings(garage)["club:lamp-height"] is Ruling.FAIL
    garage.today = lambda: date(2026, 6, 10)
    assert inspection_of(garage, EVENT) is not second


def test_the_garages_own_copy_wins_over_the_shipped_book(garage):
    save(garage, "rule_books/road_drive.toml", CLUB.replace('id = "club"', 'id = "road_drive"'))
    inspection = inspection_of(garage, planned(rule_books=("road_drive",)))
    assert inspection.books[0].is_own_copy
    assert {each.id for each in inspection.findings} == {
        f"road_drive:{name.replace('.', '-')}" for name in WRITTEN
    }


def test_a_book_that_does_not_read_is_refused_when_saved_and_nothing_changes(garage):
    with pytest.raises(BadInput, match=r"club\.toml line \d+"):
        save(garage, "rule_books/club.toml", CLUB.replace("at_least", "at_laest"))
    with pytest.raises(BadInput, match="rule book such as"):
        save(garage, "rule_books/club.csv", CLUB)
    assert garage.document("rule_books/club.toml").text == CLUB


def test_evidence_counts_as_it_stands_today_not_as_it_will(garage):
    late = replace(proof(garage, "belts.straps", "6"), day=date(2026, 6, 15))
    garage.record([late])
    assert rulings(garage)["club:belts-straps"] is Ruling.NOT_PROVEN
    garage.today = lambda: date(2026, 6, 16)
    assert rulings(garage)["club:belts-straps"] is Ruling.PASS


def test_what_fell_is_told_with_its_reason(garage):
    belts = PartAdded(part="belts", name="Belts", family="belts", area=Area.CABIN)
    garage.record([draft(belts), proof(garage, "belts.straps", "6", Form.LABEL, part="belts")])
    found = inspected(garage, EVENT)
    assert "Belts is not on the car" in found.evidence.fallen[FactKey("belts.straps")]
    finding = next(each for each in found.inspection.findings if each.id == "club:belts-straps")
    assert "not on the car" in finding.to_do
    garage.record([draft(PartFitted(part="belts"))])
    assert rulings(garage)["club:belts-straps"] is Ruling.PASS


def test_the_season_says_what_runs_out_before_which_event_and_what_it_costs(tmp_path):
    garage = new_garage(
        tmp_path / "garage",
        (planned(), planned("spring", "2027-03-20"), planned("lost", "2027-04-01", rule_books=("clubb",))),
    )
    belts = PartAdded(part="belts", name="Belts", family="belts", area=Area.CABIN, price_cents=16500)
    garage.record([draft(belts), draft(PartFitted(part="belts"))])
    garage.record([proof(garage, "belts.label", "2026", Form.LABEL, part="belts")])
    season = season_of(garage)
    assert [(each.title, each.expires, each.due_for) for each in season.dates] == [
        ("Rule book: Book club", date(2026, 12, 31), "spring"),
        ("Belts, date", date(2026, 12, 31), "spring"),
    ]
    assert season.cents_for("spring") == 16500
    assert "no rule book 'clubb'" in season.unread["lost"]
    garage.close()


def test_the_answer_is_kept_with_the_books_it_stood_on(garage):
    from tintop.garage.answers import keep_answers

    circuit = "x_m,y_m\n" + "\n".join(f"{x},{y}" for x, y in ((0, 0), (400, 0), (400, 300), (0, 300)))
    garage.store.save_document("circuits/square.csv", circuit, based_on=None, who="Robin", why="new")
    garage.store.save_document("events/summer.toml", "name = 'x'\n", based_on=None, who="Robin", why="new")
    meeting = planned(circuit="circuits/square.csv", document="events/summer.toml")
    garage.record([draft(meeting, key="again", corrects=1)])
    kept = keep_answers(garage, meeting)
    assert {entry.matter.question for entry in kept} >= {"legal"}
    (entry, answer), *_ = given_before(garage, meeting, "legal") or ()
    assert answer == legal_answer(garage, meeting)
    assert entry.matter.revisions == {
        name: garage.document(name).digest for name in ("car.toml", "rule_books/club.toml")
    }
    assert keep_answers(garage, meeting) == ()
    assert entry.day == TODAY
