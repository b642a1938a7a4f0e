"""The first questions of an inspection: one tap each, and whole groups of clauses apply or fall away."""

from dataclasses import dataclass

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.errors import TintopError
from tintop.garage.rule_books import stack_of
from tintop.logbook.entries import MeetingPlanned
from tintop.rules.evidence import Form
from tintop.rules.facts import Fact, FactKey, FactKind
from tintop.rules.first_questions import applying, first_questions
from tintop.web.hand_memory import who_of
from tintop.web.inspected import Inspected, inspected, meeting_of
from tintop.web.legal_view import words_for
from tintop.web.page import Visit, Visitor, show
from tintop.web.proof_form import units_of
from tintop.web.walk_cards import Card, cards_for

router = APIRouter()
MOST = 15
_BY_A_TAP = (FactKind.YES_NO, FactKind.CHOICE)
_BY_WORD = (*_BY_A_TAP, FactKind.NAMES, FactKind.TEXT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One fact asked for, how it is recorded, and what waits for it."""

    card: Card
    form: str
    waiting: tuple[str, ...]  # the titles of the clauses

    @property
    def is_tapped(self) -> bool:
        """Whether one tap answers it."""
        return self.card.fact.kind in _BY_A_TAP

    @property
    def answers(self) -> tuple[str, ...]:
        """The words one of which is tapped."""
        return ("yes", "no") if self.card.fact.kind is FactKind.YES_NO else self.card.fact.choices


@router.get("/legal/begin")
def begin(visit: Visitor, event: str = "") -> Response:
    """The facts that say which clauses of the event's books apply, those first that most wait for."""
    meeting = meeting_of(visit, event)
    if meeting is None or not meeting.rule_books:
        what = "Plan an event first" if meeting is None else "Name the event's rule books first"
        return _nothing(visit, meeting, f"{what}: the questions come from its books.")
    try:
        found = inspected(visit.garage, meeting)
        stack, facts = stack_of(visit.garage, meeting.rule_books)
    except TintopError as error:
        return _nothing(visit, meeting, str(error))
    asked = first_questions(stack, facts, found.car.evidence)
    cards = {key: _card(visit, found, facts[key.fact], key) for key, _placed in asked[:MOST]}
    questions = [
        Question(card=card, form=_form(card), waiting=tuple(each.clause.title for each in placed))
        for key, placed in asked[:MOST]
        if (card := cards[key]) is not None
    ]
    return show(
        visit,
        "first_questions.html",
        meeting=meeting,
        questions=questions,
        more=max(len(asked) - MOST, 0),
        applying=applying(stack, facts, found.car.evidence),
        units_of=units_of,
        who=who_of(visit),
        **words_for(found),
    )


def _card(visit: Visit, found: Inspected, fact: Fact, key: FactKey) -> Card | None:
    cards = cards_for(fact, found, visit.garage.book)
    return next((card for card in cards if card.key == key), None)


def _form(card: Card) -> str:
    """A tap is one's own word, whatever its clauses ask for; a figure is in its usual form."""
    is_word = card.fact.kind in _BY_WORD or card.forms[0] == Form.PHOTOGRAPH.value
    return Form.WITNESS.value if is_word else card.forms[0]


def _nothing(visit: Visit, meeting: MeetingPlanned | None, sentence: str) -> Response:
    return show(
        visit, "first_questions.html", meeting=meeting, questions=(), applying=None, sentence=sentence
    )
