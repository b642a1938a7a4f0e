"""Proofs of one fact: recorded with their photographs, looked back on, corrected, taken back."""

from collections.abc import Mapping
from dataclasses import dataclass

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException

from tintop.errors import BadInput, Conflict, TintopError
from tintop.garage.rule_books import facts_of
from tintop.logbook.entries import Draft, Entry, PaperAdded
from tintop.logbook.proof_entries import ProofRecorded
from tintop.logbook.proof_values import proof_in_words
from tintop.rules.facts import Fact, FactKind
from tintop.rules.figures import write_value
from tintop.web.hand_memory import remember_who, who_of
from tintop.web.inspected import Inspected, inspected, meeting_of, nothing_inspected
from tintop.web.legal_view import Typed, words_for
from tintop.web.page import Typed as Given
from tintop.web.page import Visit, Visitor, Writer, go_to, show
from tintop.web.pages.shell import local_address
from tintop.web.proof_form import (
    Upload,
    error_of,
    is_guessed,
    is_same,
    last_value,
    more_papers,
    parts_on_hand,
    proof_drafts,
    read_typed,
    units_of,
)
from tintop.web.typed_form import TypedForm
from tintop.web.uploads import LARGEST, judged, plain_name
from tintop.web.walk_cards import Card, cards_for, instruments_used, verdict_in_words
from tintop.web.writing import UsedBefore, form_of, write, written_before

router = APIRouter()
_MOST_SHOWN = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One proof as it was recorded; `counts` where the inspection rests on it."""

    entry: Entry
    proof: ProofRecorded
    words: str
    counts: bool
    part: str
    papers: tuple[PaperAdded, ...]
    typed: Typed


@router.get("/legal/understood")
def understood(visit: Visitor, request: Request, fact: str = "") -> Response:
    """Say what is understood of a fact's value while it is typed; nothing is written."""
    form = form_of(visit.garage, dict(request.query_params))
    found = _facts(visit, "").get(fact)
    if found is None:
        raise HTTPException(404)
    read = read_typed(found, form) if any(form.text(name) for name in _VALUE) else None
    template = request.app.state.templates.get_template("understood_fact.html")
    error, is_usual = error_of(found, form, read[0], read[1]) if read else (0.0, False)
    words = write_value(found, read[0], error) if read else ""
    answer = template.render(
        words=words,
        problem=form.problems.get("value", ""),
        is_guessed=read is not None and is_guessed(found, form),
        is_usual=is_usual,
    )
    return HTMLResponse(answer.strip())


_VALUE = ("value", "x", "y", "z", "year", "month", "day_marked")


@router.post("/legal/proofs")
async def record(visit: Writer, request: Request, given: Given) -> Response:
    """Record a proof with its photographs: all of it, or nothing; sent twice it is recorded once."""
    sent = await request.form(max_files=8, max_fields=300)
    files = [
        (each.filename or "", await each.read(LARGEST + 1))
        for _name, each in sent.multi_items()
        if isinstance(each, UploadFile) and (each.filename or each.size)
    ]
    from starlette.concurrency import run_in_threadpool

    return await run_in_threadpool(_record, visit, given, files)


def _record(visit: Visit, given: dict[str, str], files: list[tuple[str, bytes]]) -> Response:
    garage = visit.garage
    form = form_of(garage, given)
    facts = _facts(visit, form.text("event"))
    fact = facts.get(form.text("fact"))
    if fact is None:
        raise HTTPException(404)
    uploads = _judged(form, files)
    written = written_before(garage, form.text("key"))
    if written is not None and is_same(fact, form, uploads, written):
        return _saved(visit, form, written)
    if written is not None:
        form.problems = {"": str(UsedBefore(written))}
        return _refused(visit, fact, form, status=409)
    _check_instance(visit, facts, fact, form)
    try:
        entry = _write(visit, fact, form, uploads) if form.is_good else None
    except (BadInput, Conflict) as error:
        form.refuse_all(error)
        return _refused(visit, fact, form, status=409 if isinstance(error, Conflict) else 422)
    if entry is None:
        return _refused(visit, fact, form)
    answer = _saved(visit, form, entry)
    remember_who(answer, form.text("who"))
    return answer


