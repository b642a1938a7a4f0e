"""What every answer says to a program."""

import pytest

from tintop.answer import Answer, Figure, Verdict
from tintop.reports.answer_content import answer_content, exit_code


def _answer(verdict: Verdict) -> Answer:
    return Answer(
        question="Is it?",
        verdict=verdict,
        sentence="It is.",
        figures=(Figure(name="height", value=1.0, low=0.5, high=1.5, unit="m", basis="measured"),),
        why=("so",),
        next_thing="Look.",
        cautions=("Mind.",),
    )


def test_content_is_plain_with_every_figures_range() -> None:
    assert answer_content(_answer(Verdict.FOUND)) == {
        "verdict": Verdict.FOUND.value,
        "sentence": "It is.",
        "why": ["so"],
        "next_thing": "Look.",
        "figures": {"height": {"value": 1.0, "low": 0.5, "high": 1.5, "unit": "m", "basis": "measured"}},
        "cautions": ["Mind."],
    }


@pytest.mark.parametrize("verdict", list(Verdict))
def test_no_and_not_proven_are_not_success(verdict: Verdict) -> None:
    assert exit_code(_answer(verdict)) == {Verdict.NO: 1, Verdict.NOT_PROVEN: 3}.get(verdict, 0)
    assert (exit_code(_answer(verdict)) == 0) == (verdict not in (Verdict.NO, Verdict.NOT_PROVEN))
