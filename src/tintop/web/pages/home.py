"""Home: the next event with the five answers; and each answer down to its working."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Any
from urllib.parse import quote

from fastapi import APIRouter, Form
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.answer import Answer, Verdict
from tintop.car.measuring import words_of_path
from tintop.errors import TintopError, refuse
from tintop.garage.answers import TITLES, Standing, given_before, repeat, standing, standings
from tintop.garage.car_setup import other_setup
from tintop.garage.written_numbers import written_number
from tintop.known import Known
from tintop.logbook.entries import MeetingPlanned
from tintop.questions.is_it_legal import CAUTIONS as SCRUTINEER_DECIDES
from tintop.questions.is_it_ready import answer_of
from tintop.references import WORKS, work
from tintop.rules.cautions import CAUTIONS as OF_EVERY_INSPECTION
from tintop.web.first_things import is_car_described
from tintop.web.formats import counted, figure, quantity
from tintop.web.inputs import assumed_rows
from tintop.web.page import Visit, Visitor, Writer, go_to, show
from tintop.web.pages.lap import best_words
from tintop.web.pages.ready import readiness_of
from tintop.web.pages.run_sheet import meeting_named
from tintop.web.working import FORMULAE

router = APIRouter()
_FIRST = 4  # own check, the regulations, cages and belts, after a hit
ALWAYS = (*OF_EVERY_INSPECTION[:_FIRST], *SCRUTINEER_DECIDES)
_WORDS = {
    ("legal", Verdict.YES): "Legal",
    ("legal", Verdict.CLOSE): "Mend first",
    ("legal", Verdict.NO): "Not legal",
    ("ready", Verdict.YES): "Ready",
    ("ready", Verdict.CLOSE): "Only just",
    ("ready", Verdict.NO): "Not ready",
    ("lasting", Verdict.YES): "It lasts",
    ("lasting", Verdict.CLOSE): "Doubtful",
    ("lasting", Verdict.NO): "It does not last",
    ("affordable", Verdict.YES): "Within the plan",
    ("affordable", Verdict.CLOSE): "Only just",
    ("affordable", Verdict.NO): "Over the plan",
}
_PLAIN = {
    Verdict.YES: "Yes",
    Verdict.CLOSE: "Only just",
    Verdict.NO: "No",
    Verdict.NOT_PROVEN: "Not proven",
    Verdict.FOUND: "",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Margin:
    """The figure that stands large beside a verdict."""

    name: str
    value: str
    range: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One answer as the page shows it."""

    name: str
    title: str
    answer: Answer | None
    verdict_word: str
    lead: str  # the answer's sentence without the word that stands large above it
    verdict_class: str
    state_word: str
    sentence: str
    margin: Margin | None
    is_figure: bool
    formulae: tuple[tuple[str, str], ...]
    driven: str = ""  # the best lap driven there, beside a predicted one


def shown(visit: Visit, found: Standing, meeting: MeetingPlanned) -> Shown:
    """Put an answer into the page's words; a reader sees no money."""
    if found.name == "affordable" and not visit.may_write:
        return _hidden(found)
    answer = _answer_for(visit, found)
    margin = _margin(found.name, answer) if answer else None
    verdict = answer.verdict if answer else Verdict.NOT_PROVEN
    word = _WORDS.get((found.name, verdict), _PLAIN[verdict])
    is_figure = verdict is Verdict.FOUND and margin is not None
    figures = answer.figures if answer and found.name == "quick" else ()
    predicted = next((each for each in figures if each.name == "lap time"), None)
    return Shown(
        name=found.name,
        title=found.title,
        answer=answer,
        verdict_word=margin.value if is_figure and margin else word,
        lead=_without(answer.sentence, word) if answer else "",
        verdict_class=verdict.value.replace(" ", "-"),
        state_word="Working on it" if not found.is_fresh else "No answer",
        sentence=found.sentence,
        margin=margin if margin and (not is_figure or margin.range) else None,
        is_figure=is_figure,
        formulae=FORMULAE[found.name],
        driven=best_words(visit, meeting.circuit or "", predicted.value) if predicted else "",
    )