def _check_instance(visit: Visit, facts: Mapping[str, Fact], fact: Fact, form: TypedForm) -> None:
    """Refuse an instance that the fact which lists them does not name."""
    if not isinstance(fact.each, str) or form.text("adds_to"):
        return
    listing, each = facts.get(fact.each), form.text("each")
    names = last_value(visit.garage.book, listing, "") if listing is not None else None
    if not isinstance(names, tuple) or each not in names:
        of = listing.ask if listing is not None else fact.each
        form.refuse("", f"Found {each[:60]!r}; expected one of those recorded under {of}.")


def _write(visit: Visit, fact: Fact, form: TypedForm, uploads: list[Upload]) -> Entry | None:
    drafts = _drafts(visit, fact, form, uploads)
    if not drafts:
        return None
    for each in uploads:
        visit.garage.keep_original(each.name, each.media_type, each.content)
    return write(visit.garage, drafts, form.text("key"))


def _drafts(visit: Visit, fact: Fact, form: TypedForm, uploads: list[Upload]) -> list[Draft]:
    if not form.text("adds_to"):
        return proof_drafts(visit.garage, visit.who, fact, form, uploads)
    there = visit.garage.book.entry(form.entry_number("adds_to") or 0)
    if there is None or not isinstance(there.matter, ProofRecorded) or there.matter.fact != fact.name:
        form.refuse("", "Found no such proof; expected one that stands in the logbook.")
    elif not uploads:
        form.refuse("photo", "Found no photograph; choose one first.")
    else:
        return more_papers(visit.garage, form, there, uploads)
    return []


def _judged(form: TypedForm, files: list[tuple[str, bytes]]) -> list[Upload]:
    found = []
    for name, content in files:
        try:
            kind = judged(content)
        except BadInput as error:
            form.refuse("photo", f"{plain_name(name, 'image/jpeg')}: {_words(error)}")
            continue
        found.append(Upload(name=plain_name(name, kind), media_type=kind, content=content))
    return found


def _saved(visit: Visit, form: TypedForm, entry: Entry) -> Response:
    if _wants_data(visit):
        matter = entry.matter
        words = proof_in_words(matter) if isinstance(matter, ProofRecorded) else ""
        told = {"entry": entry.number, "words": f"{words}, entry {entry.number}"}
        return JSONResponse({**told, "verdict": _verdict(visit, form, entry)})
    address = local_address(form.text("back") or "/legal").partition("?")[0]
    event = form.text("event")
    return go_to(address, saved=entry.number, **({"event": event} if event else {}))


def _verdict(visit: Visit, form: TypedForm, entry: Entry) -> str:
    """What the event's books say of a proof now, in words."""
    found = _inspected(visit, form.text("event"))
    proof = entry.matter
    fact = found.facts.get(proof.fact) if isinstance(proof, ProofRecorded) else None
    if fact is None or not isinstance(proof, ProofRecorded):
        return ""
    cards = cards_for(fact, found, visit.garage.book)
    return next((verdict_in_words(card) for card in cards if card.key.each == proof.each), "")


def _refused(visit: Visit, fact: Fact, form: TypedForm, status: int = 422) -> Response:
    if _wants_data(visit):
        sentence = " ".join(form.problems.values())
        is_asked = set(form.problems) == {"sure"}
        return JSONResponse({"sentence": sentence, "is_asked": is_asked}, status_code=status)
    return _shown(visit, fact, form, form.text("event"), status=status)


def _wants_data(visit: Visit) -> bool:
    return "application/json" in visit.request.headers.get("accept", "")


