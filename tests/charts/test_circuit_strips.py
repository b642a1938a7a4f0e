from dataclasses import replace

import pytest
from drawn import STEP, SVG, read

from demo_cars import demo_circuit
from tintop.charts.circuit_map import page_map_places, road_map_svg
from tintop.charts.circuit_strips import circuit_readings, circuit_strips
from tintop.charts.strips import on_page
from tintop.circuit.path import path_along


def test_strips_of_a_circuit_show_only_what_its_document_tells() -> None:
    circuit = demo_circuit(STEP)
    assert [each.name for each in circuit_strips(circuit)] == ["height", "bends", "width"]
    plain = replace(circuit, has_heights=False, has_widths=False)
    assert [each.name for each in circuit_strips(plain)] == ["bends"]
    for each in circuit_strips(circuit):
        read(on_page(each))


def test_readings_of_a_circuit_are_its_own() -> None:
    circuit = demo_circuit(STEP)
    found = circuit_readings(circuit)
    columns = {column["name"]: column["values"] for column in found["columns"]}
    assert columns["height"] == pytest.approx(circuit.z[found["chosen"]], abs=0.06)
    assert columns["right"] == pytest.approx(circuit.width_right[found["chosen"]], abs=0.06)


def test_the_map_of_a_circuit_has_every_corner_and_its_places_lie_on_it() -> None:
    circuit = demo_circuit(STEP)
    root = read(road_map_svg(circuit))
    said = ["".join(each.itertext()) for each in root.iter(f"{SVG}text")]
    assert {str(corner.number) for corner in circuit.corners} <= set(said)
    places = page_map_places(circuit, path_along(circuit))
    _, _, width, height = map(float, root.get("viewBox").split())
    assert places.min() > 0.0 and places[:, 0].max() < width and places[:, 1].max() < height
