"""A proof as it is typed: the fields of each kind of fact made one text, read, and made an entry."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from tintop.errors import BadInput, TintopError
from tintop.garage.keeper import Garage
from tintop.logbook.book import Logbook
from tintop.logbook.entries import Draft, Entry, PaperAdded
from tintop.logbook.proof_entries import ProofRecorded
from tintop.logbook.proof_values import fits_of, proof_entry, value_of
from tintop.logbook.proofs import error_counted
from tintop.rules.evidence import Form
from tintop.rules.facts import Fact, FactKind, FactValue
from tintop.rules.plausible import impossible, unlikely
from tintop.rules.shorthand import month_number, year_in_full
from tintop.rules.writing_facts import read_fact
from tintop.units import UNITS
from tintop.web.typed_form import TypedForm, build_today
from tintop.web.understanding import sentence_of
from tintop.web.uploads import MediaType

FORMS = tuple(form.value for form in Form)
_BARE = re.compile(r"[\s\d.,;+±/x×*øØ−-]+")
_BOXES = ("year", "month", "day_marked")
_LEFT_OUT = {"temperature": ("K",), "length": ("km", "mi"), "number": (), "share": ()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Upload:
    """A photograph or paper sent with a proof, judged already."""

    name: str
    media_type: MediaType
    content: bytes


def units_of(fact: Fact) -> tuple[str, ...]:
    """The units a fact may be typed in, its usual one first; none for what has no unit."""
    quantity = fact.quantity or ("length" if fact.kind in _LENGTHS else "")
    left_out = _LEFT_OUT.get(quantity, ())
    named = [unit.name for unit in UNITS.get(quantity, ()) if unit.name and unit.name not in left_out]
    usual = usual_unit(fact)
    return tuple(dict.fromkeys((usual, *named))) if usual else tuple(named)


_LENGTHS = (FactKind.POINT, FactKind.OUTLINE, FactKind.TUBE)


def usual_unit(fact: Fact) -> str:
    """The unit a fact is usually written in."""
    return fact.unit or ("mm" if fact.kind in _LENGTHS else "")


def typed_value(fact: Fact, typed: Mapping[str, str], today: date | None = None) -> str:
    """The fields of one fact as one text, such as "-1200 350 900 mm"; empty when none is filled in.

    With `today` a year in two digits is read as the nearest.
    """
    unit = typed.get("unit", "") or usual_unit(fact)
    value = typed.get("value", "").strip()
    if fact.kind is FactKind.POINT and not value:
        parts = [typed.get(axis, "").strip() for axis in "xyz"]
        value = " ".join(part or "?" for part in parts) if any(parts) else ""
    if fact.kind is FactKind.MARKED and not value:
        year, month, day = (typed.get(name, "").strip() for name in _BOXES)
        digits = [part.zfill(2) if part.isdecimal() else part for part in (month_number(month) or month, day)]
        if day and not month:
            digits[0] = "?"
        year = year_in_full(year, today) if today else year
        value = "-".join(part for part in (year or "?", *digits) if part) if year or month or day else ""
    if fact.kind is FactKind.OUTLINE:
        value = ", ".join(line.strip(" ,;") for line in value.splitlines() if line.strip(" ,;"))
    is_bare = bool(value) and _BARE.fullmatch(value) is not None
    has_unit = fact.kind in (FactKind.NUMBER, FactKind.NUMBERS, *_LENGTHS)
    return f"{value} {unit}" if is_bare and has_unit and unit else value


def read_typed(fact: Fact, form: TypedForm) -> tuple[FactValue, float | None, str] | None:
    """The value in SI, its ±, and what was written; None when it is wrong, which then stands in the form."""
    text = typed_value(fact, form.typed, form.hand.today)
    if not text:
        form.refuse("value", "Found nothing; this is needed.")
        return None
    doubt = form.text("error").lstrip("±").strip()
    if doubt:
        text = f"{text} ± {doubt}" if "±" not in text else text
    try:
        value, error = read_fact(fact, text)
    except BadInput as problem:
        form.refuse("value", _boxes_words(form) or sentence_of(problem))
        return None
    if why := impossible(fact, value, form.hand.today):
        form.refuse("value", f"Found {why}; expected {_possible(fact)}.")
        return None
    return value, error, text


def is_guessed(fact: Fact, form: TypedForm) -> bool:
    """Whether what was typed was written in short and read as the likeliest."""
    plain = typed_value(fact, form.typed)
    is_short = typed_value(fact, form.typed, form.hand.today) != plain
    return is_short or (fact.kind is FactKind.TUBE and not re.search("[x×]", plain, re.IGNORECASE))


def error_of(fact: Fact, form: TypedForm, value: FactValue, error: float | None) -> tuple[float, bool]:
    """The ± a typed value will count with [SI], and whether it is the usual one instead of one typed."""
    shape = form.text("form") if form.text("form") in FORMS else Form.MEASUREMENT.value
    values = (value,) if isinstance(value, float) else ()
    counted = error_counted(fact, Form(shape), values, error, form.text("instrument"))
    return counted, counted > 0.0 and counted != error


def _boxes_words(form: TypedForm) -> str:
    """What is wrong with a date in its three boxes; empty where it was typed elsewhere."""
    boxes = [(word, form.text(name)) for word, name in zip(("year", "month", "day"), _BOXES, strict=True)]
    if form.text("value") or not any(text for _word, text in boxes):
        return ""
    found = ", ".join(f"{word} {text!r}" if text else f"no {word}" for word, text in boxes)
    return (
        f"Found {found}; expected the year as the label bears it, such as 2026, and below it the month "
        "(11 or Nov) and the day where the label bears them."
    )


def _possible(fact: Fact) -> str:
    if fact.kind is not FactKind.MARKED:
        return "zero or more"
    return "a day that has been (one until which a thing is good is another fact, marked so in its rule book)"


def last_value(book: Logbook, fact: Fact, each: str, but: int | None = None) -> FactValue | None:
    """The value of the last proof of a fact's instance; that of entry `but` left out."""
    found = [
        (entry.day, entry.number, proof)
        for entry, proof in book.of(ProofRecorded)
        if (proof.fact, proof.each) == (fact.name, each) and entry.number != but and not fits_of(fact, proof)
    ]
    return value_of(max(found, key=lambda one: one[:2])[2]) if found else None


