"""The build book: what has gone into the car, for a buyer, an insurer, a scrutineer, a supporter."""

from collections.abc import Iterator, Sequence

from tintop.logbook.amounts import amount
from tintop.logbook.costs import Costs
from tintop.logbook.entries import Counter
from tintop.logbook.lives import Life
from tintop.logbook.sessions import Session
from tintop.logbook.support import Supporter
from tintop.logbook.wear import Wear
from tintop.papers.car_chapters import (
    build_chapter,
    donor_chapter,
    failures_chapter,
    lives_chapter,
    setup_chapter,
)
from tintop.papers.content import BuildBook, Chapter, plain, shortened
from tintop.papers.mass_chapter import mass_chapter
from tintop.papers.money_chapters import costs_chapter, support_chapter, without_money
from tintop.papers.running_chapters import events_chapter, gaps_chapter, papers_chapter, readings_chapter
from tintop.papers.stand import Stand, day_words

OWNER_EDITION = "Owner's edition, with prices"
PUBLIC_EDITION = "Public edition, without prices, costs and support"
_MOST_FAILED = 4
CAUTIONS = (
    "Every figure is what somebody wrote down on a day with an instrument; who, when and with what stand "
    "beside it where the logbook tells. “Not written down”, “never measured” and a dash mean just that, and "
    "the last chapter gathers what is missing.",
    "This book proves nothing about a part's condition today. Safety kit, cage and papers are the "
    "scrutineer's to judge, by the regulations in force on the day and by the papers themselves.",
    "The logbook is only ever added to: a correction names the entry it corrects, and nothing is erased. "
    "What is printed is what stands on the day of this book.",
)
BY_HAND = (
    "Chassis number",
    "Registration",
    "Governing body's log book",
    "Cage certificate",
    "Signed, and on",
)


def build_book_of(
    stand: Stand,
    *,
    car: str,
    title: str,
    owner: str,
    drawing: str,
    mass_chart: str,
    wear_charts: Sequence[str],
    driven: Sequence[Session],
    lives: tuple[Life, ...],
    worn: Sequence[Wear],
    helpers: Sequence[Supporter],
    costs: Costs | None,
) -> BuildBook:
    """Gather the book; the public edition is gone through once more so that no text holds a sum of money."""
    chapters: list[Chapter] = [
        donor_chapter(stand),
        mass_chapter(stand, mass_chart),
        build_chapter(stand),
        setup_chapter(stand),
        lives_chapter(stand, lives),
        failures_chapter(stand),
        events_chapter(stand, driven),
        readings_chapter(stand, worn, wear_charts),
    ]
    if not stand.is_public:
        chapters += [] if costs is None else [costs_chapter(stand, costs)]
        chapters.append(support_chapter(stand, helpers))
    chapters += [papers_chapter(stand), gaps_chapter(stand, driven)]
    book = BuildBook(
        title=plain(title) or "The car",
        lead=" · ".join(word for word in (plain(car), "what has gone into it") if word),
        edition=PUBLIC_EDITION if stand.is_public else OWNER_EDITION,
        day=stand.day,
        facts=_facts(stand, owner, driven),
        by_hand=BY_HAND,
        failed=tuple(_failed(stand)),
        drawing=drawing,
        chapters=tuple(chapters),
        cautions=CAUTIONS,
    )
    if not stand.is_public:
        return book
    public: BuildBook = without_money(book, stand.currency)
    return public


def _failed(stand: Stand) -> Iterator[str]:
    """What failed and is still on the car, in the words written then."""
    failed = [part for part in stand.build.fitted if part.failed]
    for part in failed[:_MOST_FAILED]:
        what = "; ".join(plain(each.what) for each in part.failed)
        yield f"Failed and still on the car: {shortened(f'{plain(part.title)}: {what}', 160)}"
    if len(failed) > _MOST_FAILED:
        yield f"and {len(failed) - _MOST_FAILED} more failed parts, named in the chapter on failures"


def _facts(stand: Stand, owner: str, driven: Sequence[Session]) -> tuple[tuple[str, str], ...]:
    ledger = stand.ledger
    mass = "never weighed"
    if ledger.today is not None and ledger.today_uncertainty is not None:
        mass = f"{stand.write(ledger.today, 'mass')} ± {stand.write(ledger.today_uncertainty, 'mass')}"
    failed = [part for part in stand.build.fitted if part.failed]
    return (
        ("Owner", plain(owner) or "not said"),
        ("As it stood on", day_words(stand.day)),
        ("Mass without driver and fuel", mass),
        ("Run on circuits", amount(sum(each.run.duration for each in driven), Counter.RUNNING)),
        ("Parts on the car", str(len(stand.build.fitted))),
        ("Failed and still on it", ", ".join(plain(part.title) for part in failed[:3]) or "none known"),
    )
