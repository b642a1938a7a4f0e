"""What may stand in a rule book or a file of facts, as written."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from pydantic import Field

from tintop.rules.book import Act, ExpiryKind, Read, Severity
from tintop.rules.evidence import Form
from tintop.rules.facts import FactKind, Station
from tintop.store.documents.text import Document, lines_of, toml_tables
from tintop.store.documents.written import Table, choice

GROUPS = (
    "cage", "seat", "harness", "kit", "fire", "fuel", "electrics", "lights", "towing", "body", "tyres",
    "mass", "power", "numbers", "noise", "papers", "road", "running",
)  # fmt: skip
ACTS: tuple[Act, ...] = ("tightens", "replaces", "waives")
EXPRESSION = "expression"
A_FACT, FACTS = "fact", "list of facts"
_EXAMPLE = 'title = "Noise"'

Text = str | None
Texts = list[str] | None
Day = date | None
Figure = Any  # text, or a plain number


def text(meaning: str, *, form: str = "text", required: bool = False) -> Any:
    """Declare a field of words, days, lists or figures; `form` says to a person what it looks like."""
    return Field(default=None, description=meaning, json_schema_extra={"form": form, "required": required})


def _expression(meaning: str) -> Any:
    return text(meaning, form=EXPRESSION)


def _words(names: Iterable[object], meaning: str, *, required: bool = False, unless: str = "") -> Any:
    """Declare a field of a few words, one that is required `unless` another field is written."""
    field = choice([str(name) for name in names], meaning, required=required)
    field.json_schema_extra["unless"] = unless
    return field


class HeadTable(Table):
    """[book]: what the book is, and on which books it stands."""

    id: Text = text("short name, the same as its file's: small letters, digits, - and _", required=True)
    title: Text = text("what the book is called", required=True)
    edition: Text = text("which edition, such as 2026 or 2026-1", required=True)
    jurisdiction: Text = text("who has to keep it, and where", required=True)
    valid_from: Day = text("first day it is in force", form="day", required=True)
    valid_to: Day = text("last day it is in force", form="day")
    builds_on: Texts = text("ids of the books it stands on, lowest first", form="list of texts")
    partial: bool | None = text(
        "true if it holds only some of its regulations' figures: alone it never says legal", form="flag"
    )
    cautions: Texts = text("what is said wherever the book is shown", form="list of texts", required=True)


class FactTable(Table):
    """[[fact]]: one thing to be recorded of the car that no shipped fact covers."""

    name: Text = text("dotted name, such as numbers.door_height", required=True)
    ask: Text = text("the words that ask for it", required=True)
    kind: Text = _words(FactKind, "what form its value has", required=True)
    station: Text = _words(Station, "where one stands to see it", required=True)
    quantity: Text = text("quantity of a number or numbers, such as length; see the units")
    unit: Text = text("the unit it is usually written in")
    how: Text = text("how it is measured or found")
    choices: Texts = text("the words to choose from, for kind choice", form="list of texts")
    each: Any = text(
        "the instances recorded apart, or the name of a fact of kind names that lists them",
        form="list of texts, or a fact",
    )
    error: Text = text("the usual ± when none is given, such as 1 mm")
    photograph: bool | None = text("true if a photograph belongs to it", form="flag")
    least: Text = text("least usual value; less is asked about, and below zero refused unless this is")
    most: Text = text("most usual value; more is asked about")
    in_future: bool | None = text("true if its date may be a day to come, as on a label", form="flag")
    forms: Texts = text(
        f"forms of proof that will do where a clause names none: {', '.join(Form)}", form="list of words"
    )
    lasts_through_accident: bool | None = text(
        "true if no hit can change it, such as who welded a cage", form="flag"
    )
    renewed_by_inspection: bool | None = text(
        "true if after a hit it counts on once its part was inspected since", form="flag"
    )


class RowTable(Table):
    """One row of tubes allowed up to a quantity."""

    up_to: Figure = text("up to and with this figure; left out in the last row for any", form="figure")
    tubes: Texts = text(
        "pairs of diameter and wall, such as 45 x 2.5 mm", form="list of texts", required=True
    )


class ExpiresTable(Table):
    """[clause.expires]: a last good day by rule."""

    kind: Text = _words(ExpiryKind, "how the last good day follows", required=True)
    marked: Text = text(
        "fact with the date the label bears; without a life, any fact of the label", form=A_FACT
    )
    years: int | None = text("years added", form="whole number")
    months: int | None = text("months added", form="whole number")
    earliest_of: Texts = text("facts whose dates end it sooner", form=FACTS)
    extended_from: Text = text("fact with the date of the second certificate", form=A_FACT)
    extension_years: int | None = text("years the second certificate adds", form="whole number")
    standard: Text = text("fact that names the standard, for kind standard withdrawn", form=A_FACT)
    until: dict[str, Any] | None = text(
        'last day by standard, such as { "A-2015" = 2023-12-31, "A-2020" = "no end" }', form="table of days"
    )


class ClauseTable(Table):
    """[[clause]]: one requirement, where it comes from, and one check of it."""

    id: Text = text("short name, unique in the book", required=True)
    group: Text = _words(GROUPS, "part of the car or the event", required=True)
    title: Text = text("a few words", required=True)
    requirement: Text = text("what is asked, in own words, one or two sentences", required=True)
    reference: Text = text("article or clause of the regulation", required=True)
    severity: Text = _words(Severity, "what it means to miss it", required=True, unless="waives")
    known: Text = _words(Read, "how the figure came into the book", required=True, unless="waives")
    source: Text = text("where it was read; needed when read or quoted")
    applies_if: Text = _expression("condition under which it applies")
    proof: Texts = text(f"forms of proof of which any will do: {', '.join(Form)}", form="list of words")
    photograph: bool | None = text("true if a photograph has to be kept with it", form="flag")
    renewed_after_accident: bool | None = text(
        "true if proof older than a hard hit does not count", form="flag"
    )
    caution: Text = text("what to beware of")
    cure: Text = text("what to do when it is not met")
    tightens: Text = text("book:clause below that applies too; the worse verdict decides")
    replaces: Text = text("book:clause below that no longer applies")
    waives: Text = text("book:clause below that does not apply; no check beside it")
    verified_on: Day = text("day on which a figure from memory was looked up", form="day")
    verified_by: Text = text("who looked it up")

    value: Figure = _expression("check: a value against the limits beside it, or the words of one_of")
    at_least: Figure = _expression("mandatory lower limit of value")
    at_most: Figure = _expression("mandatory upper limit of value")
    recommended_at_least: Figure = _expression("recommended lower limit of value")
    recommended_at_most: Figure = _expression("recommended upper limit of value")
    one_of: Texts = text("words one of which value has to be", form="list of texts")
    holds: Text = _expression("check: a condition that has to hold")
    recommended: Text = _expression("a condition that is recommended, alone or beside holds")
    tube: Text = text("check: fact of a tube against listed pairs", form=A_FACT)
    tubes: Texts = text("pairs of diameter and wall allowed, such as 45 x 2.5 mm", form="list of texts")
    by: Text = _expression("quantity that picks the row, with rows in place of tubes")
    rows: list[RowTable] = Field(default=[], description="rows of tubes by a quantity, in rising order")
    shown: Texts = text("check: facts that have to be on record", form=FACTS)
    expires: ExpiresTable | None = Field(default=None, description="check: a last good day by rule")


class FactsDocument(Table):
    """A file of shipped facts."""

    fact: list[FactTable] = Field(default=[], description="facts")


class BookDocument(FactsDocument):
    """A rule book."""

    book: HeadTable = HeadTable()
    clause: list[ClauseTable] = Field(default=[], description="clauses")


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleBookText(Document):
    """A parsed rule book or file of facts; its clauses and facts are named by their own names."""

    text: str

    def where(self, path: str) -> str:
        """Name the file, the line, the clause or fact, and the field."""
        line = self.line_of(path)
        start = f"{self.name} line {line}" if line else self.name
        return ", ".join([start, *self._steps(path)])

    def _steps(self, path: str) -> list[str]:
        kind, _, rest = path.partition(".")
        place, _, field = rest.partition(".")
        entries = self.tables.get(kind)
        if kind not in ("clause", "fact") or not place.isdigit() or not isinstance(entries, list):
            return [path] if path else []
        entry = entries[int(place) - 1] if int(place) <= len(entries) else None
        name = entry.get("id" if kind == "clause" else "name") if isinstance(entry, dict) else None
        shown = repr(name[:60]) if isinstance(name, str) else place
        return [f"{kind} {shown}", *([field] if field else [])]


def book_text(text: str, name: str) -> RuleBookText:
    """Parse the text of a rule book or facts; raises BadInput with the line if it is not TOML."""
    return RuleBookText(name=name, tables=toml_tables(text, name, _EXAMPLE), lines=lines_of(text), text=text)
