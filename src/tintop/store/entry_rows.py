"""Entries of the logbook as rows: what goes in is checked, comes back equal, and is written once."""

from collections.abc import Iterable, Sequence
from datetime import date
from functools import cache
from typing import Annotated, Any

from pydantic import Field, TypeAdapter, ValidationError
from sqlalchemy import ColumnElement, Connection, func, insert, select

from tintop.errors import Conflict, refuse
from tintop.logbook.book import corrections_in, entry_of
from tintop.logbook.corrections import Correction, fallen_to
from tintop.logbook.entries import Draft, Entry, Matter, Withdrawn
from tintop.store.plain_text import check_clock, check_day, check_fields, check_line, check_text
from tintop.store.tables import entry as table

_LONGER = {"content": 1_000_000}  # a whole answer with its working
_LONGEST_MATTER = 2_000_000
_KEYS_AT_ONCE = 500


class EntryConflict(Conflict):
    """Another entry came first; `stands` is that entry."""

    def __init__(self, what: str, stands: Entry) -> None:
        self.stands = stands
        super().__init__(what, in_words(stands))


def in_words(entry: Entry) -> str:
    """Name an entry in a few words."""
    by = f" by {entry.who}" if entry.who else ""
    return f"entry {entry.number} ({entry.matter.kind}, {entry.day.isoformat()}{by})"


@cache
def _matters() -> TypeAdapter[Matter]:
    return TypeAdapter(Annotated[Matter, Field(discriminator="kind")])


def matter_to_json(matter: Matter) -> str:
    """Write a matter as JSON text that reads back equal.

    Raises BadInput if it would not.
    """
    kind = str(getattr(matter, "kind", type(matter).__name__))
    check_fields(kind, matter, longer=_LONGER)
    adapter = _matters()
    try:
        text = adapter.dump_json(matter, warnings=False).decode()
        if len(text) > _LONGEST_MATTER:
            raise refuse(kind, f"{len(text):,} characters", f"{_LONGEST_MATTER:,} at most")
        if adapter.validate_json(text) == matter:
            return text
    except ValidationError as error:
        problem = error.errors()[0]
        place = ".".join(str(part) for part in problem["loc"])
        raise refuse(place or kind, repr(problem["input"]), problem["msg"]) from None
    except (TypeError, ValueError) as error:
        raise refuse(kind, str(error), "a matter of the logbook") from None
    raise refuse(kind, repr(matter), "values of the kinds its fields declare")


def matter_from_json(text: str) -> Matter:
    """Read a matter that `matter_to_json` wrote."""
    return _matters().validate_json(text)


def read_entries(connection: Connection, *, after: int = 0) -> tuple[Entry, ...]:
    """Every entry with a number above `after`, in order."""
    return _chosen(connection, table.c.number > after)


def _chosen(connection: Connection, condition: ColumnElement[bool]) -> tuple[Entry, ...]:
    rows = connection.execute(select(*table.c).where(condition).order_by(table.c.number))
    try:
        return _read(rows)
    except ValidationError as error:
        found = str(error.errors()[0]["input"])
        raise refuse(
            "logbook",
            f"an entry this version cannot read ({found[:200]})",
            "entries of the kinds it knows",
            "It was perhaps written by a newer tintop: install that one. Nothing was changed.",
        ) from None


def _read(rows: Iterable[Any]) -> tuple[Entry, ...]:
    matter = _matters().validate_json
    day = date.fromisoformat
    return tuple(
        Entry(
            number=number,
            key=key,
            day=day(on),
            clock=clock,
            written_at=written_at,
            who=who,
            instrument=instrument,
            note=note,
            corrects=corrects,
            matter=matter(text),
        )
        for number, key, on, clock, written_at, who, instrument, note, corrects, _, text in rows
    )


def last_number(connection: Connection) -> int:
    """Number of the last entry, 0 in an empty logbook; numbers run from 1 without a gap."""
    return connection.execute(select(func.max(table.c.number))).scalar() or 0


