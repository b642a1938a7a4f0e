"""Fuel on the card: what is printed adds up as it is printed, in any unit."""

import re
from dataclasses import replace
from decimal import Decimal

import pytest
from printed import TODAY

from tintop.charts.car_words import in_owner_units
from tintop.logbook.sessions import sessions
from tintop.papers.card_fuel import fuel_of
from tintop.papers.stand import stand_on


def lines(demo, forecast, unit="L") -> dict[str, str]:
    units = {**demo.settings.units, "volume": unit}
    stand = stand_on(
        demo.book,
        TODAY,
        lambda value, quantity, decimals=None: in_owner_units(value, quantity, units, decimals),
        "£",
        is_public=False,
    )
    return dict(fuel_of(stand, demo.next_meeting(), sessions(demo.book, TODAY), forecast))


def started_with(forecast, start: float):
    """The forecast with another start, burning the same."""
    event = forecast.event.event
    more = (start - event.race.start_fuel_volume) * forecast.described.car.fuel.density
    event = replace(event, race=replace(event.race, start_fuel_volume=start))
    trace = replace(forecast.trace, fuel_left=forecast.trace.fuel_left + more)
    return replace(forecast, event=replace(forecast.event, event=event), trace=trace)


def numbers(words: str) -> list[Decimal]:
    return [Decimal(each) for each in re.findall(r"\d+\.\d+", words)]


@pytest.mark.parametrize("unit", ["L", "gal_uk", "cm3"])
@pytest.mark.parametrize("start", [0.012, 0.01244, 0.01267])
def test_what_is_printed_adds_up(demo, forecast, unit, start) -> None:
    found = lines(demo, started_with(forecast, start), unit)
    to_use, at_start, put_in, unusable = numbers(found["to use"])
    assert to_use == at_start + put_in - unusable
    assert found["at the start"].startswith(f"{at_start} ")
    used, *of_it = numbers(found["used"])
    assert used == sum(of_it)
    assert numbers(found["left at the flag"]) == [to_use - used]


def test_the_laps_burn_what_the_march_burned_and_each_line_says_of_what_it_is(demo, forecast) -> None:
    found, trace = lines(demo, forecast), forecast.trace
    density = forecast.described.car.fuel.density
    burned = 1e3 * trace.fuel_burned / density
    assert f"= {burned.sum():.1f} in {trace.laps} laps + " in found["used"]
    assert found["used"].endswith("formation lap, standing")
    assert found["a lap on a free road"] == f"{burned[trace.kind == 0.0].mean():.2f} L predicted"
    assert found["a lap in the mean"].startswith(f"{burned.mean():.2f} L of all {trace.laps}")
    assert found["an hour"] == f"{burned.sum() * 3600.0 / trace.clock[-1]:.1f} L predicted"
    low, _, high = (1e3 * each for each in forecast.odds.of("fuel").margin)
    assert f"({low:.1f} L to {high:.1f} L, 5 to 95 % of races)" in found["least left"].replace("−", "-")


def test_fuel_that_finds_no_room_is_said(demo, forecast) -> None:
    assert "no room in the tank" not in lines(demo, forecast)["used"]
    brimmed = started_with(forecast, forecast.described.car.tank.volume)
    ((lap, stop),) = brimmed.trace.stops_made
    more = replace(brimmed.trace, stops_made=((lap, replace(stop, fuel_volume=0.02)),))
    assert "no room in the tank" in lines(demo, replace(brimmed, trace=more))["used"]


def test_own_fuel_is_that_of_the_last_session_here(demo) -> None:
    last = [each for each in sessions(demo.book, TODAY) if each.run.meeting == "trophy"][-1]
    own = lines(demo, None)["own, here"]
    assert own.startswith(f"{1e3 * last.fuel_per_lap:.2f} L a lap in the mean of {last.run.laps}, Race")