def proof_drafts(
    garage: Garage, who: str, fact: Fact, form: TypedForm, uploads: Sequence[Upload]
) -> list[Draft]:
    """The entries of one proof, those of its papers first; none when something is wrong or missing."""
    from tintop.store.revisions import digest_of

    read = read_typed(fact, form)
    corrected = corrected_by(garage.book, fact, form)
    shape = form.choice("form", FORMS, Form.MEASUREMENT.value)
    part = form.choice("part", ("", *parts_on_hand(garage)))
    serial, instrument = form.words("serial"), form.words("instrument")
    note, writer = form.words("note"), form.words("who") or who
    day = day_of(form, garage.today())
    pictures = [each for each in uploads if each.media_type.startswith("image/")]
    if shape == Form.PHOTOGRAPH.value and not pictures and not (corrected and corrected.papers):
        form.refuse("form", "Found no photograph; a proof by photograph needs one.")
    if read is not None and not form.ticked("sure"):
        last = last_value(garage.book, fact, form.text("each"), form.entry_number("corrects"))
        if question := unlikely(fact, read[0], last):
            form.refuse("sure", f"{question} If it is right, tick that it is.")
    if read is None or day is None or not form.is_good:
        return []
    value, error, written = read
    digests = {digest_of(each.content): each for each in uploads}
    kept = tuple(one for one in (corrected.papers if corrected else ()) if not form.ticked(f"without_{one}"))
    try:
        proof = proof_entry(
            fact, form.text("each"), value, Form(shape),
            written=written, error=error, serial=serial, part=part,
            papers=tuple(dict.fromkeys((*kept, *digests))),
        )  # fmt: skip
    except TintopError as problem:
        form.refuse("value", str(problem))
        return []
    draft = Draft(
        key=form.text("key"),
        day=day,
        who=writer,
        matter=proof,
        instrument=instrument,
        note=note,
        corrects=form.entry_number("corrects"),
    )
    return [*_papers(garage, draft, digests), draft]


