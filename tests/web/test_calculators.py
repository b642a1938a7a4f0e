import re
from html import unescape

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from predicted import client_of, new_garage

from tintop.errors import BadInput
from tintop.web.calculating import degrees, kilonewtons, millimetres, newtons, plain, square_centimetres
from tintop.web.pages.calculators import CALCULATORS

BY_ADDRESS = {each.address: each for each in CALCULATORS}
ADDRESSES = sorted(BY_ADDRESS)
BLANKS = [(each.address, blank.name) for each in CALCULATORS for blank in each.blanks]


@pytest.fixture(scope="module")
def garage(tmp_path_factory):
    return new_garage(tmp_path_factory.mktemp("calculators"), is_planned=False)


@pytest.fixture(scope="module")
def owner(garage):
    return client_of(garage)


def _plain(page: str) -> str:
    words = unescape(re.sub(r"<[^>]*>", " ", page)).replace("\u202f", " ").replace("\u2212", "-")
    return re.sub(r"\s+", " ", words)


def _worked(address: str, **typed: str):
    calculator = BY_ADDRESS[address]
    return calculator.worked(calculator.texts(typed))


def _value(address: str, name: str, **typed: str) -> str:
    found = next(each for each in _worked(address, **typed).results if each.name.startswith(name))
    return found.value.replace("\u202f", " ").replace("\u2212", "-")


def test_the_list_leads_to_every_calculator(owner) -> None:
    page = owner.get("/calculators")
    assert page.status_code == 200
    for address in ADDRESSES:
        assert f'href="/calculators/{address}"' in page.text
        assert owner.get(f"/calculators/{address}").status_code == 200
    assert owner.get("/calculators/lottery").status_code == 404


@pytest.mark.parametrize("address", ADDRESSES)
def test_each_shows_results_with_formula_numbers_source_and_caution(owner, address) -> None:
    page = owner.get(f"/calculators/{address}").text
    said = _plain(page)
    worked = _worked(address)
    assert len(worked.results) >= 2
    for result in worked.results:
        for words in (result.name, result.value, result.formula, result.put_in, result.source):
            assert words and _plain(words) in said
    assert _plain(worked.caution) in said
    assert "<svg" in page and "Example figures stand in the blanks" in said
    for blank in BY_ADDRESS[address].blanks:
        assert f'<label for="{blank.name}">' in page


@pytest.mark.parametrize("address", ADDRESSES)
def test_nothing_a_strict_browser_would_refuse_and_ids_once(owner, address) -> None:
    page = owner.get(f"/calculators/{address}").text
    assert " style=" not in page and "<style" not in page
    assert not re.search(r"\son[a-z]+=", page)
    ids = re.findall(r'\sid="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    for described in re.findall(r'aria-describedby="([^"]+)"', page):
        assert set(described.split()) <= set(ids)


@pytest.mark.parametrize(("address", "blank"), BLANKS)
def test_bad_words_are_answered_beside_their_field_and_stay(owner, address, blank) -> None:
    typed = {each.name: each.example for each in BY_ADDRESS[address].blanks} | {blank: "<b>rust</b>"}
    page = owner.get(f"/calculators/{address}", params=typed)
    assert page.status_code == 422
    assert f'id="{blank}-problem">Found ' in page.text
    assert "&lt;b&gt;rust&lt;/b&gt;" in page.text and "<b>rust" not in page.text
    assert "Everything you typed is still here" in page.text
    assert page.text.count('aria-invalid="true"') == 1


@pytest.mark.parametrize(
    ("address", "blank", "text"),
    [
        ("strap", "error", "-1 mm"),
        ("anchor", "hole", "8 mm"),
        ("anchor", "end", "5 mm"),
        ("anchor", "edge", "5 mm"),
        ("anchor", "plate", "0"),
        ("anchor", "counterplate", "0"),
        ("anchor", "sheet", "0"),
        ("anchor", "angle", "91°"),
        ("anchor", "load", "-1 N"),
        ("anchor", "thread", "M9"),
        ("anchor", "grade", "7.7"),
        ("bolt-group", "bolts", "10 10"),
        ("ballast", "mass", "0 kg"),
        ("ballast", "times", "0"),
        ("ballast", "height", "-1"),
        ("ballast", "distances", "0 0"),
        ("ballast", "distances", ""),
        ("plate", "corners", "0 0\n10 10\n10 0\n0 10"),
        ("plate", "corners", "0 0\n10 10"),
        ("plate", "holes", "500"),
        ("tube", "wall", "23 mm"),
        ("tube", "diameter", "0"),
        ("tube", "strength", "0 N/mm2"),
    ],
)
def test_what_a_formula_refuses_stands_beside_the_field_it_is_about(owner, address, blank, text) -> None:
    page = owner.get(f"/calculators/{address}", params={blank: text})
    assert page.status_code == 422
    assert f'id="{blank}-problem">Found ' in page.text


