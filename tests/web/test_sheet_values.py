"""A value typed back from the sheet: what is printed bare is taken as printed, what is odd is asked."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.errors import BadInput
from tintop.handwriting import Ask, Understood
from tintop.web.sheet_values import is_sheet_kind, read_on_sheet, sheet_kind


@given(st.integers(0, 16))
def test_clicks_from_hard_are_turned_round(count: int) -> None:
    kind = sheet_kind("clicks", 16)
    soft, hard = read_on_sheet(kind, str(count)), read_on_sheet(kind, f"{16 - count} from hard")
    assert isinstance(soft, Understood) and isinstance(hard, Understood)
    assert soft.value == hard.value == count
    assert soft.in_full == hard.in_full and not soft.is_guessed


@pytest.mark.parametrize("text", ["17", "17 from hard", "17 from full soft"])
def test_more_clicks_than_there_are_is_refused_at_once(text: str) -> None:
    with pytest.raises(BadInput, match="0 to 16 clicks"):
        read_on_sheet(sheet_kind("clicks", 16), text)


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("2 out", -0.002),
        ("1/16 in out", -0.0254 / 16),
        ("1/16 in in", 0.0254 / 16),
        ("3/32 in", None),
        ("2", None),
    ],
)
def test_toe_is_of_each_wheel_at_the_rim(text: str, metres: float | None) -> None:
    found = read_on_sheet(sheet_kind("toe"), text)
    if metres is None:
        assert isinstance(found, Ask)
        one, other = (choice.value for choice in found.choices)
        assert one == -other
    else:
        assert isinstance(found, Understood) and found.value == pytest.approx(metres)


@pytest.mark.parametrize(
    ("item", "stands", "text", "choices"),
    [
        ("camber", math.radians(-2.9), "2.5", ("-2.5 deg", "+2.5 deg")),
        ("camber", math.radians(-2.9), "+2.5", ("-2.5 deg", "+2.5 deg sure")),
        ("camber", math.radians(-0.2), "+0.3", ("-0.3 deg", "+0.3 deg sure")),
        ("camber", math.radians(-2.9), "-0.5", ("-2.9 deg", "-0.5 deg sure")),
        ("ride height", 0.128, "12 in", ("128 mm", "12 in sure")),
        ("tyre pressure cold", 1.65e5, "0.6 bar", ("1.65 bar", "0.6 bar sure")),
    ],
)
def test_what_is_far_from_what_stands_is_asked(
    item: str, stands: float, text: str, choices: tuple[str, str]
) -> None:
    kind = sheet_kind(item, stands)
    found = read_on_sheet(kind, text)
    assert isinstance(found, Ask)
    assert tuple(choice.in_full for choice in found.choices) == choices
    picked = [read_on_sheet(kind, choice) for choice in choices if choice.endswith(" sure")]
    assert [isinstance(each, Understood) for each in picked] == [True] * len(picked)


@pytest.mark.parametrize(
    ("item", "stands", "text"),
    [
        ("camber", math.radians(-2.9), "-2.5"),
        ("ride height", 0.128, "132"),
        ("tyre pressure cold", 1.65e5, "1.8"),
    ],
)
def test_what_is_near_is_taken(item: str, stands: float, text: str) -> None:
    assert isinstance(read_on_sheet(sheet_kind(item, stands), text), Understood)


@pytest.mark.parametrize("kind", ["sheet", "sheet toe x", "sheet clicks 1e9", "sheet camber nan", "camber"])
def test_other_kinds_are_none_of_the_sheet(kind: str) -> None:
    assert not is_sheet_kind(kind)
    with pytest.raises(BadInput):
        read_on_sheet(kind, "2")
