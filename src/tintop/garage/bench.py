"""The set-up bench: the car, its chassis, its set-ups and the circuits, from a garage or a plain folder."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path

from tintop.car.chassis import Chassis
from tintop.car.described import DescribedCar
from tintop.car.setup import Purpose, Setup
from tintop.car.table_on_car import with_wheel_tables
from tintop.circuit.circuit import Circuit
from tintop.errors import BadInput, did_you_mean, refuse
from tintop.event import Weather
from tintop.garage.keeper import CHASSIS, SETUPS, Garage
from tintop.garage.loading import load_car, load_circuit, load_event
from tintop.garage.predictions import CAR
from tintop.known import Known
from tintop.logbook.setup_today import PUT_ON, SetupToday, setup_today
from tintop.settings import Settings
from tintop.store.documents.chassis_reader import DescribedChassis, read_chassis
from tintop.store.documents.setup_reader import read_setup

_CIRCUIT_SUFFIXES = (".csv", ".geojson", ".gpx")
_PLAIN = re.compile(r"\w[\w .()+-]{0,79}")  # a stem that every disk can write and every page can link
_WET_AIR, _WET_ROAD = 14.0, 15.0  # [°C] of a wet day; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """All that a set-up is worked out from; `fitted` is the set-up on the car now, by its file's stem, or ''.

    `today` says what was changed since it was put on; the set-up under `fitted` has those changes in it, the
    one in its document is in `as_written`. `unreadable` holds what is wrong with set-ups that cannot be read.
    `put_on` is what the logbook names as put on where that is none of the set-ups that can be read.
    """

    described: DescribedCar
    chassis: Chassis
    chassis_known: Mapping[str, Known]
    setups: Mapping[str, Setup]
    fitted: str
    circuits: Mapping[str, Path]
    settings: Settings
    events: Mapping[str, Path] = field(default_factory=dict)
    as_written: Mapping[str, Setup] = field(default_factory=dict)
    today: SetupToday | None = None
    assumed_choices: Mapping[str, str] = field(default_factory=dict)
    unreadable: Mapping[str, BadInput] = field(default_factory=dict)
    put_on: str = ""

    def setup(self, name: str = "") -> Setup:
        """A set-up by its file's stem, the one on the car for ''; BadInput naming those there are."""
        stem = name or self.fitted or self.put_on
        if stem in self.unreadable:
            raise self.unreadable[stem]
        if not stem and not self.setups and self.unreadable:
            raise BadInput(*(problem for error in self.unreadable.values() for problem in error.problems))
        found = self.setups.get(stem)
        if found is None:
            there = "one of: " + ", ".join(self.setups) if self.setups else f"a file in the folder {SETUPS}"
            if not name:
                raise refuse("set-up", "nothing that says which is on the car", there, "Name one.")
            raise refuse("set-up", repr(stem), there, did_you_mean(stem, self.setups))
        return found

    def said_of(self, name: str) -> tuple[str, ...]:
        """What is to be said before anything is worked out of a set-up, by its file's stem.

        That nothing says which is on the car; that it names a circuit that is not there.
        """
        found = []
        if not self.fitted:
            unread = [self.put_on] if self.put_on in self.unreadable else list(self.unreadable)
            if self.put_on in self.unreadable:
                said = f"{self.put_on} was put on the car, and its file cannot be read"
            elif self.put_on:
                said = f"{self.put_on} was put on the car, and there is no such set-up any more"
            else:
                said = "Nothing says which set-up is on the car"
            found.append(f"{said}; this is for {name}.")
            found += [f"Set-up {stem} cannot be read: {self.unreadable[stem]}" for stem in unread]
        return (*found, *self.notes_on(name))

    def notes_on(self, name: str) -> tuple[str, ...]:
        """What is odd in a set-up that can be read: the circuit it is for is not there."""
        setup = self.setups.get(name)
        if setup is not None and setup.circuit and self.circuits and setup.circuit not in self.circuits:
            there, near = ", ".join(self.circuits), did_you_mean(setup.circuit, self.circuits)
            return (f"Set-up {name} is for circuit {setup.circuit!r}; there is {there}. {near}".strip(),)
        return ()

    def circuit(self, name: str) -> Circuit:
        """A circuit by its file's stem; BadInput naming those there are."""
        found = self.circuits.get(name)
        if found is None:
            there = "one of: " + ", ".join(self.circuits) if self.circuits else "a file in circuits"
            raise refuse("circuit", repr(name), there, did_you_mean(name, self.circuits))
        return _circuit(found, found.stat().st_mtime_ns)

    def weather(self, event: str | Purpose = "") -> Weather:
        """The weather of an event by its file's stem, or of a purpose; the usual dry day for ''.

        A wet purpose is a road wet all over on a cool day. BadInput naming the events there are.
        """
        if isinstance(event, Purpose):
            wet = Weather(air_temp=_WET_AIR, road_temp=_WET_ROAD, humidity=0.9, wetness=1.0)
            return wet if event is Purpose.WET else Weather()
        if not event:
            return Weather()
        found = self.events.get(event)
        if found is None:
            there = "one of: " + ", ".join(self.events) if self.events else "a file in events"
            raise refuse("event", repr(event), there, did_you_mean(event, self.events))
        return load_event(found).event.weather


