"""car.toml: the least that is enough, the demo's cars, and every refusal in a mechanic's words."""

import dataclasses
import math
from pathlib import Path

import pytest

from tintop.car.car import DrivenAxle
from tintop.car.described import DescribedCar
from tintop.car.numbers import numbers_of, with_number
from tintop.car.powertrain import DifferentialKind
from tintop.errors import BadInput
from tintop.known import Origin
from tintop.physics.braking import BrakedCar, ideal_front_brake_share
from tintop.store.demo import demo_path
from tintop.store.documents import read_car

LEAST = """\
driven_axle = "front"
masses.car = "1050 kg"
engine.peak_power = "125 kW"
tyres.kind = "semi_slick"
dimensions.wheelbase = "2.55 m"
dimensions.track = "1480 mm"
gearbox.top_speed_per_gear = ["58 km/h", "95 km/h", "131 km/h", "168 km/h", "205 km/h"]
"""


def car_of(folder: Path, text: str) -> DescribedCar:
    path = folder / "car.toml"
    path.write_text(text, "utf-8")
    return read_car(path)


def refusal_of(folder: Path, text: str) -> str:
    with pytest.raises(BadInput) as refusal:
        car_of(folder, text)
    return str(refusal.value)


def test_seven_lines_are_enough(tmp_path: Path) -> None:
    described = car_of(tmp_path, LEAST)
    car = described.car
    assert car.driven_axle is DrivenAxle.FRONT
    assert car.masses.car == 1050.0
    assert car.engine.peak_power == pytest.approx(125e3, rel=2e-3)
    assert car.dimensions.track_front == car.dimensions.track_rear == pytest.approx(1.48)
    top = car.gearbox.ratios[-1] * car.gearbox.final_drive
    assert car.engine.limiter_speed / top * car.tyre_front.radius * 3.6 == pytest.approx(205.0)
    assert described.known["masses.car"].origin is Origin.ESTIMATED
    assert described.known["masses.car"].uncertainty == pytest.approx(10.5)
    assert described.known["masses.cg_height"].origin is Origin.ASSUMED
    assert "gearbox.differential.kind" in described.assumed_choices
    assert "brakes.front.pad.kind" in described.assumed_choices


@pytest.fixture(params=["least", "car.toml", "second_car.toml"])
def described(request: pytest.FixtureRequest, tmp_path: Path) -> DescribedCar:
    if request.param == "least":
        return car_of(tmp_path, LEAST)
    return read_car(demo_path(request.param))


def test_every_number_of_the_car_says_how_it_is_known(described: DescribedCar) -> None:
    numbers = numbers_of(described.car)
    assert set(described.known) == set(numbers)
    assert len(numbers) > 150
    for path, value in numbers.items():
        known = described.known[path]
        assert known.value == pytest.approx(value), path
        if known.origin is Origin.ASSUMED:
            assert known.source, path
            assert known.uncertainty > 0.0, path


def test_every_scalar_of_the_car_is_a_number(described: DescribedCar) -> None:
    count = 0

    def walk(part: object) -> None:
        nonlocal count
        for field in dataclasses.fields(part):  # type: ignore[arg-type]
            value = getattr(part, field.name)
            if dataclasses.is_dataclass(value):
                walk(value)
            elif isinstance(value, float):
                count += 1
            elif isinstance(value, tuple):
                count += {"ratios": len(value), "torques": 1, "frictions": 1}.get(field.name, 0)

    walk(described.car)
    assert count == len(numbers_of(described.car))


def test_each_number_can_be_changed_alone(described: DescribedCar) -> None:
    before = numbers_of(described.car)
    for path, value in before.items():
        changed = with_number(described.car, path, value * 0.9999999)
        after = numbers_of(changed)
        others = {p: v for p, v in after.items() if p != path}
        assert others == {p: v for p, v in before.items() if p != path}
        assert with_number(described.car, path, value) == described.car


def test_a_curve_is_changed_by_its_factor(described: DescribedCar) -> None:
    car = with_number(described.car, "engine.torques", 1.1)
    assert car.engine.peak_power == pytest.approx(1.1 * described.car.engine.peak_power)
    car = with_number(described.car, "brakes.front.pad.frictions", 0.5)
    assert car.brakes.front.pad.frictions[0] == 0.5 * described.car.brakes.front.pad.frictions[0]
    assert car.brakes.rear == described.car.brakes.rear
    ratio = with_number(described.car, "gearbox.ratios.2", 2.0).gearbox.ratios
    assert ratio[1] == 2.0
    assert ratio[0] == described.car.gearbox.ratios[0]


