"""The pack for the scrutineer: the owner's inspection on paper, clause by clause, what is open first."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from tintop.car.cage import Cage
from tintop.car.described import DescribedCar
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.jobs import Job
from tintop.logbook.season import Season
from tintop.papers.content import Chapter, Column, Table, plain
from tintop.papers.money_chapters import without_money
from tintop.papers.pack_chapters import cage_chapter, dates_chapter, open_parts
from tintop.papers.pack_content import Exhibit, ScrutineerPack
from tintop.papers.pack_groups import groups_of, papers_of
from tintop.papers.pack_labels import labels_chapter
from tintop.papers.pack_lines import Shown, reason_of
from tintop.papers.stand import day_words
from tintop.questions.is_it_legal import is_it_legal, known_broken
from tintop.rules.book import RuleBook
from tintop.rules.evidence import Evidence
from tintop.rules.facts import Fact, FactKey
from tintop.rules.findings import WORST_FIRST, Inspection

HANDED = "Copy to hand over, without prices"
OWN = "Owner's own copy, with prices: not to be handed over"
BY_HAND = ("Race number", "Class", "Presented on, at", "Passed on, by")
_MOST_STOPS = 6
LOG_BOOK = FactKey("papers.log_book")


def scrutineer_pack_of(
    inspection: Inspection,
    facts: Mapping[str, Fact],
    meeting: MeetingPlanned,
    season: Season,
    *,
    title: str,
    owner: str,
    car: DescribedCar | None,
    place: str,
    day: date,
    exhibits: Mapping[str, Exhibit],
    parts: Mapping[str, str],
    made: Mapping[str, date] | None = None,
    evidence: Evidence,
    jobs: Sequence[Job],
    cage: Cage | None,
    cage_drawing: str,
    currency: str,
    has_prices: bool,
) -> ScrutineerPack:
    """Gather the pack for an event; `exhibits` are the pictures by digest, `parts` names by short name,
    `made` the days they were made.

    Without prices no sum of money is printed, in what the owner typed neither; the rules' own words are left
    as they stand.
    """

    def own(words: str) -> str:
        return words if has_prices else str(without_money(words, currency))

    shown = Shown(
        inspection=inspection,
        facts=facts,
        numbers={paper.digest: number for number, paper in enumerate(papers_of(inspection), 1)},
        parts=parts,
        evidence=evidence,
        own=own,
        owner=owner,
        made=made or {},
    )
    answer = is_it_legal(meeting, inspection)
    chapters: list[Chapter] = [
        labels_chapter(shown),
        dates_chapter(shown, season, currency, has_prices=has_prices),
    ]
    if cage is not None:
        chapters.append(cage_chapter(cage, cage_drawing))
    last = f" to {day_words(meeting.last_day)}" if meeting.last_day != meeting.first_day else ""
    return ScrutineerPack(
        title=own(plain(title)) or "The car",
        event=own(plain(meeting.name)),
        days=f"{meeting.first_day:%A} {day_words(meeting.first_day)}{last}",
        edition=OWN if has_prices else HANDED,
        day=day,
        question=answer.question,
        sign=answer.verdict.sign,
        verdict=answer.verdict.value,
        sentence=own(plain(answer.sentence.removesuffix(known_broken(inspection)).rstrip())),
        broken=tuple(own(plain(each)) for each in inspection.broken),
        accident=day_words(inspection.accident) if inspection.accident else "",
        counts=tuple((ruling.sign, ruling.value, len(inspection.of(ruling))) for ruling in WORST_FIRST),
        stops=tuple(_stops(shown)),
        facts=tuple(_facts(shown, owner, car, place, day)),
        by_hand=BY_HAND,
        books=_books(shown),
        open=open_parts(shown, jobs),
        groups=tuple(groups_of(shown, exhibits)),
        chapters=tuple(chapters),
        cautions=tuple(dict.fromkeys(plain(each) for each in answer.cautions)),
    )


def _stops(shown: Shown) -> Iterator[tuple[str, str]]:
    found = shown.inspection.stops_racing
    for each in found[:_MOST_STOPS]:
        yield each.ruling.sign, f"{plain(each.clause.title)}: {reason_of(shown, each)}"
    if len(found) > _MOST_STOPS:
        yield "", f"and {len(found) - _MOST_STOPS} more, overleaf"


def _facts(
    shown: Shown, owner: str, car: DescribedCar | None, place: str, day: date
) -> Iterator[tuple[str, str]]:
    yield "Car", shown.own(plain(car.car.name)) if car else "its document could not be read"
    if car is not None:
        engine = car.car.engine
        yield "Engine", f"{1e6 * engine.displacement:,.0f} cm³{', charged' if engine.is_charged else ''}"
    yield "Owner", shown.own(plain(owner)) or "not said"
    yield "Circuit", shown.own(plain(place))
    yield "Checked on", day_words(day)
    log_book = shown.evidence.proven.get(LOG_BOOK)
    if log_book is not None:
        yield "Log book", shown.value(log_book)


def _books(shown: Shown) -> Table:
    rows = tuple(
        (
            f"[{shown.letter(book)}]",
            plain(book.title),
            plain(book.edition),
            _in_force(book),
            "owner's own copy" if book.is_own_copy else "as shipped",
        )
        for book in shown.inspection.books
    )
    heads, shares = ("", "book", "edition", "in force", "text"), (0.4, 2.4, 3.4, 2.0, 1.4)
    return Table(
        title="Held against, the lowest first",
        note="Working aids: figures with their clause and date, never the regulations.",
        columns=tuple(Column(head=head, share=share) for head, share in zip(heads, shares, strict=True)),
        rows=rows,
        empty="No rule book is named for this event.",
    )


def _in_force(book: RuleBook) -> str:
    until = f"to {day_words(book.valid_to)}" if book.valid_to else "on"
    return f"{day_words(book.valid_from)} {until}"
