import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from books import Writer, on
from tintop.logbook.book import logbook_of
from tintop.logbook.build import Build, build_on, part_history
from tintop.logbook.entries import (
    Area,
    Fate,
    PaperAdded,
    PartFailed,
    PartInspected,
    PartRemoved,
    Withdrawn,
)


def names(parts) -> list[str]:
    return [each.part.part for each in parts]


def test_parts_stand_on_the_car_on_the_shelf_or_gone():
    book = Writer()
    book.part("2026-01-01", "rear seat", area=Area.CABIN, came_with_car=True)
    book.part("2026-01-02", "pads a")
    book.part("2026-01-02", "pads b")
    book.write("2026-01-10", PartRemoved(part="rear seat", fate=Fate.STRIPPED))
    book.fit("2026-01-12", "pads a")
    build = build_on(book.book, on("2026-02-01"))
    assert names(build.fitted) == ["pads a"]
    assert names(build.shelf) == ["pads b"]
    assert names(build.gone) == ["rear seat"]
    assert build.by_name["rear seat"].gone_on == on("2026-01-10")
    assert build.by_name["pads a"].since == on("2026-01-12")


def test_the_build_on_an_earlier_day_is_the_one_that_was():
    book = Writer()
    book.part("2026-01-01", "rear seat", area=Area.CABIN, came_with_car=True)
    book.write("2026-01-10", PartRemoved(part="rear seat", fate=Fate.STRIPPED))
    assert names(build_on(book.book, on("2026-01-09")).fitted) == ["rear seat"]
    assert names(build_on(book.book, on("2026-01-10")).fitted) == []
    assert names(build_on(book.book, on("2025-12-31")).fitted) == []


def test_a_part_replaced_goes_to_the_shelf_unless_its_fate_is_told():
    book = Writer()
    book.part("2026-01-01", "pads a")
    book.part("2026-01-01", "pads b")
    book.part("2026-01-01", "pads c")
    book.fit("2026-01-02", "pads a")
    book.fit("2026-03-01", "pads b", replaces="pads a")
    book.fit("2026-04-01", "pads c", replaces="pads b")
    book.write("2026-04-01", PartRemoved(part="pads b", fate=Fate.SCRAPPED, reason="worn"))
    build = build_on(book.book, on("2026-05-01"))
    assert (names(build.fitted), names(build.shelf), names(build.gone)) == (
        ["pads c"],
        ["pads a"],
        ["pads b"],
    )
    assert build.gone[0].reason == "worn"


def test_a_part_swapped_from_corner_to_corner_changes_area():
    book = Writer()
    book.part("2026-01-01", "hub", area=Area.FRONT_LEFT)
    book.fit("2026-01-02", "hub")
    book.fit("2026-03-01", "hub", corner="RR")
    before, after = build_on(book.book, on("2026-02-01")), build_on(book.book, on("2026-03-01"))
    assert (before.fitted[0].corner, before.fitted[0].area) == ("FL", Area.FRONT_LEFT)
    assert (after.fitted[0].corner, after.fitted[0].area) == ("RR", Area.REAR_RIGHT)
    assert [stay.until for stay in after.fitted[0].fittings] == [on("2026-03-01"), None]


def test_a_part_off_and_on_again_on_one_day_is_on():
    book = Writer()
    book.part("2026-01-01", "gearbox", area=Area.ENGINE_BAY)
    book.fit("2026-01-02", "gearbox")
    book.fit("2026-03-01", "gearbox")
    book.write("2026-03-01", PartRemoved(part="gearbox", fate=Fate.KEPT, reason="seal"))
    assert names(build_on(book.book, on("2026-03-01")).fitted) == ["gearbox"]


def test_a_part_on_for_one_day_only_is_off_in_the_evening():
    book = Writer()
    book.part("2026-01-01", "lent wheels", area=Area.OUTSIDE)
    book.write("2026-03-01", PartRemoved(part="lent wheels", fate=Fate.KEPT))
    book.fit("2026-03-01", "lent wheels")
    assert names(build_on(book.book, on("2026-03-01")).shelf) == ["lent wheels"]


def test_clocks_decide_within_a_day():
    book = Writer()
    book.part("2026-01-01", "pads a")
    book.write("2026-03-01", PartRemoved(part="pads a", fate=Fate.KEPT), clock="9:05")
    book.fit("2026-03-01", "pads a", clock="16:00")
    book.fit("2026-03-01", "pads a", clock="8:00")
    stays = build_on(book.book, on("2026-03-01")).fitted[0].fittings
    assert [(stay.since_clock, stay.until_clock) for stay in stays] == [
        ("08:00", "09:05"),
        ("16:00", "24:00"),
    ]


def test_a_failure_stands_until_the_part_is_found_good():
    book = Writer()
    book.part("2026-01-01", "hub")
    book.fit("2026-01-02", "hub")
    book.write("2026-03-01", PartFailed(part="hub", what="play"))
    book.write("2026-03-05", PartInspected(part="hub", found="nut was loose, no play"))
    assert build_on(book.book, on("2026-03-04")).fitted[0].failed[0].what == "play"
    assert build_on(book.book, on("2026-03-05")).fitted[0].failed == ()


