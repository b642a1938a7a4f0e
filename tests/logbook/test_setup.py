import math

from books import Writer, on
from tintop.logbook.entries import SetupChanged
from tintop.logbook.setup import setup_changes, setup_on


def book() -> Writer:
    writer = Writer()
    writer.write("2026-03-01", SetupChanged(item="camber", corner="FL", value=math.radians(-2.0)))
    writer.write("2026-03-01", SetupChanged(item="camber", corner="FR", value=math.radians(-2.0)))
    writer.write("2026-03-01", SetupChanged(item="front bar", written="hole 2", reason="as bought"))
    writer.write("2026-04-01", SetupChanged(item="camber", corner="FL", value=math.radians(-2.5)))
    writer.write("2026-04-01", SetupChanged(item="front bar", written="hole 3", reason="pushes wide"))
    return writer


def test_the_set_up_of_a_day():
    march = {(each.item, each.corner): each for each in setup_on(book().book, on("2026-03-31"))}
    april = {(each.item, each.corner): each for each in setup_on(book().book, on("2026-04-01"))}
    assert march["camber", "FL"].value == math.radians(-2.0)
    assert april["camber", "FL"].value == math.radians(-2.5)
    assert april["camber", "FR"].since == on("2026-03-01")
    assert april["front bar", ""].reason == "pushes wide"


def test_what_changed_between_two_days():
    changes = setup_changes(book().book, on("2026-03-31"), on("2026-04-30"))
    assert [(each.item, each.corner) for each in changes] == [("camber", "FL"), ("front bar", "")]
    assert changes[1].before is not None and changes[1].after is not None
    assert (changes[1].before.written, changes[1].after.written) == ("hole 2", "hole 3")


def test_nothing_changed_in_a_quiet_time():
    assert setup_changes(book().book, on("2026-04-01"), on("2026-12-01")) == ()


def test_one_value_for_the_whole_car_ends_those_of_its_corners():
    writer = book()
    writer.write("2026-05-01", SetupChanged(item="camber", value=math.radians(-1.0)))
    found = {(each.item, each.corner) for each in setup_on(writer.book, on("2026-05-01"))}
    assert found == {("camber", ""), ("front bar", "")}
    changes = setup_changes(writer.book, on("2026-04-30"), on("2026-05-01"))
    assert [(each.corner, each.before is None, each.after is None) for each in changes] == [
        ("", True, False),
        ("FL", False, True),
        ("FR", False, True),
    ]
