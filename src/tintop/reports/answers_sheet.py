"""The five answers for an event on one sheet."""

from collections.abc import Sequence

from tintop.answer import Answer
from tintop.reports.sheet import Sheet


def answers_sheet(event: str, answers: Sequence[tuple[str, Answer | None]]) -> Sheet:
    """Question, verdict, sentence and next thing of each answer; None where there is none yet."""
    sentences: list[str] = []
    cautions: dict[str, None] = {}
    for title, answer in answers:
        if answer is None:
            sentences.append(f"{title} No answer yet.")
            continue
        sentences.append(f"{title} {answer.verdict.value.capitalize()}. {answer.sentence}")
        if answer.next_thing:
            sentences.append(f"    Next: {answer.next_thing}")
        cautions.update(dict.fromkeys(answer.cautions))
    return Sheet(title=event, sentences=tuple(sentences), tables=(), cautions=tuple(cautions))
