"""From one set-up to another: every difference is one job's, in an order a mechanic can work through."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benches import demo_bench
from setups_by_hand import car_by_hand, chassis_by_hand, corner_by_hand, dry_by_hand, setup_by_hand
from tintop.car.changeover import jobs, minutes_of
from tintop.car.changeover_job import AGAIN_AFTER, Job, Stage
from tintop.car.chassis import End, Item
from tintop.car.setup import AxleSetup, Purpose, Setup
from tintop.car.setup_differences import differences
from tintop.errors import BadInput
from tintop.physics.toe import toe_over_rim

CAR, CHASSIS = car_by_hand(), chassis_by_hand()
NAMES = ["road", "dry", "wet", "larkmoor", "ottersgill", "wether-moor"]
corners = st.builds(
    corner_by_hand,
    camber=st.sampled_from([-0.055, -0.03, -0.02]),
    toe=st.sampled_from([-0.002, 0.0, 0.003]),
    ride_height=st.sampled_from([0.11, 0.12, 0.13]),
    bump=st.integers(0, 12),
    rebound=st.integers(0, 12),
    pressure_cold=st.sampled_from([1.6e5, 1.8e5, 2.1e5]),
)
axles = st.builds(
    AxleSetup,
    spring=st.sampled_from(["soft", "stiff"]),
    bar=st.just("bar"),
    bar_hole=st.integers(0, 3),
    damper=st.sampled_from(["one knob", "two knobs"]),
)
setups = st.builds(
    Setup,
    name=st.sampled_from(["one", "another"]),
    purpose=st.sampled_from(list(Purpose)),
    corners=st.tuples(corners, corners, corners, corners),
    front=axles,
    rear=axles,
    tyres=st.sampled_from(["road tyres", "semi-slicks"]),
    pads=st.sampled_from(["road pads", "race pads"]),
    final_drive=st.sampled_from([4.1, 4.4]),
    brake_bias_turns=st.sampled_from([-1.0, 0.0, 1.5]),
    fuel_volume=st.sampled_from([0.02, 0.045]),
    ballast=st.sampled_from([0.0, 20.0]),
    ballast_place=st.just("footwell"),
)


@given(setups)
def test_nothing_to_do_where_they_agree(setup: Setup) -> None:
    assert jobs(setup, replace(setup, name="copy"), CAR, CHASSIS) == ()


@given(setups, setups)
def test_every_difference_is_one_jobs(a: Setup, b: Setup) -> None:
    done = [each for job in jobs(a, b, CAR, CHASSIS) for each in job.differences]
    assert len(done) == len(set(done))
    assert set(done) == set(differences(a, b, CHASSIS))


@given(setups, setups)
def test_there_and_back_is_no_turn(a: Setup, b: Setup) -> None:
    """Perches, clicks, strut tops, rods and bias end where they began, whatever the springs between."""
    moved: dict[tuple[Item | None, str], list[float]] = {}
    for one, other in ((a, b), (b, a)):
        for job in jobs(one, other, CAR, CHASSIS):
            for step in job.steps:
                found = moved.setdefault((job.item, step.place), [0.0, 0.0])
                found[0] += step.turns or 0.0
                found[1] += step.move or 0.0
    assert all(abs(each) < 1e-6 for found in moved.values() for each in found)


@given(setups, setups)
def test_the_order_is_one_that_works(a: Setup, b: Setup) -> None:
    """Up once and down once; heights before camber before toe; pressures after all else but leaving."""
    found = jobs(a, b, CAR, CHASSIS)
    stages = [list(Stage).index(job.stage) for job in found]
    assert stages == sorted(stages)
    before = {
        Item.RIDE_HEIGHT: {Item.TYRES, Item.PADS, Item.SPRINGS, Item.DAMPERS},
        Item.CAMBER: {Item.RIDE_HEIGHT, Item.BALLAST, Item.FUEL},
        Item.TOE: {Item.CAMBER, Item.RIDE_HEIGHT},
        Item.BRAKE_BIAS: {Item.TOE},
        Item.PRESSURE: set(Item) - {Item.PRESSURE},
    }
    for place, job in enumerate(found):
        later = {each.item for each in found[place + 1 :]}
        if job.item in before:
            assert not later & before[job.item]
    ups = [job for job in found if job.stage is Stage.UP]
    assert [job.title for job in found if job.title == "Car up, wheels off"] == ["Car up, wheels off"] * bool(
        ups
    )
    assert not ups or ups[-1].title.startswith("Wheels on")


@given(setups, setups)
def test_what_moves_the_toe_has_it_looked_at(a: Setup, b: Setup) -> None:
    """A strut that leans, is lowered or was apart; a beam that is lowered keeps its toe."""
    found = jobs(a, b, CAR, CHASSIS)
    items = {(job.item, job.end) for job in found}
    if items & {(Item.CAMBER, End.FRONT), (Item.SPRINGS, End.FRONT), (Item.DAMPERS, End.FRONT)}:
        assert (Item.TOE, End.FRONT) in items
    rear = [(one.camber, one.toe) for one in a.corners[2:]] != [
        (one.camber, one.toe) for one in b.corners[2:]
    ]
    assert ((Item.TOE, End.REAR) in items) == rear


def _named(found: tuple[Job, ...], item: Item, end: End | None = None) -> Job:
    return next(job for job in found if job.item is item and job.end is end)


def test_from_the_road_to_a_dry_circuit() -> None:
    found = jobs(setup_by_hand(), dry_by_hand(), CAR, CHASSIS)
    assert [job.title for job in found] == [
        "Car up, wheels off", "Tyres", "Pads", "Front ride height", "Rear ride height",
        "Wheels on: semi-slicks; car down", "Rear anti-roll bar", "Fuel", "Front camber",
        "Front toe", "Front rebound clicks", "Rear rebound clicks", "Brake bias",
        "Front cold pressure", "Rear cold pressure", "Torque again after the first session or 50 km",
    ]  # fmt: skip
    clicks = _named(found, Item.REBOUND, End.FRONT)
    assert [step.turns for step in clicks.steps] == [6.0, 6.0]
    camber = _named(found, Item.CAMBER, End.FRONT)
    assert camber.steps[0].move == pytest.approx(0.017, abs=0.004)  # 1.7 degrees at ten millimetres each
    assert camber.toe_moves
    toe = _named(found, Item.TOE, End.FRONT).steps[0]
    wanted = toe_over_rim(-0.002 - camber.toe_moves, 0.43)  # what is asked, less what comes by itself
    assert toe.move == pytest.approx(wanted)
    bias = _named(found, Item.BRAKE_BIAS)
    assert bias.steps[0].turns == -1.0
    assert any("rear wheels must never lock first" in words for words in bias.warnings)


def test_wheel_nuts_are_checked_when_down_and_again() -> None:
    found = jobs(setup_by_hand(), dry_by_hand(), CAR, CHASSIS)
    down = next(job for job in found if job.title.startswith("Wheels on"))
    assert (down.checks[0].torque, down.checks[0].again_after) == (110.0, AGAIN_AFTER)
    bare = replace(CHASSIS, chores={})
    down = next(job for job in jobs(setup_by_hand(), dry_by_hand(), CAR, bare) if "Wheels on" in job.title)
    assert down.checks[0].torque is None
    assert "No torque is written down" in down.warnings[0]


def test_minutes_are_the_chores_and_say_what_is_not_in_them() -> None:
    minutes, unknown = minutes_of(jobs(setup_by_hand(), dry_by_hand(), CAR, CHASSIS))
    assert minutes == 30.0 + 60.0 + 20.0 + 40.0 + 2 * 10.0
    assert {job.item for job in unknown} == {
        Item.RIDE_HEIGHT, Item.BAR, Item.FUEL, Item.REBOUND, Item.BRAKE_BIAS,
    }  # fmt: skip


def test_car_up_and_wheels_off_count_once_whatever_is_done_meanwhile() -> None:
    one = jobs(setup_by_hand(), replace(setup_by_hand(), pads="race pads"), CAR, CHASSIS)
    more = jobs(
        setup_by_hand(), replace(setup_by_hand(), pads="race pads", tyres="semi-slicks"), CAR, CHASSIS
    )
    for found in (one, more):
        frames = [job for job in found if job.item is None and job.stage is Stage.UP]
        assert [job.minutes for job in frames] == [15.0, 15.0]
    assert minutes_of(one)[0] == 30.0 + 60.0
    assert _named(more, Item.TYRES).minutes == 0.0
    bare = replace(CHASSIS, chores={})
    untimed = minutes_of(jobs(setup_by_hand(), replace(setup_by_hand(), pads="race pads"), CAR, bare))[1]
    assert [job.title for job in untimed] == ["Car up, wheels off", "Pads", "Wheels on: road tyres; car down"]


@given(st.sampled_from(NAMES), st.sampled_from(NAMES))
def test_the_whole_is_the_sum_of_the_jobs_and_no_chore_counts_twice(one: str, other: str) -> None:
    bench = demo_bench()
    found = jobs(bench.setup(one), bench.setup(other), bench.described.car, bench.chassis)
    total, untimed = minutes_of(found)
    assert not untimed
    assert total == sum(job.minutes or 0.0 for job in found)
    chores = bench.chassis.chores
    looks = sum(job.minutes or 0.0 for job in found if job.stage is Stage.LEAVING)
    own = sum(chores[job.item].minutes for job in found if job.item and job.item is not Item.TYRES)
    is_up = any(job.stage is Stage.UP for job in found)
    assert total <= looks + own + is_up * chores[Item.TYRES].minutes


def test_a_strut_comes_apart_once_for_springs_and_dampers() -> None:
    bench = demo_bench()
    dry = bench.setup("dry")
    other = replace(bench.chassis.front.dampers[0], name="other struts")
    front = replace(bench.chassis.front, dampers=(*bench.chassis.front.dampers, other))
    chassis = replace(bench.chassis, front=front)
    springs = replace(dry, front=replace(dry.front, spring="60 N/mm"))
    dampers = replace(dry, front=replace(dry.front, damper="other struts"))
    both = replace(dry, front=replace(dry.front, spring="60 N/mm", damper="other struts"))
    minutes = [
        minutes_of(jobs(dry, one, bench.described.car, chassis))[0] for one in (springs, dampers, both)
    ]
    assert minutes[0] == minutes[1] == minutes[2]


def test_home_again_ends_in_lamps_and_tread() -> None:
    found = jobs(dry_by_hand(), setup_by_hand(), CAR, CHASSIS)
    looks = [job for job in found if job.stage is Stage.LEAVING]
    said = " ".join(f"{job.title}: {job.checks[0].words}" for job in looks)
    for words in (
        "1.6 mm",
        "Lamps",
        "Ground clearance",
        "Insurance",
        "cold at walking pace",
        "strapped down",
    ):
        assert words in said
    assert not any(job.warnings for job in looks)
    kept = replace(setup_by_hand(), pads="race pads", tyres="semi-slicks")
    warned = " ".join(words for job in jobs(dry_by_hand(), kept, CAR, CHASSIS) for words in job.warnings)
    assert "race pads" in warned and "semi-slicks" in warned


@given(setups, setups)
def test_every_list_that_undid_a_nut_ends_in_torque_again(a: Setup, b: Setup) -> None:
    found = jobs(a, b, CAR, CHASSIS)
    undone = {job.item for job in found} - {
        None, Item.BUMP, Item.REBOUND, Item.PRESSURE, Item.FUEL, Item.BAR, Item.BRAKE_BIAS,
    } or any(job.item is Item.BAR for job in found)  # fmt: skip
    assert [job.stage for job in found if job.stage is Stage.AFTER] == [Stage.AFTER] * bool(undone)
    assert not undone or found[-1].stage is Stage.AFTER


def test_a_bias_to_the_rear_for_the_wet_goes_back_when_it_dries() -> None:
    dry = dry_by_hand()
    wet = replace(dry, purpose=Purpose.WET, brake_bias_turns=dry.brake_bias_turns - 1.0)
    (bias,) = [job for job in jobs(dry, wet, CAR, CHASSIS) if job.item is Item.BRAKE_BIAS]
    assert any("goes back as soon as the road dries" in words for words in bias.warnings)
    (back,) = [job for job in jobs(wet, dry, CAR, CHASSIS) if job.item is Item.BRAKE_BIAS]
    assert not back.warnings


def test_what_an_event_has_no_room_for_is_said() -> None:
    road = setup_by_hand()
    home = replace(road, front=replace(road.front, spring="stiff"), final_drive=4.4)
    found = jobs(road, home, CAR, CHASSIS)
    assert {job.item for job in found if job.is_for_home} == {Item.SPRINGS, Item.FINAL_DRIVE}
    height = _named(found, Item.RIDE_HEIGHT, End.FRONT)
    assert height.because and not height.differences
    crooked = replace(road, corners=(replace(road.corners[0], ride_height=0.12), *road.corners[1:]))
    assert _named(jobs(road, crooked, CAR, CHASSIS), Item.RIDE_HEIGHT, End.FRONT).needs_scales


def test_beyond_the_adjuster_is_said() -> None:
    road = setup_by_hand()
    far = road.with_pair(End.FRONT, camber=-0.08)
    warned = _named(jobs(road, far, CAR, CHASSIS), Item.CAMBER, End.FRONT).warnings
    assert any("beyond" in words and "FL, FR" in words for words in warned)


def test_a_part_the_car_has_not_is_refused() -> None:
    road = setup_by_hand()
    with pytest.raises(BadInput, match="springs"):
        jobs(road, replace(road, front=replace(road.front, spring="softest")), CAR, CHASSIS)