@lru_cache(maxsize=16)
def _circuit(path: Path, _changed: int) -> Circuit:
    return load_circuit(path)


def load_bench(folder: Path | str) -> Bench:
    """The bench of a folder with car.toml and chassis.toml, or of a garage.

    Raises BadInput with every problem of the car and its chassis; a set-up's when it is asked for.
    """
    folder = Path(folder)
    if (folder / "garage.sqlite").exists():
        garage = Garage.open(folder, writing=False)
        try:
            return bench_of(garage)
        finally:
            garage.close()
    if not folder.is_dir():
        raise refuse(str(folder), "no such folder", f"a garage, or a folder with {CAR} and {CHASSIS}")
    settings = Settings(title=folder.name)
    return _bench(folder, load_car(folder / CAR), _files(folder), settings)


def bench_of(garage: Garage) -> Bench:
    """The bench of a garage, the car as it is today; given again while nothing it stands on changed."""
    garage.look_outside()
    names = {
        name: name
        for name in garage.document_names()
        if name in (CAR, CHASSIS) or name.split("/")[0] in (SETUPS, "circuits", "events")
    }
    digests = tuple((name, one.digest) for name, one in garage.standing(names).items())
    day = garage.today()

    def make() -> Bench:
        files = {name: garage.folder / name for name in names}
        bench = _bench(garage.folder, garage.car(), files, garage.settings)
        today = setup_today(bench.setups, garage.book, day, bench.chassis)
        if today.setup is None:
            return _without_the_one_put_on(bench, today)
        return replace(
            bench, today=today, fitted=today.stem, setups={**bench.setups, today.stem: today.setup}
        )

    return garage.remember("bench", (digests, garage.book.last_number, day), make)


def _without_the_one_put_on(bench: Bench, today: SetupToday) -> Bench:
    """The bench where the logbook names no set-up that can be read, and why."""
    put_on = next((one.written.strip() for one in today.unread if one.item == PUT_ON), "")
    error = bench.unreadable.get(put_on)
    if error is not None:
        why = f"its document cannot be read: {error}"
        unread = tuple(replace(one, why=why) if one.item == PUT_ON else one for one in today.unread)
        today = replace(today, unread=unread)
    return replace(bench, today=today, put_on=put_on, fitted="" if put_on else bench.fitted)


def _files(folder: Path) -> dict[str, Path]:
    found = {path.name: path for path in sorted(folder.iterdir()) if path.is_file()}
    for inner in (SETUPS, "circuits", "events"):
        if (folder / inner).is_dir():
            found |= {f"{inner}/{path.name}": path for path in sorted((folder / inner).iterdir())}
    return found


def _bench(folder: Path, described: DescribedCar, files: Mapping[str, Path], settings: Settings) -> Bench:
    if CHASSIS not in files:
        raise refuse(
            str(folder / CHASSIS),
            "no such file",
            "springs, bars, dampers and their geometry",
            "One to begin with stands on the page under Documents, or in tintop demo --write FOLDER.",
        )
    chassis = read_chassis(files[CHASSIS], described)
    setups, unreadable = _setups(files, chassis)
    return Bench(
        described=with_wheel_tables(described, chassis.known),
        chassis=chassis.chassis,
        chassis_known=chassis.known,
        setups=setups,
        as_written=setups,
        fitted=_only(setups, unreadable),
        circuits=_named(files, "circuits", _CIRCUIT_SUFFIXES) or _loose(files, _CIRCUIT_SUFFIXES),
        events=_named(files, "events", (".toml",)) or _one_event(files),
        settings=settings,
        assumed_choices={**described.assumed_choices, **chassis.assumed_choices},
        unreadable=unreadable,
    )


def _only(setups: Mapping[str, Setup], unreadable: Mapping[str, BadInput]) -> str:
    return next(iter(setups)) if len(setups) == 1 and not unreadable else ""


def _setups(
    files: Mapping[str, Path], chassis: DescribedChassis
) -> tuple[dict[str, Setup], dict[str, BadInput]]:
    found: dict[str, Setup] = {}
    unreadable: dict[str, BadInput] = {}
    for name, path in _named(files, SETUPS, (".toml",)).items():
        if not _PLAIN.fullmatch(name):
            expected = "at most 80 letters, digits, spaces, points, - and _"
            unreadable[ascii(name)] = refuse(SETUPS, f"the file name {path.name!a}", expected)
            continue
        try:
            found[name] = read_setup(path, chassis.chassis)
        except BadInput as error:
            unreadable[name] = error
    return found, unreadable


def _named(files: Mapping[str, Path], folder: str, suffixes: tuple[str, ...]) -> dict[str, Path]:
    return {
        path.stem: path
        for name, path in files.items()
        if name.startswith(f"{folder}/") and path.suffix.lower() in suffixes
    }


def _loose(files: Mapping[str, Path], suffixes: tuple[str, ...]) -> dict[str, Path]:
    return {
        path.stem: path for name, path in files.items() if path.suffix.lower() in suffixes and "/" not in name
    }


def _one_event(files: Mapping[str, Path]) -> dict[str, Path]:
    return {path.stem: path for name, path in files.items() if name == "event.toml"}
