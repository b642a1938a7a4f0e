"""From one set-up to another: the sentence, the time, what it does, and what is not known."""

from dataclasses import replace

import pytest

from benches import demo_bench
from paths import flat_path
from setups_by_hand import car_by_hand, chassis_by_hand, setup_by_hand
from tintop.answer import Verdict
from tintop.car.chassis import End
from tintop.car.lock_order import LockOrder
from tintop.car.setup import Purpose
from tintop.lap.setup_effect import SetupEffect, setup_effect
from tintop.lap.setup_gain import Confirmed
from tintop.questions.from_one_setup_to_another import (
    CAUTIONS,
    Changeover,
    from_one_setup_to_another,
    is_asked,
    weather_purpose,
)

BAR = {"pressure": "bar", "torque": "N·m"}
OVAL = flat_path("oval", [(150.0, 0.0), (125.0, 1 / 40.0)] * 2)


def _asked(a: str, b: str, **more: object) -> Changeover:
    bench = demo_bench()
    given = bench.described.car, bench.chassis
    return from_one_setup_to_another(bench.setup(a), bench.setup(b), *given, units=BAR, **more)  # type: ignore[arg-type]


def _effect(name: str) -> SetupEffect:
    bench = demo_bench()
    return setup_effect(bench.described.car, bench.chassis, bench.setup(name), OVAL, bench.weather())


def test_the_same_is_nothing_to_do() -> None:
    found = _asked("dry", "dry")
    assert found.answer.sentence == "Nothing to do: Dry circuit and Dry circuit are the same."
    assert not found.jobs and not found.differences and not found.answer.cautions
    assert found.answer.next_thing


def test_road_to_dry_says_how_many_how_long_and_the_first_thing() -> None:
    found = _asked("road", "dry")
    count = sum(is_asked(job) for job in found.jobs)
    assert found.answer.sentence.startswith(f"From Road drive to Dry circuit: {count} jobs, about ")
    assert found.answer.verdict is Verdict.FOUND
    assert found.answer.next_thing.startswith("Car up on stands, wheels off; then tyres: ")
    assert "105 N·m" in found.answer.next_thing
    assert found.answer.cautions == ("Legality not checked: no rule book was asked.", *CAUTIONS)
    time = found.answer.figures[0]
    assert time.low < time.value == 60.0 * found.minutes < time.high


def test_who_has_no_time_is_told_the_tyres_their_pressures_and_the_bias_first() -> None:
    (said,) = [words for words in _asked("dry", "wet").answer.why if words.startswith("Short of time")]
    assert said.startswith(
        "Short of time: first tyres, then front cold pressure, then rear cold pressure, then brake bias ("
    )
    assert "; then rear anti-roll bar, " in said and "min)" in said
    assert "Left undone: front ride height" in said


def test_the_pads_come_first_and_nothing_is_left_undone_for_the_road() -> None:
    (said,) = [words for words in _asked("road", "dry").answer.why if words.startswith("Short of time")]
    assert said.startswith("Short of time: first pads, then tyres, ")
    assert not any(words.startswith("Short of time") for words in _asked("dry", "road").answer.why)


def test_going_dry_the_bias_comes_forward_before_anything_else() -> None:
    (said,) = [words for words in _asked("wet", "dry").answer.why if words.startswith("Short of time")]
    assert said.startswith("Short of time: first brake bias, then tyres, ")


def test_a_big_gain_is_laid_at_the_tyres_where_one_set_is_wrong_for_the_road() -> None:
    before, after = _effect("dry"), _effect("wet")
    sure = Confirmed(before=before, after=after, low=1.0, high=2.0, doubts=())
    found = _asked("dry", "wet", circuit="oval", predicted=sure)
    assert "Mostly the tyres: semi-slicks on a wet road" in found.answer.why[0]
    assert "Mostly the tyres" not in _asked("road", "dry", predicted=sure).answer.why[0]


def test_tyres_for_the_circuit_alone_have_no_wear_on_the_road() -> None:
    found = _asked("dry", "wet")
    assert {which for which, _ in found.tread} == {"a"}
    assert not any(figure.name.startswith("Wet circuit") for figure in found.answer.figures)


