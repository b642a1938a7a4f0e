"""What the pages of the bench share: their subjects, what was typed, and the answer alone or in its page.

A subject is one file in `pages` whose GET route is its address in `SUBJECTS`, and one template that fills the
blocks `controls`, `answer` and `cautions`. Its form goes by GET: the address holds what was typed.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from fastapi.responses import HTMLResponse
from starlette.routing import Match

from tintop.answer import Answer, Figure
from tintop.car.setup import Setup
from tintop.charts.car_words import MINUS, in_owner_units, owner_unit
from tintop.errors import BadInput, TintopError, refuse
from tintop.garage.assumed import assumed_of, assumed_table
from tintop.garage.bench import Bench, bench_of
from tintop.garage.keeper import CHASSIS, Garage
from tintop.owner_units import lap_words
from tintop.references import work
from tintop.reports.sheet import Table
from tintop.units import unit_named, with_article
from tintop.web import formats
from tintop.web.first_things import is_car_described
from tintop.web.page import Visit, problems_of, show
from tintop.web.typed_values import value_typed

_LONGEST_TEXT = 60
_SHORT = 20.0  # a time below it is a gain or a loss [s]
_FINE = 2e-3  # [m]: a wider range is written in whole millimetres
_Made = TypeVar("_Made")
_QUANTITIES = {
    "kg": "mass",
    "m": "length",
    "Pa": "pressure",
    "N/m": "spring rate",
    "m3": "volume",
    "°C": "temperature",
    "m/s": "speed",
    "N·m": "torque",
    "rad": "angle",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One subject of the bench: its address, title and question in words."""

    address: str
    title: str
    question: str


SUBJECTS = (
    Subject(
        address="/bench/setups",
        title="Set-ups",
        question="Which jobs take the car from one set-up to the other, and what does it gain?",
    ),
    Subject(
        address="/bench/weigh",
        title="Weighing",
        question="What does it weigh, where, and which perch goes up or down?",
    ),
    Subject(
        address="/bench/springs",
        title="Springs and bars",
        question="Which springs and bars, and how do they share the load?",
    ),
    Subject(
        address="/bench/ride",
        title="Dampers and ride",
        question="How many clicks for the road, the dry circuit and the wet?",
    ),
    Subject(
        address="/bench/camber",
        title="Camber and strut",
        question="How do the wheels stand, and what does moving the strut top do?",
    ),
    Subject(
        address="/bench/treads",
        title="Tread temperatures",
        question="What do the treads ask for, and is the reading good enough to act on?",
    ),
    Subject(
        address="/bench/pressures",
        title="Pressures",
        question="What cold pressure comes to the hot target today, and is one tyre losing air?",
    ),
    Subject(
        address="/bench/brakes",
        title="Brakes",
        question="Which axle locks first, in the dry and in the wet, and where does the bias go?",
    ),
    Subject(
        address="/bench/gearing",
        title="Gearing",
        question="Which final drive suits the circuits of the season?",
    ),
    Subject(
        address="/bench/search",
        title="Best set-up",
        question="Which few changes, of all that can be turned on this car, buy a quicker lap?",
    ),
)


def subjects_found(visit: Visit) -> tuple[Subject, ...]:
    """The subjects whose page there is."""
    routes = visit.request.app.routes

    def is_served(address: str) -> bool:
        asked = {"type": "http", "method": "GET", "path": address, "root_path": ""}
        return any(route.matches(asked)[0] is Match.FULL for route in routes)

    return tuple(each for each in SUBJECTS if is_served(each.address))


def subject_at(visit: Visit) -> Subject:
    """The subject of the page asked for, or of the page it stands under."""
    path = visit.request.url.path
    return next(
        (each for each in SUBJECTS if path == each.address or path.startswith(f"{each.address}/")),
        Subject(address=path, title="Bench", question=""),
    )


def is_chassis_described(garage: Garage) -> bool:
    """Whether the garage says what carries its car."""
    return CHASSIS in garage.document_names()


