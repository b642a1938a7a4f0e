"""What a typed text means, told while it is typed."""

import pytest


def _told(page, **query):
    answer = page.get("/understand", params=query)
    assert answer.status_code == 200
    return answer.text


def test_a_guessed_unit_is_said(page):
    told = _told(page, kind="tyre pressure hot", text="32", name="pressure_hot_FL")
    assert "32 psi (2.21 bar)" in told
    assert "guessed" in told


def test_a_unit_that_was_written_is_no_guess(page):
    assert "guessed" not in _told(page, kind="tyre pressure hot", text="2.2 bar", name="pressure_hot_FL")


def test_what_reads_two_ways_is_asked_with_buttons_that_write_the_field(page):
    told = _told(page, kind="fuel", text="5 gal", name="fuel_before")
    assert 'data-write="5 imperial gal"' in told
    assert 'data-write="5 US gal"' in told
    assert 'data-for="fuel_before"' in told


def test_nonsense_gets_a_sentence(page):
    assert "Found" in _told(page, kind="laps", text="many", name="laps")


def test_new_pads_of_the_car_tell_that_the_plate_was_not_measured(page):
    assert "9 mm of friction material" in _told(page, kind="pad thickness", text="9", name="pad_inner_FL")
    assert "backing plate" in _told(page, kind="pad thickness", text="9", name="pad_inner_RL")


@pytest.mark.parametrize("field", ["kind", "text", "name"])
def test_no_markup_comes_back(page, field):
    query = {"kind": "fuel", "text": "5 gal", "name": "fuel_before"}
    query[field] = '"><script>alert(1)</script>'
    assert "<script" not in _told(page, **query)


def test_it_writes_nothing_and_is_for_looking_only(page, garage):
    before = garage.book.last_number
    _told(page, kind="fuel", text="30", name="fuel_before")
    assert garage.book.last_number == before
    assert page.post("/understand", data={"kind": "fuel"}).status_code == 405


@pytest.mark.parametrize(
    ("text", "cents"),
    [
        ("12,50", 1250), ("12.5", 1250), ("£1,234.50", 123450), ("1.234,50 €", 123450), ("1234", 123400),
        ("1 234,50", 123450), ("-20", -2000), ("£-20", -2000), ("1,234,567", 123456700), ("0.05", 5),
    ],
)  # fmt: skip
def test_sums_are_read(text, cents):
    from tintop.handwriting import Understood
    from tintop.web.money import read_money

    found = read_money(text, "£")
    assert isinstance(found, Understood)
    assert found.value == cents
    again = read_money(found.in_full, "£")
    assert isinstance(again, Understood)
    assert again.value == cents


@pytest.mark.parametrize("text", ["1,234", "1.234"])
def test_one_mark_before_three_digits_is_asked(text):
    from tintop.handwriting import Ask
    from tintop.web.money import read_money

    found = read_money(text, "£")
    assert isinstance(found, Ask)
    assert [choice.value for choice in found.choices] == [123400.0, 123.0]


@pytest.mark.parametrize(
    "text", ["", "twelve", "1,2,3", "12,345,6", "1.2.3,4", "9" * 30, "NaN", "1e5", "--5"]
)
def test_what_is_no_sum_is_refused(text):
    from tintop.errors import BadInput
    from tintop.web.money import read_money

    with pytest.raises(BadInput):
        read_money(text, "£")


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("25", 1500.0),
        ("25 min", 1500.0),
        ("2 h 05", 7500.0),
        ("2h", 7200.0),
        ("1:05:00", 3900.0),
        ("12,5", 750.0),
    ],
)
def test_running_time_is_read(text, seconds):
    from datetime import date

    from tintop.handwriting import Understood
    from tintop.web.understanding import Hand, understand

    hand = Hand(units={}, currency="£", today=date(2026, 6, 15))
    found = understand("minutes", text, hand)
    assert isinstance(found, Understood)
    assert found.value == seconds
    again = understand("minutes", found.in_full, hand)
    assert isinstance(again, Understood)
    assert again.value == seconds


def test_a_lap_list_is_read_however_it_is_set_apart():
    from datetime import date

    from tintop.handwriting import Ask, Row
    from tintop.web.understanding import Hand, understand

    hand = Hand(units={}, currency="£", today=date(2026, 6, 15))
    for text in ("1:43.2 1:44.0", "1.43.2;1.44.0", "1:43,2\n1:44,0", "1:43.2,1:44.0", "103.2s 104.0s"):
        found = understand("lap times near 104.0", text, hand)
        assert isinstance(found, Row), text
        assert [lap.value for lap in found.values] == pytest.approx([103.2, 104.0])
    asked = understand("lap times near 104.0", "1:44.0 43.2", hand)
    assert isinstance(asked, Ask)
    assert "Lap 2" in asked.question
    settled = understand("lap times near 104.0", asked.choices[0].in_full, hand)
    assert isinstance(settled, Row)
    assert [lap.value for lap in settled.values] == pytest.approx([104.0, 103.2])


def test_front_and_rear_in_one_field_are_asked_and_written_to_their_corners(page):
    told = _told(page, kind="tyre pressure hot", text="32/30", name="pressure_hot_RL")
    corners = "pressure_hot_FL pressure_hot_FR pressure_hot_RL pressure_hot_RR"
    assert f'data-write="32 psi|32 psi|30 psi|30 psi" data-for="{corners}"' in told
    assert "front 32 psi, rear 30 psi" in told
    assert 'data-write="30 psi|32 psi" data-for="pressure_cold_RL pressure_hot_RL"' in told
    assert "32.0" not in told


def test_three_temperatures_in_one_field_are_asked_which_side_comes_first(page):
    for text in ("85 82 78", "85/82/78"):
        told = _told(page, kind="tyre temperature", text=text, name="tread_middle_FR")
        names = 'data-for="tread_inner_FR tread_middle_FR tread_outer_FR"'
        assert f'data-write="85 °C|82 °C|78 °C" {names}' in told
        assert f'data-write="78 °C|82 °C|85 °C" {names}' in told


@pytest.mark.parametrize(
    ("kind", "text", "name"),
    [("coolant temperature", "130+", "coolant_peak"), ("tyre pressure hot", "32/thirty", "pressure_hot_FL"),
     ("tyre pressure hot", "32/30/31", "pressure_hot_FL")],
)  # fmt: skip
def test_what_is_refused_is_quoted_as_it_was_typed(page, kind, text, name):
    told = _told(page, kind=kind, text=text, name=name)
    assert f"Found &#39;{text}&#39;" in told
    assert "data-write" not in told