@pytest.mark.parametrize(
    "path",
    [
        "",
        "name",
        "masses",
        "masses.",
        "masses.cgheight",
        "gearbox.ratios",
        "gearbox.ratios.0",
        "gearbox.ratios.9",
        "engine.speeds",
        "engine.torques.1",
        "masses.car.x",
    ],
)
def test_no_number_of_the_car_is_refused(described: DescribedCar, path: str) -> None:
    with pytest.raises(BadInput, match=r"masses\.cg_height"):
        with_number(described.car, path, 1.0)


def test_the_demo_cars_are_what_the_paddock_would_expect() -> None:
    hatch, coupe = read_car(demo_path("car.toml")), read_car(demo_path("second_car.toml"))
    assert hatch.car.driven_axle is DrivenAxle.FRONT
    assert coupe.car.driven_axle is DrivenAxle.REAR
    assert 1100.0 < hatch.car.masses.without_fuel < 1150.0
    assert 1000.0 < coupe.car.masses.without_fuel < 1050.0
    assert 125e3 < hatch.car.engine.peak_power < 150e3
    assert 105e3 < coupe.car.engine.peak_power < 120e3
    for described in (hatch, coupe):
        brakes = described.car.brakes
        rear = brakes.torque_gain_rear / brakes.rear_valve_share
        without_valve = brakes.torque_gain_front / (brakes.torque_gain_front + rear)
        assert 0.65 <= without_valve <= 0.75  # from memory, Limpert; Puhn: front-drive saloon, dry
    brakes, grip = hatch.car.brakes, hatch.car.tyre_front.friction_longitudinal
    valved = brakes.torque_gain_front / (brakes.torque_gain_front + brakes.torque_gain_rear)
    light = BrakedCar(
        hatch.car.dimensions.wheelbase, hatch.car.masses.cg_height, hatch.car.masses.front_share
    )
    assert valved > ideal_front_brake_share(light, grip)  # the owner's valve: front wheels lock first
    origins = {known.origin for known in hatch.known.values()}
    assert origins == set(Origin)


def test_torque_bias_ratio_becomes_a_lock_share() -> None:
    differential = read_car(demo_path("second_car.toml")).car.gearbox.differential
    assert differential.kind is DifferentialKind.LIMITED_SLIP
    assert differential.lock_share_drive == pytest.approx((2.3 - 1.0) / (2.3 + 1.0))


def test_a_wheel_dyno_is_brought_to_the_crank() -> None:
    described = read_car(demo_path("car.toml"))
    engine, efficiency = described.car.engine, described.car.gearbox.efficiency
    assert max(engine.torques) == pytest.approx(189.5 / efficiency)
    assert described.known["engine.torques"].uncertainty == pytest.approx(0.03)
    assert described.known["engine.torques"].origin is Origin.MEASURED


def test_a_dyno_sheet_in_power_equals_one_in_torque(tmp_path: Path) -> None:
    base = LEAST.replace('engine.peak_power = "125 kW"\n', "")
    speeds = 'engine.dyno.at = "crank"\nengine.dyno.speeds = ["2000 rpm", "4000 rpm", "6500 rpm"]\n'
    torque = car_of(tmp_path, base + speeds + 'engine.dyno.torques = ["150 Nm", "190 Nm", "170 Nm"]\n')
    powers = [math.pi / 30 * rpm * nm / 1e3 for rpm, nm in ((2000, 150), (4000, 190), (6500, 170))]
    written = ", ".join(f'"{power:.9f} kW"' for power in powers)
    power = car_of(tmp_path, base + speeds + f"engine.dyno.powers = [{written}]\n")
    assert power.car.engine.torques == pytest.approx(torque.car.engine.torques, rel=1e-8)


