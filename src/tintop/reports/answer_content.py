"""What every answer says to a program: its sentences, its figures with their range, and how it exits."""

from typing import Any

from tintop.answer import Answer, Verdict


def answer_content(answer: Answer) -> dict[str, Any]:
    """The answer as plain content; figures in their own unit."""
    return {
        "verdict": answer.verdict.value,
        "sentence": answer.sentence,
        "why": list(answer.why),
        "next_thing": answer.next_thing,
        "figures": {
            figure.name: {
                "value": figure.value,
                "low": figure.low,
                "high": figure.high,
                "unit": figure.unit,
                "basis": figure.basis,
            }
            for figure in answer.figures
        },
        "cautions": list(answer.cautions),
    }


def exit_code(answer: Answer) -> int:
    """1 when the answer is no, 3 when it is not proven, else 0."""
    return {Verdict.NO: 1, Verdict.NOT_PROVEN: 3}.get(answer.verdict, 0)
