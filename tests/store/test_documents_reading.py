"""Files that are no documents, line numbers, and whatever a person or a broken disc may write."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tintop.car.described import DescribedCar
from tintop.car.numbers import numbers_of
from tintop.errors import BadInput
from tintop.event import DescribedEvent
from tintop.store.demo import demo_path
from tintop.store.documents import read_car, read_event
from tintop.store.documents.text import lines_of

WRONG_FILES = {
    "empty": (b"", "an empty file"),
    "blank": (b"\n  \n", "an empty file"),
    "cut short": (b'[masses]\ncar = "1050', "not TOML"),
    "a page": (b"<html><body>hello</body></html>", "line 1: found text that is not TOML"),
    "twice": (b'name = "a"\nname = "b"\n', "line 2"),
    "UTF-16": ('name = "a"'.encode("utf-16"), "UTF-16"),
    "Latin-1": ('# coupé\nname = "coup\xe9"'.encode("latin-1"), "line 1: found a byte that is not UTF-8"),
    "zeros": (b"\x00" * 100, "not TOML"),
    "picture": (b"\x89PNG\r\n\x1a\n" + bytes(range(256)), "not UTF-8"),
    "large": (b"# \n" * 2_000_000, "6.0 MB"),
    "deep": (b"a = " + b"[" * 100_000, "car.toml"),
    "deep keys": (b"a." * 3_000 + b"b = 1", "car.toml"),
    "many digits": (
        b'note = """\n\n"""\nname = ' + b"9" * 5_000,
        "line 4: found a number of 5,000 characters",
    ),
    "few digits too many": (b"a = [1, -" + b"1" * 61 + b"]", "line 1: found a number of 62 characters"),
    "long hexadecimal": (b"a = 0x" + b"f" * 5_000, "line 1: found a number of 5,002 characters"),
    "long binary": (b"a = 0b" + b"1" * 50_000, "line 1: found a number of"),
    "many decimals": (b"a = 0." + b"1" * 5_000, "line 1: found a number of"),
}


@pytest.mark.parametrize("case", WRONG_FILES)
def test_wrong_files_are_refused(tmp_path: Path, case: str) -> None:
    content, words = WRONG_FILES[case]
    path = tmp_path / "car.toml"
    path.write_bytes(content)
    for read in (read_car, read_event):
        with pytest.raises(BadInput) as refusal:
            read(path)
        assert words in str(refusal.value)


def test_a_byte_order_mark_is_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "car.toml"
    path.write_bytes(b"\xef\xbb\xbf" + demo_path("car.toml").read_bytes())
    assert read_car(path) == read_car(demo_path("car.toml"))


def test_windows_line_ends_are_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "car.toml"
    path.write_bytes(demo_path("car.toml").read_bytes().replace(b"\n", b"\r\n"))
    assert read_car(path) == read_car(demo_path("car.toml"))


def test_a_folder_a_missing_file_and_a_name_with_a_null_are_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="a folder"):
        read_car(tmp_path)
    (tmp_path / "lantern.toml").write_text("x = 1")
    with pytest.raises(BadInput, match=r"Did you mean .*lantern\.toml"):
        read_car(tmp_path / "lanten.toml")
    with pytest.raises(BadInput, match="no such file"):
        read_car(tmp_path / "nowhere" / "car.toml")
    with pytest.raises(BadInput):
        read_car("car\0.toml")


def test_lines_are_found_in_every_way_of_writing() -> None:
    text = (
        'name = "a"  # line 1\n'
        "\n"
        "[masses] # table\n"
        'car = "1 kg"\n'
        "cg_height = { value = 1, origin = 2 }\n"
        "[ gearbox.differential ]\n"
        "kind = 'open'\n"
        'note = """\n'
        "[tank]\n"
        'volume = 5"""\n'
        "[[race.stops]]\n"
        "at = 1\n"
        "[[race.stops]]\n"
        "at = 2\n"
    )
    lines = lines_of(text)
    assert lines["name"] == 1
    assert lines["masses"] == 3
    assert lines["masses.car"] == 4
    assert lines["masses.cg_height.origin"] == 5
    assert lines["gearbox.differential.kind"] == 7
    assert "tank" not in lines
    assert lines["race.stops.1.at"] == 12
    assert lines["race.stops.2.at"] == 14