def test_an_uncorrected_sheet_in_standard_air_is_left_alone(tmp_path: Path) -> None:
    base = LEAST.replace('engine.peak_power = "125 kW"\n', "")
    sheet = (
        'engine.dyno.at = "crank"\nengine.dyno.speeds = ["2000 rpm", "4000 rpm", "6500 rpm"]\n'
        'engine.dyno.torques = ["150 Nm", "190 Nm", "170 Nm"]\n'
    )
    # ISO 1585: 25 °C and 99 kPa of dry air
    air = 'engine.dyno.air_temp = "25 °C"\nengine.dyno.air_pressure = "99 kPa"\nengine.dyno.humidity = 0\n'
    assert car_of(tmp_path, base + sheet + air).car.engine.torques == pytest.approx((150.0, 190.0, 170.0))
    hot_and_high = air.replace("99 kPa", "90 kPa").replace("25 °C", "35 °C")
    factor = (99.0 / 90.0) ** 1.2 * (308.0 / 298.0) ** 0.6
    torques = car_of(tmp_path, base + sheet + hot_and_high).car.engine.torques
    assert torques == pytest.approx((150.0 * factor, 190.0 * factor, 170.0 * factor))


def test_a_curve_drawn_through_its_peaks_has_them(tmp_path: Path) -> None:
    peaks = (
        'engine.peak_power_speed = "6300 rpm"\nengine.peak_torque = "200 Nm"\n'
        'engine.peak_torque_speed = "4500 rpm"\n'
        'engine.limiter_speed = "6900 rpm"\n'
    )
    engine = car_of(tmp_path, LEAST + peaks).car.engine
    powers = [w * t for w, t in zip(engine.speeds, engine.torques, strict=True)]
    assert max(engine.torques) == pytest.approx(200.0)
    assert max(powers) == pytest.approx(125e3)
    assert engine.speeds[powers.index(max(powers))] == pytest.approx(6300 * math.pi / 30)
    assert engine.speeds[engine.torques.index(max(engine.torques))] == pytest.approx(4500 * math.pi / 30)
    assert engine.speeds[-1] == pytest.approx(engine.limiter_speed)


def test_tyres_of_one_axle_may_differ(tmp_path: Path) -> None:
    car = car_of(
        tmp_path, LEAST + 'tyres.pressure_cold = "24 psi"\ntyres.rear.pressure_cold = "1.4 bar"\n'
    ).car
    assert car.tyre_front.pressure_cold == pytest.approx(165474.2, rel=1e-6)
    assert car.tyre_rear.pressure_cold == pytest.approx(1.4e5)


def test_a_balance_bar_tells_of_two_cylinders(tmp_path: Path) -> None:
    described = car_of(tmp_path, LEAST + "brakes.bar_front_share = 0.55\n")
    assert not described.car.brakes.is_tandem_cylinder
    assert "two master cylinders" in described.assumed_choices["brakes.is_tandem_cylinder"]


def test_lock_numbers_tell_of_a_limited_slip_unit(tmp_path: Path) -> None:
    described = car_of(tmp_path, LEAST + "gearbox.differential.lock_share_drive = 0.35\n")
    assert described.car.gearbox.differential.kind is DifferentialKind.LIMITED_SLIP
    assert "gearbox.differential.kind" in described.assumed_choices


def test_a_wheel_dyno_through_a_dead_gearbox_is_refused(tmp_path: Path) -> None:
    text = demo_path("car.toml").read_text("utf-8").replace('value = "0.92"', 'value = "0"')
    assert "gearbox.efficiency: found 0; expected 0.5 to 1" in refusal_of(tmp_path, text)


def test_a_limiter_far_beyond_the_dyno_sheet_is_refused(tmp_path: Path) -> None:
    text = demo_path("car.toml").read_text("utf-8").replace('value = "7000 rpm"', 'value = "8200 rpm"')
    assert "engine.limiter_speed: found 8200 rpm; expected at most 10 % above" in refusal_of(tmp_path, text)


