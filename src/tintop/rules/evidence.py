"""What proves a fact: the value recorded, in what form, by whom, when, and the papers kept with it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from tintop.rules.facts import FactKey, FactValue


class Form(StrEnum):
    """In what form a fact is proven."""

    MEASUREMENT = "measurement"
    PHOTOGRAPH = "photograph"
    CERTIFICATE = "certificate"
    LABEL = "label"
    RECEIPT = "receipt"
    WITNESS = "witness"
    TRIAL = "trial"  # tried out: the engine stops, the driver reaches it


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A photograph or paper kept with the evidence, by the digest of its content."""

    digest: str
    name: str
    media_type: str

    @property
    def is_picture(self) -> bool:
        """Whether it is a photograph or another picture."""
        return self.media_type.startswith("image/")


@dataclass(frozen=True, slots=True, kw_only=True)
class Proven:
    """One fact as it is proven: value in SI with its ±, form, and the entry of the logbook it rests on.

    `entry` is 0 for what comes from the car's documents or other entries; `basis` then says from what.
    `outlasts_hit` says that it counts after the last hard hit though its day is not a later one.
    """

    key: FactKey
    value: FactValue
    form: Form
    day: date
    who: str = ""
    written: str = ""
    error: float = 0.0
    instrument: str = ""
    serial: str = ""
    part: str = ""
    entry: int = 0
    basis: str = ""
    papers: tuple[Paper, ...] = ()
    outlasts_hit: bool = False

    def counts_after(self, hit: date | None) -> bool:
        """Whether it counts where proof older than the last hard hit does not."""
        return hit is None or self.day > hit or self.outlasts_hit


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """All that is proven of a car on a day; `fallen` says of facts once proven why they no longer are.

    `accident` is the day of the last hard hit the logbook knows of; `broken` says what has failed and is
    still on the car, each as "part: what failed".
    """

    proven: Mapping[FactKey, Proven]
    fallen: Mapping[FactKey, str]
    accident: date | None = None
    broken: tuple[str, ...] = ()
