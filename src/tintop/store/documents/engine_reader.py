"""The engine of a car document: its full-load curve from a dyno sheet or from its peaks."""

import math
from dataclasses import dataclass
from itertools import pairwise

from tintop.car.described import FROM_THE_WHEELS
from tintop.known import Known, Origin
from tintop.physics.air import power_factor
from tintop.store.documents.car_document import DynoTable, EngineTable
from tintop.store.documents.engine_curve import Peaks, drawn_through
from tintop.store.documents.numbers import Numbers, as_known
from tintop.units import format_quantity

_STATED_PEAK_TOLERANCE = 0.03  # between a stated peak and the dyno sheet's


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """Speeds [rad/s], torques [N·m], how the whole is known, and how it was drawn if that was assumed."""

    speeds: tuple[float, ...]
    torques: tuple[float, ...]
    known: Known
    assumed: str


def read_curve(engine: EngineTable, numbers: Numbers) -> Curve | None:
    """Give the full-load curve; contradictions are noted in the numbers' problems, None if there is none."""
    if engine.dyno is not None:
        return _from_dyno(engine.dyno, bool(engine.is_charged), numbers)
    return _from_peaks(numbers)


def _problem(numbers: Numbers, path: str, found: str, expected: str, cure: str = "") -> None:
    numbers.problems.append(numbers.document.problem(path, found, expected, cure))


def _from_dyno(dyno: DynoTable, is_charged: bool, numbers: Numbers) -> Curve | None:
    speeds = tuple(w.value for w in dyno.speeds or ())
    sheet, name = (dyno.torques, "torques") if dyno.torques else (dyno.powers, "powers")
    where = "engine.dyno"
    if dyno.torques and dyno.powers:
        _problem(numbers, f"{where}.powers", "both torques and powers", "one of the two")
        return None
    if sheet is None or len(speeds) < 3 or len(sheet) != len(speeds):
        found = f"{len(speeds)} speeds and {len(sheet or ())} {name}"
        _problem(numbers, where, found, "three or more speeds, each with its torque or power")
        return None
    if any(b <= a for a, b in pairwise(speeds)) or speeds[0] <= 0.0:
        _problem(numbers, f"{where}.speeds", "speeds that do not rise", "engine speeds in rising order")
        return None
    if any(w.value <= 0.0 for w in sheet):
        _problem(numbers, f"{where}.{name}", "a value of zero or less", "values above zero")
        return None
    values = [w.value for w in sheet]
    torques = values if dyno.torques else [p / w for p, w in zip(values, speeds, strict=True)]
    notes = ["dyno sheet"]
    factor = 1.0
    if dyno.at == "wheels":
        efficiency = numbers.get("gearbox.efficiency")
        if not 0.5 <= efficiency <= 1.0:
            _problem(numbers, "gearbox.efficiency", f"{efficiency:g}", "0.5 to 1")
            return None
        factor /= efficiency
        notes.append(FROM_THE_WHEELS)
    elif dyno.at is None:
        _problem(numbers, f"{where}.at", "nothing", "crank or wheels: where the sheet was taken")
        return None
    if dyno.air_temp or dyno.air_pressure:
        correction = _air_correction(dyno, is_charged, numbers)
        if correction is None:
            return None
        factor *= correction
        notes.append("corrected to the standard air of ISO 1585")
    torques = [t * factor for t in torques]
    first = sheet[0]
    uncertainty = (
        dyno.uncertainty.value if dyno.uncertainty else as_known(first, "torque").uncertainty / values[0]
    )
    place = max(range(len(speeds)), key=lambda i: speeds[i] * torques[i])
    peak = speeds[place] * torques[place]
    _compare_with_stated_peaks(numbers, peak, max(torques))
    origin = first.origin or Origin.ESTIMATED
    for path, value in (("engine.peak_power", peak), ("engine.peak_power_speed", speeds[place])):
        numbers.take(path, Known(value=value, uncertainty=uncertainty * value, origin=origin))
    known = Known(
        value=1.0, uncertainty=uncertainty, origin=origin, note="; ".join(notes), source=first.source
    )
    return Curve(speeds=speeds, torques=tuple(torques), known=known, assumed="")


def _air_correction(dyno: DynoTable, is_charged: bool, numbers: Numbers) -> float | None:
    if dyno.air_temp is None or dyno.air_pressure is None:
        _problem(
            numbers, "engine.dyno", "only one of air_temp and air_pressure", "both, or neither if corrected"
        )
        return None
    temp, pressure = dyno.air_temp.value, dyno.air_pressure.value
    humidity = dyno.humidity.value if dyno.humidity else 0.5
    if not (-25.0 <= temp <= 55.0 and 55e3 <= pressure <= 110e3 and 0.0 <= humidity <= 1.0):
        found = f"{temp:g} °C, {pressure / 100.0:g} hPa, humidity {humidity:g}"
        _problem(numbers, "engine.dyno.air_temp", found, "-25 to 55 °C, 550 to 1100 hPa, 0 to 1")
        return None
    return 1.0 / power_factor(temp, pressure, humidity, is_charged)


