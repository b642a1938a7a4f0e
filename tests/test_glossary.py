"""The glossary names every quantity of the values everything speaks in, and nothing that does not exist."""

import ast
import re
from dataclasses import fields
from pathlib import Path

import pytest

from cars import front_driven_hatchback
from paths import oval
from tintop.car.brakes import AxleBrake, Brakes, Pad
from tintop.car.car import Aero, Car, Dimensions, Masses, Suspension, Tank
from tintop.car.changeover_job import Job
from tintop.car.chassis import (
    Adjuster,
    AxleChassis,
    BallastPlace,
    Bar,
    BrakeBias,
    Chassis,
    Chore,
    Damper,
    DamperSide,
    PadSet,
    Spring,
    TyreSet,
)
from tintop.car.cooling import Cooling
from tintop.car.damping import AxleDamping
from tintop.car.powertrain import Differential, Engine, Fuel, Gearbox
from tintop.car.ride_quality import RideQuality
from tintop.car.setup import AxleSetup, CornerSetup, Setup
from tintop.car.springs_and_bars import SpringsAndBars
from tintop.car.treads import Tread
from tintop.car.tyres import Tyre
from tintop.car.wheel_motion import WheelPose
from tintop.car.wheel_paths import Strut, WheelTable, Wishbones
from tintop.circuit import circuit
from tintop.event import Event, Race, Stop, Weather
from tintop.garage.bench import Bench
from tintop.known import Known
from tintop.lap.flying_lap import flying_lap
from tintop.lap.trace import LapTrace
from tintop.logbook.build import Fitting, PartToday
from tintop.logbook.costs import Costs
from tintop.logbook.counters import Count
from tintop.logbook.lives import ComingUse, Life
from tintop.logbook.mass_ledger import CornerWeighing, MassLedger, MassLine, Weighing
from tintop.logbook.meetings import Meeting
from tintop.logbook.sessions import Session
from tintop.logbook.wear import Wear, WearRate
from tintop.race import march
from tintop.race.march import RaceTrace

ROOT = Path(__file__).parents[1]
VALUES = (
    Car, Masses, Dimensions, Aero, Engine, Fuel, Gearbox, Differential, Suspension, Tyre, Brakes, AxleBrake,
    Pad, Cooling, Tank, Event, Weather, Race, Stop, circuit.Path, Known, LapTrace, RaceTrace, Fitting,
    PartToday, Count, ComingUse, Life, WearRate, Wear, MassLine, Weighing, CornerWeighing, MassLedger,
    Meeting, Session, Costs, Chassis, AxleChassis, Spring, Bar, Damper, DamperSide, BrakeBias, Adjuster,
    Chore, Strut, Wishbones, WheelTable, Setup, CornerSetup, AxleSetup,
    RideQuality, AxleDamping, WheelPose, Tread, TyreSet, PadSet, BallastPlace, SpringsAndBars, Job, Bench,
)  # fmt: skip


def sections() -> dict[str, dict[str, tuple[str, str]]]:
    """Rows of the glossary by heading: name → unit, note."""
    found: dict[str, dict[str, tuple[str, str]]] = {}
    heading = ""
    for line in (ROOT / "docs" / "glossary.md").read_text("utf-8").splitlines():
        if title := re.match(r"## `?([\w ]+)`?", line):
            heading = title[1].strip()
            found[heading] = {}
        elif row := re.match(r"\| `(\w+)` \| (.*?) \| (.*?) \|$", line):
            assert row[1] not in found[heading], f"{heading}.{row[1]} stands twice"
            found[heading][row[1]] = (row[2], row[3])
    return found


GLOSSARY = sections()


def test_the_glossary_holds_these_values_and_no_others():
    assert set(GLOSSARY) == {value.__name__ for value in VALUES} | {
        "Channels of a lap",
        "Channels of the hot lap",
    }


@pytest.mark.parametrize("value", VALUES, ids=lambda value: value.__name__)
def test_every_field_stands_in_the_glossary(value):
    assert set(GLOSSARY[value.__name__]) == {field.name for field in fields(value)}


def test_every_channel_of_a_predicted_lap_stands_in_the_glossary():
    lap = flying_lap(front_driven_hatchback(), oval(400.0, 60.0, 10.0), Weather())
    assert set(GLOSSARY["Channels of a lap"]) == set(lap.channels)


def test_every_channel_of_the_hot_lap_stands_in_the_glossary():
    tree = ast.parse(Path(march.__file__).read_text("utf-8"))
    hot_lap = next(
        node for node in tree.body if isinstance(node, ast.FunctionDef) and node.name == "_hot_lap"
    )
    written = {
        key.value
        for node in ast.walk(hot_lap)
        if isinstance(node, ast.Dict)
        for key in node.keys
        if isinstance(key, ast.Constant)
    }
    assert set(GLOSSARY["Channels of the hot lap"]) == written != set()


def test_every_row_has_a_unit_and_a_note():
    for heading, rows in GLOSSARY.items():
        for name, (unit, note) in rows.items():
            assert unit.strip(), f"{heading}.{name} has no unit (write – for none)"
            assert note.strip(), f"{heading}.{name} has no note"
