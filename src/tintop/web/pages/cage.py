"""The cage: held against proof loads, drawn, and what of it is not proven."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.answer import Verdict
from tintop.car.cage import LoadResult
from tintop.charts.cage_drawing import cage_drawing_svg, cage_load_svg
from tintop.errors import TintopError, refuse
from tintop.garage.keeper import CAGE, CAGES
from tintop.questions.will_the_cage_hold import (
    CAUTIONS,
    KNOWN_WORDS,
    CageAnswer,
    will_the_cage_hold,
    written_times,
)
from tintop.references import work
from tintop.reports.cage_facts import drawn_facts, remarks
from tintop.reports.cage_sheet import feet_most, gaps, hardest, joints_most, load_verdict, tube_uses
from tintop.store.document_names import is_document_name
from tintop.store.documents.cage_reader import cage_from
from tintop.store.documents.text import Document, lines_of, toml_tables
from tintop.store.documents.writing_cages import is_from_template, template_fields, with_load, with_template
from tintop.store.garage_store import Revision
from tintop.web.cage_forms import LOAD, MEASURES, beside_blanks, typed_blanks, usual_blanks
from tintop.web.page import Owner, Typed, Visit, Visitor, go_to, show
from tintop.web.predicted import kept

router = APIRouter()


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadRow:
    """One load of the table: its result, and the verdict in words."""

    result: LoadResult
    verdict: Verdict | None
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """A form that was refused: which, what was typed, and the sentences beside its blanks."""

    form: str
    typed: dict[str, str]
    problems: dict[str, str]
    nodes: tuple[str, ...] = ()


async def _ticked(request: Request) -> tuple[str, ...]:
    form = await request.form(max_files=4, max_fields=600)
    return tuple(value for value in form.getlist("nodes") if isinstance(value, str))


Ticked = Annotated[tuple[str, ...], Depends(_ticked)]


@router.get("/cage")
def cage(visit: Visitor, document: str = "", load: str = "", written: str = "") -> Response:
    """The garage's cage, or another of its cages, under its loads; one of them drawn."""
    names = _names(visit)
    if not names and not document:
        return show(visit, "cage_none.html", cautions=CAUTIONS)
    return _page(visit, document or names[0], load, is_written=bool(written))


@router.get("/cage/new")
def new_cage(visit: Owner) -> Response:
    """Where a cage is started from the measures of a cabin."""
    typed = {**usual_blanks(MEASURES), "document": f"{CAGES}/template.toml" if _names(visit) else CAGE}
    return _new(visit, typed, {})


@router.post("/cage/new")
def start_cage(visit: Owner, typed: Typed) -> Response:
    """Write a new cage document from the measures."""
    name, measures = typed.get("document", ""), typed_blanks(MEASURES, typed)
    try:
        if not _is_cage(name):
            raise refuse(
                "document",
                repr(name[:80]),
                f"{CAGE}, or a name such as {CAGES}/template.toml",
                "Small letters.",
            )
        if name in visit.garage.document_names():
            raise refuse("document", f"a document {name} already", "a name that is free")
        visit.garage.save_document(
            name, with_template("", measures), based_on=None, who=visit.who, why="a cage from a template"
        )
    except TintopError as error:
        return _new(visit, {**measures, "document": name}, beside_blanks(error, MEASURES))
    return go_to("/cage", document=name, written="yes")


@router.post("/cage/measures")
def change_measures(visit: Owner, typed: Typed) -> Response:
    """Write the measures over those of a document that is drawn from a template."""
    revision = _revision(visit, typed.get("document", ""))
    measures = typed_blanks(MEASURES, typed)
    try:
        if not is_from_template(revision.text, revision.name):
            raise refuse(
                revision.name, "a cage drawn by hand", "one drawn from a template", "Edit the document."
            )
        text = with_template(revision.text, measures)
        visit.garage.save_document(
            revision.name, text, based_on=typed.get("seen") or None, who=visit.who, why="other measures"
        )
    except TintopError as error:
        refused = Refused(form="measures", typed=measures, problems=beside_blanks(error, MEASURES))
        return _page(visit, revision.name, "", refused=refused)
    return go_to("/cage", document=revision.name, written="yes")


@router.post("/cage/loads")
def add_load(visit: Owner, typed: Typed, ticked: Ticked) -> Response:
    """Write a load of the owner's own into a cage document."""
    revision = _revision(visit, typed.get("document", ""))
    load = typed_blanks(LOAD, typed)
    try:
        visit.garage.save_document(
            revision.name,
            with_load(revision.text, {**load, "nodes": list(ticked)}),
            based_on=typed.get("seen") or None,
            who=visit.who,
            why=f"load {load['name']}",
        )
    except TintopError as error:
        refused = Refused(form="loads", typed=load, problems=beside_blanks(error, LOAD), nodes=ticked)
        return _page(visit, revision.name, "", refused=refused)
    return go_to("/cage", document=revision.name, load=load["name"], written="yes")


