"""The five answers for an event, each as it stands now or as it was last given."""

import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tintop.answer import Answer, Verdict
from tintop.errors import TintopError, refuse
from tintop.garage.inspection import inspection_of
from tintop.garage.keeper import Garage
from tintop.garage.predictions import CAR, Basis, Prediction, predict
from tintop.garage.rule_books import own_digests
from tintop.logbook.book import Logbook
from tintop.logbook.entries import AnswerGiven, Draft, Entry, MeetingPlanned
from tintop.logbook.readiness import Readiness, readiness_on
from tintop.logbook.wear import ForecastWear
from tintop.questions import is_it_ready
from tintop.questions.is_it_legal import is_it_legal
from tintop.questions.what_will_it_cost import what_will_it_cost
from tintop.race.forecast_wear import forecast_wear
from tintop.store.answers import answer_from_text, answer_to_text

TITLES: Mapping[str, str] = MappingProxyType(
    {
        "legal": "Is it legal?",
        "ready": "Is it ready?",
        "quick": "How quick is it?",
        "lasting": "Will it last?",
        "affordable": "What does it cost?",
    }
)
_PREDICTED = ("quick", "lasting")


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """One of the five answers: the answer if there is one, whether it still holds, and what to say of it."""

    name: str
    answer: Answer | None
    is_fresh: bool
    sentence: str = ""

    @property
    def title(self) -> str:
        """The question in words."""
        return TITLES[self.name]


def standings(garage: Garage, meeting: MeetingPlanned) -> tuple[Standing, ...]:
    """The five answers for an event; nothing long is computed."""
    return tuple(standing(garage, meeting, name) for name in TITLES)


def standing(garage: Garage, meeting: MeetingPlanned, name: str) -> Standing:
    """One of the five answers, by its short name; nothing long is computed."""
    if name in _PREDICTED:
        return _predicted(garage, meeting, name)
    try:
        return Standing(name=name, answer=_asked(garage, meeting, name), is_fresh=True)
    except TintopError as error:
        return Standing(name=name, answer=None, is_fresh=True, sentence=str(error))


def _asked(garage: Garage, meeting: MeetingPlanned, name: str) -> Answer:
    day = garage.today()
    if name == "legal":
        return legal_answer(garage, meeting)
    ready, book, currency = readiness_of(garage), garage.book, garage.settings.currency
    if name == "ready":
        return is_it_ready.answer_of(ready, currency)
    return garage.remember(
        "affordable", (ready, currency), lambda: what_will_it_cost(book, day, currency, ready=ready)
    )


def legal_answer(garage: Garage, meeting: MeetingPlanned) -> Answer:
    """Whether the car is legal for an event, by the rule books it names."""
    inspection = inspection_of(garage, meeting)
    name = f"legal {meeting.meeting}"
    return garage.remember(name, (meeting, inspection), lambda: is_it_legal(meeting, inspection))


def readiness_of(garage: Garage) -> Readiness:
    """What readiness for the next event stands on today, for every page and answer the same; folded once.

    The race forecast's wear is in it where there is one.
    """
    book, day, meeting = garage.book, garage.today(), garage.next_meeting()
    forecast = forecast_of(garage, meeting) if meeting is not None else None
    stands_on = (book.last_number, day, forecast)
    return garage.remember("readiness", stands_on, lambda: readiness_on(book, day, forecast))


def forecast_of(garage: Garage, meeting: MeetingPlanned) -> ForecastWear | None:
    """What the race forecast takes off pads and treads, if a forecast as things stand was made."""
    try:
        found = garage.prediction(meeting)
    except TintopError:
        return None
    return forecast_wear(found.lasting.described, found.lasting.trace) if found else None


def _predicted(garage: Garage, meeting: MeetingPlanned, name: str) -> Standing:
    try:
        found = garage.prediction(meeting)
    except TintopError as error:
        return Standing(name=name, answer=_no_answer(name, error), is_fresh=True)
    if found is not None:
        return Standing(name=name, answer=_answer_of(found, name), is_fresh=True)
    given = given_before(garage, meeting, name)
    if given is None:
        return Standing(name=name, answer=None, is_fresh=False, sentence="Not predicted yet.")
    entry, answer = given[0]
    assert isinstance(entry.matter, AnswerGiven)
    if _is_as_given(garage, meeting, entry.matter):
        return Standing(name=name, answer=answer, is_fresh=True)
    return Standing(
        name=name,
        answer=answer,
        is_fresh=False,
        sentence=f"Given on {entry.day.isoformat()}; car, circuit or event changed since.",
    )


