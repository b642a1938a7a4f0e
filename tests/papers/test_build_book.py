from datetime import date

import pytest
from printed import TODAY, bare, furthest_right, is_a4, pages, said

from tintop.garage.keeper import Garage
from tintop.garage.papers import build_book, build_book_content
from tintop.logbook.amounts import written_money
from tintop.logbook.build import build_on
from tintop.logbook.entries import (
    Area,
    Basis,
    CostKind,
    CostPaid,
    Counter,
    Draft,
    LifeLimit,
    Measure,
    PaperAdded,
    PartAdded,
    PartFailed,
    PartFitted,
    Reading,
    Remark,
    SupportReceived,
)
from tintop.logbook.mass_ledger import mass_ledger
from tintop.logbook.proof_entries import AccidentHappened, ProofRecorded
from tintop.logbook.sessions import sessions
from tintop.settings import Settings
from tintop.store.garage_store import Store


@pytest.fixture(scope="module")
def owners(demo) -> bytes:
    return build_book(demo, public=False)


@pytest.fixture(scope="module")
def public(demo) -> bytes:
    return build_book(demo, public=True)


def money_of(book, currency: str) -> set[str]:
    cents = {part.price_cents for _, part in book.of(PartAdded)}
    cents |= {cost.cents for _, cost in book.of(CostPaid)}
    cents |= {help.list_price_cents for _, help in book.of(SupportReceived)}
    return {written_money(each, currency) for each in cents if each}


def test_every_part_failure_session_and_paper_is_in_it(demo, owners):
    printed, book = said(owners), demo.book
    assert all(bare(part.title) in printed for part in build_on(book, TODAY).fitted)
    assert all(bare(failure.what) in printed for _, failure in book.of(PartFailed))
    assert all(paper.digest in printed for _, paper in book.of(PaperAdded))
    assert all(bare(each.run.remarks) in printed for each in sessions(book, TODAY))
    assert "STILLONTHECAR" in printed


def test_the_ledger_ends_where_the_fold_says_and_names_every_weighing(demo, owners):
    ledger = mass_ledger(demo.book, TODAY)
    printed = " ".join(pages(owners))
    for each in ledger.weighings:
        assert f"The whole car on the scales: {each.mass:.1f} kg" in printed
    assert ledger.bought is not None
    assert f"{ledger.bought + ledger.lines[-1].running_change:.1f} kg" in printed
    assert f"{ledger.today:.1f} kg ± {ledger.today_uncertainty:.1f} kg" in printed
    rows = next(
        block
        for chapter in build_book_content(demo, public=False).chapters
        for block in chapter.blocks
        if getattr(block, "title", "").startswith("Strip-out")
    ).rows
    assert len(rows) == len(ledger.lines) + len(ledger.weighings)


def test_numbers_carry_who_measured_and_with_what(owners):
    printed = " ".join(pages(owners))
    assert "owner, micrometer" in printed
    assert "helper, needle probe" in printed
    assert "four borrowed corner scales" in printed


def test_a_part_that_made_way_names_the_other_and_other_words_stay_as_typed(owners):
    printed = said(owners)
    assert "madewayforFrontwheelbearingkit,right,second" in printed
    assert "blue,bearingseatscored" in printed  # "seat" is also the short name of a part


def test_gaps_are_shown(owners):
    last = " ".join(pages(owners)[-2:])
    assert "What this book does not hold" in last
    assert "never weighed" in last and "without a maker's number" in last
    assert "No rule book has been held against this car" in last


def test_the_owner_reads_prices_and_the_public_none(demo, owners, public):
    sums = money_of(demo.book, "£")
    owners_words, public_words = said(owners), said(public)
    assert len([each for each in sums if each in owners_words]) > 40
    assert "£" not in public_words
    assert not [each for each in sums if each.removeprefix("£").endswith(".00") and each in public_words]
    assert not [word for word in ("Costs", "paid", "listsat", "fifthoff") if word in public_words]
    assert "Publicedition" in public_words and "Owner'sedition" in owners_words


