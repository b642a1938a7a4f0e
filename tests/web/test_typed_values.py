import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.errors import BadInput
from tintop.web.typed_values import lengths_typed, places_typed, value_typed


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("300", 0.3), ("300 mm", 0.3), ("30cm", 0.3), ("0,3 m", 0.3), ("−12,5", -0.0125), ("1 in", 0.0254),
        ("-1e2", -0.1), (" +7.5 ", 0.0075),
    ],
)  # fmt: skip
def test_a_bare_number_is_one_of_the_field_and_a_unit_counts(text, metres):
    assert value_typed(text, "length", "mm", "run") == pytest.approx(metres)


@pytest.mark.parametrize("text", ["360", "360 N/mm²", "360 N/mm2", "360 MPa", "0.36e3"])
def test_a_strength_as_it_stands_on_a_certificate(text):
    assert value_typed(text, "pressure", "N/mm2", "strength") == pytest.approx(360e6)


@pytest.mark.parametrize("text", ["", "  ", "mm", "3 kg", "12 apples", "1,000", "nan", "inf", "9" * 50, "²"])
def test_what_is_no_length_is_refused_by_name(text):
    with pytest.raises(BadInput, match="run: found"):
        value_typed(text, "length", "mm", "run")


@pytest.mark.parametrize("text", ["30 170", "30 mm, 170 mm", "30mm; 170mm", "3 cm\n0.17 m", "30, 170"])
def test_lengths_in_any_row(text):
    assert lengths_typed(text, "mm", "holes") == pytest.approx((0.03, 0.17))


def test_no_lengths_are_none():
    assert lengths_typed(" ", "mm", "holes") == ()


@pytest.mark.parametrize("text", ["x", "30 / 40", "9 nine", "(9)", "30 30 kg"])
def test_other_words_among_lengths_are_refused(text):
    with pytest.raises(BadInput, match="holes: found"):
        lengths_typed(text, "mm", "holes")


@pytest.mark.parametrize("text", ["0 0\n120 80", "0 0; 120 80", "0 mm 0 mm\r\n12 cm, 80 mm\n\n"])
def test_places_one_a_line(text):
    (first, second) = places_typed(text, "mm", "corners")
    assert first == (0.0, 0.0)
    assert second == pytest.approx((0.12, 0.08))


def test_a_place_that_is_not_two_lengths_is_named_by_its_line():
    with pytest.raises(BadInput, match="corners: found '5 6 7' in line 2"):
        places_typed("1 2\n5 6 7", "mm", "corners")
    with pytest.raises(BadInput, match="at most 200"):
        places_typed("1 2\n" * 201, "mm", "corners")


@given(st.lists(st.tuples(st.integers(-2000, 2000), st.integers(-2000, 2000)), min_size=1, max_size=20))
def test_places_written_are_places_read(places):
    text = "\n".join(f"{x} {y}" for x, y in places)
    found = places_typed(text, "mm", "corners")
    assert [(round(1e3 * x), round(1e3 * y)) for x, y in found] == places


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_in_words(text):
    for read in (lengths_typed, places_typed):
        try:
            read(text, "mm", "holes")
        except BadInput as error:
            assert "holes" in str(error)