def _no_answer(name: str, error: TintopError) -> Answer:
    return Answer(
        question=TITLES[name],
        verdict=Verdict.NOT_PROVEN,
        sentence=f"Not predicted. {error}",
        figures=(),
        next_thing="Give the event a circuit and a document of weather and race.",
    )


def _answer_of(found: Prediction, name: str) -> Answer:
    return found.quick.answer if name == "quick" else found.lasting.answer


def given_before(
    garage: Garage, meeting: MeetingPlanned, name: str
) -> tuple[tuple[Entry, Answer], ...] | None:
    """Answers to a question kept in the logbook for an event, the latest first; None when there is none."""
    found: list[tuple[Entry, Answer]] = []
    for entry, given in garage.book.of(AnswerGiven):
        if given.question == name and given.meeting == meeting.meeting:
            found.append((entry, answer_from_text(given.content)))
    return tuple(sorted(found, key=lambda pair: -pair[0].number)) or None


def _is_as_given(garage: Garage, meeting: MeetingPlanned, given: AnswerGiven) -> bool:
    try:
        now = garage.basis(meeting)
    except TintopError:
        return False
    return _basis_then(garage, meeting, given, now).key == now.key


def _basis_then(garage: Garage, meeting: MeetingPlanned, given: AnswerGiven, now: Basis) -> Basis:
    return Basis(
        meeting=meeting,
        texts={},
        digests=given.revisions,
        book=garage.book.up_to(given.last_entry),
        day=now.day,
    )


def keep_answers(garage: Garage, meeting: MeetingPlanned) -> tuple[Entry, ...]:
    """Write the five answers as they stand into the logbook, those that say something new."""
    predicted = dict(garage.basis(meeting).digests)
    inspected = {CAR: predicted[CAR], **own_digests(garage)}
    last = garage.book.last_number
    drafts = []
    for each in standings(garage, meeting):
        if each.answer is None or not each.is_fresh:
            continue
        content = answer_to_text(each.answer)
        before = given_before(garage, meeting, each.name)
        if before and isinstance(before[0][0].matter, AnswerGiven) and before[0][0].matter.content == content:
            continue
        drafts.append(
            Draft(
                key=uuid.uuid4().hex,
                day=garage.today(),
                who="tintop",
                matter=AnswerGiven(
                    question=each.name,
                    meeting=meeting.meeting,
                    content=content,
                    revisions=inspected if each.name == "legal" else predicted,
                    last_entry=last,
                ),
            )
        )
    return garage.record(drafts) if drafts else ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeated:
    """An answer given once and computed again from the revisions it stood on."""

    given: Answer
    again: Answer

    @property
    def is_the_same(self) -> bool:
        """Whether every figure came out exactly as before."""
        return self.given.figures == self.again.figures and self.given.sentence == self.again.sentence


def repeat(garage: Garage, number: int, progress: Callable[[float], None] = lambda _share: None) -> Repeated:
    """Compute a lap or race answer of the logbook again from what it stood on; BadInput when it cannot be."""
    entry = garage.book.entry(number)
    if entry is None or not isinstance(entry.matter, AnswerGiven) or entry.matter.question not in _PREDICTED:
        raise refuse("answer", f"entry {number}", "the number of a lap or race answer in the logbook")
    given = entry.matter
    book = garage.book.up_to(given.last_entry)
    plan = _plan(book, given.meeting)
    if plan is None:
        raise refuse("event", given.meeting, "an event the logbook knew then")
    texts = {name: garage.store.revision(digest).text for name, digest in given.revisions.items()}
    basis = Basis(meeting=plan, texts=texts, digests=given.revisions, book=book, day=plan.first_day)
    found = predict(basis, progress)
    return Repeated(given=answer_from_text(given.content), again=_as_read(_answer_of(found, given.question)))


def _as_read(answer: Answer) -> Answer:
    return answer_from_text(answer_to_text(answer))


def _plan(book: Logbook, meeting: str) -> MeetingPlanned | None:
    return next((plan for _entry, plan in book.of(MeetingPlanned) if plan.meeting == meeting), None)
