"""Every shipped number has a value, an uncertainty and a source; the schema tells them all."""

import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from tintop.car.tyres import TyreKind
from tintop.store.circuit_formats.csv_lines import NAMES as CIRCUIT_COLUMNS
from tintop.store.documents import car_reader, event_reader
from tintop.store.documents.cage_document import CageDocument
from tintop.store.documents.car_document import PAD_KINDS, TYRE_KINDS, CarDocument
from tintop.store.documents.chassis_document import ChassisDocument
from tintop.store.documents.defaults import load, pad_curve, plain_uncertainty
from tintop.store.documents.event_document import EventDocument
from tintop.store.documents.fields import declared
from tintop.store.documents.schema import describe
from tintop.store.documents.setup_document import SetupDocument
from tintop.units import UNITS

DATA = Path(str(files("tintop").joinpath("data")))
MODELS = (CarDocument, EventDocument, CageDocument, ChassisDocument, SetupDocument)
FILES = sorted([*(DATA / "defaults").rglob("*.toml"), *(DATA / "tyres").rglob("*.toml")])


def entries(tables: dict[str, Any], prefix: str = "") -> list[tuple[str, dict[str, Any]]]:
    found = []
    for name, entry in tables.items():
        if "source" in entry or "uncertainty" in entry:
            found.append((prefix + name, entry))
        else:
            found += entries(entry, f"{prefix}{name}.")
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(DATA)))
def test_each_default_has_uncertainty_and_source(path: Path) -> None:
    found = entries(tomllib.loads(path.read_text("utf-8")))
    assert found
    for name, entry in found:
        assert len(entry["source"]) > 3, name
        assert entry["uncertainty"], name
        assert "value" in entry or "table" in entry or path.name == "plain.toml", name


@pytest.mark.parametrize("driven", ["front", "rear", "four"])
@pytest.mark.parametrize("kind", TYRE_KINDS)
def test_each_default_reads_with_an_uncertainty_above_zero(driven: str, kind: str) -> None:
    for differential in ("open", "limited_slip", "locked"):
        for pad in PAD_KINDS:
            both = {"front": kind, "rear": kind}
            pads = {"front": pad, "rear": pad}
            for path, default in car_reader.defaults_for(driven, differential, both, pads).items():
                assert default.uncertainty > 0.0, path
                assert default.source, path
                assert path in car_reader.kinds() or path.startswith("engine.curve."), path
                assert not default.scales_with or default.scales_with in car_reader.kinds(), path


def test_the_event_defaults_read_with_an_uncertainty_above_zero() -> None:
    for path, default in load("defaults/event.toml", event_reader.kinds()).items():
        assert default.uncertainty > 0.0, path
        assert path in event_reader.kinds(), path


def test_each_kind_of_quantity_has_an_uncertainty_for_plain_values() -> None:
    used = {field.kind for model in MODELS for field in declared(model)} & set(UNITS)
    for kind in used:
        assert plain_uncertainty(kind, 2.0) > 0.0
    assert plain_uncertainty("mass", 1000.0) == pytest.approx(10.0)
    assert plain_uncertainty("share", 0.6) == pytest.approx(0.02)


@pytest.mark.parametrize("kind", PAD_KINDS)
def test_pads_fade_when_hot(kind: str) -> None:
    curve = pad_curve(kind)
    best = curve.frictions.index(max(curve.frictions))
    assert list(curve.frictions[best:]) == sorted(curve.frictions[best:], reverse=True)
    assert curve.frictions[-1] < 0.5 * max(curve.frictions)
    assert curve.uncertainty > 0.0


def test_endurance_pads_are_even_from_200_to_600() -> None:
    curve = pad_curve("endurance")
    hot = [f for t, f in zip(curve.temps, curve.frictions, strict=True) if 200.0 <= t <= 600.0]
    assert round(max(hot) - min(hot), 9) <= 0.02
    assert all(0.40 <= f <= 0.44 for f in hot)


