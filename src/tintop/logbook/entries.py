"""What the logbook holds: entries, written once, never edited; a correction names the entry it replaces.

SI inside (kg, m, m³, s, Pa; temperatures in °C); money in whole hundredths of the garage's currency.
Positions on the car follow ISO 8855 from the middle of the front axle at the ground: x forward, y left, z up.
"""

from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import Literal

from tintop.checks import require
from tintop.known import Known
from tintop.logbook.proof_entries import AccidentHappened, ProofRecorded


class Area(StrEnum):
    """Where on the car a part sits, as one walks round it."""

    FRONT_LEFT = "front left corner"
    FRONT_RIGHT = "front right corner"
    REAR_LEFT = "rear left corner"
    REAR_RIGHT = "rear right corner"
    FRONT_AXLE = "front axle"
    REAR_AXLE = "rear axle"
    ENGINE_BAY = "engine bay"
    CABIN = "cabin"
    CAGE = "cage and shell"
    BOOT = "boot"
    UNDERNEATH = "underneath"
    OUTSIDE = "outside"
    KIT = "driver's kit"  # goes with the driver; no mass of the car's


class Counter(StrEnum):
    """What a part's life is counted in."""

    DISTANCE = "distance"  # [m], circuit and road
    RUNNING = "running time"  # [s], on the circuit
    LAPS = "laps"
    HEAT_CYCLES = "heat cycles"
    AGE = "age"  # [day], from the day it was made, or else fitted


class Basis(StrEnum):
    """Why a limit is believed."""

    MAKER = "maker"
    OWN_HISTORY = "own history"
    COMMON_PRACTICE = "common practice"
    RULE = "rule"


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeLimit:
    """One limit of a part's life, in the unit of its counter, and what it is to be: inspected or replaced."""

    counter: Counter
    limit: float
    basis: Basis
    action: Literal["replace", "inspect"] = "replace"
    source: str = ""

    def __post_init__(self) -> None:
        require(self.limit > 0.0, "limit", self.limit, "more than zero")


class Fate(StrEnum):
    """What became of a part taken off."""

    KEPT = "kept"
    SOLD = "sold"
    SCRAPPED = "scrapped"
    FAILED = "failed"
    STRIPPED = "stripped out"


class Measure(StrEnum):
    """What a reading measures."""

    PRESSURE_COLD = "tyre pressure, cold"  # gauge [Pa]
    PRESSURE_HOT = "tyre pressure, hot"
    TREAD_TEMP_INNER = "tread temperature, inner"
    TREAD_TEMP_MIDDLE = "tread temperature, middle"
    TREAD_TEMP_OUTER = "tread temperature, outer"
    TREAD_DEPTH = "tread depth"  # [m]
    PAD_THICKNESS = "pad thickness"  # friction material alone [m]
    DISC_THICKNESS = "disc thickness"
    CORNER_LOAD = "corner load"  # [kg]
    MASS = "mass of the car"  # without driver and fuel [kg]
    FUEL_ABOARD = "fuel aboard"  # [m³]
    COOLANT_TEMP = "coolant temperature"
    OIL_TEMP = "oil temperature"
    OIL_PRESSURE = "oil pressure"
    FLUID_BOILING = "brake fluid boiling point"
    TORQUE = "torque"  # [N·m]
    OTHER = "other"


