"""What is a circuit, what is not, and the reason given."""

import itertools
from dataclasses import replace

import numpy as np
import pytest
from shapes import circle, circuit_of, figure_of_eight, oval

from tintop.circuit.build import build_circuit
from tintop.circuit.raw import RawCircuit, RawLine
from tintop.circuit.recognise import check_widths
from tintop.errors import BadInput


def test_a_crossing_by_a_bridge_is_a_circuit() -> None:
    circuit = circuit_of(*figure_of_eight())
    assert np.sum(circuit.curvature) * circuit.step == pytest.approx(0.0, abs=1e-6)
    assert {corner.is_left for corner in circuit.corners} == {True, False}


def test_an_open_line_is_refused() -> None:
    x, y = oval()
    with pytest.raises(BadInput, match=r"an open line: .* between its ends"):
        circuit_of(x[:-80], y[:-80])


def test_two_laps_in_one_line_are_refused() -> None:
    x, y = oval()
    with pytest.raises(BadInput, match="over its own road"):
        circuit_of(np.concatenate((x, x + 0.3)), np.concatenate((y, y)))


def test_there_and_back_is_refused() -> None:
    x = np.linspace(0.0, 900.0, 300)
    y = 20.0 * np.sin(x / 120.0)
    with pytest.raises(BadInput, match="over its own road"):
        circuit_of(np.concatenate((x, x[::-1])), np.concatenate((y, y[::-1] + 0.4)))


def test_the_outline_of_the_grounds_is_refused() -> None:
    x = np.array([0.0, 400, 800, 900, 850, 500, 100, -50, -20])
    y = np.array([0.0, -30, 0, 200, 600, 650, 700, 450, 70])
    with pytest.raises(BadInput, match="outline of the grounds"):
        circuit_of(x, y)


@pytest.mark.parametrize("radius", [30.0, 6000.0])
def test_too_short_or_too_long_is_refused(radius: float) -> None:
    with pytest.raises(BadInput, match=r"300 m to 30 km"):
        circuit_of(*circle(radius, 900))


def test_a_road_narrower_than_the_car_is_refused() -> None:
    circuit = circuit_of(*circle(), width=2.0)
    check_widths(circuit, 1.45)
    with pytest.raises(BadInput, match=r"2\.00 m wide"):
        check_widths(circuit, 1.75)


def ways_of(x: np.ndarray, y: np.ndarray, count: int) -> list[RawLine]:
    cuts = np.linspace(0, x.size, count + 1).astype(int)
    x, y = np.append(x, x[0]), np.append(y, y[0])
    return [
        RawLine(first=x[a : b + 1], second=y[a : b + 1], label=f"way {i}")
        for i, (a, b) in enumerate(itertools.pairwise(cuts))
    ]


def raw_of(*lines: RawLine) -> RawCircuit:
    return RawCircuit(lines=lines, is_geographic=False, name="ways")


def test_shuffled_and_turned_ways_make_the_same_loop() -> None:
    x, y = oval()
    ways = ways_of(x, y, 9)
    whole = build_circuit(raw_of(*ways))
    order = np.random.default_rng(3).permutation(9)
    turned = [
        replace(ways[i], first=ways[i].first[::-1], second=ways[i].second[::-1]) if i % 4 == 1 else ways[i]
        for i in order
    ]
    shuffled = build_circuit(raw_of(*turned))
    assert shuffled.length == pytest.approx(whole.length, rel=1e-4)
    assert np.sum(shuffled.curvature) * shuffled.step == pytest.approx(2 * np.pi, rel=1e-3)  # direction kept


def test_link_roads_and_pit_lanes_stay_out() -> None:
    x, y = oval(400.0, 80.0)
    ways = ways_of(x, y, 8)
    link = RawLine(
        first=np.array([200.0, 202.0, 198.0, 200.0]),
        second=np.array([0.0, 50.0, 110.0, 160.0]),
        label="link road",
    )
    along = np.linspace(60.0, 340.0, 30)
    pit = RawLine(first=along, second=-12.0 * np.sin((along - 60.0) / 280.0 * np.pi), role="pit_lane")
    circuit = build_circuit(raw_of(link, *ways, pit))
    assert circuit.length == pytest.approx(800.0 + 160.0 * np.pi, rel=1e-3)
    assert any("link road" in note for note in circuit.smoothing.notes)
    assert circuit.pit_lane is not None
    assert (circuit.pit_lane.exit - circuit.pit_lane.entry) % circuit.length == pytest.approx(280.0, abs=3.0)


def test_a_pit_lane_alone_and_a_circuit_with_a_way_missing_are_refused() -> None:
    x, y = oval()
    ways = ways_of(x, y, 9)
    with pytest.raises(BadInput, match="only a pit lane"):
        build_circuit(raw_of(replace(ways[0], role="pit_lane")))
    with pytest.raises(BadInput, match=r"no closed loop|open line"):
        build_circuit(raw_of(*ways[:4], *ways[5:]))


def test_the_start_line_and_the_direction_can_be_chosen() -> None:
    x, y = oval(400.0, 80.0)
    raw = RawCircuit(lines=(RawLine(first=x, second=y),), is_geographic=False, name="oval")
    moved = build_circuit(raw, start=200.0)
    assert moved.x[0] == pytest.approx(200.0, abs=0.3)
    back = build_circuit(raw, reverse=True)
    assert np.sum(back.curvature) * back.step == pytest.approx(-2 * np.pi, rel=1e-3)
    assert np.hypot(back.x[0] - x[0], back.y[0] - y[0]) < 3.0
    with pytest.raises(BadInput, match="start line"):
        build_circuit(raw, start=99_999.0)
    with pytest.raises(BadInput, match="step"):
        build_circuit(raw, step=0.0)


def test_one_lap_is_cut_out_of_a_drive_of_several() -> None:
    x, y = oval(400.0, 80.0, 20.0)
    chance = np.random.default_rng(5)
    laps_x, laps_y = np.tile(x, 4)[7:-11], np.tile(y, 4)[7:-11]
    noisy = RawLine(
        first=laps_x + chance.normal(0, 0.6, laps_x.size), second=laps_y + chance.normal(0, 0.6, laps_x.size)
    )
    circuit = build_circuit(RawCircuit(lines=(noisy,), is_geographic=False, is_log=True, name="drive"))
    assert circuit.length == pytest.approx(800.0 + 160.0 * np.pi, rel=0.01)
    assert any("laps found" in note for note in circuit.smoothing.notes)
