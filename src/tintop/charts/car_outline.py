"""The outline of a car from above: body, screens, wheels, engine, driver's place and tank."""

from collections.abc import Mapping
from dataclasses import dataclass

from tintop.charts.car_picture import CORNERS, CarPicture
from tintop.charts.car_words import in_owner_units
from tintop.charts.ink import BLUE, INK, PAPER, PENCIL, ROAD, RULE
from tintop.charts.svg import line, text

_LONGEST_TAIL = 0.42  # rear overhang ÷ wheelbase up to which the rear screen ends at the tail
_TYRE_WIDTH = 0.21  # [m], to look right; the tyre's own is not known


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Metres to the sheet, and how much room there is beside the car."""

    width: float
    scale: float
    nose: float  # the sheet's y of the car's nose
    front_overhang: float
    gutter: float
    is_narrow: bool

    def at(self, x: float, y: float) -> tuple[float, float]:
        """The place on the sheet of a point x forward of the front axle and y left of the middle."""
        return 0.5 * self.width - y * self.scale, self.nose + (self.front_overhang - x) * self.scale


def outline(picture: CarPicture, view: View, length: float) -> list[str]:
    """Body, screens and roof, wheels."""
    return [*body(picture, view, length), *(wheel(corner, picture, view) for corner in CORNERS)]


def body(picture: CarPicture, view: View, length: float) -> list[str]:
    """Body, screens and roof."""
    half = 0.5 * picture.width
    nose, tail = picture.front_overhang, picture.front_overhang - length
    bonnet, base = -0.12 * picture.wheelbase, -0.36 * picture.wheelbase
    is_hatch = picture.rear_overhang < _LONGEST_TAIL * picture.wheelbase
    roof_end = -1.02 * picture.wheelbase if is_hatch else -0.86 * picture.wheelbase
    screen_end = tail + 0.14 if is_hatch else -1.14 * picture.wheelbase

    def left(*shape: tuple[float, float]) -> list[tuple[float, float]]:
        return [view.at(x, share * half) for x, share in shape]

    def right(*shape: tuple[float, float]) -> list[tuple[float, float]]:
        return [view.at(x, -share * half) for x, share in reversed(shape)]

    side = ((nose - 0.30, 0.93), (0.0, 1.0), (-picture.wheelbase, 1.0), (tail + 0.22, 0.93))
    (l1, l2, l3, l4), (r4, r3, r2, r1) = left(*side), right(*side)
    n, t = view.at(nose, 0.0), view.at(tail, 0.0)
    round_tail = 0.18 * view.scale
    bumper = [(n[0] + side_of * 0.5 * half * view.scale, n[1] + 5.0) for side_of in (-1.0, 1.0)]
    shell = (
        f"M{_p(bumper[0])} Q{_p(n)} {_p(bumper[1])} "
        f"Q{_p((r1[0] - 4.0, n[1] + 10.0))} {_p(r1)} L{_p(r2)} L{_p(r3)} L{_p(r4)} "
        f"Q{_p((r4[0] - 4.0, t[1]))} {_p((r4[0] - round_tail, t[1]))} L{_p((l4[0] + round_tail, t[1]))} "
        f"Q{_p((l4[0] + 4.0, t[1]))} {_p(l4)} L{_p(l3)} L{_p(l2)} L{_p(l1)} "
        f"Q{_p((l1[0] + 4.0, n[1] + 10.0))} {_p(bumper[0])} Z"
    )
    drawn = [f'<path d="{shell}" fill="{PAPER}" stroke="{INK}" stroke-width="2" stroke-linejoin="round"/>']
    front_screen = ((bonnet, 0.78), (base, 0.68))
    rear_screen = ((roof_end, 0.66), (screen_end, 0.74))
    for shape in (front_screen, rear_screen):
        drawn.append(
            f'<path d="{_closed([*left(*shape), *right(*shape)])}" fill="{ROAD}" stroke="{PENCIL}"/>'
        )
    for side_of in (left, right):
        glass = ((base - 0.04, 0.70), (roof_end + 0.04, 0.68))
        drawn.append(line(side_of(*glass), PENCIL, 1.0))
    return drawn


def wheel(
    corner: str,
    picture: CarPicture,
    view: View,
    turned: float = 0.0,
    aside: float = 0.0,
    paint: str = f'fill="{INK}"',
) -> str:
    """One wheel, turned by degrees clockwise on the sheet and moved to its left by metres."""
    x, y = wheel_place(corner, picture)
    middle = view.at(x, y)
    across, down = view.at(x + picture.tyre_radius, y + aside + 0.5 * _TYRE_WIDTH)
    way = f' transform="rotate({turned:.1f} {middle[0]:.1f} {middle[1]:.1f})"' if turned else ""
    return (
        f'<rect x="{across:.1f}" y="{down:.1f}" width="{_TYRE_WIDTH * view.scale:.1f}" '
        f'height="{2.0 * picture.tyre_radius * view.scale:.1f}" rx="5" {paint}{way}/>'
    )


def wheel_place(corner: str, picture: CarPicture) -> tuple[float, float]:
    """The middle of a wheel, x forward of the front axle and y left of the middle [m]."""
    is_front = corner.startswith("F")
    side = 0.5 if corner.endswith("L") else -0.5
    return (0.0, side * picture.track_front) if is_front else (-picture.wheelbase, side * picture.track_rear)


def inside(picture: CarPicture, view: View, units: Mapping[str, str]) -> list[str]:
    """Engine at its end, the driver's place, the tank with its volume."""
    drawn = []
    size = 13.0
    x = 0.10 if picture.is_engine_front else -picture.wheelbase + 0.05
    drawn.append(_block(view, x, 0.0, 0.34, 0.80, RULE))
    drawn.append(text(*view.at(x + 0.20, 0.0), "engine", size=size, colour=PENCIL, anchor="middle"))
    if picture.driver_side:
        y = 0.36 if picture.driver_side == "left" else -0.36
        seat = -0.56 * picture.wheelbase
        drawn.append(_block(view, seat, y, 0.50, 0.48, PENCIL))
        drawn.append(_block(view, seat - 0.28, y, 0.14, 0.40, PENCIL))
        cx, cy = view.at(seat + 0.44, y)
        drawn.append(
            f'<ellipse cx="{cx:.1f}" cy="{cy:.1f}" rx="{0.19 * view.scale:.1f}" ry="{0.07 * view.scale:.1f}" '
            f'fill="none" stroke="{PENCIL}" stroke-width="2.5"/>'
        )
        where = view.at(seat + 0.34, y)
        drawn.append(text(where[0], where[1] + 6.0, "driver", size=size, colour=PENCIL, anchor="middle"))
    if picture.tank_behind_front_axle is not None:
        x = -picture.tank_behind_front_axle
        drawn.append(_block(view, x, 0.0, 0.36, 0.86, BLUE))
        if picture.tank_volume is not None:
            words = f"tank {in_owner_units(picture.tank_volume, 'volume', units)}"
            across, down = view.at(x, 0.0)
            drawn.append(text(across, down + 5.0, words, size=size, is_bold=True, anchor="middle"))
    return drawn


def _block(view: View, x: float, y: float, along: float, across: float, colour: str) -> str:
    left, top = view.at(x + 0.5 * along, y + 0.5 * across)
    return (
        f'<rect x="{left:.1f}" y="{top:.1f}" width="{across * view.scale:.1f}" '
        f'height="{along * view.scale:.1f}" rx="4" fill="none" stroke="{colour}" stroke-width="1.5"/>'
    )


def _p(place: tuple[float, float]) -> str:
    return f"{place[0]:.1f},{place[1]:.1f}"


def _closed(places: list[tuple[float, float]]) -> str:
    return "M" + " L".join(_p(place) for place in places) + " Z"
