from dataclasses import replace

from tintop.answer import Verdict
from tintop.car.pressure_plan import PressureDay, Rise, Stage
from tintop.logbook.tyre_leaks import LeakFinding, TyreLeak
from tintop.questions.cold_pressures import cold_pressures


def rise(value, doubt=6.0):
    return Rise(value=value, uncertainty=doubt, basis="as your own tyres warmed here, 3 sessions")


DAY = PressureDay(
    targets=(2.15e5,) * 4,
    target_basis="by the car's document",
    rises=(rise(60.0), rise(50.0, 14.0), rise(40.0), rise(30.0)),
    tyres_at=14.0,
    stages=(
        Stage(name="practice", air_temp=14.0, laps=8),
        Stage(name="the race", air_temp=25.0, laps=60),
    ),
    cooling=(4000.0,) * 4,
)
LEAK = TyreLeak(
    corner="RL", finding=LeakFinding.LEAKS, rate=5e3, low=3e3, high=7e3, readings=6, days=5.0,
    basis="against the other three",
)  # fmt: skip


def test_four_numbers_the_weakest_point_and_the_next_thing():
    found = cold_pressures(DAY)
    answer = found.answer
    assert answer.verdict is Verdict.FOUND
    assert all(f"{corner} " in answer.sentence for corner in ("FL", "FR", "RL", "RR"))
    assert "psi" in answer.sentence and "14 °C" in answer.sentence
    assert [figure.name for figure in answer.figures] == ["cold FL", "cold FR", "cold RL", "cold RR"]
    assert all(figure.low < figure.value < figure.high for figure in answer.figures)
    assert any("Most in doubt: FR" in why for why in answer.why)
    assert "8 laps of practice" in answer.next_thing and "bleed FL" in answer.next_thing
    assert any("maker" in caution for caution in answer.cautions)


def test_a_day_that_warms_reads_higher_and_is_bled_lower():
    found = cold_pressures(DAY)
    for comes, bleed, corner in zip(found.warmer_comes_to, found.warmer_bleed_to, found.corners, strict=True):
        assert comes > corner.comes_to
        assert bleed < corner.target


def test_a_tyre_that_leaks_comes_before_everything():
    found = cold_pressures(DAY, (LEAK,))
    assert "RL" in found.answer.next_thing and "Soapy water" in found.answer.next_thing
    assert "RL loses" in found.answer.cautions[0] and "not raced on" in found.answer.cautions[0]
    quiet = cold_pressures(DAY, (replace(LEAK, finding=LeakFinding.HOLDS),))
    assert quiet.answer.cautions == cold_pressures(DAY).answer.cautions


def test_one_session_is_only_read():
    alone = cold_pressures(replace(DAY, stages=DAY.stages[:1]))
    assert alone.answer.next_thing.endswith("and write them down.")