def corrected_by(book: Logbook, fact: Fact, form: TypedForm) -> ProofRecorded | None:
    """The proof a form corrects; refused in the form where it names anything but one of the same instance."""
    if not form.text("corrects"):
        return None
    there = book.entry(form.entry_number("corrects") or 0)
    proof = there.matter if there is not None else None
    if isinstance(proof, ProofRecorded) and (proof.fact, proof.each) == (fact.name, form.text("each")):
        return proof
    form.refuse(
        "", f"Found no proof of {fact.ask} to correct there; expected one that stands in the logbook."
    )
    return None


def is_same(fact: Fact, form: TypedForm, uploads: Sequence[Upload], written: Entry) -> bool:
    """Whether an entry holds what a form sends, so that sending it again changes nothing."""
    from tintop.store.revisions import digest_of

    proof = written.matter
    if not isinstance(proof, ProofRecorded) or proof.fact != fact.name:
        return False
    if not {digest_of(each.content) for each in uploads} <= set(proof.papers):
        return False
    target = form.text("adds_to") or form.text("corrects")
    if target != (str(written.corrects) if written.corrects is not None else ""):
        return False
    if form.text("adds_to"):
        return True
    read = read_typed(fact, form)
    said = (form.text("each"), form.text("form") or Form.MEASUREMENT.value, form.text("serial"))
    return (
        read is not None
        and read[2] == proof.written
        and (*said, form.text("part")) == (proof.each, proof.form, proof.serial, proof.part)
        and (form.text("instrument"), form.text("note")) == (written.instrument, written.note)
    )


def more_papers(garage: Garage, form: TypedForm, there: Entry, uploads: Sequence[Upload]) -> list[Draft]:
    """The entries that add photographs to a proof there is."""
    from tintop.store.revisions import digest_of

    assert isinstance(there.matter, ProofRecorded)
    digests = {digest_of(each.content): each for each in uploads}
    papers = tuple(dict.fromkeys((*there.matter.papers, *digests)))
    draft = Draft(
        key=form.text("key"),
        day=there.day,
        who=there.who,
        matter=replace(there.matter, papers=papers),
        clock=there.clock,
        instrument=there.instrument,
        note=there.note,
        corrects=there.number,
    )
    return [*_papers(garage, draft, digests), draft]


def _papers(garage: Garage, draft: Draft, digests: Mapping[str, Upload]) -> list[Draft]:
    known = {paper.digest for _entry, paper in garage.book.of(PaperAdded)}
    return [
        Draft(
            key=f"{draft.key} paper {place}",
            day=draft.day,
            who=draft.who,
            matter=PaperAdded(
                digest=digest,
                name=each.name,
                media_type=each.media_type,
                size=len(each.content),
                about=getattr(draft.matter, "part", ""),
            ),
        )
        for place, (digest, each) in enumerate(digests.items())
        if digest not in known
    ]


def parts_on_hand(garage: Garage) -> dict[str, str]:
    """Parts a proof may be about, on the car and on the shelf, with their titles."""
    build = build_today(garage)
    return {part.part.part: part.title for part in (*build.fitted, *build.shelf)}


def day_of(form: TypedForm, today: date) -> date | None:
    """The day of a proof: as typed, or as the phone had it when it was made, never one to come."""
    if form.text("day"):
        return form.day_past("day", today)
    try:
        return min(date.fromisoformat(form.text("made_on")), today)
    except ValueError:
        return today
