"""What a person writes for a fact, what is refused, and that what is written reads the same again."""

import math
from dataclasses import astuple, replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.errors import BadInput
from tintop.rules.facts import Bolts, Fact, FactKind, Marked, Station, Tube, Unreadable
from tintop.rules.placeholders import is_placeholder
from tintop.rules.writing_facts import fits, read_fact, write_fact


def fact(kind: FactKind, quantity: str = "", unit: str = "", **more: object) -> Fact:
    return Fact(
        name="a.b", ask="The thing", kind=kind, station=Station.CABIN, quantity=quantity, unit=unit, **more
    )


LENGTH = fact(FactKind.NUMBER, "length", "mm")
READ = [
    (LENGTH, "44.9 ± 0.1 mm", 0.0449, 0.0001),
    (LENGTH, "44.9 mm ± 0.1 mm", 0.0449, 0.0001),
    (LENGTH, "44,9 mm +/- 0,1", 0.0449, 0.0001),
    (LENGTH, "4 in", 0.1016, None),
    (fact(FactKind.NUMBER, "number"), "6", 6.0, None),
    (fact(FactKind.NUMBER, "sound level", "dB(A)"), "98.5 ± 1 dB(A)", 98.5, 1.0),
    (fact(FactKind.NUMBER, "temperature", "°C"), "90 ± 2 °C", 90.0, 2.0),
    (fact(FactKind.NUMBERS, "length", "mm"), "5.1 4.9 5.0 mm", (0.0051, 0.0049, 0.005), None),
    (fact(FactKind.NUMBERS, "length", "mm"), "5,1; 4,9; 5 ± 0,1 mm", (0.0051, 0.0049, 0.005), 0.0001),
    (fact(FactKind.NUMBERS, "length", "mm"), "5.1mm 4.9mm", (0.0051, 0.0049), None),
    (fact(FactKind.NUMBERS, "length", "mm"), "5.1 mm, 4.9 mm", (0.0051, 0.0049), None),
    (fact(FactKind.NUMBERS, "time", "s"), "7.2, 6.8, 6.9 s", (7.2, 6.8, 6.9), None),
    (fact(FactKind.POINT), "-1200 350 900 mm", (-1.2, 0.35, 0.9), None),
    (fact(FactKind.POINT), "x -1200, y 350, z 900 mm", (-1.2, 0.35, 0.9), None),
    (fact(FactKind.POINT), "-1200 350 900 ± 5 mm", (-1.2, 0.35, 0.9), 0.005),
    (
        fact(FactKind.OUTLINE), "0 0, 120 0, 120 100, 0 100 mm",
        ((0.0, 0.0), (0.12, 0.0), (0.12, 0.1), (0.0, 0.1)), None,
    ),
    (fact(FactKind.OUTLINE), "120 x 100 mm", ((0.0, 0.0), (0.12, 0.0), (0.12, 0.1), (0.0, 0.1)), None),
    (fact(FactKind.TUBE), "45 x 2.5 mm", Tube(diameter=0.045, wall=0.0025), None),
    (fact(FactKind.TUBE), "45 mm × 2,5 mm", Tube(diameter=0.045, wall=0.0025), None),
    (fact(FactKind.TUBE), "1.75 x 0.095 in", Tube(diameter=0.04445, wall=0.002413), None),
    (fact(FactKind.TUBE), '1.75" x 0.095"', Tube(diameter=0.04445, wall=0.002413), None),
    (fact(FactKind.TUBE), "38 2.5 mm", Tube(diameter=0.038, wall=0.0025), None),
    (fact(FactKind.TUBE), "38*2.5 mm", Tube(diameter=0.038, wall=0.0025), None),
    (fact(FactKind.TUBE), "38/2.5 mm", Tube(diameter=0.038, wall=0.0025), None),
    (fact(FactKind.TUBE), "ø38 x 2.5 mm", Tube(diameter=0.038, wall=0.0025), None),
    (fact(FactKind.TUBE), "38 by 2,5 mm", Tube(diameter=0.038, wall=0.0025), None),
    (fact(FactKind.TUBE), "1 1/2 x 0.095 in", Tube(diameter=0.0381, wall=0.002413), None),
    (fact(FactKind.TUBE), '1-3/4" x 3/32"', Tube(diameter=0.04445, wall=0.00238125), None),
    (fact(FactKind.BOLTS), "3 x M8 8.8", Bolts(count=3, diameter=0.008, strength_class="8.8"), None),
    (fact(FactKind.BOLTS), "3xM8 class 10.9", Bolts(count=3, diameter=0.008, strength_class="10.9"), None),
    (fact(FactKind.BOLTS), "2 M10x1.25", Bolts(count=2, diameter=0.010, thread="M10x1.25"), None),
    (fact(FactKind.BOLTS), "2 M10x1,50 8.8", Bolts(count=2, diameter=0.010, strength_class="8.8"), None),
    (fact(FactKind.BOLTS), "1 x M12 grade 8.8", Bolts(count=1, diameter=0.012, strength_class="8.8"), None),
    (fact(FactKind.BOLTS), "1 x M12 grade 8", Bolts(count=1, diameter=0.012, strength_class="Grade 8"), None),
    (fact(FactKind.BOLTS), "2 x M8 unmarked", Bolts(count=2, diameter=0.008), None),
    (fact(FactKind.BOLTS), "1 x 7/16 UNF 8.8",
     Bolts(count=1, diameter=0.0111125, strength_class="8.8", thread="7/16-20 UNF"), None),
    (fact(FactKind.BOLTS), '1 x 7/16"-20 Grade 8',
     Bolts(count=1, diameter=0.0111125, strength_class="Grade 8", thread="7/16-20 UNF"), None),
    (fact(FactKind.BOLTS), "1 x 7/16-14 UNC 8.8",
     Bolts(count=1, diameter=0.0111125, strength_class="8.8", thread="7/16-14 UNC"), None),
    (fact(FactKind.BOLTS), "1 x 7/16 unc 8.8",
     Bolts(count=1, diameter=0.0111125, strength_class="8.8", thread="7/16-14 UNC"), None),
    (fact(FactKind.BOLTS), "1 x 7/16 8.8", Bolts(count=1, diameter=0.0111125, strength_class="8.8"), None),
    (fact(FactKind.BOLTS), "2 x 1/2-20 UNF", Bolts(count=2, diameter=0.0127, thread="1/2-20 UNF"), None),
    (fact(FactKind.BOLTS), "2 x 3/8-24", Bolts(count=2, diameter=0.009525, thread="3/8-24"), None),
    (
        fact(FactKind.BOLTS), "3 x 3/8 in Grade 5",
        Bolts(count=3, diameter=0.009525, strength_class="Grade 5"), None,
    ),
    (fact(FactKind.CHOICE, choices=("drawings", "certificate")), "Drawings", "drawings", None),
    (fact(FactKind.NAMES), "Robin, Sam", ("Robin", "Sam"), None),
    (fact(FactKind.YES_NO), "Yes", True, None),
    (fact(FactKind.YES_NO), "n", False, None),
    (fact(FactKind.MARKED), "2024", Marked(day=date(2024, 12, 31), precision="year"), None),
    (fact(FactKind.MARKED), "2024-02", Marked(day=date(2024, 2, 29), precision="month"), None),
    (fact(FactKind.MARKED), "02/2013", Marked(day=date(2013, 2, 28), precision="month"), None),
    (fact(FactKind.MARKED), "Feb 2013", Marked(day=date(2013, 2, 28), precision="month"), None),
    (fact(FactKind.MARKED), "25 November 2024", Marked(day=date(2024, 11, 25)), None),
    (fact(FactKind.MARKED), "2024-11-25", Marked(day=date(2024, 11, 25)), None),
    (fact(FactKind.MARKED), "2024-nov", Marked(day=date(2024, 11, 30), precision="month"), None),
    (fact(FactKind.MARKED), "2024-Nov.-5", Marked(day=date(2024, 11, 5)), None),
    (fact(FactKind.MARKED), "unreadable", Unreadable(), None),
]  # fmt: skip