def test_what_the_rules_forbid_goes_with_the_answer() -> None:
    found = _asked("road", "dry", not_legal="Too low.", legality=("Book 4.6 asks 60 mm.",))
    assert found.not_legal == "Too low."
    assert found.answer.cautions[0] == "Book 4.6 asks 60 mm."


def test_what_a_paddock_has_no_room_for_and_what_is_unknown() -> None:
    car, chassis, road = car_by_hand(), chassis_by_hand(), setup_by_hand()
    other = replace(road, front=replace(road.front, spring="unmarked"), final_drive=4.4)
    found = from_one_setup_to_another(road, other, car, chassis)
    said = " ".join(found.answer.why)
    assert "cannot well be done at an event" in found.answer.sentence
    assert "order the weekend round it" in said
    assert "Front ride height: how far to turn cannot be told" in said
    assert "no minutes are written down" in said
    assert "nobody has timed" in found.answer.sentence
    crooked = replace(road, corners=(replace(road.corners[0], ride_height=0.12), *road.corners[1:]))
    assert "corner scales" in " ".join(from_one_setup_to_another(road, crooked, car, chassis).answer.why)


def test_the_drive_costs_less_of_the_inner_edge_upright() -> None:
    tread = _asked("road", "dry").tread
    assert tread["a", End.FRONT] < tread["b", End.FRONT]
    wide = [figure for figure in _asked("road", "dry").answer.figures if "inner edge" in figure.name]
    assert len(wide) == 4 and all(figure.high == pytest.approx(9.0 * figure.low) for figure in wide)


def test_a_gain_that_may_be_a_loss_is_not_proven() -> None:
    before, after = _effect("road"), _effect("dry")
    gained = before.lap_time - after.lap_time
    sure = Confirmed(before=before, after=after, low=0.5 * gained, high=2.0 * gained, doubts=())
    found = _asked("road", "dry", circuit="oval", predicted=sure)
    assert gained > 0.0
    assert f"On a dry road it is {gained:.2f} s a lap quicker" in found.answer.why[0]
    figure = next(each for each in found.answer.figures if "a lap" in each.name)
    assert (figure.value, figure.low, figure.high) == (sure.gain, sure.low, sure.high)
    unsure = replace(sure, low=-0.3)
    assert (
        _asked("road", "dry", predicted=unsure)
        .answer.why[0]
        .startswith("Which is quicker on a dry road is not proven")
    )


def test_rear_wheels_that_lock_first_are_said() -> None:
    safe = replace(_effect("dry"), lock=LockOrder(margin=0.1, doubt=0.01))
    bad = replace(safe, lock=LockOrder(margin=-0.2))
    found = _asked("road", "dry", predicted=Confirmed(before=safe, after=bad, low=0.0, high=0.1, doubts=()))
    assert any(
        words.startswith("Dry circuit: by calculation the REAR wheels lock first")
        for words in found.answer.why
    )
    for lock, words in (
        (
            LockOrder(margin=0.03, doubt=0.03),
            "is not proven, 3.0 points of front share in hand",
        ),
        (
            LockOrder(margin=0.01),
            "is close, 1.0 points of front share in hand",
        ),
    ):
        near = Confirmed(before=safe, after=replace(safe, lock=lock), low=0.0, high=0.1, doubts=())
        assert any(
            one.startswith(f"Dry circuit: that the front wheels lock first {words}")
            for one in _asked("road", "dry", predicted=near).answer.why
        )
    good = _asked("road", "dry", predicted=Confirmed(before=safe, after=safe, low=0.0, high=0.1, doubts=()))
    assert not any("REAR" in words for words in good.answer.why)


def test_the_day_is_the_seconds_unless_that_is_the_roads() -> None:
    bench = demo_bench()
    assert weather_purpose(bench.setup("dry"), bench.setup("wet")) is Purpose.WET
    assert weather_purpose(bench.setup("wet"), bench.setup("road")) is Purpose.WET
    assert weather_purpose(bench.setup("road"), bench.setup("dry")) is Purpose.DRY
