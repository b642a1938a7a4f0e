"""Cages for the tests."""

from importlib.resources import files
from pathlib import Path

from hypothesis import strategies as st

from tintop.car.cage import Cage, Fixing, Side, Steel, Tube
from tintop.car.cage_templates import DoorBars, Template, draw
from tintop.known import Origin

HOOP, OTHER = Tube(diameter=0.045, wall=0.0025), Tube(diameter=0.040, wall=0.002)
STEEL = Steel(yield_strength=350e6, origin=Origin.DOCUMENTED, source="a certificate")
DEMO = Path(str(files("tintop").joinpath("data/demo/cage.toml")))


def template(**changes) -> Template:
    """A hatchback's cage."""
    measures = {
        "cabin_width": 1.25,
        "cabin_height": 1.15,
        "cabin_length": 1.45,
        "stay_length": 0.85,
        "hoop_tube": HOOP,
        "other_tube": OTHER,
    }
    return Template(**(measures | changes))


def cage_of(drawn_from: Template, **changes) -> Cage:
    """A cage of a template."""
    drawn = draw(drawn_from)
    parts = {
        "name": "Shed cage",
        "car_mass": 1050.0,
        "driver_side": Side.RIGHT,
        "nodes": drawn.nodes,
        "members": drawn.members,
        "feet": drawn.feet,
        "steel": STEEL,
    }
    return Cage(**(parts | changes))


@st.composite
def templates(draw_: st.DrawFn) -> Template:
    """Any template of a sensible cabin."""
    millimetres = lambda low, high: draw_(st.integers(low, high)) * 1e-3  # noqa: E731
    return template(
        cabin_width=millimetres(1000, 1500),
        cabin_height=millimetres(950, 1350),
        cabin_length=millimetres(1000, 1700),
        stay_length=millimetres(500, 1200),
        diagonals=draw_(st.sampled_from([0, 1, 2])),
        roof_diagonals=draw_(st.sampled_from([0, 1, 2])),
        door_bars=draw_(st.sampled_from(DoorBars)),
        has_windscreen_bar=draw_(st.booleans()),
        has_harness_bar=draw_(st.booleans()),
        bolted_door_bars=draw_(st.booleans()),
        feet=draw_(st.sampled_from(Fixing)),
    )