@router.get("/legal/fact/{name}")
def fact_page(visit: Visitor, name: str, event: str = "") -> Response:
    """One fact: where to record it, every proof of it, and what asks for it."""
    fact = _facts(visit, event).get(name)
    if fact is None:
        raise HTTPException(404)
    return _shown(visit, fact, form_of(visit.garage, {}), event)


def _facts(visit: Visit, event: str) -> Mapping[str, Fact]:
    return {**facts_of(visit.garage), **_inspected(visit, event).facts}


def _inspected(visit: Visit, event: str) -> Inspected:
    meeting = meeting_of(visit, event)
    try:
        return inspected(visit.garage, meeting) if meeting is not None else nothing_inspected(visit.garage)
    except TintopError:
        return nothing_inspected(visit.garage)


def _shown(visit: Visit, fact: Fact, form: TypedForm, event: str, status: int = 200) -> Response:
    found = _inspected(visit, event)
    cards = cards_for(fact, found, visit.garage.book)
    is_typed = bool(form.text("fact"))
    return show(
        visit,
        "fact.html",
        status=status,
        fact=fact,
        meeting=meeting_of(visit, event),
        cards=cards,
        card_of={card.key.each: card for card in cards},
        nothing=f"It is recorded for each of the {fact.each}: record those first.",
        history=_history(visit, fact, cards),
        fallen=[
            f"{key.each}: {why}" if key.each else why
            for key, why in found.fallen.items()
            if key.fact == fact.name
        ],
        findings=found.by_fact.get(fact.name, ()),
        typed=Typed(form.typed if is_typed else {}),
        problems=Typed(form.problems),
        refused=" ".join(form.problems.values()) if is_typed else "",
        parts=parts_on_hand(visit.garage),
        units_of=units_of,
        who=who_of(visit),
        instruments=sorted(set(instruments_used(visit.garage.book).values())),
        **words_for(found),
    )


def _history(visit: Visit, fact: Fact, cards: tuple[Card, ...]) -> list[Line]:
    book, parts = visit.garage.book, parts_on_hand(visit.garage)
    papers = {paper.digest: paper for _entry, paper in book.of(PaperAdded)}
    counting = {card.proven.entry for card in cards if card.proven is not None}
    lines = [
        Line(
            entry=entry,
            proof=proof,
            words=proof_in_words(proof),
            counts=entry.number in counting,
            part=parts.get(proof.part, proof.part),
            papers=tuple(papers[digest] for digest in proof.papers if digest in papers),
            typed=Typed(typed_again(fact, entry, proof)),
        )
        for entry, proof in book.of(ProofRecorded)
        if proof.fact == fact.name
    ]
    return sorted(lines, key=lambda line: (line.entry.day, line.entry.number), reverse=True)[:_MOST_SHOWN]


def typed_again(fact: Fact, entry: Entry, proof: ProofRecorded) -> dict[str, str]:
    """A proof as it would be typed into its form."""
    typed = {
        "value": proof.written,
        "form": proof.form,
        "serial": proof.serial,
        "part": proof.part,
        "instrument": entry.instrument,
        "note": entry.note,
        "who": entry.who,
        "day": entry.day.isoformat(),
    }
    if fact.kind is FactKind.MARKED and proof.marked is not None:
        parts = [f"{proof.marked:%Y}", f"{proof.marked:%m}", f"{proof.marked:%d}"]
        shown = {"year": 1, "month": 2, "day": 3}.get(proof.marked_to, 3)
        typed |= dict(zip(("year", "month", "day_marked"), parts[:shown], strict=False)) | {"value": ""}
    if fact.kind is FactKind.POINT and len(proof.values) == 3:
        typed |= {axis: f"{1e3 * one:.10g}" for axis, one in zip("xyz", proof.values, strict=True)} | {
            "value": ""
        }
    return typed


def _words(error: BadInput) -> str:
    return " ".join(
        f"found {each.found}; expected {each.expected}. {each.cure}".strip() for each in error.problems
    )
