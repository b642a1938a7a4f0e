"""A slip in a file of evidence: asked where it is unlikely, not counted where it cannot be."""

from datetime import date
from pathlib import Path

import pytest

from tintop.garage.inspecting import inspect_car
from tintop.rules.facts import FactKey
from tintop.store.demo import write_demo

CLEARANCE = FactKey("body.ground_clearance")


def inspected(folder: Path, value: str):
    write_demo(folder)
    file = folder / "evidence.toml"
    text = file.read_text(encoding="utf-8")
    before, after = text.split('fact = "body.ground_clearance"')
    assert "values = [0.056]" in after
    after = after.replace("values = [0.056]", f"values = [{value}]", 1)
    file.write_text(f'{before}fact = "body.ground_clearance"{after}', encoding="utf-8")
    return inspect_car(folder / "car.toml", ["larkmoor_bulletin"], date(2026, 6, 20), evidence=file)


def test_what_is_unlikely_is_asked(tmp_path):
    found = inspected(tmp_path / "demo", "0.63")
    assert any(notice.endswith("630 mm? Usual is 40 mm to 200 mm.") for notice in found.notices)
    assert CLEARANCE in found.evidence.proven


def test_what_is_usual_raises_no_question(tmp_path):
    assert inspected(tmp_path / "demo", "0.056").notices == ()


@pytest.mark.parametrize("value", ["-0.063"])
def test_less_than_nothing_proves_nothing(tmp_path, value):
    found = inspected(tmp_path / "demo", value)
    assert CLEARANCE not in found.evidence.proven
    assert "-63 mm is less than nothing" in found.evidence.fallen[CLEARANCE]
