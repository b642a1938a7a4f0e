"""Entries written from a form: a key sent twice writes once, and a conflict is shown with both sides."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from tintop.garage.keeper import Garage
from tintop.logbook.book import Logbook
from tintop.logbook.entries import Draft, Entry, Withdrawn
from tintop.web.page import new_key
from tintop.web.typed_form import TypedForm, hand_of

OVER = " over"  # ends the key of what is taken back to make room for a correction


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One field two people filled in differently: what stands now, and what was typed here."""

    label: str
    theirs: str
    mine: str


def form_of(garage: Garage, typed: dict[str, str]) -> TypedForm:
    """A form with what was typed, and a key of its own where it brought none."""
    return TypedForm(hand=hand_of(garage), typed={**typed, "key": typed.get("key") or new_key()})


def written_before(garage: Garage, key: str) -> Entry | None:
    """The entry of a key, if it was written already."""
    return next((entry for entry in reversed(garage.book.entries) if entry.key == key), None)


def write(garage: Garage, drafts: Sequence[Draft], key: str) -> Entry:
    """Write drafts and give the entry of a key, or give it as it was written before with the same key."""
    there = written_before(garage, key)
    if there is not None:
        return there
    return next(entry for entry in garage.record(drafts) if entry.key == key)


def correcting(book: Logbook, draft: Draft) -> list[Draft]:
    """The drafts that put one in place of the standing entry it corrects.

    Where that entry is itself a correction it is taken back first and what it corrected is corrected anew:
    an entry stands while nothing standing corrects it, so the first would otherwise stand beside the third.
    """
    entry = book.entry(draft.corrects) if draft.corrects is not None else None
    if entry is None or entry.corrects is None or isinstance(entry.matter, Withdrawn):
        return [draft]
    taken_back = Draft(
        key=f"{draft.key}{OVER}",
        day=draft.day,
        who=draft.who,
        matter=Withdrawn(reason="corrected again"),
        corrects=entry.number,
    )
    return [taken_back, replace(draft, corrects=entry.corrects)]


def differences(
    labels: Sequence[tuple[str, str]], theirs: dict[str, str], mine: dict[str, str]
) -> list[Difference]:
    """The fields, by name and label, in which two typed forms differ."""
    return [
        Difference(label=label, theirs=theirs.get(name, ""), mine=mine.get(name, ""))
        for name, label in labels
        if theirs.get(name, "") != mine.get(name, "")
    ]