def test_sums_typed_into_words_do_not_reach_the_public(tmp_path):
    with_sums = [
        PartAdded(
            part="seat",
            name="Seat, £265 new",
            family="seat",
            area=Area.CABIN,
            position=(-1.0, 0.3, 0.4),
            price_cents=26500,
        ),
        PartFitted(part="seat"),
        PartFailed(part="seat", what="cracked, 40 pounds to mend"),
        Remark(text="bought for 1,450 GBP", about="car"),
        CostPaid(cost_kind=CostKind.SAFETY, cents=26500, what="seat"),
        SupportReceived(
            support="s", supporter="A shop", what="belt for $90", list_price_cents=9000, owed="€5 card"
        ),
    ]
    garage = _garage(tmp_path, with_sums)
    owners, public = said(build_book(garage, public=False)), said(build_book(garage, public=True))
    garage.close()
    for words in ("£265", "40pounds", "1,450GBP", "$90", "€5"):
        assert words in owners
        assert words not in public
    assert "Seat,[sumleftout]new" in public
    assert "Ashop" in owners and "Ashop" not in public


def table(book, title):
    return next(
        block
        for chapter in book.chapters
        for block in chapter.blocks
        if getattr(block, "title", "").startswith(title)
    )


def chapter(book, title):
    return next(each for each in book.chapters if each.title.startswith(title))


def test_no_supporter_reads_in_the_public_edition_what_another_gave_or_is_owed(demo, owners, public):
    owners_words, public_words = said(owners), said(public)
    received = [help_ for _, help_ in demo.book.of(SupportReceived)]
    assert received and all(bare(help_.owed) in owners_words for help_ in received)
    for help_ in received:
        assert not help_.owed or bare(help_.owed) not in public_words
    assert "Supportinkind" not in public_words


def test_failed_parts_stand_above_the_drawing_in_both_editions(demo, owners, public):
    for pdf in (owners, public):
        first = bare(pages(pdf)[0])
        told = first.index("Failedandstillonthecar:Brakehoses,braided,setoffour:frontlefthose")
        assert told < first.index("Cornerloads")
    sound = build_book_content(demo, public=False)
    assert len(sound.failed) == 1


def test_a_failed_part_is_never_listed_as_good_or_due_and_has_nothing_left(tmp_path):
    hours = LifeLimit(counter=Counter.RUNNING, limit=36000.0, basis=Basis.COMMON_PRACTICE, action="inspect")
    seat = PartAdded(
        part="seat", name="Seat", family="seat", area=Area.CABIN, position=(-1.0, 0.3, 0.4), limits=(hours,)
    )
    garage = _garage(tmp_path, [seat, PartFitted(part="seat"), PartFailed(part="seat", what="cracked")])
    book = build_book_content(garage, public=True)
    garage.close()
    (lives,) = [block for block in chapter(book, "Hours").blocks if hasattr(block, "rows")]
    ((_, _, _, left, _, _, state),) = lives.rows
    assert (left, state) == ("–", "failed")
    assert lives.bars == (None,) and lives.strong == {0}
    assert book.failed == ("Failed and still on the car: Seat: cracked",)


@pytest.mark.parametrize("is_public", [True, False])
def test_safety_kit_within_its_rule_is_called_in_date_and_never_good(demo, is_public):
    (lives,) = [
        block
        for block in chapter(build_book_content(demo, is_public), "Hours").blocks
        if hasattr(block, "rows")
    ]
    by_rule = [row for row in lives.rows if row[5].startswith("rule")]
    assert by_rule and any(row[6] == "in date by the label, not inspected" for row in by_rule)
    assert not [row for row in lives.rows if "good" in row[6] or "✓" in row[6]]


