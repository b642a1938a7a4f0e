import re
from dataclasses import replace
from datetime import date

import pytest
from drawn import SVG, inside_view, read, words
from hypothesis import example, given
from hypothesis import strategies as st

from tintop.charts import ink
from tintop.charts.car_drawing import car_drawing_svg
from tintop.charts.car_picture import CORNERS, CarPicture, CornerPicture, CornerValue, PartMark

LOADS = {"FL": 330.0, "FR": 350.0, "RL": 210.0, "RR": 230.0}
TOTAL = sum(LOADS.values())


def _corner(corner: str) -> CornerPicture:
    return CornerPicture(
        corner=corner,
        load=LOADS[corner],
        share=LOADS[corner] / TOTAL,
        values=(
            CornerValue(name="camber", value=-0.0436332, quantity="angle", known="set"),
            CornerValue(name="toe", value=-0.001, quantity="length", known="set"),
            CornerValue(name="spring", value=70e3, quantity="spring rate", known="set"),
            CornerValue(name="pressure cold", value=165e3, quantity="pressure", is_by_document=True),
            CornerValue(name="pad", value=0.0079, quantity="length", known="inner pad"),
        ),
    )


def _picture(**changes: object) -> CarPicture:
    whole = CarPicture(
        name="Lantern",
        day=date(2026, 6, 20),
        wheelbase=2.5,
        track_front=1.48,
        track_rear=1.46,
        width=1.7,
        tyre_radius=0.3,
        front_overhang=0.8,
        rear_overhang=0.7,
        corners=tuple(_corner(corner) for corner in CORNERS),
        driver_side="right",
        mass=1036.0,
        mass_uncertainty=2.5,
        mass_known="weighed",
        front_share=680.0 / TOTAL,
        left_share=540.0 / TOTAL,
        cross_share=560.0 / TOTAL,
        loads_state="driver aboard",
        cg_height=0.495,
        cg_known="estimated",
        tank_volume=0.053,
        tank_behind_front_axle=2.1,
        parts=(
            PartMark(name="Battery", x=0.5, y=0.3, mass=9.6),
            PartMark(name="Seat", x=-1.5, y=-0.35, mass=8.4),
            PartMark(name="Relay", x=0.2, y=0.5),
        ),
    )
    return replace(whole, **changes)


def _tyres(svg: str) -> list[tuple[float, float]]:
    """Middles of the wheels, FL FR RL RR."""
    found = []
    for each in read(svg).iter(f"{SVG}rect"):
        if each.get("rx") == "5":
            x, y, w, h = (float(each.get(name)) for name in ("x", "y", "width", "height"))
            found.append((x + 0.5 * w, y + 0.5 * h))
    return found


@pytest.mark.parametrize("is_narrow", [False, True])
def test_the_wheels_stand_to_scale_where_wheelbase_and_tracks_put_them(is_narrow: bool) -> None:
    fl, fr, rl, rr = _tyres(car_drawing_svg(_picture(), is_narrow=is_narrow))
    scale = (rl[1] - fl[1]) / 2.5
    assert fr[0] - fl[0] == pytest.approx(1.48 * scale, abs=0.3)
    assert rr[0] - rl[0] == pytest.approx(1.46 * scale, abs=0.3)
    assert fl[1] == fr[1] < rl[1] == rr[1], "the nose is up"
    assert fl[0] < fr[0], "left is left"


def test_the_mark_of_the_centre_of_gravity_divides_wheelbase_and_track_as_the_loads_do() -> None:
    svg = car_drawing_svg(_picture())
    fl, fr, rl, _ = _tyres(svg)
    sign = next(each for each in read(svg).iter(f"{SVG}circle") if each.get("r") == "11.0")
    down = (float(sign.get("cy")) - fl[1]) / (rl[1] - fl[1])
    assert down == pytest.approx(1.0 - 680.0 / TOTAL, abs=2e-3)
    middle = 0.5 * (fl[0] + fr[0])
    scale = (rl[1] - fl[1]) / 2.5
    assert middle - float(sign.get("cx")) == pytest.approx((540.0 / TOTAL - 0.5) * 1.47 * scale, abs=0.2)


