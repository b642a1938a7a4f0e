"""Entries written from a form: a key sent twice writes once, and a conflict is shown with both sides."""

from collections.abc import Sequence
from dataclasses import dataclass

from tintop.errors import Conflict
from tintop.garage.keeper import Garage
from tintop.logbook.entries import Draft, Entry
from tintop.web.page import new_key
from tintop.web.typed_form import TypedForm, hand_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One field two people filled in differently: what stands now, and what was typed here."""

    label: str
    theirs: str
    mine: str


def form_of(garage: Garage, typed: dict[str, str]) -> TypedForm:
    """A form with what was typed, and a key of its own where it brought none."""
    return TypedForm(hand=hand_of(garage), typed={**typed, "key": typed.get("key") or new_key()})


class UsedBefore(Conflict):
    """The form was saved before, with something else in it; nothing was written now."""

    def __init__(self, there: Entry) -> None:
        super().__init__("the form", f"entry {there.number}")
        self.args = (
            f"This form was saved before with something else in it, entry {there.number}; nothing was saved "
            "now. Load the page anew and type it there, or correct that entry.",
        )


def written_before(garage: Garage, key: str, *kinds: type) -> Entry | None:
    """The entry of a key, if it was written already; UsedBefore for one that is of none of the `kinds`."""
    there = next((entry for entry in reversed(garage.book.entries) if entry.key == key), None)
    if there is not None and kinds and not isinstance(there.matter, kinds):
        raise UsedBefore(there)
    return there


def write(garage: Garage, drafts: Sequence[Draft], key: str) -> Entry:
    """Write drafts and give the entry of a key, or give it as it was written before with the same key.

    Raises UsedBefore for a key that something else was written with.
    """
    there = written_before(garage, key)
    if there is None:
        return next(entry for entry in garage.record(drafts) if entry.key == key)
    draft = next(draft for draft in drafts if draft.key == key)
    if (there.matter, there.corrects) != (draft.matter, draft.corrects):
        raise UsedBefore(there)
    return there


def differences(
    labels: Sequence[tuple[str, str]], theirs: dict[str, str], mine: dict[str, str]
) -> list[Difference]:
    """The fields, by name and label, in which two typed forms differ."""
    return [
        Difference(label=label, theirs=theirs.get(name, ""), mine=mine.get(name, ""))
        for name, label in labels
        if theirs.get(name, "") != mine.get(name, "")
    ]