@pytest.mark.parametrize(
    ("mass", "power", "driven", "tyres", "speeds"),
    [
        (620, 45, "front", "road", (45, 75, 110, 150)),
        (780, 85, "rear", "slick", (60, 90, 120, 150, 185)),
        (1350, 220, "four", "semi_slick", (70, 110, 150, 190, 230, 265)),
        (1650, 330, "rear", "slick", (80, 120, 160, 200, 245, 290)),
    ],
)
def test_small_and_large_cars_find_defaults_that_fit(
    tmp_path: Path, mass: int, power: int, driven: str, tyres: str, speeds: tuple[int, ...]
) -> None:
    written = ", ".join(f'"{speed} km/h"' for speed in speeds)
    text = (
        f'driven_axle = "{driven}"\nmasses.car = "{mass} kg"\nengine.peak_power = "{power} kW"\n'
        f'tyres.kind = "{tyres}"\ndimensions.wheelbase = "2.5 m"\ndimensions.track = "1.48 m"\n'
        f"gearbox.top_speed_per_gear = [{written}]\n"
    )
    car = car_of(tmp_path, text).car
    assert car.engine.peak_power == pytest.approx(power * 1e3, rel=2e-3)
    brakes = car.brakes
    assert 0.62 < brakes.torque_gain_front / (brakes.torque_gain_front + brakes.torque_gain_rear) < 0.78


def test_unknown_is_assumed_and_listed(tmp_path: Path) -> None:
    described = car_of(tmp_path, LEAST + 'masses.cg_height = "unknown"\ntyres.pressure_hot = "unknown"\n')
    assert described.known["masses.cg_height"].origin is Origin.ASSUMED
    assert described.car.tyre_front.pressure_hot is None


def test_what_is_said_about_a_value_is_kept(tmp_path: Path) -> None:
    said = 'origin = "measured", uncertainty = "2 %", note = "n", source = "s"'
    known = car_of(tmp_path, LEAST + f'masses.cg_height = {{ value = "51 cm", {said} }}\n').known[
        "masses.cg_height"
    ]
    assert known.value == pytest.approx(0.51)
    assert known.uncertainty == pytest.approx(0.0102)
    assert (known.origin, known.note, known.source) == (Origin.MEASURED, "n", "s")


