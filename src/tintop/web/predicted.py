"""What the pages of lap and race share: the event, its prediction, and drawings kept while it stands."""

import threading
from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from tintop.answer import Verdict
from tintop.errors import TintopError, refuse
from tintop.garage.answers import standing
from tintop.garage.predictions import Prediction
from tintop.garage.work import Work
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.meetings import MeetingState, meetings
from tintop.web.formats import figure
from tintop.web.page import Visit

_Made = TypeVar("_Made")
_MOST_KEPT = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """An event and its prediction, or the reason there is none yet; `basis` changes when the answer does."""

    meeting: MeetingPlanned | None
    others: tuple[MeetingPlanned, ...]
    prediction: Prediction | None
    work: Work | None
    sentence: str

    @property
    def basis(self) -> str:
        """A word that stays while the same prediction stands."""
        return self.prediction.basis.key if self.prediction else ""


def standing_of(visit: Visit, meeting: str = "") -> Standing:
    """The event of a short name, the next one without, and its prediction; BadInput for an unknown name."""
    garage = visit.garage
    known = meetings(garage.book, garage.today())
    coming = [each.planned for each in known if each.state is not MeetingState.PAST]
    chosen = _chosen(coming, [each.planned for each in known], meeting)
    if chosen is None:
        return Standing(meeting=None, others=(), prediction=None, work=None, sentence="")
    prediction, work, sentence = None, None, ""
    try:
        prediction = garage.prediction(chosen)
        if prediction is None:
            work = garage.workshop.latest(f"predict {garage.basis(chosen).key}")
            sentence = work.sentence if work else ""
        else:
            _shelf(visit).put(f"prediction {prediction.basis.key}", prediction)
    except TintopError as error:
        sentence = str(error)
    others = tuple(each for each in coming if each.meeting != chosen.meeting)
    return Standing(meeting=chosen, others=others, prediction=prediction, work=work, sentence=sentence)


def given_words(visit: Visit, found: Standing, name: str) -> Mapping[str, Any]:
    """What an answer of the logbook says of an event that has no prediction in hand: the same as home does.

    Keys `given` (the answer or None), `given_state` and `given_figures` of the template.
    """
    if found.meeting is None:
        return {"given": None, "given_state": "", "given_figures": ()}
    kept_answer = standing(visit.garage, found.meeting, name)
    answer = kept_answer.answer
    is_given = answer is not None and answer.verdict is not Verdict.NOT_PROVEN
    return {
        "given": answer if is_given else None,
        "given_state": kept_answer.sentence,
        "given_figures": tuple(
            (each.name, figure(each.value, each), figure(each.low, each), figure(each.high, each))
            for each in (answer.figures if answer and is_given else ())
        ),
    }


class Shelf:
    """What was drawn for the last few predictions, by key; safe to use from several threads."""

    def __init__(self, most: int = _MOST_KEPT) -> None:
        self._most = most
        self._lock = threading.Lock()
        self._made: OrderedDict[str, Any] = OrderedDict()

    def find(self, key: str) -> Any:
        """What was put under a key and is still there, or None."""
        with self._lock:
            if key in self._made:
                self._made.move_to_end(key)
            return self._made.get(key)

    def put(self, key: str, made: Any) -> None:
        """Keep something, and let go of what was not looked at for longest."""
        with self._lock:
            self._made[key] = made
            while len(self._made) > self._most:
                self._made.popitem(last=False)


def kept(visit: Visit, key: str, make: Callable[[], _Made]) -> _Made:
    """Give what was made for a key before, or make it now and keep it."""
    shelf = _shelf(visit)
    found: _Made | None = shelf.find(key)
    if found is None:
        found = make()
        shelf.put(key, found)
    return found


def shown_before(visit: Visit, basis: str) -> Prediction | None:
    """The prediction a page was shown for, without asking again what it would stand on now."""
    found: Prediction | None = _shelf(visit).find(f"prediction {basis}")
    return found


def _shelf(visit: Visit) -> Shelf:
    state = visit.request.app.state
    if not hasattr(state, "shelf"):
        state.shelf = Shelf()
    shelf: Shelf = state.shelf
    return shelf


def _chosen(coming: list[MeetingPlanned], known: list[MeetingPlanned], name: str) -> MeetingPlanned | None:
    if not name:
        return coming[0] if coming else None
    found = next((each for each in known if each.meeting == name), None)
    if found is None:
        raise refuse("event", repr(name[:60]), "the short name of an event in the logbook")
    return found