def append_drafts(connection: Connection, drafts: Sequence[Draft], written_at: str) -> tuple[Entry, ...]:
    """Write drafts as entries, all or (by the transaction around) none; one sent before is given back.

    Raises BadInput for a draft that cannot be kept; EntryConflict if its key was used for something else,
    or what it corrects was corrected by another.
    """
    known = _with_keys(connection, [check_line("key", draft.key) for draft in drafts])
    corrections = _Corrections(connection, drafts)
    last = last_number(connection)
    entries: list[Entry] = []
    rows: list[dict[str, Any]] = []
    for draft in drafts:
        matter = _checked(draft)
        there = known.get(draft.key)
        if there is not None:
            if _draft_of(there) != draft:
                raise EntryConflict(f"the entry sent as {draft.key!r}", there)
            entries.append(there)
            continue
        if draft.corrects is not None:
            corrections.check(draft.corrects, last)
        last += 1
        written = entry_of(draft, last, written_at)
        corrections.add(written)
        known[draft.key] = written
        entries.append(written)
        rows.append(_row(written, matter))
    if rows:
        connection.execute(insert(table), rows)
    return tuple(entries)


def import_entries(connection: Connection, entries: Iterable[Entry]) -> int:
    """Write whole entries, numbers and times of writing kept, into an empty logbook; give how many.

    Raises BadInput if the logbook holds entries, or the numbers do not run from 1 without a gap.
    """
    if last_number(connection):
        raise refuse("logbook", "entries", "an empty logbook to read another one into")
    rows = []
    keys: set[str] = set()
    for place, entry in enumerate(entries, start=1):
        where = f"entry {entry.number}"
        if entry.number != place:
            raise refuse(where, f"number {entry.number}", f"number {place}, without a gap")
        if entry.key in keys:
            raise refuse(where, f"the key {entry.key!r} a second time", "a key of its own")
        if entry.corrects is not None and not 0 < entry.corrects < place:
            raise refuse(where, f"a correction of entry {entry.corrects}", "the number of an earlier entry")
        check_line(f"{where}, time of writing", entry.written_at, longest=40)
        keys.add(entry.key)
        rows.append(_row(entry, _checked(_draft_of(entry))))
    if rows:
        connection.execute(insert(table), rows)
    return len(rows)


class _Corrections:
    """Which entry corrects which; loaded only when one of the drafts is a correction."""

    def __init__(self, connection: Connection, drafts: Sequence[Draft]) -> None:
        self._connection = connection
        self._corrections: list[Correction] = []
        self._new: dict[int, Entry] = {}
        if any(draft.corrects is not None for draft in drafts):
            found = select(table.c.number, table.c.corrects, table.c.kind).where(
                table.c.corrects.is_not(None)
            )
            self._corrections = [
                Correction(number=number, corrects=corrects, is_withdrawal=kind == Withdrawn().kind)
                for number, corrects, kind in connection.execute(found)
            ]

    def check(self, number: int, last: int) -> None:
        if not 1 <= number <= last:
            raise refuse("corrects", f"entry {number}", "the number of an entry in the logbook")
        standing = fallen_to(self._corrections).get(number)
        if standing is not None:
            stands = self._new.get(standing) or _chosen(self._connection, table.c.number == standing)[0]
            raise EntryConflict(f"entry {number}", stands)

    def add(self, entry: Entry) -> None:
        self._new[entry.number] = entry
        self._corrections += corrections_in([entry])


def _checked(draft: Draft) -> str:
    check_line("key", draft.key)
    check_day("day", draft.day)
    check_clock("clock", draft.clock)
    check_text("who", draft.who, longest=200)
    check_text("instrument", draft.instrument)
    check_text("note", draft.note)
    if draft.corrects is not None and type(draft.corrects) is not int:
        raise refuse("corrects", repr(draft.corrects), "the number of an entry")
    if isinstance(draft.matter, Withdrawn) and draft.corrects is None:
        raise refuse("corrects", "nothing", "the number of the entry that is taken back")
    return matter_to_json(draft.matter)


def _with_keys(connection: Connection, keys: Sequence[str]) -> dict[str, Entry]:
    found: dict[str, Entry] = {}
    for start in range(0, len(keys), _KEYS_AT_ONCE):
        some = keys[start : start + _KEYS_AT_ONCE]
        found |= {entry.key: entry for entry in _chosen(connection, table.c.key.in_(some))}
    return found


def _draft_of(entry: Entry) -> Draft:
    return Draft(
        key=entry.key,
        day=entry.day,
        who=entry.who,
        matter=entry.matter,
        clock=entry.clock,
        instrument=entry.instrument,
        note=entry.note,
        corrects=entry.corrects,
    )


def _row(entry: Entry, matter: str) -> dict[str, Any]:
    return {
        "number": entry.number,
        "key": entry.key,
        "day": entry.day.isoformat(),
        "clock": entry.clock,
        "written_at": entry.written_at,
        "who": entry.who,
        "instrument": entry.instrument,
        "note": entry.note,
        "corrects": entry.corrects,
        "kind": entry.matter.kind,
        "matter": matter,
    }
