from datetime import date

import pytest
from drawn import SVG, inside_view, read, words

from tintop.charts.course_chart import Course, Look, course_svg, look_of, month_ticks
from tintop.charts.strips import Bound

DOT = Look(colour="#1d1c1a", dash="", mark="dot")


def drawn(*courses: Course, **more) -> str:
    return course_svg("c", "Mass", "kg", courses, ((0.0, "0"), (10.0, "10")), span=(0.0, 10.0), **more)


def dots(svg: str) -> list[tuple[float, float]]:
    root = read(svg)
    return [(float(each.get("cx")), float(each.get("cy"))) for each in root.iter(f"{SVG}circle")]


def paths(svg: str) -> list[list[tuple[float, float]]]:
    found = [each.get("d").removeprefix("M").split() for each in read(svg).iter(f"{SVG}path")]
    return [[tuple(map(float, point.split(","))) for point in each] for each in found]


def test_points_stand_in_proportion() -> None:
    found = dots(drawn(Course(words="a", look=DOT, places=(0.0, 5.0, 10.0), values=(10.0, 30.0, 20.0))))
    (x0, y0), (x1, y1), (x2, y2) = found
    assert x1 - x0 == pytest.approx(x2 - x1, abs=0.11)
    assert (y0 - y2) == pytest.approx(0.5 * (y0 - y1), abs=0.11)
    assert y1 < y2 < y0  # more is higher up


def test_stairs_hold_to_the_next_place() -> None:
    stairs = Course(words="a", look=DOT, places=(0.0, 5.0), values=(10.0, 20.0), is_stepped=True)
    (path,) = [path for path in paths(drawn(stairs)) if len(path) == 3]
    assert path[1][1] == path[0][1] and path[1][0] == path[2][0]


def test_a_doubt_reaches_equally_up_and_down() -> None:
    course = Course(words="a", look=DOT, places=(5.0,), values=(10.0,), doubts=(2.0,), has_line=False)
    wide = Course(words="b", look=look_of(1), places=(0.0, 10.0), values=(0.0, 20.0))
    svg = drawn(course, wide)
    ((x, y),) = [dot for dot in dots(svg) if dot[0] > 300.0]
    (bar,) = [path for path in paths(svg) if len(path) == 2 and path[0][0] == path[1][0] == x]
    assert bar[0][1] - y == pytest.approx(y - bar[1][1], abs=0.11)


def test_two_courses_have_a_key_and_differ_by_more_than_colour() -> None:
    a, b = look_of(0), look_of(1)
    assert a.dash != b.dash and a.mark != b.mark
    svg = drawn(
        Course(words="one <x>", look=a, places=(0.0, 1.0), values=(1.0, 2.0)),
        Course(words="two", look=b, places=(0.0, 1.0), values=(2.0, 3.0)),
        bounds=(Bound(words="least", value=0.5),),
        axis_words="hours",
    )
    assert {"one <x>", "two", "least", "hours", "Mass [kg]"} <= set(words(svg))
    assert inside_view(svg)


def test_one_value_and_none_are_drawn() -> None:
    assert dots(drawn(Course(words="a", look=DOT, places=(1.0,), values=(5.0,))))
    assert read(drawn()) is not None


def test_months_are_ticked_with_their_year_once_and_never_too_many() -> None:
    ticks = month_ticks(date(2025, 11, 15), date(2026, 2, 10))
    assert [words for _, words in ticks] == ["Dec 2025", "Jan 2026", "Feb"]
    assert ticks[0][0] == date(2025, 12, 1).toordinal()
    assert 2 <= len(month_ticks(date(2010, 1, 1), date(2026, 1, 1))) <= 12
    assert month_ticks(date(2026, 1, 5), date(2026, 1, 9)) == ()
