"""The answer to "How quick?" as a sheet and as plain content."""

from typing import Any

from tintop.answer import Answer, Assumption
from tintop.car.measuring import words_of_path
from tintop.circuit.circuit import Circuit, Path
from tintop.lap.sensitivity import Sensitivity
from tintop.lap.trace import LapTrace
from tintop.references import work
from tintop.reports.sheet import Sheet, Table

_KMH = 3.6
_ROWS_OF_WORTH = 10


def lap_sheet(answer: Answer, worth: tuple[Sensitivity, ...]) -> Sheet:
    """The predicted lap for reading."""
    lap = next(figure for figure in answer.figures if figure.name == "lap time")
    corners = answer.working["corners"]
    tables = [
        Table(
            title="What limits the lap",
            columns=("limit in force", "share of time"),
            rows=[
                (name.replace("_", " "), f"{100 * share:.1f} %")
                for name, share in sorted(answer.working["limit_share"].items(), key=lambda item: -item[1])
                if share > 0.0
            ],
        ),
        Table(
            title="Corners, each at its slowest point",
            columns=("corner", "turns", "at m", "km/h", "gear", "limit", "balance"),
            rows=[
                (
                    str(row["number"]),
                    row["direction"],
                    f"{row['distance']:.0f}",
                    f"{row['speed'] * _KMH:.1f}",
                    str(row["gear"]),
                    row["limit"].replace("_", " "),
                    _balance_words(row["balance"]),
                )
                for row in corners
            ],
        ),
        worth_table(worth, _ROWS_OF_WORTH),
        assumption_table(answer.assumptions, _ROWS_OF_WORTH),
    ]
    sectors = ", ".join(f"{seconds:.2f} s" for seconds in answer.working["sectors_s"])
    return Sheet(
        title=answer.question,
        sentences=(
            answer.sentence,
            f"Range {lap.low:.2f} to {lap.high:.2f} s from what is not known for sure about the car.",
            *(
                f"{figure.name.capitalize()}: {_figure(figure.value, figure.unit)}"
                for figure in answer.figures[1:]
            ),
            f"Sectors: {sectors}.",
            answer.next_thing,
        ),
        tables=tuple(table for table in tables if table.rows),
        cautions=answer.cautions,
    )


def _figure(value: float, unit: str) -> str:
    if unit == "m/s":
        return f"{value * _KMH:.1f} km/h."
    if unit == "m3":
        return f"{value * 1e3:.2f} L."
    return f"{value:.3f} {unit}."


def _balance_words(balance: float) -> str:
    if abs(balance) < 0.005:
        return "even"
    return f"{'understeer' if balance > 0 else 'oversteer'} {100 * abs(balance):.1f} %"


def worth_table(worth: tuple[Sensitivity, ...], rows: int) -> Table:
    """What a change of 1 % in each number is worth, the biggest first."""
    ranked = sorted(worth, key=lambda one: -abs(one.seconds_per_percent))[:rows]
    return Table(
        title="What each number is worth on the lap",
        columns=("number", "value (SI)", "1 % more gives"),
        rows=[
            (words_of_path(one.path), f"{one.value:.5g}", f"{one.seconds_per_percent:+.4f} s")
            for one in ranked
        ],
    )


def assumption_table(assumptions: tuple[Assumption, ...], rows: int) -> Table:
    """What was assumed, the one with the biggest effect first."""
    return Table(
        title=f"Assumed, the {min(rows, len(assumptions))} that matter most of {len(assumptions)}",
        columns=("number", "value (SI)", "uncertainty", "effect", "source"),
        rows=[
            (
                words_of_path(one.path),
                f"{one.value:.4g}",
                f"±{one.uncertainty:.2g}",
                f"±{one.effect:.3f} {one.effect_unit}",
                one.source,
            )
            for one in assumptions[:rows]
        ],
    )


def lap_content(answer: Answer, lap: LapTrace, circuit: Circuit, path: Path) -> dict[str, Any]:
    """The predicted lap as plain content; SI, keys name the unit."""
    time = next(figure for figure in answer.figures if figure.name == "lap time")
    return {
        "lap_time_s": lap.lap_time,
        "lap_time_low_s": time.low,
        "lap_time_high_s": time.high,
        "v_max_mps": float(lap.speed.max()),
        "v_min_mps": float(lap.speed.min()),
        "length_m": lap.length,
        "fuel_kg": float(lap.per_lap("fuel_flow")),
        "limit_share": lap.limit_share(),
        "line": path.name,
        "circuit": circuit.name,
        "centre_line_m": circuit.length,
        "has_widths": circuit.has_widths,
        "has_heights": circuit.has_heights,
        **answer.working,
        "brake_energy_j": lap.per_lap("brake_power"),
        "tyre_slip_energy_j": lap.per_lap("tyre_slip_power"),
        "assumptions": [
            {
                "path": one.path,
                "value": one.value,
                "uncertainty": one.uncertainty,
                "effect_s": one.effect,
                "source": one.source,
            }
            for one in answer.assumptions
        ],
        "next_thing": answer.next_thing,
        "cautions": list(answer.cautions),
        "works": [work(key) for key in answer.works],
    }


def worth_content(worth: tuple[Sensitivity, ...]) -> list[dict[str, Any]]:
    """Every sensitivity as plain content."""
    return [
        {
            "path": one.path,
            "value": one.value,
            "seconds_per_unit": one.seconds_per_unit,
            "seconds_per_percent": one.seconds_per_percent,
            "uncertainty": one.uncertainty,
            "seconds_of_doubt": one.seconds_of_doubt,
            "origin": str(one.origin) if one.origin else None,
        }
        for one in worth
    ]
