"""How a life or a thickness stands, in the words every page, sheet and paper gives it."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from tintop.logbook.amounts import day_in_words
from tintop.logbook.entries import Basis, Counter
from tintop.logbook.lives import Life, LifeState
from tintop.logbook.wear import Wear, WearState


class Grade(StrEnum):
    """How grave it is; PLAIN is told without approval."""

    BAD = "bad"
    UNKNOWN = "unknown"
    CLOSE = "close"
    GOOD = "good"
    PLAIN = "plain"


_SIGNS = {Grade.BAD: "✗", Grade.UNKNOWN: "?", Grade.CLOSE: "≈", Grade.GOOD: "✓", Grade.PLAIN: "·"}
_WORST_FIRST: tuple[LifeState | WearState, ...] = (
    LifeState.FAILED,
    WearState.FAILED,
    WearState.WORN,
    LifeState.OVERDUE,
    WearState.RUNS_OUT,
    LifeState.DUE_BEFORE_END,
    WearState.UNKNOWN,
    LifeState.UNKNOWN,
    WearState.CLOSE,
    LifeState.DUE_SOON,
    WearState.LASTS,
    LifeState.GOOD,
)
_GRADES: dict[LifeState | WearState, Grade] = {
    LifeState.FAILED: Grade.BAD,
    LifeState.OVERDUE: Grade.BAD,
    LifeState.DUE_BEFORE_END: Grade.BAD,
    LifeState.UNKNOWN: Grade.UNKNOWN,
    LifeState.DUE_SOON: Grade.CLOSE,
    LifeState.GOOD: Grade.GOOD,
    WearState.FAILED: Grade.BAD,
    WearState.WORN: Grade.BAD,
    WearState.RUNS_OUT: Grade.BAD,
    WearState.CLOSE: Grade.CLOSE,
    WearState.UNKNOWN: Grade.UNKNOWN,
    WearState.LASTS: Grade.GOOD,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Stands:
    """How one thing stands: its sign, how grave it is, in words; `rank` orders them, the worst at 0."""

    grade: Grade
    words: str
    rank: int

    @property
    def sign(self) -> str:
        """The sign that stands before the words."""
        return _SIGNS[self.grade]


def stands_of(each: Life | Wear) -> Stands:
    """How a life or a thickness stands.

    A limit of the rules is never ticked, nor one that asks for a look at what was never looked at.
    """
    grade, words, rank = _GRADES[each.state], each.state.value, _WORST_FIRST.index(each.state)
    if isinstance(each, Life):
        if each.state is LifeState.DUE_BEFORE_END and each.limit.action == "inspect":
            grade = Grade.CLOSE
        is_unseen = each.limit.action == "inspect" and each.inspected_on is None
        if each.state is LifeState.GOOD and (is_unseen or each.limit.basis is Basis.RULE):
            grade = Grade.PLAIN
            if (
                each.limit.basis is Basis.RULE
                and each.limit.counter is Counter.AGE
                and each.inspected_on is None
            ):
                words = "in date by the label, not inspected"
    return Stands(grade=grade, words=words, rank=rank)


def worst_of(things: Iterable[Life | Wear]) -> Stands | None:
    """How the worst of them stands; None of nothing."""
    return min(map(stands_of, things), key=lambda stands: stands.rank, default=None)


def look_words(life: Life) -> str:
    """When a part that is to be looked at was; "" for one to be replaced."""
    if life.limit.action != "inspect":
        return ""
    return f"last looked at {day_in_words(life.inspected_on)}" if life.inspected_on else "never looked at"
