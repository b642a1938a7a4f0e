from datetime import date

from tintop.answer import Verdict
from tintop.logbook.entries import MeetingPlanned
from tintop.questions.is_it_legal import is_it_legal


def test_nothing_is_proven_without_a_rule_book():
    day = date(2026, 6, 20)
    plan = MeetingPlanned(meeting="summer", name="Midsummer Hours", first_day=day, last_day=day)
    for answer in (is_it_legal(), is_it_legal(plan)):
        assert answer.verdict is Verdict.NOT_PROVEN
        assert answer.sentence == "Not proven: no rule book has been inspected."
        assert "scrutineer" in answer.cautions[0]
        assert answer.next_thing
    assert "Midsummer Hours" in is_it_legal(plan).why[0]
