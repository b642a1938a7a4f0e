"""How the wheels of one end hang, from its points or its table; what cannot be a strut is refused."""

import math
from dataclasses import fields

from tintop.car.chassis import AxleChassis, End
from tintop.car.described import DescribedCar
from tintop.car.wheel_paths import Point, Strut, WheelPath, WheelTable, Wishbones
from tintop.errors import BadInput
from tintop.handwriting.alignment import read_toe
from tintop.handwriting.meaning import Understood
from tintop.known import Known, Origin
from tintop.physics.toe import toe_angle
from tintop.store.documents.chassis_document import AxleTable, MeasuredWheelTable, StrutTable, WishbonesTable
from tintop.store.documents.chassis_parts import say, say_refused
from tintop.store.documents.numbers import Numbers

_USUAL_DOUBT = 0.003  # [m] of a point by tape, plumb line and square; common practice, no source
_LEAST_LINK = 0.08  # [m] between the two ends of an arm or rod
_REACH = {
    "top": 1.0,
    "strut_axis": 0.5,
    "ball_joint": 0.35,
    "upper_ball_joint": 0.45,
    "lower_ball_joint": 0.35,
    "track_rod_outer": 0.4,
}  # farthest from the wheel's centre [m]; pivots: 1.2
_LINKS = (
    ("arm_front", "ball_joint"),
    ("arm_rear", "ball_joint"),
    ("upper_front", "upper_ball_joint"),
    ("upper_rear", "upper_ball_joint"),
    ("lower_front", "lower_ball_joint"),
    ("lower_rear", "lower_ball_joint"),
    ("lower_ball_joint", "upper_ball_joint"),
    ("track_rod_inner", "track_rod_outer"),
    ("strut_axis", "top"),
    ("ball_joint", "top"),
)
_HANGS_BELOW = (("strut_axis", "top"), ("ball_joint", "top"), ("lower_ball_joint", "upper_ball_joint"))


def read_wheel_path(
    table: AxleTable,
    end: End,
    rim_diameter: float,
    described: DescribedCar,
    numbers: Numbers,
    choices: dict[str, str],
) -> WheelPath | None:
    """Give the path of the left wheel; without points or table one that leans as car.toml has it."""
    given = [name for name in ("strut", "wishbones", "measured") if getattr(table, name) is not None]
    if len(given) > 1:
        say(numbers, end.value, " and ".join(given), "one of strut, wishbones and measured")
        return None
    if table.measured is not None:
        return _measured(table.measured, f"{end.value}.measured", rim_diameter, numbers)
    if table.strut is not None:
        return _pointed(Strut, table.strut, f"{end.value}.strut", end, described, numbers)
    if table.wishbones is not None:
        return _pointed(Wishbones, table.wishbones, f"{end.value}.wishbones", end, described, numbers)
    choices[f"{end.value}.strut"] = "no points and no table: camber as car.toml has it, no bump steer"
    return _as_in_car(end, described)


def refuse_links_that_part(axle: AxleChassis, end: End, numbers: Numbers) -> None:
    """Note a problem where the links cannot follow the wheel through its travel, the top in its slots."""
    from tintop.car.wheel_path_check import check_wheel_path  # fetches numpy

    at = f"{end.value}.{'strut' if isinstance(axle.wheel_path, Strut) else 'wishbones'}"
    try:
        check_wheel_path(axle.wheel_path, at, axle.bump_travel, axle.droop_travel)
    except BadInput as error:
        say_refused(numbers, at, error)


def _as_in_car(end: End, described: DescribedCar) -> WheelTable:
    suspension = described.car.suspension
    camber = getattr(suspension, f"camber_{end.value}")
    return WheelTable(
        travel=(-0.05, 0.05),
        camber=(camber, camber),
        toe=(0.0, 0.0),
        leans_with_body=1.0 - getattr(suspension, f"camber_recovery_{end.value}"),
        roll_centre_height=getattr(suspension, f"roll_centre_height_{end.value}"),
    )


def _measured(table: MeasuredWheelTable, at: str, rim: float, numbers: Numbers) -> WheelTable | None:
    before = len(numbers.problems)
    for name in ("leans_with_body", "roll_centre_height"):
        if getattr(table, name) is None:
            say(numbers, f"{at}.{name}", "nothing", MeasuredWheelTable.model_fields[name].description or "")
    toes = [toe_from(text, rim, f"{at}.toe", numbers) for text in table.toe]
    if len(numbers.problems) > before:
        return None
    try:
        return WheelTable(
            travel=tuple(one.value for one in table.travel or ()),
            camber=tuple(one.value for one in table.camber or ()),
            toe=tuple(toe for toe in toes if toe is not None),
            leans_with_body=numbers.get(f"{at}.leans_with_body"),
            roll_centre_height=numbers.get(f"{at}.roll_centre_height"),
        )
    except BadInput as error:
        say_refused(numbers, at, error)
        return None