def alike(found, value) -> bool:
    """Equal but for the last digits of a floating-point number."""
    if isinstance(value, tuple):
        return len(found) == len(value) and all(map(alike, found, value))
    if isinstance(value, (Tube, Bolts)):
        return type(found) is type(value) and alike(astuple(found), astuple(value))
    return math.isclose(found, value, rel_tol=1e-12) if isinstance(value, float) else bool(found == value)


@pytest.mark.parametrize(
    ("one", "text", "value", "error"), READ, ids=lambda x: x if isinstance(x, str) else ""
)
def test_what_a_person_writes_is_read(one, text, value, error):
    found, spread = read_fact(one, text)
    assert alike(found, value)
    assert spread == (None if error is None else pytest.approx(error, rel=1e-12))
    assert fits(one, found)
    assert read_fact(one, write_fact(one, found))[0] == found


@pytest.mark.parametrize(
    ("one", "text", "words"),
    [
        (LENGTH, "", ["nothing"]),
        (LENGTH, "45", ["without a unit", '"45 mm"']),
        (LENGTH, "45 kg", ["which is a mass"]),
        (LENGTH, "45 ± 1 ± 1 mm", ["one ± at most"]),
        (LENGTH, "45 ± kg mm", ["after ±"]),
        (LENGTH, "45 ± -1 mm", ["0 or more"]),
        (fact(FactKind.POINT), "-1200 350 mm", ["2 figures"]),
        (fact(FactKind.POINT), "-1200 350 900", ["without a unit"]),
        (fact(FactKind.OUTLINE), "0 0, 120 0 mm", ["2 corners"]),
        (fact(FactKind.OUTLINE), "0 0,120 0 mm, 1 2 mm", ["the corner"]),
        (fact(FactKind.TUBE), "45 mm", ["45 x 2.5 mm"]),
        (fact(FactKind.TUBE), "45 x 2.5", ["Write the unit"]),
        (fact(FactKind.TUBE), "45 x 25 mm", ["half the diameter"]),
        (fact(FactKind.BOLTS), "M8", ["3 x M8 8.8"]),
        (fact(FactKind.BOLTS), "0 x M8", ["3 x M8 8.8"]),
        (fact(FactKind.BOLTS), "1 x 7/16-14 UNF 8.8", ["'7/16-14 UNF'", "7/16-14 UNC"]),
        (fact(FactKind.BOLTS), "1 x 7/16-18 UNF 8.8", ["'7/16-18 UNF'", "7/16-20 UNF"]),
        (fact(FactKind.BOLTS), "3 x M8 strong", ["'strong'", "8.8"]),
        (fact(FactKind.CHOICE, choices=("drawings", "certificate")), "drawing", ["Did you mean drawings?"]),
        (fact(FactKind.NAMES), "Sam, Sam", ["once"]),
        (fact(FactKind.YES_NO), "perhaps", ["yes or no"]),
        (fact(FactKind.MARKED), "15/03/24", ["2024-03-15"]),
        (fact(FactKind.MARKED), "2023-02-29", ["2024-03-15"]),
        (fact(FactKind.MARKED), "2023-13", ["2024-03-15"]),
        (fact(FactKind.TEXT), "x" * 500, ["400 at most"]),
    ],
)
def test_what_cannot_be_read_is_refused_plainly(one, text, words):
    with pytest.raises(BadInput) as refusal:
        read_fact(one, text)
    for word in ("The thing", *words):
        assert word in str(refusal.value)