def test_an_endurance_set_lasts_hours_not_minutes_and_not_a_season() -> None:
    """Common practice, no source: 2 to 6 h on an 1,100 to 1,300 kg car of 150 kW at race pace.

    Such a car brakes away about 1.25 MJ a kilometre (1,150 kg, four stops from 43 to 24 m/s or their like in
    three kilometres, less drag), at 115 km/h; a front wheel takes 0.35 of it, each of its pads half of that.
    """
    kinds = {"front": "semi_slick", "rear": "semi_slick"}
    pads = {"front": "endurance", "rear": "endurance"}
    defaults = car_reader.defaults_for("front", "open", kinds, pads)
    work_per_hour_on_one_pad = 1.25e6 * 115.0 * 0.35 / 2.0
    depth = (
        defaults["brakes.front.pad.thickness"].value - defaults["brakes.front.pad.thickness_minimum"].value
    )
    cold_wear = defaults["brakes.front.pad.wear_rate"].value / defaults["brakes.front.pad.area"].value
    hours = depth / (cold_wear * work_per_hour_on_one_pad)
    assert 2.0 <= hours <= 8.0


def test_each_class_of_tyre_has_a_file() -> None:
    assert set(TYRE_KINDS) == {kind.value for kind in TyreKind}
    assert {path.stem for path in (DATA / "tyres").glob("*.toml")} == set(TYRE_KINDS)


def test_grip_rises_from_road_tyre_to_slick_in_the_dry_and_wets_win_in_the_wet() -> None:
    def grip(kind: str, is_wet: bool) -> float:
        tyre = load(f"tyres/{kind}.toml", car_reader.kinds(), "tyres.")
        share = tyre["tyres.friction_wet_share"].value if is_wet else 1.0
        return tyre["tyres.friction_lateral"].value * share

    assert grip("road", False) < grip("semi_slick", False) < grip("slick", False)
    assert grip("wet", True) == max(grip(kind, True) for kind in TYRE_KINDS)
    # from memory: wet on wets 0.75 to 0.95, wet on semi-slicks 0.5 to 0.7 (magazine skid-pad tests)
    assert 0.75 <= grip("wet", True) <= 0.95
    assert 0.5 <= grip("semi_slick", True) <= 0.7


def test_the_schema_tells_every_field_once_per_class() -> None:
    rows = describe()
    described = {(row.document, row.path) for row in rows}
    for document, model in (
        ("car.toml", CarDocument),
        ("event.toml", EventDocument),
        ("cage.toml", CageDocument),
        ("chassis.toml", ChassisDocument),
        ("setup.toml", SetupDocument),
    ):
        for field in declared(model):
            assert (document, field.path) in described, field.path
    assert len({(row.document, row.path, row.default) for row in rows}) == len(rows)
    for row in rows:
        assert row.meaning, row.path
        assert row.default, row.path
        if row.uncertainty:
            assert row.source, row.path


def test_the_schema_leaves_no_number_of_the_car_without_default_or_demand() -> None:
    free = {"engine.peak_power", "masses.car", "dimensions.wheelbase", "dimensions.track_front"}
    rows = {row.path: row for row in describe() if row.document == "car.toml"}
    none = {
        path
        for path, row in rows.items()
        if row.default == "none" and path.count(".") and not path.startswith("engine.dyno.")
    }
    assert none == {
        "dimensions.track",
        "gearbox.differential.torque_bias_ratio",
        "tyres.pressure_hot",
        "brakes.front.pad.temps",
        "brakes.rear.pad.temps",
    } | {"gearbox.top_speed_per_gear"}
    for path in free:
        assert rows[path].default.startswith("required"), path


def test_the_schema_tells_what_a_cage_must_say_and_what_stands_in_for_the_rest() -> None:
    default = {row.path: row.default for row in describe() if row.document == "cage.toml"}
    assert {path for path, words in default.items() if words == "required"} == {
        *(
            "car_mass",
            "driver_side",
            "steel.yield_strength",
            "tubes[].role",
            "tubes[].tube",
            "tubes[].through",
        ),
        *(f"template.{name}" for name in ("cabin_width", "cabin_height", "cabin_length", "stay_length")),
        *("template.hoop_tube", "template.other_tube"),
        *("loads[].name", "loads[].case", "loads[].nodes", "loads[].source"),
    }
    assert default["template.roof_diagonals"] == "1" and default["template.diagonals"] == "2"
    assert default["template.bolted_door_bars"] == "false" and default["template.feet"] == "welded"
    assert default["steel.youngs_modulus"] == "205000 MPa"


def test_the_schema_names_the_circuit_columns_that_are_read() -> None:
    columns = {row.path for row in describe() if row.document == "circuit.csv"}
    assert columns == set(CIRCUIT_COLUMNS)
