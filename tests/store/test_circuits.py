"""Circuit files: every open one reads or is refused for a true reason; bad ones end in one plain sentence."""

import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import tintop
from shared_data import shared
from tintop.errors import BadInput
from tintop.store.circuits import LARGEST_FILE, read_circuit, read_raw

SAMPLES = Path(__file__).parent / "circuit_samples"
DEMO = Path(tintop.__path__[0]) / "data/demo/circuit.csv"

# official lengths of the layouts [m], governing bodies' figures, from memory
OFFICIAL = {
    "Spa": 7004,
    "Monza": 5793,
    "Silverstone": 5891,
    "BrandsHatch": 3916,
    "Hockenheim": 4574,
    "Nuerburgring": 5148,
    "Spielberg": 4318,
    "Norisring": 2300,
    "Austin": 5513,
}

# lines that are honestly not as long as their own `length` says, and by how much
OTHER_LENGTH = {
    "ar-1952": -0.0066,
    "az-2016": -0.0093,
    "br-1940": -0.0044,
    "br-1977": -0.0144,
    "es-2026": -0.0078,
    "fr-1960": 0.0111,
}


@pytest.mark.parametrize("name", OFFICIAL)
def test_length_against_the_official_one(name: str) -> None:
    circuit = read_circuit(shared(f"circuits_csv_widths/{name}.csv"))
    assert circuit.length == pytest.approx(OFFICIAL[name], rel=3.5e-3)
    assert circuit.has_widths


def test_every_circuit_with_widths_reads_and_keeps_its_length() -> None:
    for path in sorted(shared("circuits_csv_widths").glob("*.csv")):
        circuit = read_circuit(path)
        assert abs(circuit.length / circuit.smoothing.length_read - 1.0) < 1e-3, path.name
        assert abs(np.sum(circuit.curvature) * circuit.step) == pytest.approx(2 * np.pi, rel=1e-3), path.name
        assert 4 <= len(circuit.corners) <= 30, path.name
        assert np.max(np.abs(circuit.curvature)) < 1 / 6.0, path.name


def test_every_geojson_circuit_reads_and_matches_its_published_length_or_says_so() -> None:
    for path in sorted(shared("circuits_geojson/each").glob("*.geojson")):
        circuit = read_circuit(path)
        published = read_raw(path).published_length
        assert published is not None
        assert abs(circuit.length / circuit.smoothing.length_read - 1.0) < 1e-3, path.name
        off = circuit.smoothing.length_read / published - 1.0
        if path.stem in OTHER_LENGTH:
            assert off == pytest.approx(OTHER_LENGTH[path.stem], abs=1e-4), path.name
            if abs(off) > 0.005:
                assert any("another layout" in note for note in circuit.smoothing.notes)
        else:
            assert abs(circuit.length / published - 1.0) < 3.5e-3, path.name


@pytest.mark.parametrize(("name", "length"), [("castle-combe", 2961.5), ("brands-hatch-gp", 3895.2)])
def test_draft_traces_against_their_own_length_on_a_sphere(name: str, length: float) -> None:
    """The files' lengthM was taken on a sphere of 6,371,008.8 m: up to 0.3 % off the ellipsoid."""
    circuit = read_circuit(shared(f"circuits_osm_uk/{name}.geojson"))
    assert circuit.length == pytest.approx(length, rel=3e-3)


@pytest.mark.parametrize(
    ("name", "official", "tolerance"),
    [
        ("Algarve_International_Circuit", 4653.0, 0.0035),
        ("Circuit_de_Spa_Francorchamps", 7004.0, 0.0035),
        ("Circuit_of_the_Americas", 5513.0, 0.0035),
        ("Silverstone_Circuit", 5891.0, 0.0035),
        # all ten ways are used: the drawn line itself is 1.9 % shorter than the official 3,801 m
        ("Circuit_Dijon_Prenois", 3801.0, 0.020),
    ],
)
def test_ways_are_stitched_into_the_racing_loop(name: str, official: float, tolerance: float) -> None:
    """Official lengths from memory."""
    circuit = read_circuit(shared(f"circuits_osm_ways/{name}.geojson"))
    assert circuit.length == pytest.approx(official, rel=tolerance)
    assert abs(circuit.length / circuit.smoothing.length_read - 1.0) < 1e-3
    assert any("joined" in note for note in circuit.smoothing.notes)


def test_the_pit_lane_among_the_ways_becomes_the_pit_lane() -> None:
    pit = read_circuit(shared("circuits_osm_ways/Circuit_de_Spa_Francorchamps.geojson")).pit_lane
    assert pit is not None
    assert pit.length == pytest.approx(719.0, abs=2.0)


def test_an_outline_of_the_grounds_is_refused() -> None:
    with pytest.raises(BadInput, match="outline of the grounds"):
        read_circuit(shared("circuits_osm_ways/Sepang_International_Circuit.geojson"))