def _answer_for(visit: Visit, found: Standing) -> Answer | None:
    """The answer as this visitor may see it: what is ready to order has no price for a reader."""
    if found.name != "ready" or found.answer is None or visit.may_write:
        return found.answer
    return answer_of(readiness_of(visit), visit.garage.settings.currency)


def _hidden(found: Standing) -> Shown:
    return Shown(
        name=found.name,
        title=found.title,
        answer=None,
        verdict_word="",
        lead="",
        verdict_class="not-proven",
        state_word="Not shown",
        sentence="Money is not shown to readers.",
        margin=None,
        is_figure=False,
        formulae=(),
    )


def _margin(name: str, answer: Answer) -> Margin | None:
    """The figure that matters most: the weakest point's own where the answer names one."""
    weakest = str(answer.working.get("weakest", "")) if name == "ready" else ""
    telling = [each for each in answer.figures if weakest.casefold() in each.name.casefold()]
    if name == "lasting":
        telling = [each for each in answer.figures if each.unit == ""] or telling
    if not telling:
        return None
    first = telling[0]
    is_range = first.low != first.high
    return Margin(
        name=first.name,
        value=figure(first.value, first),
        range=f"{figure(first.low, first)} to {figure(first.high, first)}" if is_range else "",
    )


def _without(sentence: str, word: str) -> str:
    start = f"{word}: "
    rest = sentence.removeprefix(start)
    return rest[:1].upper() + rest[1:]


@router.get("/")
def home(visit: Visitor) -> Response:
    """The next event and its five answers."""
    meeting = visit.garage.next_meeting()
    if meeting is None:
        return show(
            visit,
            "home.html",
            meeting=None,
            cautions=(),
            has_more_cautions=False,
            is_car_described=is_car_described(visit.garage),
        )
    found = standings(visit.garage, meeting)
    cautions = tuple(
        dict.fromkeys(caution for each in found if each.answer for caution in _cautions_here(each))
    )
    return show(
        visit,
        "home.html",
        meeting=meeting,
        days=max((meeting.first_day - visit.garage.today()).days, 0),
        standings=[shown(visit, each, meeting) for each in found],
        other_setup=other_setup(visit.garage),
        is_stale=any(not each.is_fresh for each in found),
        cautions=cautions,
        has_more_cautions=any(
            len(_cautions_here(each)) < len(each.answer.cautions) for each in found if each.answer
        ),
    )


def _cautions_here(found: Standing) -> tuple[str, ...]:
    """The cautions of an answer that stand beside the five; of the legal one the few that always hold."""
    cautions = found.answer.cautions if found.answer else ()
    if found.name != "legal":
        return cautions
    return tuple(caution for caution in cautions if caution in ALWAYS)


@router.post("/answers/predict")
def predict_again(
    visit: Writer, event: Annotated[str, Form()] = "", page: Annotated[str, Form()] = ""
) -> Response:
    """Predict lap and race in the background, for the event named or the next one; back to its page."""
    meeting = meeting_named(visit.garage, event).planned if event else _meeting(visit)
    visit.garage.start_predicting(meeting)
    return go_to(f"/{page}?event={quote(meeting.meeting, safe='')}" if page in ("lap", "race") else "/")