@pytest.mark.parametrize(
    ("ask", "written"),
    [
        ("Welder", "?"), ("Welder", "unknown"), ("Welder", "n/a"), ("Welder", "--"),
        ("Number on the plate", "none"), ("Homologation number, left", "-"),
    ],
)  # fmt: skip
def test_words_that_stand_for_nothing_are_refused(ask, written):
    with pytest.raises(BadInput, match="Leave it unrecorded"):
        read_fact(replace(fact(FactKind.TEXT), ask=ask), written)


def test_none_is_an_answer_where_no_number_is_asked_for():
    assert read_fact(replace(fact(FactKind.TEXT), ask="Standard"), "none")[0] == "none"


REAL = st.floats(-1e4, 1e4).map(lambda number: number + 0.0)
ABOVE = st.floats(1e-5, 10.0)
MARKS = st.one_of(
    st.dates(date(1950, 1, 1), date(2199, 12, 31)).map(lambda day: Marked(day=day)),
    st.integers(1950, 2199).map(lambda year: Marked(day=date(year, 12, 31), precision="year")),
    st.integers(1950, 2199).map(lambda year: Marked(day=date(year, 4, 30), precision="month")),
    st.just(Unreadable()),
)
CLASSES = st.sampled_from(["", "4.6", "8.8", "10.9", "A2-70", "Grade 8", "Grade 5"])
SIZES = st.one_of(
    st.sampled_from([0.0111125, 0.009525, 0.008, 0.010, 0.012]),
    st.integers(3, 30).map(lambda size: float(f"{size}e-3")),
)
WORDS = (
    st.text("abcdefghijklmnop -", min_size=1, max_size=30)
    .map(str.strip)
    .filter(lambda text: not is_placeholder(text))
)
CASES = st.one_of(
    *(
        st.tuples(st.just(fact(FactKind.NUMBER, quantity, unit)), REAL)
        for quantity, unit in (
            ("length", "mm"), ("angle", "deg"), ("force", "kN"), ("mass", "lb"), ("pressure", "N/mm2"),
            ("area", "cm2"), ("volume", "L"), ("sound level", "dB(A)"), ("number", ""), ("power", "hp"),
        )
    ),
    st.tuples(st.just(fact(FactKind.NUMBER, "share", "%")), st.floats(0.0, 1.4)),
    st.tuples(st.just(fact(FactKind.NUMBER, "temperature", "°F")), st.floats(-200.0, 900.0)),
    st.tuples(
        st.just(fact(FactKind.NUMBERS, "length", "mm")),
        st.lists(REAL, min_size=1, max_size=6).map(tuple),
    ),
    st.tuples(st.just(fact(FactKind.POINT, unit="mm")), st.tuples(REAL, REAL, REAL)),
    st.tuples(
        st.just(fact(FactKind.OUTLINE, unit="mm")),
        st.lists(st.tuples(REAL, REAL), min_size=3, max_size=8).map(tuple),
    ),
    st.tuples(
        st.just(fact(FactKind.TUBE, unit="mm")),
        st.tuples(ABOVE, st.floats(0.01, 0.5)).map(lambda t: Tube(diameter=t[0], wall=t[0] * t[1])),
    ),
    st.tuples(
        st.just(fact(FactKind.BOLTS)),
        st.builds(Bolts, count=st.integers(1, 40), diameter=SIZES, strength_class=CLASSES),
    ),
    st.tuples(
        st.just(fact(FactKind.BOLTS)),
        st.builds(
            lambda count, thread, mark: Bolts(
                count=count, diameter=thread[1], strength_class=mark, thread=thread[0]
            ),
            st.integers(1, 40),
            st.sampled_from(
                [("7/16-20 UNF", 0.0111125), ("7/16-14 UNC", 0.0111125), ("M10x1.25", 0.01)]
            ),
            CLASSES,
        ),
    ),
    st.tuples(st.just(fact(FactKind.TEXT)), WORDS),
    st.tuples(st.just(fact(FactKind.CHOICE, choices=("old", "own"))), st.sampled_from(["old", "own"])),
    st.tuples(st.just(fact(FactKind.NAMES)), st.lists(WORDS, min_size=1, max_size=4, unique=True).map(tuple)),
    st.tuples(st.just(fact(FactKind.YES_NO)), st.booleans()),
    st.tuples(st.just(fact(FactKind.MARKED)), MARKS),
)  # fmt: skip


@given(CASES)
def test_what_is_written_reads_the_same_again(case):
    one, value = case
    found, error = read_fact(one, write_fact(one, value))
    assert found == value
    assert type(found) is type(value)
    assert error is None


@given(st.sampled_from([case[0] for case in READ]), st.text(max_size=40))
def test_any_text_gives_a_value_that_fits_or_a_refusal(one, text):
    try:
        value, _ = read_fact(one, text)
    except BadInput as refusal:
        assert "found" in str(refusal)
    else:
        assert fits(one, value)