def _compare_with_stated_peaks(numbers: Numbers, power: float, torque: float) -> None:
    for path, value, unit in (("engine.peak_power", power, "kW"), ("engine.peak_torque", torque, "N·m")):
        if path in numbers.written:
            written, place = numbers.written[path]
            if not math.isclose(written.value, value, rel_tol=_STATED_PEAK_TOLERANCE):
                _problem(
                    numbers,
                    place,
                    f"{written.text!r}, but the dyno sheet peaks at {format_quantity(value, unit)}",
                    "a peak within 3 % of the sheet, or none",
                    "Check crank against wheels, and the unit of the sheet.",
                )


def _from_peaks(numbers: Numbers) -> Curve | None:
    power, power_speed = numbers.get("engine.peak_power"), numbers.get("engine.peak_power_speed")
    if not (3e3 <= power <= 1.5e6 and 100.0 <= power_speed <= 2500.0):
        found = f"{format_quantity(power, 'kW')} at {format_quantity(power_speed, 'rpm')}"
        _problem(numbers, "engine.peak_power", found, "3 to 1500 kW, at 955 to 23873 rpm")
        return None
    at_power = power / power_speed
    shares = [numbers.known["engine.peak_power"].uncertainty / power]
    assumed = [
        p
        for p in ("peak_power_speed", "peak_torque", "peak_torque_speed")
        if f"engine.{p}" not in numbers.written
    ]
    if "engine.peak_torque" in numbers.written:
        torque = numbers.get("engine.peak_torque")
    else:
        torque = at_power * numbers.get("engine.curve.torque_rise")
        shares.append(0.5 * numbers.known["engine.curve.torque_rise"].uncertainty)
    if not 5.0 <= torque <= 3000.0:
        _problem(numbers, "engine.peak_torque", format_quantity(torque, "N·m"), "5 to 3000 N·m")
        return None
    if "engine.peak_torque_speed" in numbers.written:
        torque_speed = numbers.get("engine.peak_torque_speed")
    else:
        share = numbers.get("engine.curve.peak_torque_speed_share")
        torque_speed = min(share * power_speed, 0.98 * power / torque)
    if not _peaks_agree(
        numbers, Peaks(power=power, power_speed=power_speed, torque=torque, torque_speed=torque_speed)
    ):
        return None
    idle, limiter = numbers.get("engine.idle_speed"), numbers.get("engine.limiter_speed")
    lowest = min(idle, 0.5 * torque_speed)
    if not (lowest > 0.0 and 1.02 * torque_speed < limiter <= 2500.0):
        if limiter <= 2500.0 and idle > 0.0:
            _problem(
                numbers,
                "engine.limiter_speed",
                format_quantity(limiter, "rpm"),
                f"more than the speed of peak torque, {format_quantity(torque_speed, 'rpm')}",
            )
        return None
    peaks = Peaks(power=power, power_speed=power_speed, torque=torque, torque_speed=torque_speed)
    falls = numbers.get("engine.curve.low_speed_fall"), numbers.get("engine.curve.over_speed_fall")
    speeds, torques = drawn_through(peaks, *falls, lowest, max(limiter, power_speed))
    note = "curve drawn through its peaks" + (
        f", with class defaults for {', '.join(assumed)}" if assumed else ""
    )
    stated = numbers.known["engine.peak_power"]
    known = Known(
        value=1.0,
        uncertainty=math.hypot(*shares),
        origin=Origin.ASSUMED if len(assumed) == 3 else stated.origin,
        note=note,
        source=stated.source or numbers.defaults["engine.curve.torque_rise"].source,
    )
    return Curve(speeds=speeds, torques=torques, known=known, assumed=note)


def _peaks_agree(numbers: Numbers, peaks: Peaks) -> bool:
    at_power = peaks.power / peaks.power_speed
    at_torque = peaks.torque * peaks.torque_speed
    power, power_speed = format_quantity(peaks.power, "kW"), format_quantity(peaks.power_speed, "rpm")
    torque, torque_speed = format_quantity(peaks.torque, "N·m"), format_quantity(peaks.torque_speed, "rpm")
    before = len(numbers.problems)
    if peaks.torque < 0.99 * at_power:
        _problem(
            numbers,
            "engine.peak_torque",
            torque,
            f"at least the {format_quantity(at_power, 'N·m')} that {power} at {power_speed} are",
            "Power is torque times engine speed: one of the three, or its unit, is wrong.",
        )
    if not 0.0 < peaks.torque_speed < peaks.power_speed:
        _problem(
            numbers,
            "engine.peak_torque_speed",
            torque_speed,
            f"less than the speed of peak power, {power_speed}",
        )
    elif at_torque > 1.01 * peaks.power:
        _problem(
            numbers,
            "engine.peak_torque",
            f"{torque} at {torque_speed}, which is {format_quantity(at_torque, 'kW')}",
            f"no more power than the peak power of {power}",
            "Power is torque times engine speed: one of them, or its unit, is wrong.",
        )
    return len(numbers.problems) == before