def _page(
    visit: Visit, name: str, load: str, *, refused: Refused | None = None, is_written: bool = False
) -> Response:
    revision = _revision(visit, name)
    found, sentences = _answered(visit, revision)
    rows: tuple[LoadRow, ...] = ()
    chosen: LoadResult | None = None
    drawn: tuple[str, ...] = ()
    under_load: tuple[str, ...] = ()
    if found is not None:
        rows = tuple(
            LoadRow(result=result, verdict=verdict, words=words)
            for result, judgement in zip(found.results, found.judgements, strict=True)
            for verdict, words in [load_verdict(found, result, judgement)]
        )
        chosen = _chosen(found, load)
        drawn, under_load = _drawings(visit, revision, found, chosen)
    return show(
        visit,
        "cage.html",
        status=422 if refused else 200,
        revision=revision,
        names=_names(visit),
        found=found,
        sentences=sentences,
        gaps=gaps(found) if found else (),
        rows=rows,
        chosen=chosen,
        drawn=drawn,
        under_load=under_load,
        uses=tube_uses(found) if found else {},
        feet=feet_most(found) if found else (),
        joints=joints_most(found) if found else (),
        asked=drawn_facts(found.cage) if found else (),
        remarks=remarks(found.cage) if found else (),
        works_cited=[work(key) for key in found.answer.works] if found else [],
        known_words=KNOWN_WORDS,
        written_times=written_times,
        is_written=is_written,
        refused=refused,
        cautions=CAUTIONS,
        **_forms(visit, revision, found, refused),
    )


def _forms(
    visit: Visit, revision: Revision, found: CageAnswer | None, refused: Refused | None
) -> dict[str, object]:
    """The blanks of the page's two forms and what stands in them; no measures for a cage drawn by hand."""
    measures: dict[str, str] | None = None
    if visit.role.value == "owner":
        try:
            if is_from_template(revision.text, revision.name):
                measures = template_fields(revision.text, revision.name)
        except TintopError:
            measures = None
    feet = {foot.node for foot in found.cage.feet} if found else set()
    return {
        "may_edit": visit.role.value == "owner",
        "measure_blanks": MEASURES,
        "load_blanks": LOAD,
        "measures": refused.typed if refused and refused.form == "measures" else measures,
        "load_typed": refused.typed if refused and refused.form == "loads" else usual_blanks(LOAD),
        "load_nodes": [node.name for node in found.cage.nodes if node.name not in feet] if found else [],
    }


def _new(visit: Visit, typed: dict[str, str], problems: dict[str, str]) -> Response:
    return show(
        visit,
        "cage_new.html",
        status=422 if problems else 200,
        blanks=MEASURES,
        typed=typed,
        problems=problems,
        cautions=CAUTIONS,
    )


def _answered(visit: Visit, revision: Revision) -> tuple[CageAnswer | None, tuple[str, ...]]:
    """The answer as the document stands, or the sentences why there is none."""
    try:
        return visit.garage.remember(f"cage {revision.name}", revision.digest, lambda: _ask(revision)), ()
    except TintopError as error:
        return None, tuple(str(error).splitlines())


def _ask(revision: Revision) -> CageAnswer:
    text, name = revision.text, revision.name
    described = cage_from(Document(name=name, tables=toml_tables(text, name), lines=lines_of(text)))
    return will_the_cage_hold(described.cage, described.loads)


def _chosen(found: CageAnswer, load: str) -> LoadResult:
    if not load:
        return hardest(found)
    chosen = next((each for each in found.results if each.load.name == load), None)
    if chosen is None:
        raise HTTPException(404)
    return chosen


def _drawings(
    visit: Visit, revision: Revision, found: CageAnswer, chosen: LoadResult
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The cage, and the cage under the chosen load: each wide and narrow."""
    both = (("wide", False), ("narrow", True))

    def draw() -> tuple[str, ...]:
        return tuple(
            cage_drawing_svg(found.cage, is_narrow=is_narrow, name=f"cage-{word}") for word, is_narrow in both
        )

    def load() -> tuple[str, ...]:
        return tuple(
            cage_load_svg(found.cage, chosen, is_narrow=is_narrow, name=f"load-{word}")
            for word, is_narrow in both
        )

    key = f"cage {revision.name} {revision.digest}"
    return kept(visit, key, draw), kept(visit, f"{key} {chosen.load.name}", load)


def _revision(visit: Visit, name: str) -> Revision:
    if not _is_cage(name) or name not in visit.garage.document_names():
        raise HTTPException(404)
    return visit.garage.document(name)


def _names(visit: Visit) -> tuple[str, ...]:
    visit.garage.look_outside()
    return tuple(
        sorted(filter(_is_cage, visit.garage.document_names()), key=lambda name: (name != CAGE, name))
    )


def _is_cage(name: str) -> bool:
    return is_document_name(name) and (
        name == CAGE or (name.startswith(f"{CAGES}/") and name.endswith(".toml"))
    )
