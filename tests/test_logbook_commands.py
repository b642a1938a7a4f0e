"""The owner asks his garage on the command line."""

import json
from datetime import date, datetime, timedelta

import pytest
from click.testing import CliRunner

from tintop.cli import main
from tintop.logbook.entries import (
    Area,
    CostKind,
    CostPaid,
    Draft,
    Matter,
    MeetingPlanned,
    PartAdded,
    PartFitted,
    PlannedSession,
    Reading,
    SessionRun,
)
from tintop.logbook.entries import Measure as Of
from tintop.settings import Settings
from tintop.store.garage_store import Store

TODAY = datetime.now().astimezone().date()


def ago(days: int) -> date:
    return TODAY - timedelta(days=days)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Pads that went from 12 to 6 mm in an hour, a race of two hours in ten days, 300 paid for entry."""
    place = tmp_path_factory.mktemp("garage") / "lantern"
    pads = PartAdded(
        part="pads", name="Front pads", family="front pads", area=Area.FRONT_AXLE,
        thickness_new=0.012, thickness_least=0.003,
    )  # fmt: skip
    run = SessionRun(
        session="s", meeting="", name="Race", session_kind="race", duration=3600.0, laps=30, distance=9e4
    )
    race = MeetingPlanned(
        meeting="next", name="Next Hours", first_day=ago(-10), last_day=ago(-10),
        sessions=(PlannedSession(name="Race", kind="race", duration=7200.0),),
    )  # fmt: skip
    written: list[tuple[date, Matter]] = [
        (ago(40), pads),
        (ago(40), PartFitted(part="pads")),
        (ago(30), run),
        (ago(30), Reading(measure=Of.PAD_THICKNESS, value=0.006, part="pads", session="s")),
        (ago(20), race),
        (ago(0), CostPaid(cost_kind=CostKind.ENTRY, cents=30000, what="entry")),
    ]
    with Store.create(place, Settings(title="Lantern", currency="€")) as store:
        store.append(
            Draft(key=str(number), day=day, who="owner", matter=matter)
            for number, (day, matter) in enumerate(written)
        )
    return place


def run(*arguments: str):
    return CliRunner().invoke(main, list(arguments))


def test_ready_says_what_goes_first(folder):
    """6 − 3 mm at 6 mm/h last half an hour: 90 min before the end of two hours."""
    result = run("ready", str(folder))
    assert result.exit_code == 0
    assert result.output.startswith(
        "Not ready: front pads reach their least thickness 90 min before the end of the race."
    )
    assert "Caution: " in result.output


def test_costs_in_the_garages_money(folder):
    result = run("costs", str(folder))
    assert result.exit_code == 0
    assert result.output.startswith(f"€300 to run the car in {TODAY.year} so far")


@pytest.mark.parametrize(("command", "verdict"), [("ready", "no"), ("costs", "found")])
def test_as_json(folder, command, verdict):
    result = run(command, str(folder), "--json")
    assert json.loads(result.output)["verdict"] == verdict


@pytest.mark.parametrize("command", ["ready", "costs"])
def test_a_folder_that_is_no_garage_is_refused_with_a_sentence(tmp_path, command):
    result = run(command, str(tmp_path))
    assert result.exit_code == 2
    assert "garage" in result.output
    assert "Traceback" not in result.output