CONTRADICTIONS = {
    "pads thinner than their minimum": (
        'brakes.front.pad.thickness = "1.5 mm"\n',
        ["line 8, brakes.front.pad.thickness", "'1.5 mm'", "more than the minimum of 2 mm", "new pads"],
    ),
    "disc at its minimum": (
        'brakes.rear.disc_thickness = "8 mm"\n',
        ["line 8, brakes.rear.disc_thickness", "more than the minimum of 8.4 mm", "replaced"],
    ),
    "torque peak above the limiter": (
        'engine.peak_torque_speed = "5200 rpm"\nengine.limiter_speed = "5000 rpm"\n',
        ["line 9, engine.limiter_speed", "5000 rpm", "5200 rpm"],
    ),
    "more torque than the power allows": (
        'engine.peak_torque = "290 Nm"\nengine.peak_torque_speed = "5000 rpm"\n',
        ["engine.peak_torque", "151.8 kW", "125 kW", "Power is torque times engine speed"],
    ),
    "less torque than the power needs": (
        'engine.peak_torque = "80 lb-ft"\n',
        ["line 8, engine.peak_torque", "108.5 N·m", "at least the 192.5 N·m"],
    ),
    "torque peak above the power peak": (
        'engine.peak_torque = "200 Nm"\nengine.peak_torque_speed = "6500 rpm"\n',
        ["engine.peak_torque_speed", "6500 rpm", "less than the speed of peak power"],
    ),
    "heat beyond the fuel's": (
        'cooling.heat_to_coolant_share = "58 %"\ncooling.heat_to_oil_share = "25 %"\n',
        ["line 8, cooling.heat_to_coolant_share", "% of the fuel's energy"],
    ),
    "wet tyres at one end": (
        'tyres.rear.kind = "wet"\n',
        ["tyres.kind", "wet tyres on both axles or on none"],
    ),
    "drive share of an undriven axle": (
        'gearbox.front_drive_share = "40 %"\n',
        ["front_drive_share", "front axle alone"],
    ),
    "narrower than its tracks": (
        'dimensions.width = "1.4 m"\n',
        ["dimensions.width", "'1.4 m'", "more than both"],
    ),
    "tank that is all unusable": (
        'tank.volume = "20 L"\ntank.unusable_volume = "25 L"\n',
        ["tank.unusable_volume", "'25 L'"],
    ),
    "fluid that boils later wet than dry": (
        'brakes.fluid_boiling_wet = "300 °C"\n',
        ["fluid_boiling_wet", "dry boiling"],
    ),
    "frictions without temps": (
        "brakes.front.pad.frictions = [0.4, 0.4]\n",
        ["brakes.front.pad.frictions", "0 temps"],
    ),
    "ratios beside top speeds": ("gearbox.ratios = [3, 2]\ngearbox.final_drive = 4\n", ["one of the two"]),
    "bias beside lock": (
        "gearbox.differential.torque_bias_ratio = 2\ngearbox.differential.lock_share_drive = 0.3\n",
        ["torque_bias_ratio", "no lock_share_drive beside it"],
    ),
    "hot below cold": (
        'tyres.pressure_cold = "1.9 bar"\ntyres.pressure_hot = "1.7 bar"\n',
        ["line 9, tyres.pressure_hot", "1.7 bar", "more than the 1.9 bar"],
    ),
    "open but locking": (
        'gearbox.differential.kind = "open"\ngearbox.differential.lock_share_drive = 0.4\n',
        ["line 9, gearbox.differential.lock_share_drive", "limited_slip"],
    ),
    "locked but slipping": (
        'gearbox.differential.kind = "locked"\ngearbox.differential.lock_share_drive = 0.4\n',
        ["line 9, gearbox.differential.lock_share_drive", "95 % or more"],
    ),
    "half an oil cooler": (
        'cooling.oil_core_conductance = "70 W/K"\n',
        ["cooling.oil_core_face_area", "half an oil cooler"],
    ),
    "tandem with a bar": (
        "brakes.is_tandem_cylinder = true\nbrakes.bar_front_share = 0.6\n",
        ["line 9, brakes.bar_front_share", "a tandem cylinder with a balance bar"],
    ),
    "two cylinders without a bar": ("brakes.is_tandem_cylinder = false\n", ["brakes.bar_front_share"]),
    "name over lines": ('name = "a\\nb"\n', ["line 8, name", "one line"]),
    "name of nothing": ('name = " "\n', ["line 8, name", "1 to 120"]),
    "negative": ('masses.driver = "-80 kg"\n', ["line 8, masses.driver", "'-80 kg'", "30 kg to 200 kg"]),
    "absurd": (
        'tyres.pressure_cold = "32 bar"\n',
        ["line 8, tyres.pressure_cold", "'32 bar'", "0.2 bar to 6 bar"],
    ),
    "without its unit": ("masses.cg_height = 500\n", ["line 8, masses.cg_height", '"500 mm"']),
    "with another's unit": ('masses.cg_height = "500 kg"\n', ["which is a mass", "a length in m, mm"]),
    "not a number": ("masses.front_share = nan\n", ["masses.front_share", "nan"]),
    "unknown field": (
        'masses.cg_heigth = "500 mm"\n',
        ["line 8, masses.cg_heigth", "Did you mean cg_height?"],
    ),
    "unknown table": ("[coolling]\nx = 1\n", ["coolling", "Did you mean cooling?"]),
    "unknown origin": (
        'masses.cg_height = { value = "500 mm", origin = "mesured" }\n',
        ["origin", "'mesured'", "Did you mean measured?"],
    ),
    "unknown key of a value": (
        'masses.cg_height = { value = "500 mm", sigma = "1 mm" }\n',
        ["'sigma'", "uncertainty"],
    ),
    "table without value": ('masses.cg_height = { origin = "measured" }\n', ["a table without a value"]),
    "negative uncertainty": (
        'masses.cg_height = { value = "500 mm", uncertainty = "-1 mm" }\n',
        ["zero or more"],
    ),
    "unknown kind": ('brakes.front.pad.kind = "endurence"\n', ["'endurence'", "Did you mean endurance?"]),
    "text for a flag": ('engine.is_charged = "yes"\n', ["engine.is_charged", "true or false"]),
    "number for a table": ("tank = 5\n", ["line 8, tank", "a table of fields"]),
    "number for a name": ("name = 5\n", ["name", "text in quotes"]),
    "list for a value": ('masses.ballast = ["1 kg"]\n', ["masses.ballast", "a value with its unit"]),
}


@pytest.mark.parametrize("case", CONTRADICTIONS)
def test_contradictions_are_refused(tmp_path: Path, case: str) -> None:
    extra, words = CONTRADICTIONS[case]
    sentence = refusal_of(tmp_path, LEAST + extra)
    assert sentence.startswith("car.toml")
    for word in words:
        assert word in sentence