def test_every_value_stands_there_in_the_owners_units() -> None:
    said = words(car_drawing_svg(_picture(), {"pressure": "bar", "mass": "kg", "length": "mm"}))
    for expected in ("330.0 kg", "350.0 kg", "29.5 %", "−2.5°", "1.0 mm out", "70 N/mm", "7.9 mm"):
        assert expected in said
    assert "(1.65 bar)" in said, "nobody read it: it is in brackets"
    assert "In brackets: by the car's document; nobody has read or set it." in said
    assert "Cross-weight FR + RL 50.0 %" in said
    assert "front 60.7 %" in said
    assert "rear 39.3 %" in said
    assert "tank 53.0 L" in said
    assert "1036.0 kg ± 2.5 kg without driver and fuel" in said
    assert "Corner loads: driver aboard." in said
    pounds = words(car_drawing_svg(_picture(), {"pressure": "psi", "mass": "lb", "length": "in"}))
    assert "(23.9 psi)" in pounds
    assert "728 lb" in pounds


def test_the_heaviest_parts_are_marked_and_numbered_down_the_car() -> None:
    svg = car_drawing_svg(_picture(), most_parts=2)
    said = words(svg)
    assert said.index("Battery") < said.index("Seat")
    assert "Relay" not in said
    assert "and 1 lighter part with a known place" in said
    badges = [each for each in read(svg).iter(f"{SVG}circle") if each.get("r") == "9.5"]
    assert len(badges) == 4, "two on the car, two in the legend"
    fl, _, rl, _ = _tyres(svg)
    scale = (rl[1] - fl[1]) / 2.5
    assert float(badges[0].get("cy")) == pytest.approx(fl[1] - 0.5 * scale, abs=0.2)
    assert float(badges[0].get("cx")) == pytest.approx(400.0 - 0.3 * scale, abs=0.2)


def test_marks_at_one_place_do_not_hide_one_another() -> None:
    parts = tuple(PartMark(name=f"Part {k}", x=-1.0, y=0.0, mass=5.0) for k in range(12))
    svg = car_drawing_svg(_picture(parts=parts))
    places = [
        (float(each.get("cx")), float(each.get("cy")))
        for each in read(svg).iter(f"{SVG}circle")
        if each.get("r") == "9.5"
    ][:12]
    for k, (x, y) in enumerate(places):
        for other_x, other_y in places[:k]:
            assert max(abs(x - other_x), abs(y - other_y)) > 18.0


def test_a_picture_of_a_car_nobody_measured_draws_and_says_nothing_it_does_not_know() -> None:
    bare = _picture(
        corners=tuple(CornerPicture(corner=corner) for corner in CORNERS),
        driver_side="",
        mass=None,
        front_share=None,
        left_share=None,
        cross_share=None,
        cg_height=None,
        tank_volume=None,
        tank_behind_front_axle=None,
        parts=(),
    )
    said = words(car_drawing_svg(bare))
    assert set(said) == {
        "FL",
        "FR",
        "RL",
        "RR",
        "front left",
        "front right",
        "rear left",
        "rear right",
        "engine",
    }


@pytest.mark.parametrize("is_narrow", [False, True])
def test_only_inks_are_used_so_that_the_page_can_turn_them_dark(is_narrow: bool) -> None:
    inks = {ink.PAPER, ink.ROAD, ink.RULE, ink.INK, ink.PENCIL, ink.BLUE, "none", None}
    root = read(car_drawing_svg(_picture(), is_narrow=is_narrow))
    assert {each.get(name) for each in root.iter() for name in ("fill", "stroke")} <= inks
    assert not any(each.get("style") for each in root.iter())


@pytest.mark.parametrize("number", ["nan", "-inf", "3.0,nan"])
def test_what_is_no_number_is_found_in_a_drawing(number: str) -> None:
    svg = car_drawing_svg(_picture())
    with pytest.raises(AssertionError):
        read(re.sub(r' x="[^"]*"', f' x="{number}"', svg, count=1))
    with pytest.raises(AssertionError):
        words(svg.replace("Battery", f"{number} kg"))


def test_two_drawings_in_one_page_share_no_id() -> None:
    ids = [
        {each.get("id") for each in read(car_drawing_svg(_picture(), name=name)).iter() if each.get("id")}
        for name in ("car", "car-narrow")
    ]
    assert not ids[0] & ids[1]


@given(
    name=st.text(st.characters(blacklist_categories=("Cs", "Cc")), min_size=1, max_size=80),
    wheelbase=st.floats(1.8, 4.0),
    width=st.floats(1.5, 2.4),
    is_narrow=st.booleans(),
)
@example(name="nan", wheelbase=2.5, width=1.7, is_narrow=False)
def test_any_name_and_any_size_stay_inside_the_picture(
    name: str, wheelbase: float, width: float, is_narrow: bool
) -> None:
    svg = car_drawing_svg(
        _picture(
            name=name, wheelbase=wheelbase, width=width, parts=(PartMark(name=name, x=-1.0, y=0.2, mass=3.0),)
        ),
        is_narrow=is_narrow,
    )
    assert inside_view(svg)