@router.get("/answers/{name}")
def answer_page(visit: Visitor, name: str) -> Response:
    """One answer with its working: figures, reasons, inputs with origin and source, formulae, works."""
    if name not in TITLES:
        raise HTTPException(404)
    meeting = _meeting(visit)
    one = shown(visit, standing(visit.garage, meeting, name), meeting)
    earlier = given_before(visit.garage, meeting, name) or () if one.answer else ()
    revisions = _revisions(visit, meeting) if name in ("quick", "lasting") and one.answer else {}
    return show(
        visit,
        "answer.html",
        one=one,
        meeting=meeting,
        assumed=assumed_rows(one.answer.assumptions[:15], visit.garage.settings.units) if one.answer else (),
        inputs=tuple(_inputs(visit, meeting, name)) if one.answer else (),
        revisions=revisions,
        works_cited=[work(key) if key in WORKS else key for key in (one.answer.works if one.answer else ())],
        earlier=earlier[:10],
        repeatable={e.number for e, _answer in earlier} if name in ("quick", "lasting") else set(),
    )


@router.post("/answers/{name}/repeat")
def repeat_answer(visit: Writer, name: str, number: Annotated[int, Form()]) -> Response:
    """Compute an answer of the logbook again from the revisions it stood on, and say if it is the same."""
    if name not in TITLES:
        raise HTTPException(404)
    found = repeat(visit.garage, number)
    words = (
        "It came out exactly the same, from the same revisions."
        if found.is_the_same
        else "It came out differently: this version of tintop computes it in another way."
    )
    return show(visit, "repeated.html", found=found, words=words, name=name)


def _meeting(visit: Visit) -> MeetingPlanned:
    meeting = visit.garage.next_meeting()
    if meeting is None:
        raise refuse("event", "no event planned", "a next event")
    return meeting


def _revisions(visit: Visit, meeting: MeetingPlanned) -> Mapping[str, str]:
    try:
        return visit.garage.basis(meeting).digests
    except TintopError:
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One number an answer stands on."""

    name: str
    value: str
    doubt: str
    origin: str
    note: str


def _inputs(visit: Visit, meeting: MeetingPlanned, name: str) -> Iterator[Input]:
    if name in ("quick", "lasting"):
        try:
            found = visit.garage.prediction(meeting)
        except TintopError:
            return
        if found is None:
            return
        known, units = found.quick.described.known, visit.garage.settings.units
        if name == "quick":
            for each in found.quick.worth:
                worth = f", worth ±{each.seconds_of_doubt:.3f} s"
                yield _input(each.path, known[each.path], units, worth)
        else:
            for path, value in (*found.lasting.event.known.items(), *known.items()):
                yield _input(path, value, units)
        return
    answer = standing(visit.garage, meeting, name).answer
    if answer is not None:
        for table, words in _WORKING_TABLES.items():
            for row in answer.working.get(table, ()):
                yield words(row)


def _input(path: str, known: Known, units: Mapping[str, str], worth: str = "") -> Input:
    value, doubt = written_number(path, known.value, known.uncertainty, units)
    return Input(
        name=words_of_path(path),
        value=value,
        doubt=f"{doubt}{worth}",
        origin=known.origin.value,
        note="; ".join(each for each in (known.note, known.source) if each),
    )


def _life_input(row: Mapping[str, Any]) -> Input:
    return Input(
        name=f"{row['name']}: {row['counter']}",
        value=f"used {counted(row['used'], row['counter'])}",
        doubt=f"limit {counted(row['limit'], row['counter'])}",
        origin=f"limit by {row['basis']}",
        note="; ".join(each for each in (row["source"], row["state"]) if each),
    )


def _wear_input(row: Mapping[str, Any]) -> Input:
    entry = f", entry {row['entry']}" if row["entry"] else ""
    return Input(
        name=f"{row['name']} {row['place']}".strip(),
        value=quantity(row["read_m"], "mm", 1, "length"),
        doubt=f"{row['rate_m_per_s'] * 3.6e6:.2f} mm/h" if row["rate_m_per_s"] is not None else "",
        origin="measured" if row["read_on"] else "unknown",
        note=f"read {row['read_on']}{entry}; rate by {row['rate_basis'] or 'nothing yet'}; {row['state']}",
    )


_WORKING_TABLES = {"wear": _wear_input, "lives": _life_input}