def test_an_inspection_without_words_ends_no_failure():
    book = Writer()
    book.part("2026-01-01", "hoses")
    book.fit("2026-01-02", "hoses")
    book.write("2026-03-01", PartFailed(part="hoses", what="braid showing"))
    book.write("2026-03-05", PartInspected(part="hoses"))
    assert build_on(book.book, on("2026-03-06")).fitted[0].failed
    book.write("2026-03-06", PartInspected(part="hoses", found="both replaced, no weep at 80 bar"))
    assert build_on(book.book, on("2026-03-06")).fitted[0].failed == ()


def test_on_one_day_what_was_first_written_later_or_has_the_later_clock_counts():
    book = Writer()
    book.part("2026-01-01", "hub")
    book.fit("2026-01-02", "hub")
    morning = book.write("2026-03-01", PartInspected(part="hub", found="no play"))
    book.write("2026-03-01", PartFailed(part="hub", what="play"))
    book.write("2026-03-01", PartInspected(part="hub", found="no play at all"), corrects=morning)
    assert build_on(book.book, on("2026-03-01")).fitted[0].failed
    book.write("2026-03-01", PartInspected(part="hub", found="nut was loose, no play now"))
    assert build_on(book.book, on("2026-03-01")).fitted[0].failed == ()
    book.write("2026-04-01", PartFailed(part="hub", what="play"), clock="15:00")
    book.write("2026-04-01", PartInspected(part="hub", found="no play"), clock="9:00")
    assert build_on(book.book, on("2026-04-01")).fitted[0].failed


def test_papers_about_a_part_stand_with_it():
    book = Writer()
    book.part("2026-01-01", "harness", area=Area.CABIN)
    paper = PaperAdded(digest="ab", name="label.jpg", media_type="image/jpeg", size=3, about="harness")
    book.write("2026-01-03", paper)
    assert build_on(book.book, on("2026-02-01")).shelf[0].papers == (paper,)


def test_a_part_never_entered_is_named():
    book = Writer()
    book.fit("2026-01-02", "ghost")
    added = book.part("2026-01-02", "hub")
    book.fit("2026-01-03", "hub")
    assert build_on(book.book, on("2026-02-01")).unknown == ("ghost",)
    book.write("2026-01-04", Withdrawn(), corrects=added)
    assert build_on(book.book, on("2026-02-01")).unknown == ("ghost", "hub")


def test_history_tells_all_that_happened_in_order():
    book = Writer()
    book.part("2026-01-01", "pads a")
    book.part("2026-01-01", "pads b")
    book.fit("2026-01-02", "pads a")
    book.fit("2026-03-01", "pads b", replaces="pads a")
    book.write("2026-03-01", PartRemoved(part="pads a", fate=Fate.SCRAPPED, reason="at the plate"))
    assert [(event.day.isoformat(), event.what) for event in part_history(book.book, "pads a")] == [
        ("2026-01-01", "added"),
        ("2026-01-02", "fitted"),
        ("2026-03-01", "made way for pads b"),
        ("2026-03-01", "taken off, scrapped: at the plate"),
    ]


def without_numbers(build: Build) -> Build:
    """The build with nothing in it that tells the order of writing."""
    plain = {
        name: replace(
            part,
            entry=0,
            fittings=tuple(
                replace(stay, entry=0, until_entry=None if stay.until is None else 0)
                for stay in part.fittings
            ),
        )
        for name, part in build.by_name.items()
    }
    return replace(
        build,
        fitted=tuple(plain[name] for name in names(build.fitted)),
        shelf=tuple(plain[name] for name in names(build.shelf)),
        gone=tuple(plain[name] for name in names(build.gone)),
        by_name=plain,
    )


@pytest.mark.parametrize("clocked", [False, True])
@settings(deadline=None)
@given(
    moves=st.lists(
        st.tuples(st.integers(1, 28), st.sampled_from(["a", "b"]), st.booleans()),
        max_size=12,
        unique_by=lambda move: (move[0], move[1], move[2]),
    ),
    seed=st.integers(0, 1000),
)
def test_the_order_of_writing_does_not_matter(clocked, moves, seed):
    def written(order):
        book = Writer()
        for part in ("a", "b"):
            book.part("2026-01-01", part)
        for day, part, is_on in order:
            clock = f"{10 + 2 * is_on}:00" if clocked else ""
            if is_on:
                book.fit(f"2026-02-{day:02d}", part, clock=clock)
            else:
                book.write(f"2026-02-{day:02d}", PartRemoved(part=part, fate=Fate.KEPT), clock)
        return without_numbers(build_on(logbook_of(book.entries), on("2026-03-01")))

    shuffled = list(moves)
    random.Random(seed).shuffle(shuffled)
    assert written(moves) == written(shuffled)