class Asked:
    """What stands in the form of a bench page, read field by field; sentences by field where it cannot be.

    `texts` is what was sent, `standing` what stands there as the car stands: a field left out of the address
    has that.
    """

    def __init__(self, texts: Mapping[str, str], standing: Mapping[str, str]) -> None:
        self._texts = {name: text[:_LONGEST_TEXT] for name, text in texts.items()}
        self._standing = dict(standing)
        self.problems: dict[str, str] = {}

    def now(self, name: str) -> str:
        """What stands in a field as the car stands."""
        return self._standing.get(name, "")

    def text(self, name: str) -> str:
        """What stands in a field."""
        return self._texts.get(name, self.now(name)).strip()

    def is_changed(self, *names: str) -> bool:
        """Whether any of the fields, or of all, differs from the car as it stands."""
        return any(self.text(name) != self.now(name) for name in names or self._standing)

    def value(self, name: str, quantity: str, unit: str) -> float | None:
        """A field in SI, typed in its unit or one of its own; None where it is empty or has a problem."""
        if not self.text(name):
            return None
        try:
            return value_typed(self.text(name), quantity, unit, name)
        except BadInput as error:
            self.refuse(error)
            return None

    def needed(self, name: str, quantity: str, unit: str) -> float | None:
        """As `value`, where an empty field is a problem."""
        if not self.text(name):
            self.refuse(refuse(name, "nothing", with_article(quantity) + (f" in {unit}" if unit else "")))
            return None
        return self.value(name, quantity, unit)

    def choice(self, name: str, choices: Sequence[str]) -> str:
        """One of several; a problem, and the first, where it is none of them."""
        if self.text(name) in choices:
            return self.text(name)
        named = ", ".join(one for one in choices if one)
        self.refuse(refuse(name, repr(self.text(name)), f"one of: {named}"))
        return choices[0] if choices else ""

    def attempt(self, make: Callable[[], _Made], where: str = "") -> _Made | None:
        """What `make` gives; None, and its sentences at one field, where it raises BadInput."""
        try:
            return make()
        except BadInput as error:
            self.refuse(error, where)
            return None

    def refuse(self, error: TintopError, where: str | None = None) -> None:
        """Put an error's sentences at their fields, or all at one; at the head where there is none."""
        fields = {**self._standing, **self._texts}
        for name, sentence in problems_of(error).items():
            place = where if where is not None else name if name in fields else ""
            words = sentence if place or not name else f"{name}: {sentence}"
            self.problems[place] = f"{self.problems[place]} {words}" if place in self.problems else words


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnTwice:
    """A drawing for a wide page and paper, and for a phone; each hidden where the other is shown."""

    wide: str
    narrow: str


def show_bench(visit: Visit, template: str, asked: Asked, **values: Any) -> HTMLResponse:
    """Show a subject's page, or its answer alone for part=answer; 422 where it has problems."""
    units = visit.garage.settings.units
    name = values.get("name", "")
    values.setdefault("said", bench_of(visit.garage).said_of(name) if name else ())
    return show(
        visit,
        template,
        status=422 if asked.problems else 200,
        part=visit.request.query_params.get("part", ""),
        subject=subject_at(visit),
        assumed=assumed_shown(visit, name, values.get("answer")),
        asked=asked,
        figure_words=lambda figure, value: figure_words(figure, value, units),
        in_units=lambda value, quantity, decimals=None: in_owner_units(value, quantity, units, decimals),
        **values,
    )


def assumed_shown(visit: Visit, name: str, answer: Answer | None) -> Table | None:
    """What was assumed behind an answer for the set-up of that stem, else the one on the car."""
    if answer is None or not is_chassis_described(visit.garage):
        return None
    bench = bench_of(visit.garage)
    setup = bench.setups.get(name or bench.fitted or visit.request.query_params.get("setup", ""))
    subject = subject_at(visit).address.rpartition("/")[2]
    known = {**bench.described.known, **bench.chassis_known}
    found = assumed_of(known, bench.chassis, subject, setup, answer)
    return assumed_table(found, bench.settings.units) if found else None


def open_bench(visit: Visit, template: str, **empty: Any) -> tuple[Bench, str, Setup] | HTMLResponse:
    """The bench, the set-up asked for by its file's stem or the one fitted; else the page that says why not.

    `empty` is what the template wants beside an answer where there is none.
    """
    if not is_chassis_described(visit.garage):
        return show_undescribed(visit)
    query = visit.request.query_params
    try:
        bench = bench_of(visit.garage)
        name = query.get("setup", "") or bench.fitted or next(iter(bench.setups), "")
        return bench, name, bench.setup(name)
    except BadInput as error:
        asked = Asked(query, {})
        asked.refuse(error, "")
        return show_bench(visit, template, asked, answer=None, name="", setups={}, **empty)


def cited(answer: Answer) -> Answer:
    """The answer with its works in full."""
    return replace(answer, works=tuple(work(key) for key in answer.works))


def show_undescribed(visit: Visit) -> HTMLResponse:
    """Say what to do in a garage that does not say what carries its car."""
    return show(
        visit,
        "bench_none.html",
        subject=subject_at(visit),
        is_car_described=is_car_described(visit.garage),
    )


def figure_words(figure: Figure, value: float, units: Mapping[str, str]) -> str:
    """One value of a figure in the unit the owner reads."""
    if figure.unit == "share":
        return f"{100.0 * value:.1f} %".replace("-", MINUS)
    if figure.unit in ("", "1"):
        return f"{value:.3g}".replace("-", MINUS)
    if figure.unit == "s" and "lap" in figure.name and value > _SHORT:
        return lap_words(value)
    if figure.unit == "s" and abs(value) < _SHORT:
        return f"{value:.2f} s".replace("-", MINUS)
    if figure.unit == "rpm":
        return f"{value:.0f} rpm"
    quantity = _QUANTITIES.get(figure.unit)
    if quantity is None or (figure.unit == "m" and abs(value) >= 10.0):
        return formats.figure(value, figure)
    is_rough = figure.unit == "m" and figure.high - figure.low > _FINE and owner_unit("length", units) == "mm"
    return in_owner_units(value, quantity, units, 0 if is_rough else None)


def typed_as(value: float, quantity: str, unit: str, digits: int) -> str:
    """An SI value as a field of that unit holds it, without the unit."""
    found = unit_named(unit, quantity)
    return f"{(value - found.offset) / found.factor:.{digits}f}".replace(MINUS, "-")
