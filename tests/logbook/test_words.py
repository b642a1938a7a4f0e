"""An entry in words: by names where they are known, by short names where not."""

from books import Writer
from tintop.logbook.entries import JobDone, JobOpened, PartFailed, PartInspected
from tintop.logbook.words import names_in, words_of


def test_parts_jobs_and_events_are_said_by_their_names():
    book = Writer()
    book.part("2026-01-01", "hoses-2", name="Brake hoses, braided")
    book.meeting("2026-01-01", "summer", "2026-06-20", name="Midsummer Hours")
    book.write("2026-01-01", JobOpened(job="hose-front-left", title="Reroute the front left hose"))
    book.fit("2026-01-02", "hoses-2")
    book.write("2026-02-01", PartFailed(part="hoses-2", what="chafed"))
    book.write("2026-02-02", PartInspected(part="hoses-2", found="new pair"))
    book.write("2026-02-02", JobDone(job="hose-front-left"))
    book.run("2026-06-20", "race", name="Race", laps=60, hours=2, meeting="summer")
    names = names_in(book.book)
    assert [words_of(entry, names) for entry in book.book.entries] == [
        "part: Brake hoses, braided",
        "event: Midsummer Hours, Sat 20 June 2026",
        "job: Reroute the front left hose",
        "fitted Brake hoses, braided",
        "Brake hoses, braided failed: chafed",
        "inspected Brake hoses, braided (new pair)",
        "done: Reroute the front left hose",
        "Race at Midsummer Hours: 60 laps, 120 min",
    ]


def test_a_short_name_nobody_explained_is_said_as_it_is():
    book = Writer()
    book.write("2026-02-02", JobDone(job="hose-front-left"))
    assert words_of(book.book.entries[0], names_in(book.book)) == "done: hose-front-left"
    assert words_of(book.book.entries[0]) == "done: hose-front-left"