def test_a_guessed_unit_is_said_once_above_the_readings(demo):
    readings = table(build_book_content(demo, public=False), "Other readings")
    assert "read from the size of the number" in readings.note
    guessed = [row for row in readings.rows if row[3].endswith(" *")]
    assert len(guessed) > 10
    assert not [row for row in readings.rows if "guessed" in row[3]]


def test_corner_loads_tell_the_fuel_aboard_or_that_nobody_wrote_it_down(demo, tmp_path):
    loads = table(build_book_content(demo, public=False), "Corner loads")
    assert loads.rows[0][2] == "bars unhooked, tank dry, driver 84 kg"
    corners = [
        Reading(measure=Measure.CORNER_LOAD, corner=corner, value=250.0)
        for corner in ("FL", "FR", "RL", "RR")
    ]
    for number, (more, aboard) in enumerate(
        ([[], "fuel not written down"], [[Reading(measure=Measure.FUEL_ABOARD, value=0.012)], "12.0 L"])
    ):
        garage = _garage(tmp_path / str(number), [*corners, *more])
        assert table(build_book_content(garage, public=False), "Corner loads").rows[0][2] == aboard
        garage.close()


def test_camber_stands_in_degrees_with_a_true_minus(demo):
    (setup,) = [
        block
        for block in chapter(build_book_content(demo, public=False), "Set-up").blocks
        if hasattr(block, "rows")
    ]
    rows = {row[0]: row[1:6] for row in setup.rows}
    assert rows["camber"] == ("", "−2.9°", "−2.9°", "−1.8°", "−1.8°")
    assert rows["toe"][1] == "1 mm out per wheel"


def test_it_is_a4_within_its_margins_and_the_same_each_time(demo, owners):
    assert is_a4(owners)
    assert furthest_right(owners) < 595.28 - 19.0 / 25.4 * 72.0
    assert build_book(demo, public=False) == owners


def _paper(digest: str, about: str = "") -> PaperAdded:
    return PaperAdded(digest=digest * 64, name=f"{digest}.jpg", media_type="image/jpeg", size=9, about=about)


def test_the_public_edition_holds_no_paper_of_a_person_and_nothing_of_who_proved_what(tmp_path):
    licence = ProofRecorded(
        fact="papers.driver_licence_until",
        each="Robin Redbreast",
        form="photograph",
        fact_kind="marked date",
        marked=date(2026, 12, 31),
        marked_to="day",
        serial="LICENCE-4711",
        papers=("a" * 64, "b" * 64),
    )
    belts = PartAdded(part="belts", name="Belts", family="belts", area=Area.CABIN)
    garage = _garage(tmp_path, [belts, _paper("a"), _paper("b", "belts"), _paper("c"), licence])
    owners, public = (said(build_book(garage, public=each)) for each in (False, True))
    garage.close()
    assert all(digest * 64 in owners for digest in "abc")
    assert "a" * 64 not in public and "b" * 64 in public and "c" * 64 in public
    assert all(private not in public for private in ("Redbreast", "4711"))


def test_accidents_are_told_in_both_editions(tmp_path):
    garage = _garage(tmp_path, [AccidentHappened(what="into the tyres, left front")])
    for public in (False, True):
        assert bare("into the tyres, left front") in said(build_book(garage, public=public))
    garage.close()


def test_an_empty_garage_has_a_book_that_says_so(tmp_path):
    garage = _garage(tmp_path, [])
    printed = " ".join(pages(build_book(garage, public=False)))
    garage.close()
    assert "The whole car was never weighed." in printed
    assert "The car has not run on a circuit." in printed
    assert "No drawing" in printed


def _garage(folder, matters) -> Garage:
    garage = Garage(Store.create(folder / "small", Settings(title="Small")), today=lambda: date(2026, 6, 15))
    drafts = [
        Draft(key=str(place), day=date(2026, 5, 1), who="Sam", matter=matter)
        for place, matter in enumerate(matters)
    ]
    if drafts:
        garage.record(drafts)
    return garage
