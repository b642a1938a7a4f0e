from books import HOUR, Writer, on
from tintop.logbook.entries import SupportReceived, SupportReturned
from tintop.logbook.support import SupportState, supporters

DAY = on("2026-07-01")


def book() -> Writer:
    """Two helps of 400 listed for 250 and 120 listed for nothing: 520 listed, 250 paid, 270 in kind."""
    writer = Writer()
    writer.part("2026-01-01", "pads", price_cents=25000)
    writer.fit("2026-01-02", "pads")
    writer.run("2026-03-01", "race", hours=2, laps=60)
    writer.write(
        "2026-01-01",
        SupportReceived(
            support="pads", supporter="Fell Friction", what="two sets of pads", list_price_cents=40000,
            paid_cents=25000, owed="photographs and wear figures", owed_by=on("2026-06-01"), part="pads",
        ),
    )  # fmt: skip
    writer.write(
        "2026-02-01",
        SupportReceived(
            support="stickers",
            supporter="Fell Friction",
            what="fluid",
            list_price_cents=12000,
            owed="a sticker",
        ),
    )
    writer.write(
        "2026-02-01",
        SupportReceived(support="van", supporter="Uncle", what="the van", list_price_cents=90000),
    )
    return writer


def test_values_and_what_is_owed_by_hand():
    fell, uncle = supporters(book().book, DAY)
    assert (fell.name, fell.list_cents, fell.paid_cents, fell.in_kind_cents) == (
        "Fell Friction",
        52000,
        25000,
        27000,
    )
    assert [item.state for item in fell.items] == [SupportState.OVERDUE, SupportState.OWED]
    assert (fell.owed, fell.overdue) == (2, 1)
    assert [item.state for item in uncle.items] == [SupportState.NOTHING_OWED]


def test_what_the_part_ran_is_told():
    item = supporters(book().book, DAY)[0].items[0]
    assert item.count is not None
    assert (item.count.running, item.count.laps) == (2 * HOUR, 60)
    assert supporters(book().book, DAY)[1].items[0].count is None


def test_a_debt_is_overdue_only_after_its_day():
    assert supporters(book().book, on("2026-06-01"))[0].overdue == 0


def test_something_returned_settles_only_when_it_says_so():
    writer = book()
    writer.write("2026-05-01", SupportReturned(support="pads", what="photographs", is_settled=False))
    assert supporters(writer.book, DAY)[0].items[0].state is SupportState.OVERDUE
    writer.write("2026-06-20", SupportReturned(support="pads", what="wear figures"))
    item = next(i for s in supporters(writer.book, DAY) for i in s.items if i.received.support == "pads")
    assert item.state is SupportState.SETTLED
    assert [each.what for each in item.returned] == ["photographs", "wear figures"]
