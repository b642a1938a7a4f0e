"""The answer to "Which springs and bars?" as a sheet and as plain content."""

import math
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from tintop.car.chassis import CORNERS
from tintop.car.springs_and_bars import AxleSprings
from tintop.lap.balance import LimitBalance
from tintop.lap.spring_map import Cell, SpringMap
from tintop.lap.spring_steps import Step
from tintop.questions.which_springs_and_bars import Driven, SpringsAnswer, step_words
from tintop.reports.sheet import Sheet, Table
from tintop.units import unit_named

GRAVITY = 9.80665
_MOST_TOUCHES = 8


def springs_sheet(found: SpringsAnswer, mapped: SpringMap | None = None, currency: str = "") -> Sheet:
    """Rates, roll and load moved of both ends, balance against speed, travel used, steps, and the map."""
    answer, tables = found.answer, [_ends(found), _whole(found), balance_table(found.balances)]
    if found.driven:
        tables += [_travel(found.driven), _touches(found.driven), steps_table(found.driven.steps, currency)]
    if mapped:
        tables.append(_map(mapped))
    return Sheet(
        title=answer.question,
        sentences=(
            answer.sentence,
            *(f"{why[:1].upper()}{why[1:]}." for why in answer.why),
            f"Next: {answer.next_thing}",
        ),
        tables=tuple(table for table in tables if table.rows),
        cautions=answer.cautions,
    )


def springs_content(found: SpringsAnswer, mapped: SpringMap | None = None) -> dict[str, Any]:
    """Everything of the sheet as plain values, SI."""
    springs, driven = found.springs, found.driven
    return {
        "answer": asdict(found.answer),
        "ends": {axle.end.value: _axle_content(axle) for axle in (springs.front, springs.rear)},
        "roll_gradient_rad_per_g": springs.roll_gradient,
        "roll_frequency_Hz": springs.roll_frequency,
        "front_share_of_load_moved": springs.body.front_share,
        "front_share_of_roll_stiffness": springs.front_roll_share,
        "modes": [springs.fast._asdict(), springs.slow._asdict()],
        "balance": [asdict(one) for one in found.balances],
        "balance_in_corners": asdict(found.corner),
        "travel": _travel_content(driven) if driven else None,
        "steps": [_step_content(step) for step in driven.steps] if driven else [],
        "map": _map_content(mapped) if mapped else None,
    }


def _ends(found: SpringsAnswer) -> Table:
    front, rear = found.springs.front, found.springs.rear

    def row(name: str, unit: str, read: Any, digits: int) -> tuple[str, str, str, str]:
        return name, unit, f"{read(front):.{digits}f}", f"{read(rear):.{digits}f}"

    def at_one_g(axle: AxleSprings, moment: float) -> float:
        return GRAVITY * moment / axle.moments.track

    def per_degree(value: float) -> float:
        return math.radians(value)

    return Table(
        title="Springs and bars",
        columns=("", "", "front", "rear"),
        rows=[
            row("spring", "N/mm", lambda one: one.spring_rate / 1e3, 1),
            row("spring", "lb/in", lambda one: one.spring_rate / _pounds(), 0),
            row("at the wheel", "N/mm", lambda one: one.wheel_rate / 1e3, 1),
            row("with the tyre", "N/mm", lambda one: one.ride_rate / 1e3, 1),
            row("sprung, one corner", "kg", lambda one: one.sprung_mass, 0),
            row("ride frequency", "Hz", lambda one: one.frequency, 2),
            row("roll by springs", "N·m/°", lambda one: per_degree(one.roll_of_springs), 0),
            row("roll by bar", "N·m/°", lambda one: per_degree(one.roll_of_bar), 0),
            row("tyres in roll", "N·m/°", lambda one: per_degree(one.roll_of_tyres), 0),
            row("roll in all", "N·m/°", lambda one: per_degree(one.roll_stiffness), 0),
            row("load moved at 1 g", "N", lambda one: GRAVITY * one.moments.transfer, 0),
            row("through springs and bar", "N", lambda one: at_one_g(one, one.moments.elastic), 0),
            row("through the links", "N", lambda one: at_one_g(one, one.moments.geometric), 0),
            row("by the wheels' mass", "N", lambda one: at_one_g(one, one.moments.unsprung), 0),
            row("bump travel", "mm", lambda one: 1e3 * one.bump_left, 0),
            row("droop travel", "mm", lambda one: 1e3 * one.droop_left, 0),
            row("in the spring at ride height", "N", lambda one: one.static_force, 0),
            row("in the spring, wheel hanging", "N", lambda one: max(one.droop_force, 0.0), 0),
            row("loose, wheel hanging", "mm", lambda one: 1e3 * one.loose_by, 0),
        ],
    )  # fmt: skip