Corner = Literal["", "FL", "FR", "RL", "RR"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartAdded:
    """A part becomes known: bought, made, or there when the car was bought."""

    kind: Literal["part added"] = "part added"
    part: str  # its short name, unique in the garage
    name: str
    family: str  # parts that share a history of wear, such as "front pads"
    area: Area
    corner: Corner = ""
    mass: Known | None = None  # [kg]
    position: tuple[float, float, float] | None = None  # x, y, z [m]
    price_cents: int | None = None  # paid
    list_price_cents: int | None = None
    supplier: str = ""
    maker_number: str = ""
    made: date | None = None
    limits: tuple[LifeLimit, ...] = ()
    thickness_new: float | None = None  # of friction material, disc or tread [m]
    thickness_least: float | None = None  # at which it is changed [m]
    counted_before: dict[str, float] = field(default_factory=dict)  # by counter, when bought used
    came_with_car: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFitted:
    """A part goes on the car; `replaces` names the part that came off in its favour."""

    kind: Literal["part fitted"] = "part fitted"
    part: str
    corner: Corner = ""
    replaces: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRemoved:
    """A part comes off the car."""

    kind: Literal["part removed"] = "part removed"
    part: str
    fate: Fate
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartInspected:
    """A part was looked at and found good; limits whose action is to inspect start anew."""

    kind: Literal["part inspected"] = "part inspected"
    part: str
    found: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFailed:
    """A part let go, or was found broken."""

    kind: Literal["part failed"] = "part failed"
    part: str
    what: str
    consequence: str = ""
    session: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupChanged:
    """One item of the set-up takes a new value; `value` in SI where the item is a number."""

    kind: Literal["set-up changed"] = "set-up changed"
    item: str  # such as "camber", "toe", "front bar", "damper, bump"
    corner: Corner = ""
    value: float | None = None
    written: str = ""
    quantity: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedSession:
    """A session that is to come: its name, kind and length [s]."""

    name: str
    kind: Literal["test", "practice", "qualifying", "race"]
    duration: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MeetingPlanned:
    """An event the car is to go to; `circuit` and `document` name documents of the garage."""

    kind: Literal["event planned"] = "event planned"
    meeting: str  # its short name
    name: str
    first_day: date
    last_day: date
    circuit: str = ""  # such as "circuits/larkmoor.csv"
    document: str = ""  # such as "events/larkmoor.toml"
    sessions: tuple[PlannedSession, ...] = ()
    road_distance: float = 0.0  # there and back, driven on its own wheels [m]
    rule_books: tuple[str, ...] = ()  # ids of the books that apply, the last one highest

    def __post_init__(self) -> None:
        require(self.last_day >= self.first_day, "last day", self.last_day, "the first day or later")


@dataclass(frozen=True, slots=True, kw_only=True)
class MeetingClosed:
    """How an event ended."""

    kind: Literal["event closed"] = "event closed"
    meeting: str
    result: str
    is_finished: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionRun:
    """One session driven, as the run sheet has it."""

    kind: Literal["session run"] = "session run"
    session: str  # its short name
    meeting: str
    name: str
    session_kind: Literal["test", "practice", "qualifying", "race"]
    duration: float  # running [s]
    laps: int
    distance: float  # [m]
    driver: str = ""
    start_clock: str = ""
    best_lap: float | None = None  # [s]
    lap_times: tuple[float, ...] = ()
    fuel_before: float | None = None  # aboard [m³]
    fuel_added: float | None = None
    fuel_after: float | None = None
    tyres: str = ""  # part: a set
    air_temp: float | None = None
    road_temp: float | None = None
    is_wet: bool = False
    coolant_peak: float | None = None
    oil_peak: float | None = None
    remarks: str = ""

    def __post_init__(self) -> None:
        require(self.duration >= 0.0, "running time", self.duration, "zero or more")
        require(self.laps >= 0, "laps", self.laps, "zero or more")
        require(self.distance >= 0.0, "distance", self.distance, "zero or more")


@dataclass(frozen=True, slots=True, kw_only=True)
class RoadDriven:
    """A drive on the road."""

    kind: Literal["road driven"] = "road driven"
    distance: float  # [m]
    meeting: str = ""
    purpose: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One measured value in SI, with what was written; `place` tells which of several at a corner."""

    kind: Literal["reading"] = "reading"
    measure: Measure
    value: float
    written: str = ""
    corner: Corner = ""
    place: str = ""  # such as "inner pad"
    part: str = ""
    session: str = ""
    is_guessed_unit: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class JobOpened:
    """Something to do; `stops_running` if the car is not to run before it is done."""

    kind: Literal["job opened"] = "job opened"
    job: str
    title: str
    part: str = ""
    meeting: str = ""  # to be done before this event
    stops_running: bool = False
    cost_cents: int | None = None
    minutes: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class JobDone:
    """A job is done."""

    kind: Literal["job done"] = "job done"
    job: str
    found: str = ""


class CostKind(StrEnum):
    """What money goes on."""

    CAR = "the car"
    PARTS = "parts"
    ENTRY = "entry"
    FUEL = "fuel"
    TYRES = "tyres"
    BRAKES = "brakes"
    FLUIDS = "fluids"
    TRAVEL = "travel"
    SAFETY = "safety kit"
    INSURANCE = "insurance"
    WORK = "work by others"
    TOOLS = "tools"
    REPAIR = "crash repair"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class CostPaid:
    """Money paid, or with `is_planned` to be paid; a sale or a share paid by another is negative."""

    kind: Literal["cost"] = "cost"
    cost_kind: CostKind
    cents: int
    what: str
    supplier: str = ""
    meeting: str = ""
    part: str = ""
    is_planned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SupportReceived:
    """Help in kind: what it lists at, what was paid for it, and what is owed in return."""

    kind: Literal["support received"] = "support received"
    support: str
    supporter: str
    what: str
    list_price_cents: int
    paid_cents: int = 0
    owed: str = ""
    owed_by: date | None = None
    part: str = ""

    def __post_init__(self) -> None:
        require(self.list_price_cents >= 0, "list price", self.list_price_cents, "zero or more")
        require(self.paid_cents >= 0, "paid", self.paid_cents, "zero or more")


@dataclass(frozen=True, slots=True, kw_only=True)
class SupportReturned:
    """What was done for a supporter; `is_settled` when nothing more is owed."""

    kind: Literal["support returned"] = "support returned"
    support: str
    what: str
    is_settled: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerGiven:
    """An answer as it was given, with the revision of each document it stood on and the last entry it saw."""

    kind: Literal["answer given"] = "answer given"
    question: str
    meeting: str
    content: str  # the whole answer as JSON text
    revisions: dict[str, str]  # document → digest
    last_entry: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperAdded:
    """A photograph, log or paper kept by the digest of its content."""

    kind: Literal["paper added"] = "paper added"
    digest: str
    name: str
    media_type: str
    size: int
    about: str = ""  # a part, session, event or job


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """Words about a part, session, event, or the car."""

    kind: Literal["remark"] = "remark"
    text: str
    about: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrawn:
    """The entry this one corrects is taken back."""

    kind: Literal["withdrawn"] = "withdrawn"
    reason: str = ""


Matter = (
    PartAdded
    | PartFitted
    | PartRemoved
    | PartInspected
    | PartFailed
    | SetupChanged
    | MeetingPlanned
    | MeetingClosed
    | SessionRun
    | RoadDriven
    | Reading
    | JobOpened
    | JobDone
    | CostPaid
    | SupportReceived
    | SupportReturned
    | AnswerGiven
    | PaperAdded
    | Remark
    | ProofRecorded
    | AccidentHappened
    | Withdrawn
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One entry: what, on which day, by whom; `key` is the writer's own, so that sending twice writes once.

    `number` is the order of writing, from 1; `corrects` the number of the entry this one replaces.
    """

    number: int
    key: str
    day: date
    written_at: str  # UTC, ISO 8601
    who: str
    matter: Matter
    clock: str = ""  # local, "14:05"
    instrument: str = ""
    note: str = ""
    corrects: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """An entry before the store gives it its number and the time of writing."""

    key: str
    day: date
    who: str
    matter: Matter
    clock: str = ""
    instrument: str = ""
    note: str = ""
    corrects: int | None = None
