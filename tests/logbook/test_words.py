"""An entry in words: by names where they are known, by short names where not."""

from books import Writer
from tintop.logbook.entries import JobDone, JobOpened, PartFailed, PartInspected
from tintop.logbook.proof_values import proof_entry
from tintop.logbook.words import fact_names, names_in, words_of
from tintop.rules.evidence import Form
from tintop.rules.facts import Fact, FactKind, Station


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


def test_a_proof_says_the_fact_as_it_is_asked_for_and_the_part_it_is_about():
    anchor = Fact(
        name="harness.shoulder_anchor",
        ask="Shoulder strap's anchor",
        kind=FactKind.POINT,
        station=Station.CABIN,
        each=("left", "right"),
    )
    book = Writer()
    book.part("2026-01-01", "belts", name="Six-point belts")
    proof = proof_entry(
        anchor,
        "left",
        (-1.2, 0.1, 0.8),
        Form.MEASUREMENT,
        written="-1200 100 800 mm",
        part="belts",
    )
    number = book.write("2026-01-02", proof)
    book.write("2026-01-03", proof_entry(anchor, "right", (-1.2, -0.1, 0.8), Form.WITNESS))
    names = {**names_in(book.book), **fact_names({anchor.name: anchor})}
    assert words_of(book.book.entries[number - 1], names) == (
        "Shoulder strap's anchor, left: -1200 100 800 mm (measurement, Six-point belts)"
    )
    assert words_of(book.book.entries[number]) == (
        "harness.shoulder_anchor, right: -1.2, -0.1, 0.8 (witness)"
    )
