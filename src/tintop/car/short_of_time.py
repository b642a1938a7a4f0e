"""What is done first of a changeover where there is no time for all of it, and what is left undone."""

from collections.abc import Sequence
from dataclasses import dataclass

from tintop.car.changeover_job import Job, Stage
from tintop.car.chassis import Item
from tintop.car.setup import Purpose, Setup

# By what each is usually worth a lap on a road gone wet or dry; common practice, no source.
_BY_WORTH = (Item.PADS, Item.TYRES, Item.PRESSURE, Item.BRAKE_BIAS, Item.BAR, Item.REBOUND, Item.BUMP)
_WHEELS_OFF = (Item.PADS, Item.TYRES)
_ALWAYS = (Item.PADS, Item.TYRES, Item.PRESSURE, Item.BRAKE_BIAS)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortOfTime:
    """What is done first, what after it while there is time, and what is left; minutes for one person.

    `minutes` are of `first`, with the car up and its wheels off where tyres are changed; `more` of `then`.
    None where a job's are not written down.
    """

    first: tuple[Job, ...]
    then: tuple[Job, ...]
    left: tuple[Job, ...]
    minutes: float | None
    more: float | None


def short_of_time(found: Sequence[Job], a: Setup, b: Setup) -> ShortOfTime | None:
    """Sort the jobs of a changeover by worth against minutes; None where nothing would be left undone.

    Brake bias that goes to the front comes first of all: it is what keeps the rear wheels from locking; pads
    come before tyres. Nothing is left undone before a drive on the road.
    """
    if b.purpose is Purpose.ROAD:
        return None
    asked = [job for job in found if job.item is not None]
    order = list(_BY_WORTH)
    if b.brake_bias_turns > a.brake_bias_turns:
        order.remove(Item.BRAKE_BIAS)
        order.insert(0, Item.BRAKE_BIAS)
    ranked = sorted(
        (
            job
            for job in asked
            if (job.item in order and job.stage is not Stage.UP) or job.item in _WHEELS_OFF
        ),
        key=lambda job: order.index(job.item) if job.item else 0,
    )
    first = tuple(job for job in ranked if job.item in _ALWAYS)
    then = tuple(job for job in ranked if job.item not in _ALWAYS)
    left = tuple(job for job in asked if job not in ranked)
    if not (left or then) or not (first or then):
        return None
    frames = [job for job in found if job.item is None and job.stage is Stage.UP]
    is_up = any(job.item in _WHEELS_OFF for job in first)
    return ShortOfTime(
        first=first,
        then=then,
        left=left,
        minutes=_sum([*first, *(frames if is_up else [])]),
        more=_sum(then),
    )


def _sum(found: Sequence[Job]) -> float | None:
    minutes = [job.minutes for job in found]
    return None if any(each is None for each in minutes) else sum(each or 0.0 for each in minutes)
