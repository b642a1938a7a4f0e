"""How a changeover ends: what is looked at before a drive on the road, and what is torqued again after."""

from collections.abc import Iterator, Sequence

from tintop.car.changeover_job import AGAIN_AFTER, Check, Job, Stage
from tintop.car.chassis import Chassis, Item
from tintop.car.setup import Purpose, Setup

_LOOK = 5.0  # [min] each look before the road; common practice, no source
_TORQUED = {
    Item.TYRES, Item.PADS, Item.SPRINGS, Item.DAMPERS, Item.RIDE_HEIGHT, Item.BAR, Item.CAMBER, Item.TOE,
    Item.BALLAST, Item.FINAL_DRIVE,
}  # fmt: skip
_TREAD = (
    "At its thinnest no less than the law asks (1.6 mm over the middle three quarters in the United Kingdom, "
    "SI 1986/1078 reg. 27), inner edges too; no cord, no cut, nothing rubbed"
)


def before_the_road(a: Setup, b: Setup, changed: Sequence[Item]) -> Iterator[Job]:
    """The looks before a set-up for the road leaves; none where the car stood on one already."""
    if b.purpose is not Purpose.ROAD or a.purpose is Purpose.ROAD:
        return
    tyres = f"The tyres stay on: {b.tyres}. Are they allowed on the road, and deep enough?"
    pads = f"The pads stay on: {b.pads}. Are they fit for the road when cold?"
    yield _look("Tread depth, all four", _TREAD, "tread gauge, lamp", "" if Item.TYRES in changed else tyres)
    yield _look("Lamps, horn, wipers", "Lamps, indicators, brake lamps, horn, wipers; plates and mirrors on")
    yield _look(
        "Ground clearance",
        "Lowest place measured, driver and load aboard; nothing rubs at full lock or over a kerb",
        "blocks, tape measure",
    )
    yield _look(
        "Brakes cold",
        "Pedal firm; tried cold at walking pace; the front wheels lock first",
        "",
        "" if Item.PADS in changed else pads,
    )
    yield _look(
        "Papers",
        "Insurance covers the drive and the car as it is changed; licence, tax and test as the law asks",
    )
    yield _look(
        "Everything loose",
        "Tools, cans, spare wheels strapped down; tow eye, transponder and camera off or fast; belts as the "
        "road asks",
        "straps",
    )


def torque_again(found: Sequence[Job], chassis: Chassis) -> Iterator[Job]:
    """The last job of every list that undid a nut: once more when it has settled."""
    undone = [job for job in found if job.item in _TORQUED]
    if not undone:
        return
    nuts = chassis.chores.get(Item.TYRES)
    wheels = any(job.stage is Stage.UP for job in undone)
    others = [job.title.lower() for job in undone if job.item is not Item.TYRES]
    checks = [
        *([Check(words="Wheel nuts", torque=nuts.torque if nuts else None)] if wheels else []),
        *([Check(words=f"What was undone: {', '.join(others)}")] if others else []),
    ]
    yield Job(
        title=f"Torque again after the first session or {AGAIN_AFTER / 1e3:.0f} km",
        stage=Stage.AFTER,
        tools="torque wrench",
        checks=tuple(checks),
    )


def _look(title: str, words: str, tools: str = "", warning: str = "") -> Job:
    return Job(
        title=title,
        stage=Stage.LEAVING,
        minutes=_LOOK,
        tools=tools,
        checks=(Check(words=words),),
        warnings=(warning,) if warning else (),
    )
