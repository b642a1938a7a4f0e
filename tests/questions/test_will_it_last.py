import pytest

from tintop.questions.will_it_last import (
    best_first,
    of_hundred,
    written_effect,
    written_margin,
    written_range,
    written_remedy,
)
from tintop.race.lasting import Lasts
from tintop.race.remedies import Remedy


def lasts(unit: str, used: float, limit: float) -> Lasts:
    return Lasts(
        item="oil",
        unit=unit,
        used=used,
        limit=limit,
        margin=limit - used,
        runs_out_at_s=None,
        good_for_s=None,
        is_close=False,
        probability=0.6,
        standard_error=0.01,
    )


def remedy(**changes) -> Remedy:
    values = {
        "item": "oil",
        "change": "fit an oil cooler: there is none now",
        "number": "cooling.oil_core_conductance",
        "before": 0.0,
        "after": 100.0,
        "unit": "W/K",
        "margin": 19.0,
        "lap_time_cost": 0.0,
        "laps": 77,
        "is_enough": True,
        "probability": 0.987,
        "all_last": 0.232,
    }
    return Remedy(**{**values, **changes})


@pytest.mark.parametrize(
    ("unit", "used", "limit", "words"),
    [
        ("K", 127.0, 130.0, "127 °C, 3 °C under its 130"),
        ("K", 133.0, 130.0, "133 °C, 3 °C over its 130"),
        ("m", 0.004, 0.0058, "1.80 mm left"),
        ("m", 0.006, 0.0055, "gone, 0.50 mm short"),
        ("m3", 0.070, 0.0722, "2.2 L left"),
    ],
)
def test_a_margin_is_said_as_a_mechanic_says_it(unit, used, limit, words):
    assert written_margin(lasts(unit, used, limit)) == words


def test_less_than_gone_there_is_not():
    assert written_range(-0.01208, 0.0057, "m") == ("gone", "5.70 mm")
    assert written_range(-15.3, 16.7, "K") == ("15 °C over", "17 °C under")


def test_a_remedy_is_a_deed_with_its_price_in_time_and_its_odds():
    assert written_remedy(remedy()) == (
        "fit an oil cooler: there is none now, no lap time lost, 77 laps in the race"
    )
    assert "0.3 s a lap slower" in written_remedy(remedy(lap_time_cost=0.31))
    assert written_effect(remedy()) == ("enough as planned, then lasts in 99 of 100 races, everything in 23")
    assert written_effect(remedy(probability=None, all_last=None)) == (
        "enough as planned only: no races were drawn with it"
    )
    assert written_effect(remedy(is_enough=False)).startswith("not enough alone as planned")


def test_a_remedy_that_holds_in_most_races_goes_before_a_quicker_one_that_does_not():
    sure, quick = remedy(lap_time_cost=0.4), remedy(probability=0.7)
    assert best_first((quick, sure)) == (sure, quick)


def test_odds_are_never_rounded_up_to_certainty():
    assert [of_hundred(share) for share in (1.0, 0.99999, 0.954, 0.0)] == ["100", "99.9", "95", "0"]
