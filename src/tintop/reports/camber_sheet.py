"""The answer to "Which camber?" as a sheet and as plain content."""

import math
from typing import Any

from tintop.answer import Answer, Figure
from tintop.car.chassis import End
from tintop.car.wheel_motion import WheelPose
from tintop.owner_units import lap_words
from tintop.physics.toe import toe_over_rim
from tintop.questions.which_camber import WhichCamber, degrees
from tintop.references import work
from tintop.reports.answer_content import answer_content
from tintop.reports.sheet import Sheet, Table


def camber_sheet(found: WhichCamber) -> Sheet:
    """Camber for reading: links, bump, corners, steps."""
    answer = found.answer
    return Sheet(
        title=answer.question,
        sentences=(answer.sentence, *answer.why, answer.next_thing),
        tables=(
            Table(
                title="Links, road and lap",
                columns=("what", "value", "range", "how it was come by"),
                rows=[_figure_row(figure) for figure in answer.figures],
            ),
            _bump_table(found),
            _corner_table(found),
            _step_table(found),
        ),
        cautions=answer.cautions,
    )


def camber_content(found: WhichCamber) -> dict[str, Any]:
    """Camber as plain content; SI, radians."""
    move, choice = found.move, found.choice
    return {
        "question": found.answer.question,
        **answer_content(found.answer),
        "end": found.end.value,
        "setup": found.setup.name,
        "bump": [_pose_content(pose) for pose in found.curve_moved],
        "top_moved": None
        if move is None
        else {
            "inward": move.inward,
            "camber": move.camber,
            "toe": move.toe,
            "toe_at_rim": move.toe_at_rim,
            "track_rod_longer": move.rod_longer,
            "track_rod_turns": move.turns,
            "track_rod_pitch_assumed": move.pitch,
            "camber_with_toe_back": move.camber_with_toe_back,
        },
        "corners": [
            {
                "number": corner.number,
                "distance": corner.distance,
                "speed": corner.speed,
                "lateral": corner.lateral,
                "roll": corner.roll,
                "wheels": {
                    one.wheel: {
                        "is_outer": one.is_outer,
                        "camber_to_road": one.camber,
                        "by_lap_model": one.by_constant,
                        "grip_share": one.grip_share,
                        "travel": one.travel,
                        "load": one.load,
                    }
                    for one in corner.wheels
                },
            }
            for corner in found.on_lap.corners
        ],
        "steps": [
            {
                "camber": step.camber,
                "lap_time": step.lap_time,
                "inner_edge_worn": step.inner,
                "inner_edge_worn_low": step.inner_low,
                "inner_edge_worn_high": step.inner_high,
                "middle_worn": step.middle,
            }
            for step in choice.steps
        ],
        "road_distance": choice.road_distance,
        "wear_limit": choice.limit,
        "best": None if choice.within is None else choice.within.camber,
        "gain": choice.gain,
        "gain_low": choice.gain_low,
        "gain_high": choice.gain_high,
        **answer_working(found.answer),
    }


def answer_working(answer: Answer) -> dict[str, Any]:
    """The working of an answer and the works it cites in full."""
    return {"working": dict(answer.working), "works": [work(key) for key in answer.works]}


def figure_words(value: float, unit: str) -> str:
    """A figure of this sheet: degrees, millimetres, per cent."""
    match unit:
        case "rad":
            return degrees(value, 2)
        case "m":
            return f"{value * 1e3:.2f} mm".replace("-", "−")
        case "share":
            return f"{100.0 * value:.1f} %".replace("-", "−")
        case _:
            return f"{value:.3g} {unit}".strip().replace("-", "−")


def _figure_row(figure: Figure) -> tuple[str, str, str, str]:
    room = ""
    if figure.low != figure.high:
        room = f"{figure_words(figure.low, figure.unit)} to {figure_words(figure.high, figure.unit)}"
    return figure.name, figure_words(figure.value, figure.unit), room, figure.basis


def _bump_table(found: WhichCamber) -> Table:
    rows = [
        (
            f"{pose.travel * 1e3:+.0f}".replace("-", "−"),
            degrees(pose.camber, 2),
            degrees(pose.toe, 2),
            f"{toe_over_rim(pose.toe, found.rim_diameter) * 1e3:+.2f}".replace("-", "−"),
            f"{pose.roll_centre_height * 1e3:.0f}".replace("-", "−"),
        )
        for pose in found.curve_moved[::2]
    ]
    return Table(
        title="Bump: against the wheel as it stands now (toe in +)",
        columns=("bump mm", "camber", "toe", "toe mm at rim", "roll centre mm"),
        rows=rows,
    )


def _corner_table(found: WhichCamber) -> Table:
    rows = []
    for corner in found.on_lap.corners:
        front, rear = corner.outer(End.FRONT), corner.outer(End.REAR)
        inner = next(one for one in corner.wheels if not one.is_outer and one.wheel[0] == front.wheel[0])
        rows.append(
            (
                str(corner.number),
                "left" if corner.is_left else "right",
                f"{corner.speed * 3.6:.0f}",
                degrees(corner.roll),
                f"{front.wheel} {degrees(front.camber)}",
                degrees(front.by_constant),
                f"{100.0 * front.grip_share:.1f} %",
                f"{inner.wheel} {degrees(inner.camber)}",
                f"{rear.wheel} {degrees(rear.camber)}",
            )
        )
    return Table(
        title="Camber to the road at the limit",
        columns=(
            "corner",
            "to the",
            "km/h",
            "roll",
            "outer front",
            "lap model has",
            "its grip kept",
            "inner front",
            "outer rear",
        ),
        rows=rows,
    )


def _step_table(found: WhichCamber) -> Table:
    choice = found.choice
    best = min(step.lap_time for step in choice.steps)
    return Table(
        title=f"Static camber {found.end.value}: the lap, and {choice.road_distance / 1e3:.0f} km of road "
        "(an estimate)",
        columns=("camber", "lap", "behind best", "inner edge mm", "from", "to", "middle mm"),
        rows=[
            (
                degrees(step.camber),
                lap_words(step.lap_time),
                f"{step.lap_time - best:+.2f}",
                f"{step.inner * 1e3:.2f}",
                f"{step.inner_low * 1e3:.2f}",
                f"{step.inner_high * 1e3:.2f}",
                f"{step.middle * 1e3:.2f}",
            )
            for step in choice.steps
        ],
    )


def _pose_content(pose: WheelPose) -> dict[str, float | None]:
    names = (
        "travel",
        "camber",
        "toe",
        "caster",
        "kingpin_inclination",
        "scrub_radius",
        "trail",
        "roll_centre_height",
        "residual",
    )
    return {
        **{name: getattr(pose, name) for name in names},
        "swing_arm": pose.swing_arm if math.isfinite(pose.swing_arm) else None,
    }
