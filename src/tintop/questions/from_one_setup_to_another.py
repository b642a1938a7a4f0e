"""From one set-up to another: which jobs, in which order, how long, and what does it do?"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from tintop.answer import Answer, Figure, Verdict
from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup
from tintop.car.changeover import jobs, minutes_of
from tintop.car.changeover_job import Job
from tintop.car.chassis import Chassis, End, Item
from tintop.car.lock_order import LockOrder
from tintop.car.road_tread import WITHIN, tread_on_road
from tintop.car.setup import Purpose, Setup
from tintop.car.setup_differences import Difference, differences
from tintop.car.setup_words import job_words, minutes_words
from tintop.car.short_of_time import ShortOfTime, short_of_time
from tintop.car.tyres import TyreKind
from tintop.event import Weather
from tintop.lap.setup_gain import Confirmed
from tintop.owner_units import in_owner_units
from tintop.settings import USUAL_UNITS

CAUTIONS = (
    "Never under a car that a jack alone holds: level ground, stands under the points its book names, the "
    "car rocked by hand before work.",
    "Wheel nuts by torque wrench with the wheels on the ground, and again after the first session or 50 km.",
    "After pads, bias or anything of the brakes: pedal firm before it moves, brakes tried at walking pace; "
    "the front wheels must lock first.",
    "What is allowed on the road, and at the event, is said by the law, the regulations and the scrutineer.",
)
ROAD_UNIT = 1e6  # [m] of road by which tread is told
_HARD = 1.6  # a job done for the first time takes so many times as long; common practice, no source
_EASY = 0.7
_NOT_CHECKED = ("Legality not checked: no rule book was asked.",)
_FOR_THE_CIRCUIT = (TyreKind.SLICK, TyreKind.WET)  # tyres that come to the circuit on the shelf


@dataclass(frozen=True, slots=True, kw_only=True)
class Changeover:
    """The answer with all it rests on; `predicted` is None where no circuit was asked for.

    `minutes` are for one person; `untimed` are the jobs without written minutes, which are not in it. `tread`
    is what a metre on the road takes off the worse inner edge [m/m], by "a" or "b" and the end; without those
    whose tyres are for the circuit alone. `not_legal` says what of `b` the rules forbid, as far as checked.
    """

    a: Setup
    b: Setup
    answer: Answer
    differences: tuple[Difference, ...]
    jobs: tuple[Job, ...]
    minutes: float
    untimed: tuple[Job, ...]
    tread: Mapping[tuple[str, End], float]
    circuit: str = ""
    predicted: Confirmed | None = None
    not_legal: str = ""
    legality: tuple[str, ...] = _NOT_CHECKED
    short: ShortOfTime | None = None


def from_one_setup_to_another(
    a: Setup,
    b: Setup,
    car: Car,
    chassis: Chassis,
    *,
    units: Mapping[str, str] = USUAL_UNITS,
    circuit: str = "",
    predicted: Confirmed | None = None,
    assumed_radii: Collection[str] = (),
    not_legal: str = "",
    legality: Sequence[str] = _NOT_CHECKED,
) -> Changeover:
    """Answer with the ordered jobs; `predicted` is both set-ups driven round a circuit, first `a` then `b`;
    `assumed_radii` names the sets of tyres whose radius is that of their class; `not_legal` says what of `b`
    the rules forbid, empty for nothing known; `legality` what was checked.

    BadInput where a set-up names what the car has not.
    """
    found = jobs(a, b, car, chassis, assumed_radii)
    minutes, untimed = minutes_of(found)
    tread = {
        (which, end): tread_on_road(car_with_setup(car, chassis, one, Weather()), chassis, one, end).inner
        for which, one in (("a", a), ("b", b))
        for end in End
        if _is_driven_on_road(one, chassis)
    }
    return Changeover(
        a=a,
        b=b,
        answer=Answer(
            question=f"From {a.name} to {b.name}?",
            verdict=Verdict.FOUND,
            sentence=_sentence(a, b, found, minutes, untimed),
            figures=(*_time(found, minutes, untimed), *_effects(a, b, predicted), *_tread(a, b, tread)),
            why=tuple(_why(a, b, found, untimed, predicted, chassis)),
            next_thing=_next(found, chassis, units),
            cautions=(*legality, *CAUTIONS) if found else (),
            works=("Order of jobs and times: common practice, no source.",),
            working={"circuit": circuit},
        ),
        differences=differences(a, b, chassis),
        jobs=found,
        minutes=minutes,
        untimed=untimed,
        tread=tread,
        circuit=circuit,
        predicted=predicted,
        not_legal=not_legal,
        legality=tuple(legality),
        short=short_of_time(found, a, b),
    )


def _is_driven_on_road(setup: Setup, chassis: Chassis) -> bool:
    """Whether its tyres see the road: those for the circuit alone come there on the shelf."""
    tyres = chassis.tyres(setup.tyres)
    is_for_circuit = {tyres.front.kind, tyres.rear.kind} & set(_FOR_THE_CIRCUIT)
    return setup.purpose is Purpose.ROAD or not is_for_circuit


def is_asked(job: Job) -> bool:
    """Whether a job changes something itself, and is not the frame of others."""
    return job.item is not None


def _sentence(a: Setup, b: Setup, found: Sequence[Job], minutes: float, untimed: Sequence[Job]) -> str:
    if not found:
        return f"Nothing to do: {a.name} and {b.name} are the same."
    count = sum(is_asked(job) for job in found)
    jobs_said = f"{count} job{'s' if count > 1 else ''}"
    time = f"about {minutes_words(minutes)} for one person" if minutes else "for one person"
    beside = f", and {len(untimed)} that nobody has timed" if untimed else ""
    home = [job for job in found if job.is_for_home]
    hard = f" {_listed(home)} cannot well be done at an event." if home else ""
    return f"From {a.name} to {b.name}: {jobs_said}, {time}{beside}.{hard}"


def _listed(found: Sequence[Job]) -> str:
    names = [job.title.lower() for job in found]
    said = " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
    return said[:1].upper() + said[1:]


def _time(found: Sequence[Job], minutes: float, untimed: Sequence[Job]) -> Iterator[Figure]:
    if found:
        beside = f"; without {_listed(untimed).lower()}" if untimed else ""
        yield Figure(
            name="time for one person",
            value=60.0 * minutes,
            low=60.0 * _EASY * minutes,
            high=60.0 * _HARD * minutes,
            unit="s",
            basis=f"minutes of each chore added up; a practised hand to a first try{beside}",
        )


def _effects(a: Setup, b: Setup, predicted: Confirmed | None) -> Iterator[Figure]:
    if predicted is None:
        return
    yield Figure(
        name=f"gained by {b.name} over {a.name}, a lap",
        value=predicted.gain,
        low=predicted.low,
        high=predicted.high,
        unit="s",
        basis="both driven by a whole lap on the same day; 95 % range from what is not known of the car",
    )


def _tread(a: Setup, b: Setup, tread: Mapping[tuple[str, End], float]) -> Iterator[Figure]:
    for which, one in (("a", a), ("b", b)):
        for end in End:
            if (which, end) not in tread:
                continue
            lost = ROAD_UNIT * tread[which, end]
            yield Figure(
                name=f"{one.name}: {end.value} inner edge in 1,000 km of road",
                value=lost,
                low=lost / WITHIN,
                high=lost * WITHIN,
                unit="m",
                basis="camber, toe and usual driving; an estimate within a factor of three",
            )


def _why(
    a: Setup,
    b: Setup,
    found: Sequence[Job],
    untimed: Sequence[Job],
    predicted: Confirmed | None,
    chassis: Chassis,
) -> Iterator[str]:
    if predicted is not None:
        day = weather_purpose(a, b)
        yield _gain(predicted, "wet" if day is Purpose.WET else "dry") + _by_tyres(a, b, day, chassis)
        for name, effect in ((a.name, predicted.before), (b.name, predicted.after)):
            yield from _locking(name, effect.lock)
    home = [job for job in found if job.is_for_home]
    if home:
        yield f"{_listed(home)}: a job for the shed, not for the paddock; order the weekend round it."
    uneven = [job for job in found if job.needs_scales]
    if uneven:
        yield (
            f"{_listed(uneven)}: left and right do not change alike, so the cross-weight moves; corner "
            "scales tell by how much, and without them it is not known."
        )
    unknown = [job for job in found if any(_is_unknown(job, step.move, step.turns) for step in job.steps)]
    if unknown:
        yield f"{_listed(unknown)}: how far to turn cannot be told from what is known; measure as you go."
    short = short_of_time(found, a, b)
    if short is not None:
        yield _short_words(short)
    followed = [job for job in found if job.because and is_asked(job)]
    if followed:
        yield f"{_listed(followed)}: the same in both set-ups, but moved by the jobs before."
    if any(job.item is Item.RIDE_HEIGHT for job in found):
        yield "Turns of a perch take each corner by itself: right while left and right turn alike."
    if untimed:
        yield f"{_listed(untimed)}: no minutes are written down in the car's chores."


def _short_words(short: ShortOfTime) -> str:
    """What is done first, in its order, with minutes, and what is left undone."""
    first, then = ([job.title.lower() for job in jobs] for jobs in (short.first, short.then))
    head = f"Short of time: first {', then '.join(first)}{_in(short.minutes)}" if first else "Short of time"
    more = f"{'; then' if first else ': first'} {', '.join(then)}{_in(short.more)}" if then else ""
    left = ", ".join(job.title.lower() for job in short.left)
    undone = f" Left undone: {left}; drive for a car that stands so." if left else ""
    return f"{head}{more}.{undone}"


def _in(minutes: float | None) -> str:
    return f" ({minutes_words(minutes)})" if minutes else ""


def _locking(name: str, lock: LockOrder) -> Iterator[str]:
    """What is said where the rear wheels lock first, or so nearly that it is not known."""
    if lock.verdict is Verdict.NO:
        yield (
            f"{name}: by calculation the REAR wheels lock first. Bring the balance forwards "
            "and try it in steps, straight and alone, before anything else."
        )
    elif lock.verdict is not Verdict.YES:
        known = "not proven" if lock.verdict is Verdict.NOT_PROVEN else "close"
        yield (
            f"{name}: that the front wheels lock first is {known}, {100.0 * lock.margin:.1f} points of front "
            f"share in hand with {lock.pads} pads. Ask the bench's brakes before it is braked hard."
        )


def _gain(predicted: Confirmed, road: str) -> str:
    range_said = f"{predicted.low:+.2f} to {predicted.high:+.2f} s".replace("-", "\u2212")
    if predicted.low > 0.0 or predicted.high < 0.0:
        better = "quicker" if predicted.gain > 0.0 else "slower"
        return f"On a {road} road it is {abs(predicted.gain):.2f} s a lap {better}, from {range_said}."
    return f"Which is quicker on a {road} road is not proven: {range_said} a lap."


def _by_tyres(a: Setup, b: Setup, day: Purpose, chassis: Chassis) -> str:
    """Whose difference it mostly is where the tyres differ in kind and one set is wrong for the day."""
    wrong = [one for one in (a, b) if _is_wrong(one, day, chassis)]
    if len(wrong) != 1:
        return ""
    road = "wet" if day is Purpose.WET else "dry"
    return f" Mostly the tyres: {wrong[0].tyres} on a {road} road, which no spring or click makes good."


def _is_wrong(setup: Setup, day: Purpose, chassis: Chassis) -> bool:
    kinds = {chassis.tyres(setup.tyres).front.kind, chassis.tyres(setup.tyres).rear.kind}
    for_dry = {TyreKind.SLICK, TyreKind.SEMI_SLICK}
    return bool(kinds & for_dry) if day is Purpose.WET else TyreKind.WET in kinds


def _is_unknown(job: Job, move: float | None, turns: float | None) -> bool:
    if job.item is Item.RIDE_HEIGHT:
        return turns is None
    return job.item in (Item.CAMBER, Item.TOE) and move is None


def _next(found: Sequence[Job], chassis: Chassis, units: Mapping[str, str]) -> str:
    """The first job in spanner terms, and the check nobody may forget."""
    first = next((job for job in found if is_asked(job)), None)
    if first is None:
        return "Read the car once more against its sheet before it runs."
    steps = " ".join(job_words(first, chassis, units))
    begin = "Car up on stands, wheels off; then " if found[0].item is None else ""
    torque = next((c.torque for job in found for c in job.checks if c.torque and c.again_after), None)
    nuts = f" Wheel nuts to {in_owner_units(torque, 'torque', units)} when it is down." if torque else ""
    title = first.title.lower() if begin else first.title
    return f"{begin}{title}: {steps}{nuts}"


def weather_purpose(a: Setup, b: Setup) -> Purpose:
    """The day on which two set-ups are compared: the second's, or the first's where that is the road's."""
    return a.purpose if b.purpose is Purpose.ROAD else b.purpose
