"""What the model knows already proves facts of the rules, and what it only guesses does not."""

from dataclasses import replace

import pytest

from books import MM, Writer, kilograms, on
from tintop.car.described import DescribedCar
from tintop.garage.loading import load_car
from tintop.known import Known, Origin
from tintop.logbook.entries import Area, Fate, Measure, PartRemoved
from tintop.logbook.known_facts import KnownFacts, known_facts
from tintop.logbook.proofs import evidence_of
from tintop.rules.evidence import Form
from tintop.rules.facts import Fact, FactKey, FactKind, Station
from tintop.store.demo import demo_path
from tintop.store.rule_books.shipped import shipped_facts

TODAY = on("2026-06-09")
WRITTEN = on("2026-05-01")
CORNERS = ("FL", "FR", "RL", "RR")
MASS, POWER, AT_WHEELS = FactKey("mass.with_driver"), FactKey("car.power"), FactKey("power.at_wheels")


def fact(name: str, kind: FactKind = FactKind.NUMBER, quantity: str = "", **more) -> Fact:
    return Fact(name=name, ask=name, kind=kind, quantity=quantity, station=Station.PAPERS, **more)


FACTS = {
    one.name: one
    for one in (
        fact("mass.with_driver", quantity="mass", error=3.0),
        fact("mass.ballast", quantity="mass"),
        fact("car.capacity", quantity="volume"),
        fact("car.is_forced_induction", FactKind.YES_NO),
        fact("car.power", quantity="power"),
        fact("power.at_wheels", quantity="power"),
        fact("tyres.tread_depths", FactKind.NUMBERS, "length", each=CORNERS, error=1e-4),
        fact("race_tyre.tread_depths", FactKind.NUMBERS, "length", each=CORNERS, error=1e-4),
    )
}


@pytest.fixture(scope="module")
def car() -> DescribedCar:
    return load_car(demo_path("car.toml"))


def knowing(car: DescribedCar, **known: Known | Origin) -> DescribedCar:
    """The car with numbers known otherwise; `masses__car` names the path "masses.car"."""
    changed = dict(car.known)
    for name, value in known.items():
        path = name.replace("__", ".")
        changed[path] = replace(changed[path], origin=value) if isinstance(value, Origin) else value
    return replace(car, known=changed)


def found(writer: Writer, described: DescribedCar | None = None, facts=FACTS) -> KnownFacts:
    return known_facts(writer.book, facts, TODAY, described, WRITTEN)


def proven(known: KnownFacts, key: FactKey):
    return next((each for each in known.proven if each.key == key), None)


def test_a_documented_number_proves_as_a_statement_and_a_measured_one_as_a_measurement(car):
    known = found(Writer(), car)
    capacity = proven(known, FactKey("car.capacity"))
    assert capacity.value == pytest.approx(1998e-6)
    assert (capacity.form, capacity.error, capacity.day, capacity.entry) == (Form.WITNESS, 0.0, WRITTEN, 0)
    assert "workshop manual" in capacity.basis
    ballast = proven(known, FactKey("mass.ballast"))
    assert (ballast.form, ballast.error) == (Form.MEASUREMENT, 1.0)  # twice the standard 0.5 kg


@pytest.mark.parametrize("origin", [Origin.ESTIMATED, Origin.ASSUMED])
def test_an_estimate_and_a_class_default_prove_nothing_and_are_told(car, origin):
    known = found(Writer(), knowing(car, engine__displacement=origin))
    key = FactKey("car.capacity")
    assert proven(known, key) is None
    assert (
        known.unproven[key]
        == f"the number in car.toml (engine.displacement) is {origin}, which proves nothing"
    )
    evidence = evidence_of(Writer().book, FACTS, TODAY, known.proven, known.unproven)
    assert key not in evidence.proven and str(origin) in evidence.fallen[key]


