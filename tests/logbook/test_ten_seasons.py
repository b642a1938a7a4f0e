"""The book of ten seasons made by chance is the size it says, and the same each time."""

import sys
from collections import Counter
from pathlib import Path

from logbook.entry_strategies import entry_of
from tintop.logbook.book import logbook_of
from tintop.logbook.entries import CostPaid, Reading, SessionRun, Withdrawn

sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))

from ten_seasons import ten_seasons


def test_ten_seasons_are_as_many_as_they_say_and_always_the_same() -> None:
    drafts = ten_seasons()
    assert drafts == ten_seasons()
    kinds = Counter(type(draft.matter) for draft in drafts)
    assert (kinds[Reading], kinds[SessionRun], kinds[CostPaid]) == (10_000, 400, 60_000)
    assert len({draft.key for draft in drafts}) == len(drafts)
    book = logbook_of(entry_of(draft, number, draft.corrects) for number, draft in enumerate(drafts, 1))
    assert len(book.standing[CostPaid]) == 60_000 - kinds[Withdrawn]
