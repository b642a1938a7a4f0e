"""A garage with a car, a small rule book of its own, and what proves it."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest

from inspections import book_text, clause_text, fact_text
from stores import new_store
from tintop.garage.keeper import Garage
from tintop.garage.rule_books import facts_of
from tintop.logbook.entries import Draft, Matter, MeetingPlanned
from tintop.logbook.proof_values import proof_entry
from tintop.rules.evidence import Form
from tintop.rules.writing_facts import read_fact
from tintop.store.demo import demo_path

TODAY = date(2026, 6, 9)
CLUB = book_text(
    fact_text("belts.label", "marked date", ask="Belts: label"),
    fact_text("belts.straps", "number", 'quantity = "number"', ask="Belts: straps"),
    fact_text(
        "lamp.height", "number", 'quantity = "length"\nunit = "mm"\nerror = "1 mm"', ask="Lamp: height"
    ),
    clause_text(
        "belts-label",
        '[clause.expires]\nkind = "end of the label\'s year"\nmarked = "belts.label"',
        title="Belts, date",
    ),
    clause_text("belts-straps", 'value = "belts.straps"\nat_least = "6"', title="Belts, straps"),
    clause_text(
        "lamp-height",
        'value = "lamp.height"\nat_least = "400 mm"',
        severity="must be mended",
        title="Lamp, height",
    ),
)
WRITTEN = {"belts.label": "2026", "belts.straps": "6", "lamp.height": "450 mm"}


def fix_today(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every garage opened from now on stands on the day of these tests."""
    monkeypatch.setattr(Garage.__init__, "__defaults__", (lambda: TODAY,))


def planned(meeting: str = "summer", first: str = "2026-06-20", **more) -> MeetingPlanned:
    day = date.fromisoformat(first)
    return MeetingPlanned(
        meeting=meeting,
        name=meeting.capitalize(),
        first_day=day,
        last_day=day,
        **{"rule_books": ("club",), **more},
    )


def draft(matter: Matter, key: str = "", day: date = date(2026, 6, 1), **more) -> Draft:
    return Draft(key=key or repr(matter)[:180], day=day, who="Robin", matter=matter, **more)


def proof(garage: Garage, fact: str, text: str, form: Form = Form.MEASUREMENT, **more) -> Draft:
    known = facts_of(garage)[fact]
    value, error = read_fact(known, text)
    return draft(proof_entry(known, "", value, form, written=text, error=error, **more), key=f"{fact} {text}")


def new_garage(folder: Path, meetings: Sequence[MeetingPlanned] = (planned(),), book: str = CLUB) -> Garage:
    """A garage with the car of the demo, the club's book, and the events; nothing proven."""
    garage = Garage(new_store(folder), today=lambda: TODAY)
    car = demo_path("car.toml").read_text("utf-8")
    garage.save_document("car.toml", car, based_on=None, who="Robin", why="new")
    garage.save_document("rule_books/club.toml", book, based_on=None, who="Robin", why="new")
    garage.record([draft(meeting, key=meeting.meeting) for meeting in meetings])
    return garage


def prove(garage: Garage, **changed: str) -> None:
    """Record all the book asks for, or what is changed of it by `belts__label="2025"`."""
    written = {**WRITTEN, **{name.replace("__", "."): text for name, text in changed.items()}}
    garage.record([proof(garage, fact, text) for fact, text in written.items()])
