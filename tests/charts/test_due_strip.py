"""The strip of due dates: places on the day they mean, every state also a sign and a pattern."""

import re
from datetime import date, timedelta
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.charts.due_strip import DueBar, DueEvent, due_strip_svg
from tintop.charts.ink import PAPER

TODAY = date(2026, 6, 9)
BARS = (
    DueBar(title="Belt", until=date(2026, 6, 16), grade="late"),
    DueBar(title="Licence", until=date(2026, 9, 16), grade="soon"),
    DueBar(title="Helmet", until=date(2033, 12, 31), grade="good"),
)
EVENTS = (
    DueEvent(name="Larkmoor", day=date(2026, 6, 20)),
    DueEvent(name="Ottersgill", day=date(2026, 8, 22)),
)


def _ends(svg: str) -> list[float]:
    """Where each bar ends across the strip, in the order drawn."""
    bars = re.findall(r'd="M[\d.]+,[\d.]+ ([\d.]+),[\d.]+" fill="none" stroke="#\w+" stroke-width="7"', svg)
    return [float(x) for x in bars]


def test_every_item_stands_with_its_day_and_sign_soonest_first():
    svg = due_strip_svg(tuple(reversed(BARS)), EVENTS, TODAY, width=1000.0)
    assert [
        svg.index(words) for words in ("✗ Belt, 16 Jun 2026", "≈ Licence", "✓ Helmet, 31 Dec 2033")
    ] == sorted(svg.index(words) for words in ("✗ Belt", "≈ Licence", "✓ Helmet"))
    assert "today" in svg and ">1</text>" in svg and ">2</text>" in svg
    assert svg.count("stroke-dasharray") >= 1


def test_no_line_of_a_day_runs_through_a_label():
    svg = due_strip_svg(BARS, EVENTS, TODAY, width=1000.0)
    labels = re.findall(r"<text [^>]*>(?:today|[✗≈✓] )[^<]*</text>", svg)
    assert len(labels) == 4
    assert all(f'stroke="{PAPER}"' in each and 'paint-order="stroke"' in each for each in labels)
    upright = [found.start() for found in re.finditer(r'<path d="M([\d.]+),[\d.]+ \1,(?!.*-width="3")', svg)]
    assert len(upright) > len(EVENTS)
    assert max(upright) < min(svg.index(each) for each in labels)


def test_the_day_of_a_bar_lies_between_the_events_it_lies_between():
    svg = due_strip_svg(BARS, EVENTS, TODAY, width=1000.0)
    events = [float(x) for x in re.findall(r'<text x="([\d.]+)" y="18.0"', svg)]
    belt, licence, helmet = _ends(svg)
    assert belt < events[0] < events[1] < licence < helmet == pytest.approx(990.0)


def test_without_an_item_nothing_is_drawn():
    assert due_strip_svg((), EVENTS, TODAY, width=400.0) == ""


@given(
    days=st.lists(st.integers(-4000, 4000), min_size=1, max_size=8),
    events=st.lists(st.integers(-300, 400), max_size=4),
    title=st.text(max_size=90),
    width=st.sampled_from([380.0, 1100.0]),
)
def test_whatever_runs_out_the_drawing_is_whole_and_stays_on_its_sheet(days, events, title, width):
    title = "".join(letter for letter in title if letter.isprintable())
    bars = [DueBar(title=title, until=TODAY + timedelta(days=day), grade="good") for day in days]
    meetings = [DueEvent(name=title, day=TODAY + timedelta(days=day)) for day in events]
    svg = due_strip_svg(bars, meetings, TODAY, width=width)
    ElementTree.fromstring(svg)
    ends = _ends(svg)
    assert len(ends) == len(days)
    assert all(0.0 <= end <= width for end in ends)