def test_power_at_the_wheels_is_what_was_measured_and_at_the_engine_only_what_that_proves(car):
    known = found(Writer(), car)
    at_wheels = proven(known, AT_WHEELS)
    peak = car.car.engine.peak_power
    assert at_wheels.value == pytest.approx(0.92 * peak)  # the efficiency of the document, taken out again
    assert at_wheels.error == pytest.approx(2 * 0.03 * at_wheels.value)
    assert "efficiency that is estimated" in known.unproven[POWER]
    sure = found(Writer(), knowing(car, gearbox__efficiency=Origin.MEASURED))
    assert proven(sure, POWER).value == pytest.approx(peak)
    at_engine = found(
        Writer(), knowing(car, engine__torques=Known(value=1.0, uncertainty=0.02, origin=Origin.MEASURED))
    )
    assert proven(at_engine, AT_WHEELS) is None
    assert proven(at_engine, POWER).error == pytest.approx(2 * 0.02 * peak)


def test_whether_it_is_charged_is_known_only_if_the_document_says_so(car):
    key = FactKey("car.is_forced_induction")
    assert "is assumed" in found(Writer(), car).unproven[key]
    said = found(Writer(), replace(car, assumed_choices={}))
    assert proven(said, key).value is False


def test_the_car_weighed_alone_takes_driver_and_ballast_of_the_document(car):
    writer = Writer()
    number = writer.read("2026-03-01", Measure.MASS, 1038.0)
    mass = proven(found(writer, car), MASS)
    assert mass.value == pytest.approx(1038.0 + 84.0 + 0.0)
    assert mass.error == pytest.approx((3.0**2 + 2.0**2 + 1.0**2) ** 0.5)
    assert (mass.entry, mass.day) == (number, on("2026-03-01"))
    guessed = found(writer, knowing(car, masses__driver=Origin.ESTIMATED))
    assert proven(guessed, MASS) is None
    assert "mass of the driver in car.toml is estimated" in guessed.unproven[MASS]
    assert "no car.toml says" in found(writer).unproven[MASS]


def test_a_car_never_weighed_in_the_logbook_has_the_masses_of_its_document_if_they_are_known(car):
    mass = proven(found(Writer(), car), MASS)
    assert mass.value == pytest.approx(1038.0 + 84.0)
    assert mass.error == pytest.approx(2.0 * (3.0**2 + 1.0**2 + 0.5**2) ** 0.5)
    assert (mass.form, mass.entry) == (Form.MEASUREMENT, 0)
    guessed = found(Writer(), knowing(car, masses__car=Origin.ESTIMATED))
    assert proven(guessed, MASS) is None
    assert guessed.unproven[MASS].endswith("masses in car.toml: car estimated")


def test_four_pads_with_the_driver_aboard_need_no_document_and_the_later_weighing_counts(car):
    writer = Writer()
    writer.read("2026-03-01", Measure.MASS, 1038.0)
    for corner, load in zip(CORNERS, (338.5, 348.0, 213.5, 222.0), strict=True):
        writer.read("2026-03-02", Measure.CORNER_LOAD, load, corner=corner, place="driver aboard")
    for corner in CORNERS:
        writer.read("2026-03-03", Measure.CORNER_LOAD, 200.0, corner=corner, place="without driver")
    for described in (None, car):
        mass = proven(found(writer, described), MASS)
        assert (mass.value, mass.error, mass.entry) == (1122.0, 3.0, 5)
    writer.read("2026-04-01", Measure.MASS, 1040.0)
    assert proven(found(writer, car), MASS).value == pytest.approx(1124.0)


def test_parts_changed_since_count_if_weighed_and_leave_the_mass_open_if_not(car):
    writer = Writer()
    writer.part("2026-01-01", "seat", mass=kilograms(9.0), came_with_car=True)
    writer.read("2026-03-01", Measure.MASS, 1038.0)
    writer.write("2026-03-02", PartRemoved(part="seat", fate=Fate.SOLD))
    writer.part("2026-03-02", "shell", family="seat", mass=kilograms(7.0, 0.5))
    writer.fit("2026-03-02", "shell")
    mass = proven(found(writer, car), MASS)
    assert mass.value == pytest.approx(1122.0 - 9.0 + 7.0)
    assert mass.error == pytest.approx((3.0**2 + 2.0**2 + 1.0**2 + 1.0**2) ** 0.5)
    writer.part("2026-04-01", "splitter", name="Splitter")
    writer.fit("2026-04-01", "splitter")
    known = found(writer, car)
    assert proven(known, MASS) is None
    assert known.unproven[MASS] == "weighed on 2026-03-01; changed since and not weighed: Splitter"