def test_tracks_that_are_no_circuits_are_refused() -> None:
    paths = [*shared("gpx_gpxpy").glob("*.gpx"), *shared("gps_tracks_misc").glob("*.gpx")]
    assert len(paths) >= 9
    for path in paths:
        with pytest.raises(BadInput) as caught:
            read_circuit(path)
        assert path.name in str(caught.value)


def test_the_same_circuit_as_geojson_and_as_gpx(tmp_path: Path) -> None:
    source = shared("circuits_osm_uk/castle-combe.geojson")
    document = json.loads(source.read_text())
    feature = document["features"][0] if "features" in document else document
    points = "".join(
        f'<trkpt lat="{lat}" lon="{lon}"/>' for lon, lat, *_ in feature["geometry"]["coordinates"]
    )
    track = tmp_path / "track.gpx"
    track.write_text(
        '<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1">'
        f"<trk><name>one lap</name><trkseg>{points}</trkseg></trk></gpx>"
    )
    assert read_circuit(track).length == pytest.approx(read_circuit(source).length, rel=2e-3)


def test_the_demo_circuit() -> None:
    circuit = read_circuit(DEMO)
    assert circuit.name == "Larkmoor"
    assert circuit.length == pytest.approx(3000.0, abs=5.0)
    assert np.sum(circuit.curvature) * circuit.step == pytest.approx(-2 * np.pi, rel=1e-3)  # clockwise
    assert 10 <= len(circuit.corners) <= 12
    assert np.ptp(circuit.z) == pytest.approx(15.0, abs=0.5)
    width = circuit.width_left + circuit.width_right
    assert width.min() > 9.0 and width.max() < 12.1
    assert circuit.pit_lane is not None and circuit.pit_lane.speed_limit == pytest.approx(60 / 3.6)
    assert circuit.has_widths and circuit.has_heights


def test_a_drive_of_two_laps_gives_the_same_circuit() -> None:
    demo, drive = read_circuit(DEMO), read_circuit(SAMPLES / "drive.gpx")
    assert drive.name == "Larkmoor, evening run"
    assert drive.length == pytest.approx(demo.length, rel=5e-3)
    assert drive.has_heights and np.std(drive.z) == pytest.approx(np.std(demo.z), rel=0.05)
    assert any("laps found" in note for note in drive.smoothing.notes)


def test_decimal_commas_and_mapped_names(tmp_path: Path) -> None:
    circuit = read_circuit(SAMPLES / "decimal_comma.csv")
    assert circuit.length == pytest.approx(3000.0, rel=2e-3)
    assert circuit.has_widths and not circuit.has_heights  # Höhe is not a name we know
    mapped = read_circuit(SAMPLES / "decimal_comma.csv", columns={"z": "Höhe"})
    assert mapped.has_heights
    with pytest.raises(BadInput, match="a column named Hoehe for z"):
        read_circuit(SAMPLES / "decimal_comma.csv", columns={"z": "Hoehe"})
    bare = tmp_path / "bare.csv"
    bare.write_text(
        "".join(f"{x:.3f} {y:.3f}\n" for x, y in zip(circuit.x[::5], circuit.y[::5], strict=True))
    )
    assert read_circuit(bare).length == pytest.approx(circuit.length, rel=1e-3)


def test_samples_with_problems() -> None:
    with pytest.raises(BadInput, match=r"with_problems\.gpx, point 26: found .*east"):
        read_circuit(SAMPLES / "drive_with_problems.gpx")
    with pytest.raises(BadInput, match=r"with_problems\.csv, line 41: found 6 values; expected 5"):
        read_circuit(SAMPLES / "decimal_comma_with_problems.csv")


BOMB = (
    '<?xml version="1.0"?><!DOCTYPE g [<!ENTITY a "aaaaaaaa"><!ENTITY b "&a;&a;&a;">]>'
    "<gpx><trk><name>&b;</name></trk></gpx>"
)


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "an empty file"),
        (b" \n\n", "an empty file"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "not text"),
        (b"x,y\n1,2\x00,3\n", "not text"),
        (BOMB.encode(), "entities"),
        (b"<gpx><trk>", "broken or cut short"),
        (b"<html></html>", "root 'html'"),
        (b'{"type": "LineString", "coordinates": [[1, 2], [', "cut short"),
        (b'{"type": "Circle"}', "RFC 7946"),
        (b"[" * 100_000, "JSON"),
        (b"x,y\n1,2\n1\n", "line 3"),
        (b"x,y\n1,2\nnan,3\n", "line 3"),
        (b"x,y\n1,2\nabc,3\n", "line 3"),
        (b"a,b\n1,2\n", "columns x and y"),
        (b"1,2,3,4\n1,2,3,4\n", "columns without names"),
        (b"x,y\n1,2\n", "no line of two points"),
        (b"hello world", "columns"),
        (b"x,y,width\n0,0,-3\n", "a width of -3 m"),
        (b"x,y,z,z_m\n0,0,0,0\n", "two columns"),
        (b"lat,lon\n95,0\n96,0\n97,1\n", "degrees"),
        (b'{"type":"Feature","properties":null,"geometry":{"type":"Point","coordinates":[1,2]}}', "no line"),
    ],
)
def test_bad_files_end_in_a_plain_sentence(tmp_path: Path, content: bytes, reason: str) -> None:
    path = tmp_path / "bad.txt"
    path.write_bytes(content)
    with pytest.raises(BadInput, match=reason) as caught:
        read_circuit(path)
    assert "bad.txt" in str(caught.value)
    assert "\n" not in str(caught.value)