DEMO = {name: demo_path(name).read_text("utf-8") for name in ("car.toml", "event.toml")}


def read_or_refuse(path: Path, name: str) -> DescribedCar | DescribedEvent | None:
    try:
        return read_car(path) if name == "car.toml" else read_event(path)
    except BadInput as refusal:
        assert refusal.problems
        assert all(problem.where and problem.found and problem.expected for problem in refusal.problems)
        assert "Traceback" not in str(refusal)
        return None


quick = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@quick
@given(
    content=st.one_of(
        st.binary(max_size=300), st.text(max_size=300).map(lambda text: text.encode("utf-8", "ignore"))
    )
)
def test_any_bytes_are_read_or_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "any.toml"
    path.write_bytes(content)
    for name in DEMO:
        read_or_refuse(path, name)


junk = st.one_of(
    st.sampled_from(
        [
            '""',
            '"unknown"',
            "nan",
            "-inf",
            "1e308",
            '"1e308 kg"',
            '"-1 mm"',
            "true",
            "[]",
            "{}",
            "[[]]",
            "{ value = {} }",
            "{ value = 'unknown' }",
            "1979-05-27",
            "0",
            '"0 %"',
            '"0 kg"',
            '"0 mm"',
            '"0 rpm"',
            '"0 Nm"',
            '"0 kW"',
            '"0 L"',
            '"1000000 kW"',
            '"0.001 mm"',
            "[1, 2]",
            '["1 rpm", "2 rpm"]',
            "99999999999999999999999999",
            '"1e-300 m"',
        ]
    ),
    st.integers(-10, 10_000).map(str),
    st.floats(allow_nan=False, allow_infinity=False).map(lambda number: f'"{number!r} kg"'),
)


@quick
@given(data=st.data())
def test_a_demo_document_with_other_values_is_read_or_refused(tmp_path: Path, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(DEMO)))
    lines = DEMO[name].splitlines()
    places = [place for place, line in enumerate(lines) if " = " in line and line[0].isalpha()]
    for place in data.draw(st.lists(st.sampled_from(places), min_size=1, max_size=3)):
        lines[place] = lines[place].partition(" = ")[0] + " = " + data.draw(junk)
    path = tmp_path / name
    path.write_text("\n".join(lines), "utf-8")
    read = read_or_refuse(path, name)
    if isinstance(read, DescribedCar):
        assert set(read.known) == set(numbers_of(read.car))


@quick
@given(data=st.data())
def test_a_demo_document_with_damaged_text_is_read_or_refused(tmp_path: Path, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(DEMO)))
    text = DEMO[name]
    start = data.draw(st.integers(0, len(text)))
    length = data.draw(st.sampled_from([0, 1, 3, 20, 400]))
    path = tmp_path / name
    path.write_text(text[:start] + data.draw(st.text(max_size=5)) + text[start + length :], "utf-8", "ignore")
    read_or_refuse(path, name)


LEAST_LINES = (
    'driven_axle = "rear"',
    'masses.car = "{} kg"',
    'engine.peak_power = "{} kW"',
    'tyres.kind = "road"',
    'dimensions.wheelbase = "{} m"',
    'dimensions.track = "{} m"',
    "gearbox.ratios = [{}, 1]",
    "gearbox.final_drive = {}",
    'engine.peak_power_speed = "{} rpm"',
    'engine.peak_torque = "{} Nm"',
    'engine.limiter_speed = "{} rpm"',
)


@quick
@given(data=st.data())
def test_the_least_car_with_any_numbers_is_read_or_refused(tmp_path: Path, data: st.DataObject) -> None:
    number = st.one_of(st.floats(0.1, 10.0), st.floats(10.0, 10_000.0), st.floats(-1.0, 0.0))
    lines = [line.format(data.draw(number)) if "{}" in line else line for line in LEAST_LINES]
    if data.draw(st.booleans()):
        speed = data.draw(number)
        lines[6] = f'gearbox.top_speed_per_gear = ["{speed} km/h", "{1.5 * speed} km/h"]'
    path = tmp_path / "car.toml"
    path.write_text("\n".join(lines[: data.draw(st.integers(8, len(lines)))]), "utf-8")
    read_or_refuse(path, "car.toml")