def toe_from(text: str, rim_diameter: float, path: str, numbers: Numbers) -> float | None:
    """Read a wheel's own toe [rad], such as "1 mm out per wheel"; None with a problem noted."""
    try:
        found = read_toe(text, "mm per wheel")
    except BadInput as error:
        say(numbers, path, error.problems[0].found, error.problems[0].expected, error.problems[0].cure)
        return None
    if not isinstance(found, Understood):
        readings = " or ".join(f'"{each.in_full}"' for each in found.choices)
        say(numbers, path, repr(text), "a toe that reads one way", f"Is it {readings}?")
        return None
    return toe_angle(found.value, rim_diameter) if found.quantity == "length" else found.value


def _pointed(
    kind: type[Strut] | type[Wishbones],
    table: StrutTable | WishbonesTable,
    at: str,
    end: End,
    described: DescribedCar,
    numbers: Numbers,
) -> Strut | Wishbones | None:
    before = len(numbers.problems)
    points: dict[str, Point] = {}
    slots: dict[str, float] = {}
    for field in fields(kind):
        if field.name in ("camber", "toe"):
            continue
        if field.name.startswith("slots_"):
            path = f"{at}.{field.name}"
            slots[field.name] = numbers.get(path) if path in numbers.written else 0.0
            if not 0.0 <= slots[field.name] <= 0.06:
                say(numbers, path, f"{1e3 * slots[field.name]:g} mm", "0 to 60 mm")
            continue
        written = getattr(table, field.name) or ()
        if len(written) != 3:
            found = f"{len(written)} lengths" if written else "nothing"
            expected = 'three lengths: forward, left, up, such as ["10 mm", "690 mm", "185 mm"]'
            say(numbers, f"{at}.{field.name}", found, expected)
            continue
        x, y, z = (one.value for one in written)
        points[field.name] = (x, y, z)
    if len(numbers.problems) == before:
        _doubt_points(points, at, end, described, numbers)
    if len(numbers.problems) > before:
        return None
    stated = numbers.get(f"{at}.doubt") if f"{at}.doubt" in numbers.written else None
    numbers.take(
        f"{end.value}.wheel_path",
        Known(
            value=0.0,
            uncertainty=_USUAL_DOUBT if stated is None else stated,
            origin=Origin.MEASURED if stated is not None else Origin.ESTIMATED,
            note="standard uncertainty of each coordinate of its points, in metres",
        ),
    )
    camber = getattr(described.car.suspension, f"camber_{end.value}")
    return kind(**points, **slots, camber=camber)  # type: ignore[arg-type]


def _doubt_points(
    points: dict[str, Point], at: str, end: End, described: DescribedCar, numbers: Numbers
) -> None:
    car = described.car
    centre = points["wheel_centre"]
    axle = 0.0 if end is End.FRONT else -car.dimensions.wheelbase
    track = getattr(car.dimensions, f"track_{end.value}")
    radius = getattr(car, f"tyre_{end.value}").radius
    for value, wanted, room, way in (
        (centre[0], axle, 0.15, "forward"),
        (centre[1], 0.5 * track, 0.12, "left"),
        (centre[2], radius, 0.06, "up"),
    ):
        if abs(value - wanted) > room:
            cure = "Points are those of the LEFT wheel, left of the middle." if way == "left" else ""
            say(
                numbers,
                f"{at}.wheel_centre",
                f"{1e3 * value:.0f} mm {way}",
                f"about {1e3 * wanted:.0f} mm {way}, by the car's wheelbase, track and tyres",
                cure,
            )
            return
    for name, point in points.items():
        reach = _REACH.get(name, 1.2)
        if math.dist(point, centre) > reach:
            say(
                numbers,
                f"{at}.{name}",
                f"a point {1e3 * math.dist(point, centre):.0f} mm from the wheel's middle",
                f"{1e3 * reach:.0f} mm at most: these points cannot meet",
                "Look for a swapped or missing digit, or centimetres for millimetres.",
            )
        elif point[1] <= 0.0 and name not in ("arm_front", "arm_rear", "lower_front", "lower_rear"):
            found, expected = f"{1e3 * point[1]:.0f} mm left", "a point left of the car's middle"
            say(numbers, f"{at}.{name}", found, expected)
    for one, other in _LINKS:
        if one in points and other in points and math.dist(points[one], points[other]) < _LEAST_LINK:
            found = f"{1e3 * math.dist(points[one], points[other]):.0f} mm from {one} to {other}"
            say(numbers, f"{at}.{other}", found, f"{1e3 * _LEAST_LINK:.0f} mm or more")
    for below, above in _HANGS_BELOW:
        if below in points and above in points and points[below][2] >= points[above][2]:
            say(numbers, f"{at}.{below}", f"{below} not below {above}", f"a point below {above}")
