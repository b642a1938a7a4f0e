"""The worked examples of docs/theory/camber_and_strut.md and treads.md, read from the pages and repeated."""

import math
import re
from pathlib import Path

import pytest

from benches import demo_bench
from tintop.car.car import DrivenAxle
from tintop.car.chassis import End, Item
from tintop.car.driver_words import said_from
from tintop.car.strut_top import top_moved
from tintop.car.tread_rules import camber_for, evidence, wishes
from tintop.car.treads import Tread, TreadReading
from tintop.car.wheel_motion import camber_recovery, wheel_at
from tintop.physics.tread_wear import cornering_stiffness, edge_load_share, road_wear, slip_work
from wheel_paths import planar_strut

THEORY = Path(__file__).parents[2] / "docs" / "theory"


def bold(page: str, after: str, before: str) -> list[float]:
    """The numbers in bold between two places of a page."""
    text = (THEORY / page).read_text("utf-8")
    part = text[text.index(after) : text.index(before, text.index(after))]
    return [float(one.replace("−", "-")) for one in re.findall(r"\*\*([−0-9.]+)\*\*", part)]


def test_the_planar_strut_of_the_page():
    y, z, arm, gain, height, recovered = bold("camber_and_strut.md", "### By hand", "## The strut's top")
    strut = planar_strut()
    pose = wheel_at(strut, 0.0)
    assert pose.swing_arm == pytest.approx(arm, abs=5e-4)
    assert strut.wheel_centre[1] - pose.swing_arm == pytest.approx(y, abs=6e-4)
    assert math.degrees(0.01 / pose.swing_arm) == pytest.approx(gain, abs=5e-4)
    assert pose.roll_centre_height == pytest.approx(height, abs=5e-5)
    assert z * strut.wheel_centre[1] / arm == pytest.approx(height, abs=5e-5)
    assert 100.0 * camber_recovery(strut, 1.47, 1.0, roll=1e-4) == pytest.approx(recovered, abs=0.05)
    assert math.degrees(top_moved(strut, 0.01).camber) == pytest.approx(-0.818, abs=5e-4)


def test_the_contact_of_the_page_is_half_the_track_of_the_demo():
    half_track, scrub = bold("camber_and_strut.md", "not under\nthe wheel centre", "straight under")
    bench = demo_bench()
    pose = wheel_at(bench.chassis.front.wheel_path, 0.0)
    assert 1e3 * pose.contact[1] == pytest.approx(half_track, abs=0.05)
    assert 1e3 * pose.scrub_radius == pytest.approx(scrub, abs=0.05)
    assert pose.contact[1] == pytest.approx(0.5 * bench.described.car.dimensions.track_front, abs=1e-3)


def test_the_road_of_the_page():
    slope, usual, pressed, cone, middle, inner = bold(
        "camber_and_strut.md", "By hand: 3300 N", "Code: `physics/tread_wear"
    )
    stiffness = cornering_stiffness(1.2, 3300.0, 0.16)
    camber = math.radians(-3.0)
    sideways, along = slip_work(stiffness, 0.0, camber, 0.09, 0.298)
    wear = road_wear(
        load=3300.0, camber=camber, toe=0.0, friction=1.2, slide_slip=0.16, wear_rate=22e-12, radius=0.298,
        tyre_rate=2.0e5,
    )  # fmt: skip
    assert stiffness == pytest.approx(slope)
    assert (sideways, along) == pytest.approx((usual, cone), abs=5e-4)
    assert 100.0 * edge_load_share(camber, 3300.0, 2.0e5) == pytest.approx(pressed, abs=0.05)
    assert (1e9 * wear.middle, 1e9 * wear.inner) == pytest.approx((middle, inner), abs=5e-4)


def test_the_reading_of_the_page():
    crown, other, strength, word, hotter, rear_bar = bold("treads.md", "## By hand", "Pressure leads")
    read = [(82, 90, 80), (81, 89, 79), (78, 76, 74), (77, 75, 73)]
    fl, fr, rl, rr = (Tread(inner=i, middle=m, outer=o) for i, m, o in read)
    reading = TreadReading(treads=(fl, fr, rl, rr), said=said_from(["mid understeer"]))
    assert (fl.crown, fr.crown) == (crown, other)
    seen = [evidence(reading, end, None, DrivenAxle.FRONT) for end in End]
    assert seen[0].hotter == pytest.approx(hotter)
    found = {(wish.item, wish.end): wish for wish in wishes(seen)}
    assert found[Item.PRESSURE, End.FRONT].weight == pytest.approx(strength)
    assert found[Item.PRESSURE, End.FRONT].step == -1
    assert found[Item.CAMBER, End.FRONT].weight == pytest.approx(word)
    assert found[Item.BAR, End.REAR].weight == pytest.approx(rear_bar)


def test_the_table_of_the_page_has_every_weight_of_the_rules():
    from tintop.car.tread_rules import RULES

    text = (THEORY / "treads.md").read_text("utf-8")
    rows = [line.split("|")[3] for line in text.splitlines() if line.startswith("| ")]
    written = {float(one) for row in rows for one in re.findall(r"[0-9]\.[0-9]+", row)}
    assert {rule.weight for rule in RULES} <= written


def test_the_camber_for_a_spread_of_the_page():
    less, more, usual = bold("treads.md", "One step of camber is timid", "Where the adjuster's room")[-3:]
    for lean, expected in ((25.0, less), (-17.0, more), (12.0, usual)):
        assert math.degrees(camber_for(lean)) == pytest.approx(expected, abs=0.005)
    assert math.degrees(camber_for(-40.0)) == pytest.approx(1.0, abs=0.005)