@pytest.mark.parametrize(
    ("gearing", "words"),
    [
        ("gearbox.ratios = [0.5, 0.4]\ngearbox.final_drive = 4", "pull away"),
        ("gearbox.ratios = [1.0, 0.8]\ngearbox.final_drive = 2.2", "a first gear that idles"),
        ("gearbox.ratios = [30, 20]\ngearbox.final_drive = 9", "reaches the limiter"),
        ("gearbox.ratios = [2, 3]\ngearbox.final_drive = 4", "fall from first gear"),
        ("gearbox.ratios = []\ngearbox.final_drive = 4", "no gears"),
        ('gearbox.top_speed_per_gear = ["0 km/h"]', "above zero"),
        ('gearbox.top_speed_per_gear = ["60 km/h"]\ngearbox.final_drive = 0', "gearbox.final_drive"),
        ('gearbox.top_speed_per_gear = ["60 km/h", "50 km/h"]', "fall from first gear"),
    ],
)
def test_gearing_that_cannot_pull_is_refused(tmp_path: Path, gearing: str, words: str) -> None:
    lines = [line for line in LEAST.splitlines() if not line.startswith("gearbox")]
    assert words in refusal_of(tmp_path, "\n".join([*lines, gearing]))


@pytest.mark.parametrize("missing", range(7))
def test_each_needed_line_is_asked_for(tmp_path: Path, missing: int) -> None:
    lines = LEAST.splitlines()
    field = lines.pop(missing).partition(" = ")[0]
    wanted = {
        "dimensions.track": "dimensions.track_front",
        "gearbox.top_speed_per_gear": "gearbox.ratios",
    }.get(field, field)
    assert f"car.toml, {wanted}: found nothing" in refusal_of(tmp_path, "\n".join(lines))


def test_a_stated_peak_off_the_dyno_sheet_is_refused(tmp_path: Path) -> None:
    text = demo_path("car.toml").read_text("utf-8").replace("[engine]\n", '[engine]\npeak_power = "155 kW"\n')
    sentence = refusal_of(tmp_path, text)
    assert "engine.peak_power: found '155 kW', but the dyno sheet peaks at 128.4 kW" in sentence


@pytest.mark.parametrize(
    ("speeds", "torques", "words"),
    [
        ('["2000 rpm"]', '["150 Nm"]', "three or more"),
        ('["1000 rpm", "2000 rpm", "3000 rpm"]', '["150 Nm"]', "3 speeds and 1 torques"),
        ('["2000 rpm", "1000 rpm", "3000 rpm"]', '["90 Nm", "90 Nm", "90 Nm"]', "do not rise"),
        ('["1000 rpm", "2000 rpm", "3000 rpm"]', '["90 Nm", "0 Nm", "90 Nm"]', "zero or less"),
        ('["1000 rpm", "2000 rpm", "3000 rpm"]', '["90 Nm", "90 Nm", "90 Nm"]', "crank or wheels"),
        ('["1000 rpm", "2000", "3000 rpm"]', '["90 Nm", "90 Nm", "90 Nm"]', "in place 2"),
    ],
)
def test_a_poor_dyno_sheet_is_refused(tmp_path: Path, speeds: str, torques: str, words: str) -> None:
    sheet = f"engine.dyno.speeds = {speeds}\nengine.dyno.torques = {torques}"
    assert words in refusal_of(tmp_path, LEAST.replace('engine.peak_power = "125 kW"', sheet))


def test_all_problems_come_at_once(tmp_path: Path) -> None:
    text = (
        LEAST
        + 'masses.driver = "12 kg"\nmasses.ballast = "900 kg"\naero.drag_area = "9 m2"\ntank.volume = "1 L"\n'
    )
    sentence = refusal_of(tmp_path, text)
    for line, field in (
        (8, "masses.driver"),
        (9, "masses.ballast"),
        (10, "aero.drag_area"),
        (11, "tank.volume"),
    ):
        assert f"line {line}, {field}" in sentence
    unread = refusal_of(tmp_path, 'masses.car = "1050"\ndriven_axle = "fron"\ncolour = "green"\n')
    assert len(unread.splitlines()) >= 8
