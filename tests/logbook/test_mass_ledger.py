import math

from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from books import Writer, kilograms, on
from tintop.logbook.entries import Area, Fate, Measure, PartRemoved
from tintop.logbook.mass_ledger import SCALE_DOUBT, MassLedger, mass_ledger

DAY = on("2026-12-31")


def strip_and_fit_up() -> Writer:
    """Bought at 1050 kg: seats −30 ± 1, carpets −12 ± 2; then a cage, +38 ± 1.5."""
    book = Writer()
    book.part(
        "2026-01-01", "seats", area=Area.CABIN, mass=kilograms(30, 1), came_with_car=True, name="Rear seats"
    )
    book.part("2026-01-01", "carpets", area=Area.CABIN, mass=kilograms(12, 2), came_with_car=True)
    book.part("2026-01-01", "heater", area=Area.CABIN, came_with_car=True, name="Heater")
    book.read("2026-01-02", Measure.MASS, 1050)
    book.write("2026-01-10", PartRemoved(part="seats", fate=Fate.SOLD))
    book.write("2026-01-11", PartRemoved(part="carpets", fate=Fate.STRIPPED))
    book.part("2026-02-01", "cage", area=Area.CAGE, mass=kilograms(38, 1.5))
    book.fit("2026-02-02", "cage")
    return book


def ledger(book: Writer, day=DAY) -> MassLedger:
    return mass_ledger(book.book, day)


def test_lines_and_running_total_by_hand():
    lines = ledger(strip_and_fit_up()).lines
    assert [(line.name, line.change, line.running_change) for line in lines] == [
        ("Rear seats", -30, -30),
        ("Carpets", -12, -42),
        ("Cage", 38, -4),
    ]
    assert [line.running_uncertainty for line in lines] == approx(
        [1.0, math.sqrt(1 + 4), math.sqrt(1 + 4 + 1.5**2)]
    )


def test_sums():
    found = ledger(strip_and_fit_up())
    assert (found.taken_off, found.put_on) == (-42, 38)
    assert (found.bought, found.today) == (1050, 1046)
    assert found.today_uncertainty == approx(math.hypot(SCALE_DOUBT, math.sqrt(1 + 4 + 1.5**2)))


def test_the_scales_against_the_ledger_show_their_difference():
    """1050 − 42 = 1008 kg by the ledger, 1001 on the scales: 7 kg more went than was written down."""
    book = strip_and_fit_up()
    book.read("2026-01-20", Measure.MASS, 1001)
    first, second = ledger(book).weighings
    assert (first.ledger, first.difference) == (None, None)
    assert (second.ledger, second.difference) == (1008, -7)
    assert second.doubt == approx(math.sqrt(2 * SCALE_DOUBT**2 + 1 + 4))
    assert ledger(book).today == 1039  # the last weighing and the cage


def test_a_first_weighing_after_the_strip_gives_the_car_as_bought():
    book = strip_and_fit_up()
    book.entries = [entry for entry in book.entries if entry.number != 4]
    book.read("2026-03-01", Measure.MASS, 1046)
    found = ledger(book)
    assert found.bought == 1050
    assert found.bought_uncertainty == approx(math.hypot(SCALE_DOUBT, math.sqrt(1 + 4 + 1.5**2)))


def test_without_scales_there_is_no_mass_of_the_car():
    book = Writer()
    book.part("2026-01-01", "cage", area=Area.CAGE, mass=kilograms(38))
    book.fit("2026-01-02", "cage")
    found = ledger(book)
    assert (found.today, found.bought, found.weighings) == (None, None, ())
    assert found.lines[0].running_change == 38


def test_a_part_nobody_weighed_is_named():
    book = strip_and_fit_up()
    book.write("2026-03-01", PartRemoved(part="heater", fate=Fate.STRIPPED))
    found = ledger(book)
    assert found.unweighed == ("Heater",)
    assert found.lines[-1].change is None
    assert found.lines[-1].running_change == -4


def test_a_part_off_and_on_again_changes_nothing_and_leaves_no_doubt():
    book = strip_and_fit_up()
    book.write("2026-03-01", PartRemoved(part="cage", fate=Fate.KEPT))
    book.fit("2026-04-01", "cage")
    last = ledger(book).lines[-1]
    assert last.running_change == -4
    assert last.running_uncertainty == approx(math.sqrt(1 + 4 + 1.5**2))


def test_a_part_moved_to_another_corner_is_no_change_of_mass():
    book = Writer()
    book.part("2026-01-01", "wheel", area=Area.FRONT_LEFT, mass=kilograms(9))
    book.fit("2026-01-02", "wheel")
    book.fit("2026-02-02", "wheel", corner="RR")
    assert [line.change for line in ledger(book).lines] == [9]


def test_corner_loads_against_the_scales():
    """300 + 290 + 200 + 220 = 1010 kg, 4 kg more than the scales; front 590, left 500, cross 290 + 200."""
    book = strip_and_fit_up()
    book.read("2026-03-01", Measure.MASS, 1006)
    for corner, load in (("FL", 300), ("FR", 290), ("RL", 200), ("RR", 220)):
        book.read("2026-03-01", Measure.CORNER_LOAD, load, corner=corner)
        book.read("2026-03-01", Measure.CORNER_LOAD, load + 20, corner=corner, place="driver aboard")
    book.read("2026-03-02", Measure.CORNER_LOAD, 300, corner="FL")
    bare, aboard = ledger(book).corners
    assert (bare.total, bare.difference) == (1010, 4)
    assert (bare.front_share, bare.left_share, bare.cross_share) == approx(
        (590 / 1010, 500 / 1010, 490 / 1010)
    )
    assert (aboard.total, aboard.difference, aboard.place) == (1090, None, "driver aboard")


changes = st.lists(st.tuples(st.integers(1, 28), st.floats(0.1, 60.0), st.booleans()), max_size=15)


@settings(deadline=None)
@given(changes=changes)
def test_the_total_is_the_sum_of_the_lines(changes):
    book = Writer()
    for number, (day, mass, came) in enumerate(changes):
        name = f"part {number}"
        book.part("2026-01-01", name, area=Area.CABIN, mass=kilograms(mass, 0.5), came_with_car=came)
        if came:
            book.write(f"2026-02-{day:02d}", PartRemoved(part=name, fate=Fate.STRIPPED))
        else:
            book.fit(f"2026-02-{day:02d}", name)
    book.read("2026-01-05", Measure.MASS, 1000)
    found = ledger(book)
    total = sum(-mass if came else mass for _, mass, came in changes)
    assert sum(line.change or 0.0 for line in found.lines) == approx(total, abs=1e-9)
    assert found.today == approx(1000 + total)
    assert found.taken_off + found.put_on == approx(total, abs=1e-9)
    if changes:
        assert found.lines[-1].running_change == approx(total, abs=1e-9)
        assert found.lines[-1].running_uncertainty == approx(0.5 * math.sqrt(len(changes)))
