"""Why a reading is not to be acted on: too late, too cold, the wrong way round, at odds with itself."""

from tintop.car.chassis import CORNERS, End
from tintop.car.treads import Feel, TreadReading
from tintop.car.tyres import Tyre
from tintop.event import Weather

MOST_MINUTES = 3.0  # after which a tread tells the paddock's air; common practice, no source
LEAST_LAPS = 4  # five to ten hard laps are wanted; common practice, no source
_ABOVE_ROAD = 12.0  # [K] that a worked tread stands above the road at least; estimated, no source
_FAR_BELOW_BEST = 35.0  # [K] below its best a tyre has not worked; estimated, no source
_WET_BELOW_BEST = 50.0
_JUMP = 40.0  # [K] across one tread: a slip of the pen or probe; common practice, no source
_TOO_HOT = 135.0  # [°C] of a whole tread: a tyre that is past reading, or °F; common practice, no source
_FAR_FROM_OTHERS = 35.0  # [K] over the middle of the other three wheels; estimated, no source
_MIRRORED = 4.0  # [K] inner to outer, other way round left and right
_GROWTH = (-0.02e5, 1.2e5)  # [Pa] from cold to hot
_OUT_OF_FAMILY = 0.25e5  # [Pa] between left and right hot, beyond what they differed cold
_UNLIKE = 6.0  # [K] between the crowns of left and right of an axle, of opposite signs


def safety_first(reading: TreadReading) -> tuple[str, ...]:
    """What is looked at before any set-up: a tyre that has lost air."""
    found = []
    for end in End:
        hot, cold = reading.of(end, reading.hot), reading.of(end, reading.cold)
        if hot[0] is None or hot[1] is None:
            continue
        apart = hot[0] - hot[1]
        if cold[0] is not None and cold[1] is not None:
            apart -= cold[0] - cold[1]
        if abs(apart) > _OUT_OF_FAMILY:
            names = CORNERS[:2] if end is End.FRONT else CORNERS[2:]
            low = names[0] if apart < 0.0 else names[1]
            found.append(
                f"{low} is {abs(apart) * 1e-5:.2f} bar below its fellow for what they were cold: look "
                f"for a slow "
                "puncture, a leaking valve or a cracked rim before anything else"
            )
    return tuple(found)


def doubts(
    reading: TreadReading, tyres: tuple[Tyre, Tyre], weather: Weather, cambers: tuple[float, float]
) -> tuple[str, ...]:
    """Why to measure again, worst first; empty for a reading to act on. `cambers` front and rear [rad].

    Source: common practice, no source: hot laps, no cool-down lap, treads before pressures, within minutes.
    """
    found: list[str] = []
    if reading.taken_with:
        found.append(f"it was taken with {reading.taken_with}: it says nothing of what is on the car now")
    if reading.is_after_cool_down:
        found.append("it was taken after a cool-down lap: the edges have evened out")
    if reading.minutes_since_in is not None and reading.minutes_since_in > MOST_MINUTES:
        found.append(
            f"it was taken {reading.minutes_since_in:.0f} min after the car came in; treads tell for "
            f"{MOST_MINUTES:.0f}"
        )
    if reading.laps is not None and reading.laps < LEAST_LAPS:
        found.append(f"{reading.laps} laps are too few: five to ten hard ones are wanted")
    found += _too_cold(reading, tyres, weather)
    found += _slips(reading)
    found += _wrong_way_round(reading, cambers)
    found += _at_odds(reading)
    return tuple(found)


def _too_cold(reading: TreadReading, tyres: tuple[Tyre, Tyre], weather: Weather) -> list[str]:
    """The hottest tread of the car has not worked."""
    hottest = max(tread.mean for tread in reading.treads)
    is_wet = weather.wetness >= 0.5
    best = max(tyre.temp_best for tyre in tyres)
    least = best - (_WET_BELOW_BEST if is_wet else _FAR_BELOW_BEST)
    least = max(least, weather.road_temp + (0.0 if is_wet else _ABOVE_ROAD))
    if hottest >= least:
        return []
    return [
        f"the hottest tread has {hottest:.0f} °C, and this tyre works from about {least:.0f} °C: too "
        f"cold, or "
        "read too late"
    ]


def _slips(reading: TreadReading) -> list[str]:
    found = []
    for corner, tread in zip(CORNERS, reading.treads, strict=True):
        if tread.spread > _JUMP:
            found.append(f"{corner} jumps by {tread.spread:.0f} K across one tread: a slip, or mixed units")
    means = [tread.mean for tread in reading.treads]
    hottest = max(range(4), key=lambda place: means[place])
    rest = sorted(one for place, one in enumerate(means) if place != hottest)
    if means[hottest] > _TOO_HOT or means[hottest] - rest[1] > _FAR_FROM_OTHERS:
        found.append(
            f"{CORNERS[hottest]} is read as {means[hottest]:.0f} °C, far from the other three: °F "
            f"taken for °C, or a slip"
        )
    for corner, cold, hot in zip(CORNERS, reading.cold, reading.hot, strict=True):
        if cold is not None and hot is not None and not _GROWTH[0] <= hot - cold <= _GROWTH[1]:
            found.append(
                f"{corner} went from {cold * 1e-5:.2f} bar cold to {hot * 1e-5:.2f} bar hot: a slip, "
                f"or cold and "
                "hot swapped"
            )
    return found


def _wrong_way_round(reading: TreadReading, cambers: tuple[float, float]) -> list[str]:
    leans = [tread.lean for tread in reading.treads]
    left, right = (leans[0], leans[2]), (leans[1], leans[3])
    if (min(left) > _MIRRORED and max(right) < -_MIRRORED) or (
        max(left) < -_MIRRORED and min(right) > _MIRRORED
    ):
        return [
            "inner and outer are mirrored between left and right on both axles, as when a car is "
            "probed from one "
            "side to the other: was it inner, middle, outer at every wheel?"
        ]
    if max(leans) < -_MIRRORED and max(cambers) < -0.026:
        return [
            "all four outer edges are the hotter though the wheels lean in well: were inner and outer "
            "swapped?"
        ]
    return []


def _at_odds(reading: TreadReading) -> list[str]:
    found = []
    for end in End:
        one, other = (tread.crown for tread in reading.pair(end))
        if one * other < 0.0 and abs(one - other) > 2.0 * _UNLIKE:
            found.append(
                f"{end.value} left and right contradict each other, middle {one:+.0f} and {other:+.0f} "
                f"K over the "
                "edges".replace("-", "−")
            )
    heard: dict[tuple[str, str], set[Feel]] = {}
    for said in reading.said:
        heard.setdefault((said.phase, said.pace), set()).add(said.feel)
    for (phase, pace), feels in heard.items():
        if {Feel.UNDERSTEER, Feel.OVERSTEER} <= feels:
            where = " ".join(each for each in (phase, pace) if each)
            found.append(f"the driver says both understeer and oversteer at {where}: ask which comes first")
    return found
