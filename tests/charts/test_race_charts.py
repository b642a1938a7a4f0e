from collections.abc import Callable
from dataclasses import replace

import pytest
from drawn import chances, event, inside_view, judged, race, words

from demo_cars import demo_car
from tintop.charts.lasting_chart import lasting_svg
from tintop.charts.race_charts import clock_words, fuel_svg, lap_words, laps_svg, temperatures_svg, wear_svg

_CHARTS = (temperatures_svg, fuel_svg, wear_svg, laps_svg)


@pytest.mark.parametrize("chart", _CHARTS)
def test_a_race_chart_is_inside_its_picture_and_the_same_every_time(chart: Callable[..., str]) -> None:
    svg = chart(demo_car(), event(), race())
    assert inside_view(svg)
    assert svg == chart(demo_car(), event(), race())
    said = words(svg)
    assert "safety car" in said
    assert f"stop, lap {race().stops_made[0][0]}" in said


def test_temperatures_write_every_limit() -> None:
    car = demo_car()
    said = " / ".join(words(temperatures_svg(car, event(), race())))
    assert f"boils at {car.brakes.fluid_boiling:.0f}" in said
    assert f"limit {car.cooling.oil_limit:.0f}" in said
    assert f"limit {car.cooling.coolant_limit:.0f}" in said
    assert f"limit {car.brakes.front.disc_temp_limit:.0f}" in said
    assert "greasy above" in said


def test_axles_with_limits_of_their_own_are_both_named() -> None:
    car = demo_car()
    rear = replace(car.brakes.rear, disc_temp_limit=car.brakes.front.disc_temp_limit - 100.0)
    car = replace(car, brakes=replace(car.brakes, rear=rear))
    said = words(temperatures_svg(car, event(), race()))
    assert f"front limit {car.brakes.front.disc_temp_limit:.0f}" in said
    assert f"rear limit {rear.disc_temp_limit:.0f}" in said


def test_a_dry_tank_is_called_short() -> None:
    dry = replace(race(), fuel_left=race().fuel_left - race().fuel_left[-1] - 1.0, dry_at=900.0)
    svg = fuel_svg(demo_car(), event(), dry)
    assert any(word.endswith("L short") for word in words(svg))
    assert "The tank is dry at 0:15." in svg


def test_lap_and_clock_words() -> None:
    assert lap_words(89.996) == "1:30.00"
    assert lap_words(59.94, digits=1) == "0:59.9"
    assert clock_words(7199.0) == "1:59"


def test_every_item_stands_in_what_lasts_the_worst_first() -> None:
    svg = lasting_svg(judged(), chances(), event())
    assert inside_view(svg)
    assert svg == lasting_svg(judged(), chances(), event())
    said = words(svg)
    places = [said.index(each.item.capitalize()) for each in judged()]
    by_place = [each for _, each in sorted(zip(places, judged(), strict=True), key=lambda pair: pair[0])]
    odds_down_the_page = [chances().of(each.item).probability for each in by_place]
    assert odds_down_the_page == sorted(odds_down_the_page)
    assert {"lasts", "doubtful", "does not last"} <= set(said)


def test_what_does_not_last_or_is_close_is_never_shown_as_lasting() -> None:
    one = judged()[0]
    item_odds = replace(chances().of(one.item), probability=0.999)
    sure = replace(chances(), items=(item_odds,))
    gone = replace(one, margin=-0.001)
    close = replace(one, margin=0.001, is_close=True)
    for each, word in ((gone, "fuel does not last"), (close, "fuel doubtful")):
        assert word in lasting_svg((each,), sure, event())
    safe = replace(one, margin=0.02, is_close=False)
    assert "fuel lasts" in lasting_svg((safe,), sure, event())
    unsure = replace(sure, items=(replace(item_odds, probability=0.94),))
    assert "fuel doubtful" in lasting_svg((safe,), unsure, event())


def test_less_than_gone_there_is_not_and_heat_stands_against_its_limit() -> None:
    fuel, oil = judged()[0], judged()[-1]
    found = tuple(
        replace(chances().of(each.item), margin=margin)
        for each, margin in ((fuel, (-0.0123, 0.001, 0.012)), (oil, (-15.3, 3.0, 16.7)))
    )
    shown = (replace(fuel, margin=0.002), replace(oil, margin=3.0, limit=130.0))
    svg = lasting_svg(shown, replace(chances(), items=found), event())
    assert "2.0 L left (gone to 12.0)" in svg
    assert "3 °C under its 130 (−15 to 17)" in svg


def test_odds_are_never_rounded_up_to_certain() -> None:
    one = judged()[0]
    nearly = replace(chances(), items=(replace(chances().of(one.item), probability=0.9999),))
    said = words(lasting_svg((one,), nearly, event()))
    assert "99.9" in said
    assert "100" not in said


def test_races_of_a_hundred_agree_with_the_sentence() -> None:
    most = replace(chances(), all_last=0.246)
    assert "25 of 100" in words(lasting_svg(judged(), most, event()))
    nearly = replace(chances(), all_last=0.998)
    assert "99 of 100" in words(lasting_svg(judged(), nearly, event()))