def test_oil_renewed_without_weighing_it_cancels_with_half_a_kilogram_of_doubt(car):
    writer = Writer()
    writer.part("2026-01-01", "oil-1", family="engine oil", came_with_car=True)
    writer.read("2026-03-01", Measure.MASS, 1038.0)
    writer.part("2026-03-02", "oil-2", family="engine oil")
    writer.fit("2026-03-02", "oil-2", replaces="oil-1")
    mass = proven(found(writer, car), MASS)
    assert mass.value == pytest.approx(1122.0)
    assert mass.error == pytest.approx((3.0**2 + 2.0**2 + 1.0**2 + 0.5**2) ** 0.5)


def tyres(writer: Writer, name: str, family: str, fitted: str = "") -> None:
    writer.part("2026-01-01", name, family=family, area=Area.OUTSIDE)
    if fitted:
        writer.fit(fitted, name)


def test_tread_depths_are_those_of_the_set_driven_until_it_runs_again():
    writer = Writer()
    tyres(writer, "slicks", "race tyres", "2026-02-01")
    tyres(writer, "road", "road tyres")
    for value, place in ((3.1 * MM, "inner"), (2.9 * MM, "outer")):
        writer.read("2026-03-01", Measure.TREAD_DEPTH, value, "slicks", corner="FL", place=place)
    writer.read("2026-03-02", Measure.TREAD_DEPTH, 6.0 * MM, "road", corner="FL")
    known = found(writer)
    race = proven(known, FactKey("race_tyre.tread_depths", "FL"))
    assert (race.value, race.error, race.part) == ((3.1 * MM, 2.9 * MM), 1e-4, "slicks")
    assert proven(known, FactKey("tyres.tread_depths", "FL")).value == (6.0 * MM,)
    assert proven(known, FactKey("race_tyre.tread_depths", "FR")) is None
    writer.run("2026-04-01", "test", hours=1.0, tyres="slicks")
    known = found(writer)
    assert proven(known, race.key) is None
    assert "driven 60 min since" in known.unproven[race.key]
    writer.read("2026-04-02", Measure.TREAD_DEPTH, 2.5 * MM, "slicks", corner="FL")
    assert proven(found(writer), race.key).value == (2.5 * MM,)


def test_the_only_set_serves_for_the_road_and_the_race():
    writer = Writer()
    tyres(writer, "tyres", "tyres", "2026-02-01")
    writer.read("2026-03-01", Measure.TREAD_DEPTH, 3.0 * MM, "tyres", corner="RR")
    known = found(writer)
    for name in ("tyres.tread_depths", "race_tyre.tread_depths"):
        assert proven(known, FactKey(name, "RR")).value == (3.0 * MM,)


def test_facts_not_asked_for_or_asked_for_otherwise_are_left_out(car):
    assert found(Writer(), car, facts={}).proven == ()
    otherwise = {"car.capacity": fact("car.capacity", FactKind.TEXT)}
    known = found(Writer(), car, facts=otherwise)
    assert known.proven == () and known.unproven == {}


def test_a_car_whose_engine_is_documented_is_not_driven_by_a_battery(car):
    key = FactKey("car.is_electric")
    facts = {key.fact: fact(key.fact, FactKind.YES_NO)}
    assert proven(found(Writer(), car, facts), key).value is False
    assert found(Writer(), knowing(car, engine__displacement=Origin.ASSUMED), facts).proven == ()


def test_every_fact_known_here_is_shipped_under_that_name_and_of_that_kind(car):
    shipped = shipped_facts()
    writer = Writer()
    tyres(writer, "tyres", "tyres", "2026-02-01")
    for corner in CORNERS:
        writer.read("2026-03-01", Measure.TREAD_DEPTH, 3.0 * MM, "tyres", corner=corner)
    sure = knowing(replace(car, assumed_choices={}), gearbox__efficiency=Origin.MEASURED)
    known = found(writer, sure, shipped)
    assert {each.key.fact for each in known.proven} == {*FACTS, "car.is_electric"}
    assert known.unproven == {}
