from dataclasses import replace

from cars import front_driven_hatchback
from tintop.car.brake_balance import BrakeAsk
from tintop.car.brake_changes import other_parts, pads_by_temperature
from tintop.car.chassis import PadSet

CAR = front_driven_hatchback()
ASK = BrakeAsk(friction=0.9, front_temp=300.0, rear_temp=200.0)


def by_name(changes):
    return {change.name: change for change in changes}


def test_each_part_moves_the_balance_its_own_way():
    found = by_name(other_parts(CAR, ASK, ()))
    now = found["as it stands"].front_share
    assert found["front piston 2 mm larger"].front_share > now
    assert found["rear piston 2 mm smaller"].front_share > now
    assert found["front disc 20 mm larger"].front_share > now
    assert "rear cylinder 1/16 in larger" not in found
    with_bar = replace(CAR, brakes=replace(CAR.brakes, is_tandem_cylinder=False))
    assert by_name(other_parts(with_bar, ASK, ()))["rear cylinder 1/16 in larger"].front_share > now


def test_other_pads_are_named_and_those_that_are_fitted_are_not_said_twice():
    weak = replace(CAR.brakes.rear.pad, frictions=tuple(0.8 * f for f in CAR.brakes.rear.pad.frictions))
    sets = [
        PadSet(name="as fitted", front=CAR.brakes.front.pad, rear=CAR.brakes.rear.pad),
        PadSet(name="weaker rear", front=CAR.brakes.front.pad, rear=weak),
    ]
    found = by_name(other_parts(CAR, ASK, sets))
    assert "pads: as fitted" not in found
    assert found["pads: weaker rear"].front_share > found["as it stands"].front_share
    assert found["pads: weaker rear"].margin > found["as it stands"].margin


def test_pads_are_asked_cold_working_and_hot():
    rows = pads_by_temperature(CAR, ASK)
    assert [row.name.partition(",")[0] for row in rows] == ["cold", "working", "hot"]
    assert all(row.rear_first == (row.margin < 0.0) for row in rows)
    overheated = pads_by_temperature(CAR, replace(ASK, front_temp=700.0, rear_temp=500.0))
    assert overheated[1].front_share < rows[1].front_share
