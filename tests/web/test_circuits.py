import re

import numpy as np
import pytest
from predicted import MEETING, client_of, new_garage, predicted_garage

ADDRESS = "/circuits/larkmoor.csv"


@pytest.fixture(scope="module")
def client():
    return client_of(predicted_garage())


def _plain(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", page.replace("\u202f", " ")))


def test_the_list_has_every_circuit_with_its_events(client) -> None:
    circuit = predicted_garage().circuit(MEETING.circuit)
    page = client.get("/circuits")
    assert page.status_code == 200
    assert f'<a href="{ADDRESS}">{circuit.name}</a>' in page.text
    assert "Midsummer &lt;Two Hours&gt;" in page.text


def test_a_circuit_has_its_numbers_map_and_corners(client) -> None:
    circuit = predicted_garage().circuit(MEETING.circuit)
    page = client.get(ADDRESS)
    assert page.status_code == 200
    said = _plain(page.text)
    assert f"{circuit.length:,.0f} m".replace(",", " ") in said
    for corner in circuit.corners:
        words = f"{corner.number} {'left' if corner.is_left else 'right'} {corner.radius:.1f}"
        assert words in said
    assert circuit.pit_lane is not None and f"{circuit.pit_lane.length:.0f} m" in said
    assert page.text.count("data-strip=") == 3
    assert " style=" not in page.text


def test_readings_place_the_cursor_on_the_map(client) -> None:
    circuit = predicted_garage().circuit(MEETING.circuit)
    found = client.get(f"{ADDRESS}/readings.json").json()
    places = np.array(found["map_places"])
    assert len(places) == len(found["places"])
    # the map is to scale: distances on it are those on the ground in one proportion
    metres = np.hypot(*np.diff(np.stack((circuit.x, circuit.y), axis=1)[found["chosen"]], axis=0).T)
    drawn = np.hypot(*np.diff(places, axis=0).T)
    assert metres.sum() / drawn.sum() == pytest.approx(np.ptp(circuit.x) / np.ptp(places[:, 0]), rel=0.02)


@pytest.mark.parametrize(
    "name", ["nowhere.csv", "..%2Fcar.toml", "%2e%2e%2fgarage.sqlite", "larkmoor.csv%00"]
)
def test_a_name_that_is_no_circuit_leads_nowhere(client, name: str) -> None:
    assert client.get(f"/circuits/{name}").status_code == 404
    assert client.get(f"/circuits/{name}/readings.json").status_code == 404


def test_a_document_that_is_no_circuit_is_listed_with_the_reason(tmp_path) -> None:
    (tmp_path / "circuits").mkdir()
    (tmp_path / "circuits" / "broken.csv").write_text("x,y\n1,2\n", encoding="utf-8")
    garage = new_garage(tmp_path)
    page = client_of(garage).get("/circuits")
    assert page.status_code == 200
    assert "broken.csv" in page.text and 'class="problem"' in page.text
    garage.close()