def test_missing_folder_and_huge_files_are_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="no such file"):
        read_circuit(tmp_path / "none.csv")
    with pytest.raises(BadInput, match="a folder"):
        read_circuit(tmp_path)
    huge = tmp_path / "huge.csv"
    with huge.open("wb") as file:
        file.truncate(LARGEST_FILE + 1)
    with pytest.raises(BadInput, match="at most 50 MB"):
        read_circuit(huge)


def reads_or_refuses(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    try:
        circuit = read_circuit(path, step=5.0)
    except BadInput as error:
        assert str(error)
    else:
        assert np.isfinite(circuit.length)


@pytest.fixture(scope="module")
def scratch(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("fuzz") / "file"


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=300))
def test_any_bytes(scratch: Path, content: bytes) -> None:
    reads_or_refuses(scratch, content)


number = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True),
    st.integers(-(10**30), 10**30),
    st.floats(-500, 500),
    st.sampled_from(["", "abc", "1,5", "1e400", "-0"]),
)


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(
        ["x,y", "x;y;z", "lon,lat", "x,y,width", "# x_m,y_m,w_left,w_right", "x\ty\tbanking_deg"]
    ),
    st.lists(st.lists(number, min_size=2, max_size=4), max_size=25),
)
def test_any_table(scratch: Path, header: str, rows: list[list[object]]) -> None:
    separator = next((one for one in ";\t," if one in header), ",")
    count = header.count(separator) + 1
    lines = [separator.join(str(cell) for cell in (row * 2)[:count]) for row in rows]
    reads_or_refuses(scratch, "\n".join([header, *lines]).encode())


values = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=5),
    lambda inner: (
        st.lists(inner, max_size=6)
        | st.dictionaries(
            st.sampled_from(["type", "coordinates", "features", "geometry", "properties", "name"]),
            inner,
            max_size=4,
        )
    ),
    max_leaves=20,
)
position = st.lists(st.floats(-200, 200) | st.floats(), min_size=2, max_size=3)


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(["LineString", "MultiLineString", "Polygon", "Feature", "FeatureCollection", "Point"]),
    values | st.lists(position, max_size=20) | st.lists(st.lists(position, max_size=20), max_size=3),
    values,
)
def test_any_geojson(scratch: Path, kind: str, inner: object, properties: object) -> None:
    document = {
        "type": kind,
        "coordinates": inner,
        "features": inner,
        "geometry": inner,
        "properties": properties,
    }
    reads_or_refuses(scratch, json.dumps(document).encode())


@settings(max_examples=100, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.floats(-100, 100) | st.floats(),
            st.floats(-200, 200),
            st.text("0123456789.e-naif<&", max_size=6),
        ),
        max_size=20,
    ),
    st.integers(0, 400),
)
def test_any_gpx(scratch: Path, points: list[tuple[float, float, str]], cut: int) -> None:
    body = "".join(f'<trkpt lat="{a}" lon="{b}"><ele>{h}</ele></trkpt>' for a, b, h in points)
    reads_or_refuses(scratch, f"<gpx><trk><trkseg>{body}</trkseg></trk></gpx>"[: -cut or None].encode())


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 2**32 - 1), st.floats(0.0, 200.0), st.integers(3, 60))
def test_any_scribble_near_a_ring(scratch: Path, seed: int, scatter: float, count: int) -> None:
    chance = np.random.default_rng(seed)
    angle = np.linspace(0.0, 2 * np.pi, count, endpoint=False)
    x = 200 * np.cos(angle) + chance.normal(0, scatter, count)
    y = 200 * np.sin(angle) + chance.normal(0, scatter, count)
    reads_or_refuses(
        scratch,
        (
            "x,y,z\n"
            + "".join(
                f"{a},{b},{c}\n" for a, b, c in zip(x, y, chance.normal(0, scatter / 10, count), strict=True)
            )
        ).encode(),
    )


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_any_change_of_one_byte_of_a_good_file(scratch: Path, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(["drive.gpx", "decimal_comma.csv"]))
    content = bytearray((SAMPLES / name).read_bytes())
    for _ in range(data.draw(st.integers(1, 3))):
        content[data.draw(st.integers(0, len(content) - 1))] = data.draw(st.integers(0, 255))
    reads_or_refuses(scratch, bytes(content))
