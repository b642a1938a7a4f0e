"""A chassis and set-ups written by hand, for tests that need no document."""

from dataclasses import replace

from demo_cars import demo_car
from tintop.car.car import Car
from tintop.car.chassis import (
    Adjuster,
    AxleChassis,
    BallastPlace,
    Bar,
    BiasDevice,
    BrakeBias,
    Chassis,
    Chore,
    Damper,
    DamperSide,
    End,
    Item,
    PadSet,
    Spring,
    TyreSet,
)
from tintop.car.setup import AxleSetup, CornerSetup, Purpose, Setup
from tintop.car.wheel_paths import Strut, WheelTable

STRUT = Strut(
    top=(-0.03, 0.55, 0.85),
    strut_axis=(-0.01, 0.62, 0.40),
    arm_front=(0.15, 0.35, 0.20),
    arm_rear=(-0.20, 0.35, 0.20),
    ball_joint=(0.0, 0.68, 0.19),
    track_rod_inner=(-0.12, 0.34, 0.26),
    track_rod_outer=(-0.13, 0.66, 0.24),
    wheel_centre=(0.0, 0.74, 0.30),
    slots_inward=0.012,
    slots_outward=0.012,
)
BEAM = WheelTable(
    travel=(-0.05, 0.0, 0.05),
    camber=(-0.02, -0.02, -0.02),
    toe=(0.001, 0.001, 0.001),
    leans_with_body=0.6,
    roll_centre_height=0.15,
)


def side(most: int = 24) -> DamperSide:
    """One direction of a damper, by ratios."""
    return DamperSide(most_clicks=most, clicks=(0, most), ratios=(0.2, 0.9))


def axle(end: End) -> AxleChassis:
    """One end by hand: struts in front, a beam behind."""
    front = end is End.FRONT
    return AxleChassis(
        motion_ratio=0.95 if front else 0.7,
        damper_motion_ratio=0.95 if front else 0.9,
        tyre_rate=2.1e5,
        tyre_damping=150.0,
        bump_travel=0.06,
        droop_travel=0.07,
        bump_stop_rate=8e4,
        ride_height=0.13,
        perch_pitch=1.5e-3,
        rim_diameter=0.43,
        wheel_path=STRUT if front else BEAM,
        springs=(
            Spring(name="soft", rate=30e3, free_length=0.25),
            Spring(name="stiff", rate=60e3, free_length=0.2),
            Spring(name="unmarked", rate=50e3),
        ),
        bars=(Bar(name="bar", roll_stiffness=(1e4, 2e4, 3e4)),),
        dampers=(
            Damper(name="one knob", bump=side(), rebound=side(), is_linked=True),
            Damper(name="two knobs", bump=side(), rebound=side()),
        ),
        tyre_air_rise_dry=55.0,
        tyre_air_rise_wet=20.0,
        pressure_loss=1.0,
    )


def car_by_hand() -> Car:
    """The demo's car."""
    return demo_car()


def chassis_by_hand() -> Chassis:
    """A chassis for the demo's car."""
    car = car_by_hand()
    road = TyreSet(name="road tyres", front=car.tyre_front, rear=car.tyre_rear)
    dry = TyreSet(
        name="semi-slicks",
        front=replace(car.tyre_front, radius=car.tyre_front.radius - 0.006),
        rear=replace(car.tyre_rear, radius=car.tyre_rear.radius - 0.006),
    )
    pads = PadSet(name="road pads", front=car.brakes.front.pad, rear=car.brakes.rear.pad)
    return Chassis(
        front=axle(End.FRONT),
        rear=axle(End.REAR),
        pitch_inertia=1200.0,
        roll_inertia=350.0,
        bias=BrakeBias(
            device=BiasDevice.BAR, share_per_turn=0.005, least_turns=-4.0, most_turns=4.0
        ),
        tyre_sets=(road, dry),
        pad_sets=(pads, replace(pads, name="race pads")),
        final_drives=(4.1, 4.4),
        adjusters=(
            Adjuster(item=Item.CAMBER, end=End.FRONT, low=-0.06, high=-0.005, step=0.002),
            Adjuster(item=Item.BRAKE_BIAS, low=-3.0, high=3.0, step=0.5),
        ),
        chores={
            Item.TYRES: Chore(item=Item.TYRES, minutes=30.0, tools="jack", check="nuts", torque=110.0,
                              needs_wheels_off=True),
            Item.PADS: Chore(item=Item.PADS, minutes=60.0, tools="13 mm", check="caliper bolts", torque=35.0,
                             needs_wheels_off=True),
            Item.CAMBER: Chore(item=Item.CAMBER, minutes=20.0, tools="13 mm", check="top nuts", torque=25.0),
            Item.TOE: Chore(item=Item.TOE, minutes=40.0, tools="strings", check="lock nuts", torque=50.0),
            Item.PRESSURE: Chore(item=Item.PRESSURE, minutes=10.0, tools="gauge", check="caps on"),
        },
        ballast_places=(BallastPlace(name="footwell", x=0.6, y=-0.3, z=0.25, most=40.0),),
    )  # fmt: skip


def corner_by_hand(camber: float = -0.02, toe: float = 0.0, **changed: float | int) -> CornerSetup:
    """One corner."""
    values: dict[str, float | int] = {
        "camber": camber, "toe": toe, "ride_height": 0.13, "bump": 4, "rebound": 4, "pressure_cold": 1.9e5,
        **changed,
    }  # fmt: skip
    return CornerSetup(**values)  # type: ignore[arg-type]


def setup_by_hand(name: str = "road", purpose: Purpose = Purpose.ROAD) -> Setup:
    """The road's set-up."""
    corner = corner_by_hand()
    part = AxleSetup(spring="soft", bar="bar", bar_hole=1, damper="one knob")
    return Setup(
        name=name,
        purpose=purpose,
        corners=(corner, corner, corner, corner),
        front=part,
        rear=part,
        tyres="road tyres",
        pads="road pads",
        final_drive=4.1,
        fuel_volume=0.03,
    )


def dry_by_hand() -> Setup:
    """The same car for a dry circuit: other tyres, pads, clicks, camber, toe, bar and pressures."""
    front = corner_by_hand(
        camber=-0.05, toe=-0.002, ride_height=0.11, bump=10, rebound=10, pressure_cold=1.7e5
    )
    rear = corner_by_hand(ride_height=0.115, bump=8, rebound=8, pressure_cold=1.8e5)
    road = setup_by_hand()
    return replace(
        road,
        name="dry",
        purpose=Purpose.DRY,
        corners=(front, front, rear, rear),
        rear=replace(road.rear, bar_hole=3),
        tyres="semi-slicks",
        pads="race pads",
        brake_bias_turns=-1.0,
        fuel_volume=0.045,
    )
