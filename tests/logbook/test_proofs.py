"""What the logbook proves: the last entry counts, while its part is on the car and its fact is asked for."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from books import Writer, on
from tintop.errors import BadInput
from tintop.logbook.entries import Area, Fate, PaperAdded, PartFailed, PartInspected, PartRemoved, Withdrawn
from tintop.logbook.proof_entries import AccidentHappened
from tintop.logbook.proof_values import proof_entry, value_of
from tintop.logbook.proofs import evidence_of
from tintop.rules.evidence import Form, Proven
from tintop.rules.facts import Bolts, Fact, FactKey, FactKind, Marked, Station, Tube, Unreadable
from tintop.rules.placeholders import is_visible

TODAY = on("2026-06-09")


def fact(name: str = "harness.label", kind: FactKind = FactKind.MARKED, **more) -> Fact:
    return Fact(name=name, ask=f"{name}?", kind=kind, station=Station.CABIN, **more)


LABEL = fact()
HEIGHT = fact("body.clearance", FactKind.NUMBER, quantity="length", unit="mm", error=1e-3)
ANCHOR = fact("harness.anchor", FactKind.POINT, each=("left", "right"))
SUIT = fact("kit.suit", FactKind.MARKED, each="drivers")
FACTS = {one.name: one for one in (LABEL, HEIGHT, ANCHOR, SUIT)}
YEAR = Marked(day=on("2028-12-31"), precision="year")


def label(value=YEAR, form=Form.LABEL, **more):
    return proof_entry(LABEL, "", value, form, written="2028", **more)


def found(writer: Writer, day=TODAY, **more):
    return evidence_of(writer.book, FACTS, day, **more)


numbers = st.floats(allow_nan=False, allow_infinity=False)
amounts = st.floats(min_value=0.0, allow_nan=False, allow_infinity=False)
lengths = st.floats(1e-4, 1.0)
names = st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1, max_size=12).filter(
    lambda name: name == name.strip() and is_visible(name) and "," not in name
)
VALUES = {
    FactKind.NUMBER: amounts,
    FactKind.NUMBERS: st.lists(amounts, min_size=1, max_size=6).map(tuple),
    FactKind.POINT: st.tuples(numbers, numbers, numbers),
    FactKind.OUTLINE: st.lists(st.tuples(numbers, numbers), min_size=3, max_size=6).map(tuple),
    FactKind.TUBE: st.builds(
        lambda diameter, share: Tube(diameter=diameter, wall=diameter * share), lengths, st.floats(0.01, 0.5)
    ),
    FactKind.BOLTS: st.builds(
        Bolts, count=st.integers(1, 99), diameter=lengths, strength_class=st.sampled_from(["", "8.8", "12.9"])
    ),
    FactKind.TEXT: names,
    FactKind.CHOICE: st.sampled_from(["steel", "alloy"]),
    FactKind.NAMES: st.lists(names, min_size=1, max_size=4, unique=True).map(tuple),
    FactKind.YES_NO: st.booleans(),
    FactKind.MARKED: st.one_of(
        st.builds(Marked, day=st.dates(), precision=st.sampled_from(["year", "month", "day"])),
        st.just(Unreadable()),
    ),
}


def test_every_kind_of_fact_has_its_values_here():
    assert set(VALUES) == set(FactKind)


@given(data=st.data(), kind=st.sampled_from(FactKind), form=st.sampled_from(Form))
def test_a_value_of_any_kind_comes_back_from_its_entry(data, kind, form):
    one = fact(kind=kind, choices=("steel", "alloy") if kind is FactKind.CHOICE else ())
    value = data.draw(VALUES[kind])
    entry = proof_entry(one, "", value, form)
    assert value_of(entry) == value
    assert type(value_of(entry)) is type(value)


@given(data=st.data(), kind=st.sampled_from(FactKind), other=st.sampled_from(FactKind))
def test_a_value_of_another_kind_is_refused_or_means_the_same(data, kind, other):
    one = fact(kind=kind, choices=("steel", "alloy") if kind is FactKind.CHOICE else ())
    value = data.draw(VALUES[other])
    try:
        entry = proof_entry(one, "", value, Form.WITNESS)
    except BadInput as error:
        assert one.ask in str(error)
    else:
        assert value_of(entry) == value


@pytest.mark.parametrize(
    ("one", "each"), [(LABEL, "left"), (ANCHOR, ""), (ANCHOR, "middle"), (SUIT, ""), (SUIT, " ")]
)
def test_an_instance_the_fact_does_not_have_is_refused(one, each):
    value = (0.0, 0.0, 0.0) if one is ANCHOR else YEAR
    with pytest.raises(BadInput, match=one.name):
        proof_entry(one, each, value, Form.LABEL)


def test_a_name_with_a_comma_is_refused_for_names_stand_in_one_text():
    drivers = fact("drivers", FactKind.NAMES)
    with pytest.raises(BadInput, match="without commas"):
        proof_entry(drivers, "", ("Robin, the younger", "Sam"), Form.WITNESS)


def test_an_error_below_zero_is_refused():
    with pytest.raises(BadInput, match="zero or more"):
        proof_entry(HEIGHT, "", 0.1, Form.MEASUREMENT, error=-1e-3)


def test_the_last_entry_of_a_fact_counts_and_an_earlier_one_again_when_it_is_withdrawn():
    writer = Writer()
    first = writer.write("2026-02-01", label())
    second = writer.write("2026-03-01", label(Marked(day=on("2030-12-31"), precision="year")))
    key = FactKey(LABEL.name)
    assert found(writer).proven[key].entry == second
    assert found(writer, on("2026-02-20")).proven[key].entry == first
    writer.write("2026-04-01", Withdrawn(), corrects=second)
    assert found(writer).proven[key].entry == first
    writer.write("2026-04-02", Withdrawn(), corrects=first)
    assert key not in found(writer).proven and key not in found(writer).fallen


def test_a_correction_takes_the_place_of_what_it_corrects():
    writer = Writer()
    first = writer.write("2026-02-01", label())
    second = writer.write("2026-02-01", label(Unreadable()), corrects=first)
    proven = found(writer).proven[FactKey(LABEL.name)]
    assert proven.entry == second and proven.value == Unreadable()


def test_of_one_day_the_one_written_later_counts_whatever_its_clock():
    writer, key = Writer(), FactKey(HEIGHT.name)
    writer.write("2026-05-01", proof_entry(HEIGHT, "", 0.070, Form.MEASUREMENT), clock="09:00")
    later = writer.write("2026-05-01", proof_entry(HEIGHT, "", 0.050, Form.MEASUREMENT))
    assert (found(writer).proven[key].entry, found(writer).proven[key].value) == (later, 0.050)
    writer.write("2026-04-30", proof_entry(HEIGHT, "", 0.080, Form.MEASUREMENT))  # the day goes first
    assert found(writer).proven[key].entry == later


def test_a_correction_of_the_earlier_of_one_day_stands_where_that_stood():
    writer, key = Writer(), FactKey(HEIGHT.name)
    first = writer.write("2026-05-01", proof_entry(HEIGHT, "", 0.070, Form.MEASUREMENT))
    second = writer.write("2026-05-01", proof_entry(HEIGHT, "", 0.050, Form.MEASUREMENT))
    again = writer.write("2026-05-01", proof_entry(HEIGHT, "", 0.071, Form.MEASUREMENT), corrects=first)
    writer.write("2026-05-01", proof_entry(HEIGHT, "", 0.072, Form.MEASUREMENT), corrects=again)
    assert found(writer).proven[key].entry == second


def test_an_entry_of_a_day_to_come_neither_proves_nor_takes_anothers_place():
    writer, key = Writer(), FactKey(HEIGHT.name)
    first = writer.write("2026-05-01", proof_entry(HEIGHT, "", 0.050, Form.MEASUREMENT))
    later = writer.write("2026-06-10", proof_entry(HEIGHT, "", 0.070, Form.MEASUREMENT))
    assert found(writer).proven[key].entry == first
    assert found(writer, on("2026-06-10")).proven[key].entry == later
    alone = Writer()
    alone.write("2026-06-10", proof_entry(HEIGHT, "", 0.070, Form.MEASUREMENT))
    assert key not in found(alone).proven


def test_an_entry_says_who_when_with_what_and_the_usual_error_of_a_measurement():
    writer = Writer()
    writer.write("2026-02-01", proof_entry(HEIGHT, "", 0.1, Form.MEASUREMENT, written="100 mm"))
    proven = found(writer).proven[FactKey(HEIGHT.name)]
    assert (proven.value, proven.error, proven.day, proven.who) == (0.1, 1e-3, on("2026-02-01"), "owner")
    writer.write("2026-02-03", proof_entry(HEIGHT, "", 0.1, Form.CERTIFICATE))
    assert found(writer).proven[FactKey(HEIGHT.name)].error == 0.0


def test_proof_about_a_part_counts_while_the_part_is_on_the_car():
    writer = Writer()
    writer.part("2026-01-05", "belts", area=Area.CABIN)
    writer.write("2026-01-05", label(part="belts"))
    key = FactKey(LABEL.name)
    assert "not on the car" in found(writer).fallen[key]
    writer.fit("2026-01-10", "belts")
    assert found(writer).proven[key].part == "belts"
    writer.write("2026-05-01", PartRemoved(part="belts", fate=Fate.KEPT))
    after = found(writer)
    assert key not in after.proven
    assert after.fallen[key] == (
        "recorded on Mon 5 January 2026, entry 2, but Belts came off on Fri 1 May 2026"
    )
    writer.fit("2026-05-20", "belts")
    assert found(writer).proven[key].part == "belts"


def test_where_the_newer_part_is_off_again_the_entry_about_the_part_on_the_car_counts():
    writer = Writer()
    for part in ("old", "new"):
        writer.part("2026-01-05", part, area=Area.CABIN)
    writer.write("2026-01-06", label())
    writer.fit("2026-01-10", "old")
    old = writer.write("2026-01-10", label(part="old"))
    writer.fit("2026-03-01", "new", replaces="old")
    writer.write("2026-03-01", label(part="new"))
    writer.fit("2026-04-01", "old", replaces="new")
    assert found(writer).proven[FactKey(LABEL.name)].entry == old
    writer.write("2026-04-02", PartRemoved(part="old", fate=Fate.SCRAPPED))
    assert "New came off" in found(writer).fallen[FactKey(LABEL.name)]


def test_the_drivers_kit_counts_without_being_fitted_until_it_is_taken_off():
    writer = Writer()
    writer.part("2026-01-05", "suit", area=Area.KIT)
    writer.write("2026-01-06", proof_entry(SUIT, "Robin", YEAR, Form.LABEL, part="suit"))
    key = FactKey(SUIT.name, "Robin")
    assert found(writer).proven[key].part == "suit"
    writer.write("2026-02-01", PartRemoved(part="suit", fate=Fate.SOLD))
    assert "Suit came off" in found(writer).fallen[key]


def test_a_part_that_failed_proves_nothing_until_it_is_found_good():
    writer = Writer()
    writer.part("2026-01-05", "belts", area=Area.CABIN)
    writer.fit("2026-01-05", "belts")
    writer.write("2026-01-06", label(part="belts"))
    writer.write("2026-02-01", PartFailed(part="belts", what="webbing cut"))
    key = FactKey(LABEL.name)
    assert "webbing cut" in found(writer).fallen[key]
    writer.write("2026-02-02", PartInspected(part="belts", found="a mark of grease, wiped off"))
    assert key in found(writer).proven


def test_a_part_nobody_added_proves_nothing():
    writer = Writer()
    writer.write("2026-01-06", label(part="belts"))
    assert "no part 'belts'" in found(writer).fallen[FactKey(LABEL.name)]


@pytest.mark.parametrize(
    ("now", "each", "says"),
    [
        (fact(kind=FactKind.TEXT), "", "a marked date, and the rule books ask for a text"),
        (fact(each=("left", "right")), "", "without saying which, and asked for left, right"),
        (fact(each="drivers"), "", "for which of the drivers"),
    ],
)
def test_what_no_longer_fits_the_fact_is_told_with_its_reason(now, each, says):
    writer = Writer()
    writer.write("2026-01-06", label())
    evidence = evidence_of(writer.book, {now.name: now}, TODAY)
    assert not evidence.proven
    assert says in evidence.fallen[FactKey(LABEL.name, each)]


def test_an_entry_whose_fields_hold_no_value_is_told_too():
    writer = Writer()
    broken = replace(proof_entry(ANCHOR, "left", (0.1, 0.2, 0.3), Form.MEASUREMENT), values=(0.1, 0.2))
    writer.write("2026-01-06", broken)
    assert "0.1, 0.2 is no point" in found(writer).fallen[FactKey(ANCHOR.name, "left")]


def test_a_photograph_proves_nothing_without_its_picture():
    writer = Writer()
    digest = "a" * 64
    writer.write("2026-01-06", label(form=Form.PHOTOGRAPH, papers=(digest,)))
    key = FactKey(LABEL.name)
    assert "photograph is not in the logbook" in found(writer).fallen[key]
    paper = PaperAdded(digest=digest, name="label.jpg", media_type="image/jpeg", size=9)
    added = writer.write("2026-01-07", paper)
    assert [one.name for one in found(writer).proven[key].papers] == ["label.jpg"]
    writer.write("2026-01-08", Withdrawn(), corrects=added)
    assert key in found(writer).fallen


def test_the_last_hard_hit_is_told_and_a_knock_is_not():
    writer = Writer()
    assert found(writer).accident is None
    writer.write("2026-03-01", AccidentHappened(what="rear, by a van"))
    writer.write("2026-04-01", AccidentHappened(what="cone", is_hard=False))
    writer.write("2026-07-01", AccidentHappened(what="still to come"))
    assert found(writer).accident == on("2026-03-01")


def test_a_later_reading_goes_before_what_was_recorded_and_a_document_never_does():
    key = FactKey(HEIGHT.name)

    def elsewhere(day: str, entry: int = 0) -> Proven:
        return Proven(key=key, value=0.2, form=Form.MEASUREMENT, day=on(day), entry=entry, basis="elsewhere")

    writer = Writer()
    assert found(writer, also=[elsewhere("2026-02-01")]).proven[key].basis == "elsewhere"
    entry = writer.write("2026-02-01", proof_entry(HEIGHT, "", 0.1, Form.MEASUREMENT))
    assert found(writer, also=[elsewhere("2026-02-02")]).proven[key].entry == entry
    assert found(writer, also=[elsewhere("2026-02-01", entry=99)]).proven[key].entry == entry
    assert found(writer, also=[elsewhere("2026-02-02", entry=99)]).proven[key].entry == 99
    writer.write("2026-03-01", proof_entry(HEIGHT, "", 0.1, Form.MEASUREMENT, part="sill"))
    assert key in found(writer, also=[elsewhere("2026-02-02", entry=99)]).fallen


def test_what_is_known_but_no_proof_is_said_unless_something_proves_it():
    key = FactKey(HEIGHT.name)
    unproven = {key: "estimated in car.toml"}
    writer = Writer()
    assert found(writer, unproven=unproven).fallen == unproven
    writer.write("2026-02-01", proof_entry(HEIGHT, "", 0.1, Form.MEASUREMENT))
    assert found(writer, unproven=unproven).fallen == {}


@given(st.data())
def test_taking_any_one_entry_back_leaves_its_fact_unproven_and_no_other(data):
    writer = Writer()
    entries = {
        FactKey(LABEL.name): label(),
        FactKey(HEIGHT.name): proof_entry(HEIGHT, "", 0.1, Form.MEASUREMENT),
        FactKey(ANCHOR.name, "left"): proof_entry(ANCHOR, "left", (0.0, 0.0, 0.0), Form.MEASUREMENT),
        FactKey(ANCHOR.name, "right"): proof_entry(ANCHOR, "right", (0.0, 0.0, 0.0), Form.MEASUREMENT),
        FactKey(SUIT.name, "Sam"): proof_entry(SUIT, "Sam", YEAR, Form.LABEL),
    }
    written = {key: writer.write("2026-02-01", entry) for key, entry in entries.items()}
    taken = data.draw(st.sampled_from(sorted(entries)))
    writer.write("2026-02-02", Withdrawn(), corrects=written[taken])
    assert set(found(writer).proven) == set(entries) - {taken}


def test_what_failed_and_is_still_on_the_car_is_told_until_it_is_mended_or_off():
    writer = Writer()
    for name, area in (("hoses", Area.FRONT_LEFT), ("helmet", Area.KIT), ("net", Area.CABIN)):
        writer.part("2026-01-01", name, area=area, name=name.capitalize())
    writer.fit("2026-01-01", "hoses")
    for name in ("hoses", "helmet", "net"):
        writer.write("2026-05-31", PartFailed(part=name, what="braid showing"))
    assert found(writer).broken == (
        "Hoses, FL: braid showing",
        "Helmet: braid showing",
    )  # no net fitted
    assert found(writer, day=on("2026-05-30")).broken == ()
    writer.write("2026-06-01", PartInspected(part="hoses", found="new hose on, clear at full lock"))
    writer.write("2026-06-01", PartRemoved(part="helmet", fate=Fate.FAILED))
    assert found(writer).broken == ()