def _whole(found: SpringsAnswer) -> Table:
    springs = found.springs
    rows = [
        ("lean", f"{math.degrees(springs.roll_gradient):.2f} ° per g"),
        ("front share of roll stiffness", f"{100.0 * springs.front_roll_share:.1f} %"),
        ("front share of the load moved", f"{100.0 * springs.body.front_share:.1f} %"),
        ("rear frequency ÷ front", f"{springs.frequency_ratio:.2f}"),
        ("roll frequency about the roll axis", f"{springs.roll_frequency:.2f} Hz"),
    ]
    near, far = sorted((springs.fast, springs.slow), key=lambda mode: abs(mode.node))
    for word, mode in (("mostly bounce", far), ("mostly pitch", near)):
        side = "ahead of" if mode.node > 0.0 else "behind"
        at = f"about a point {abs(mode.node):.2f} m {side} the centre of gravity"
        rows.append((word, f"{mode.frequency:.2f} Hz, {at if math.isfinite(mode.node) else 'level'}"))
    return Table(title="The whole car", columns=("", ""), rows=rows)


def balance_table(balances: Sequence[LimitBalance]) -> Table:
    """Where each end slides against speed, and the steer asked for before."""
    return Table(
        title="Balance at a steady speed, flat road",
        columns=("km/h", "front slides g", "rear slides g", "balance", "lean °", "understeer ° per g"),
        rows=[
            (
                f"{3.6 * one.speed:.0f}",
                f"{one.front_limit / GRAVITY:.3f}",
                f"{one.rear_limit / GRAVITY:.3f}",
                f"{one.words} {100.0 * abs(one.balance):.1f} %",
                f"{math.degrees(one.roll):.1f}",
                f"{math.degrees(one.understeer_gradient) * GRAVITY:+.2f}",
            )
            for one in balances
        ],
    )


def _travel(driven: Driven) -> Table:
    used = driven.travel
    return Table(
        title="Bump travel round the lap, smooth road",
        columns=("wheel", "most mm", "there mm", "to spare mm", "where", "in the air"),
        rows=[
            (
                wheel,
                f"{1e3 * used.most[place]:.0f}",
                f"{1e3 * used.left[place]:.0f}",
                f"{1e3 * (used.left[place] - used.most[place]):.0f}",
                used.where[place],
                f"{100.0 * used.lifted_share[place]:.0f} % of the lap",
            )
            for place, wheel in enumerate(CORNERS)
        ],
    )


def _touches(driven: Driven) -> Table:
    return Table(
        title="On the bump stops, the worst first",
        columns=("wheel", "where", "asked mm", "there mm"),
        rows=[
            (touch.wheel, touch.where, f"{1e3 * touch.asked:.0f}", f"{1e3 * touch.left:.0f}")
            for touch in driven.travel.touches[:_MOST_TOUCHES]
        ],
    )


def steps_table(steps: Sequence[Step], currency: str = "") -> Table:
    """Every single step, the greatest gain first."""
    return Table(
        title="One change at a time, by a whole lap",
        columns=("change", "gains s", "then"),
        rows=[
            (step_words(step, currency), f"{step.gain:+.3f}", short_balance(step.balance)) for step in steps
        ],
    )


def short_balance(balance: LimitBalance) -> str:
    """The balance in two words."""
    return f"{balance.words} {100.0 * abs(balance.balance):.0f} %"


def cell_words(cell: Cell) -> str:
    """One pair of the map in words."""
    words = f"{cell.difference:+.2f} s, {short_balance(cell.tried.balance)}"
    return f"{words} (now)" if cell.is_now else words


def _map(mapped: SpringMap) -> Table:
    return Table(
        title=f"Every pair of {mapped.varied.value}: seconds against now, balance",
        columns=("front \\ rear", *(choice.words for choice in mapped.rears)),
        rows=[
            (front.words, *(cell_words(mapped.cell(place, rear)) for rear in range(len(mapped.rears))))
            for place, front in enumerate(mapped.fronts)
        ],
    )


def _pounds() -> float:
    return unit_named("lb/in", "spring rate").factor


def _axle_content(axle: AxleSprings) -> dict[str, Any]:
    return {
        **asdict(axle),
        "end": axle.end.value,
        "moments": axle.moments._asdict(),
        "bar_share": axle.bar_share,
        "elastic_share": axle.elastic_share,
        "loose_by": axle.loose_by,
    }


def _travel_content(driven: Driven) -> dict[str, Any]:
    used = driven.travel
    return {
        "most": dict(zip(CORNERS, used.most, strict=True)),
        "there": dict(zip(CORNERS, used.left, strict=True)),
        "where": dict(zip(CORNERS, used.where, strict=True)),
        "in_the_air_share": dict(zip(CORNERS, used.lifted_share, strict=True)),
        "touches": [asdict(touch) for touch in used.touches],
        "lap_time_s": driven.lap.lap_time,
    }


def _step_content(step: Step) -> dict[str, Any]:
    return {
        "end": step.choice.end.value,
        "part": step.choice.words,
        "is_owned": step.choice.offer.is_owned,
        "price_cents": step.choice.offer.price_cents,
        "gain_s": step.gain,
        "balance": step.balance.balance,
    }


def _map_content(mapped: SpringMap) -> dict[str, Any]:
    return {
        "varied": mapped.varied.value,
        "lap_now_s": mapped.now.lap_time,
        "cells": [
            {
                "front": cell.front.words,
                "rear": cell.rear.words,
                "difference_s": cell.difference,
                "balance": cell.tried.balance.balance,
                "cost_cents": cell.cost_cents,
                "is_owned": cell.is_owned,
                "is_now": cell.is_now,
            }
            for cell in mapped.cells
        ],
    }