def test_what_concerns_two_fields_stands_above_the_form(owner) -> None:
    page = owner.get("/calculators/strap", params={"x2": "300 mm", "z2": "800 mm"})
    assert page.status_code == 422
    assert "Found strap points two points that fall together in side view" in _plain(page.text)


def test_typed_text_stays_as_typed_and_nothing_is_saved(owner, garage) -> None:
    before = len(garage.book.entries)
    page = owner.get("/calculators/plate", params={"corners": "0 0\n20cm 0\n20cm 6cm\n0 6cm", "holes": ""})
    assert "20cm 6cm" in page.text
    assert "120 cm² of plate" in _plain(page.text)
    assert "Example figures" not in page.text
    assert len(garage.book.entries) == before


def test_the_figures_of_the_reference() -> None:
    """Section 3 for the angles, 1a for plates, 1b and 1e for the masses held, 2c for the tube."""
    for back, down, angle in (
        (300, 50, "9.46°"),
        (300, 52.9, "10.00°"),
        (250, 250, "45.00°"),
        (300, 350, "49.40°"),
    ):
        assert _value("strap", "Below", x1=f"{back}", z1=f"{down}", x2="0", z2="0").startswith(angle)
    assert _value("plate", "Area less", corners="0 0\n100 0\n100 60\n0 60", holes="") == "60 cm²"
    assert _value("ballast", "Whole pull", mass="17 kg", times="5") == "833.6 N"
    assert _value("ballast", "Whole pull", mass="5 kg", times="25") == "1 226 N"
    assert _value("tube", "Second moment") == "75 625 mm⁴"
    assert _value("tube", "Mass of a metre") == "2.62 kg"
    assert _value("tube", "Bending to first yield") == "1.176 kN·m"
    assert _value("bolt-group", "Force on each").startswith("1: 901.4 N; 2: 559 N")


def test_the_band_of_a_strap_is_two_sided() -> None:
    """5 mm on each coordinate at 304 mm apart is 1.33°, times 1.96."""
    assert _value("strap", "Below") == "9.46°, 6.9° to 12.1° 19 times in 20"


def test_an_anchor_higher_than_the_driver_says_so() -> None:
    assert "above horizontal: the anchor is higher" in _worked("strap", z2="850").lead
    straight_down = _worked("strap", x2="300", y2="90")
    assert [each.name for each in straight_down.results if "centre line" in each.name] == []


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (0.0, "0"),
        (0.05, "0.05"),
        (9.46249, "9.462"),
        (16070.0, "16 070"),
        (-3.14159, "-3.142"),
        (2.5e9, "2.500e+09"),
    ],
)
def test_numbers_as_they_are_written(value, words) -> None:
    assert plain(value).replace("\u202f", " ").replace("\u2212", "-") == words


def test_units_as_they_are_written() -> None:
    assert (degrees(1.0, 1), millimetres(0.3), square_centimetres(0.012)) == (
        "57.3°",
        "300\u202fmm",
        "120\u202fcm²",
    )
    assert (newtons(12.0), kilonewtons(16073.0)) == ("12\u202fN", "16.1\u202fkN")


@settings(max_examples=60)
@given(
    st.sampled_from(BLANKS),
    st.text(max_size=30) | st.sampled_from(["1e9", "-1e9", "1e-9", "0", "1 1", "M16"]),
)
def test_any_text_is_worked_out_or_refused_in_words(where, text) -> None:
    address, blank = where
    calculator = BY_ADDRESS[address]
    try:
        worked = calculator.worked(calculator.texts({blank: text}))
    except BadInput as error:
        names = {each.name for each in calculator.blanks} | {""}
        assert {problem.where for problem in error.problems} <= names
    else:
        assert worked.results and "nan" not in worked.drawing
