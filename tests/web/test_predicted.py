"""Lap and race say what home says where an answer is kept and its drawings are not."""

import html
import re

from predicted import MEETING, TODAY, client_of, new_garage, prediction

from tintop.garage.answers import given_before
from tintop.logbook.entries import AnswerGiven, Draft
from tintop.store.answers import answer_to_text
from tintop.web.formats import lap_time


def _words(found) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", found.text)).split())


def test_a_lap_kept_in_the_logbook_is_told_on_its_page_as_on_home(tmp_path) -> None:
    garage = new_garage(tmp_path)
    basis, quick = garage.basis(MEETING), prediction().quick.answer
    given = AnswerGiven(
        question="quick",
        meeting=MEETING.meeting,
        content=answer_to_text(quick),
        revisions=basis.digests,
        last_entry=garage.book.last_number,
    )
    garage.record([Draft(key="kept", day=TODAY, who="tintop", matter=given)])
    assert given_before(garage, MEETING, "quick")
    client = client_of(garage)
    lap, home, race = (_words(client.get(page)) for page in ("/lap", "/", "/race"))
    seconds = lap_time(next(each.value for each in quick.figures if each.name == "lap time"))
    assert seconds in home and seconds in lap
    assert "Not predicted yet" not in lap and "It still holds" in lap
    assert "Not predicted yet" in race, "no race is kept"
    garage.close()
