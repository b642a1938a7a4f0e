"""A form as it was typed: each field read where it is used, what is asked or refused kept beside it."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from tintop.errors import BadInput, TintopError
from tintop.garage.keeper import Garage
from tintop.handwriting import Ask, Understood
from tintop.logbook.build import Build, PartToday, build_on
from tintop.logbook.entries import Area, Corner
from tintop.rules.placeholders import is_visible
from tintop.web.kept import kept
from tintop.web.spread import AskWhere
from tintop.web.understanding import Hand, Meaning, Question, as_day, sentence_of, understand

CORNERS: tuple[Corner, ...] = ("FL", "FR", "RL", "RR")
_LONGEST_LINE, _LONGEST_TEXT = 120, 8000


@dataclass(slots=True, kw_only=True)
class TypedForm:
    """What was typed by field, with what was understood, asked and found wrong."""

    hand: Hand
    typed: dict[str, str]
    meanings: dict[str, Meaning] = field(default_factory=dict)
    asks: dict[str, Question] = field(default_factory=dict)
    problems: dict[str, str] = field(default_factory=dict)

    @property
    def is_good(self) -> bool:
        """Whether nothing is asked and nothing is wrong."""
        return not self.asks and not self.problems

    def is_doubtful(self, name: str) -> bool:
        """Whether a field is asked about or wrong."""
        return name in self.asks or name in self.problems

    @property
    def doubtful(self) -> tuple[str, ...]:
        """The fields that are asked about or wrong, in the order of the form."""
        return tuple(name for name in {**self.typed, **self.asks, **self.problems} if self.is_doubtful(name))

    def text(self, name: str) -> str:
        """What stands in a field."""
        return self.typed.get(name, "")

    def meaning(self, name: str, kind: str, *, needed: bool = False) -> Meaning | None:
        """What a field means; None when it is empty, asked about or wrong."""
        text = self.text(name)
        if not text:
            if needed:
                self.refuse(name, "Found nothing; this is needed.")
            return None
        try:
            found = understand(kind, text, self.hand, name)
        except BadInput as error:
            self.refuse(name, sentence_of(error))
            return None
        if isinstance(found, Ask | AskWhere):
            self.asks[name] = found
            return None
        self.meanings[name] = found
        return found

    def value(self, name: str, kind: str, *, needed: bool = False) -> float | None:
        """The value of a field in SI; None when it is empty, asked about or wrong."""
        found = self.meaning(name, kind, needed=needed)
        return found.value if isinstance(found, Understood) else None

    def cents(self, name: str, *, needed: bool = False) -> int | None:
        """A sum in hundredths; None when it is empty, asked about or wrong."""
        found = self.value(name, "money", needed=needed)
        return None if found is None else round(found)

    def day(self, name: str, kind: str = "day", usual: date | None = None) -> date | None:
        """A day; `usual` when the field is empty, None when that is none either."""
        found = self.meaning(name, kind, needed=usual is None)
        return as_day(found) if found is not None else (None if self.text(name) else usual)

    def day_past(self, name: str, today: date) -> date | None:
        """A day, today at the latest, which an empty field means; None when it is asked about or wrong."""
        day = self.day(name, "day past", today)
        if day is not None and day > today:
            self.refuse(name, "Found a day to come; expected today or one before.")
        return day

    def words(self, name: str, *, needed: bool = False, is_long: bool = False) -> str:
        """Plain words of one line, or of several where `is_long`."""
        text = self.text(name)
        if needed and not is_visible(text):
            self.refuse(name, "Found nothing; this is needed.")
        most = _LONGEST_TEXT if is_long else _LONGEST_LINE
        if len(text) > most:
            self.refuse(name, f"Found {len(text)} characters; expected at most {most}.")
        plain = text.replace("\n", "").replace("\t", "") if is_long else text
        if not plain.isprintable():
            self.refuse(
                name,
                "Found a control or invisible character; expected plain words. Type it instead of pasting.",
            )
        return text

    def choice(self, name: str, options: Iterable[str], usual: str = "") -> str:
        """One of the options; `usual` when the field is empty."""
        text = self.text(name) or usual
        if text not in tuple(options):
            self.refuse(name, "Found something that is not in the list; expected one of the list.")
        return text

    def entry_number(self, name: str) -> int | None:
        """The number of an entry a hidden field names; None for anything else."""
        text = self.text(name)
        return int(text) if text.isdecimal() and len(text) < 10 else None

    def ticked(self, name: str) -> bool:
        """Whether a box is ticked."""
        return self.text(name) in ("on", "yes")

    def refuse(self, name: str, sentence: str) -> None:
        """Put a sentence beside a field, "" for the whole form."""
        self.problems.setdefault(name, sentence)

    def refuse_all(self, error: TintopError) -> None:
        """Put what the garage refused above the form."""
        self.refuse("", str(error))


def hand_of(garage: Garage) -> Hand:
    """How this garage writes, and what its car tells about a tank and new pads."""
    return Hand(
        units=garage.settings.units,
        currency=garage.settings.currency,
        today=garage.today(),
        tank=kept(garage, "tank", lambda _book, _day: _tank(garage)),
        new_pads={
            corner: part.part.thickness_new
            for corner, part in pads_by_corner(build_today(garage)).items()
            if part.part.thickness_new is not None
        },
    )


def build_today(garage: Garage) -> Build:
    """The parts of the car as it stands."""
    return kept(garage, "build", build_on)


def pads_by_corner(build: Build) -> dict[str, PartToday]:
    """The brake pads on the car by corner, from those of a corner or of an axle."""
    axles: dict[Area, tuple[Corner, ...]] = {Area.FRONT_AXLE: ("FL", "FR"), Area.REAR_AXLE: ("RL", "RR")}
    found: dict[str, PartToday] = {}
    for part in build.fitted:
        if "pad" in part.part.family.lower().split() or "pads" in part.part.family.lower().split():
            for corner in (part.corner,) if part.corner else axles.get(part.area, ()):
                found.setdefault(corner, part)
    return found


def short_name(words: str, taken: Iterable[str] = ()) -> str:
    """A short name for addresses made of words, different from those taken."""
    plain = re.sub(r"[^a-z0-9]+", "-", words.casefold()).strip("-")[:60].strip("-") or "new"
    names = set(taken)
    found, count = plain, 2
    while found in names:
        found, count = f"{plain}-{count}", count + 1
    return found


def _tank(garage: Garage) -> float | None:
    try:
        return garage.car().car.tank.volume
    except TintopError:
        return None
