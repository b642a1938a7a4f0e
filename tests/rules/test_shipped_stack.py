"""The shipped books laid on one another: whose figure decides, and what the reader is told of it."""

from datetime import date

import pytest

from inspections import PHOTOGRAPH, proven
from shipped_rules import books
from tintop.rules.evidence import Form
from tintop.rules.findings import Finding, Inspection, Ruling
from tintop.rules.inspect import inspect
from tintop.rules.stack import stacked

AT_LARKMOOR = ("international", "united_kingdom_club", "harrow_down_series", "larkmoor_bulletin")
EVENT = date(2026, 6, 20)


def inspection(
    written: dict[str, str], to: str = "larkmoor_bulletin", form: Form = Form.MEASUREMENT, on: date = EVENT
) -> Inspection:
    """A car inspected under the books up to one of them."""
    by_id, facts = books()
    stack = stacked([by_id[id] for id in AT_LARKMOOR[: AT_LARKMOOR.index(to) + 1]])
    return inspect(stack, facts, proven(facts, written, form=form, papers=(PHOTOGRAPH,)), on, on)


def on(clause: str, found: Inspection) -> Finding:
    """The finding of the requirement that begins with a clause."""
    (finding,) = [one for one in found.findings if one.id == clause]
    return finding


@pytest.mark.parametrize(
    ("level", "to", "ruling", "decided_by"),
    [
        ("103 dB(A) ± 0.5 dB(A)", "united_kingdom_club", Ruling.PASS, "united_kingdom_club:noise-level"),
        ("103 dB(A) ± 0.5 dB(A)", "harrow_down_series", Ruling.FAIL, "harrow_down_series:noise"),
        ("99 dB(A) ± 0.5 dB(A)", "harrow_down_series", Ruling.PASS, "harrow_down_series:noise"),
        ("99 dB(A) ± 0.5 dB(A)", "larkmoor_bulletin", Ruling.FAIL, "larkmoor_bulletin:noise"),
        ("97 dB(A) ± 0.5 dB(A)", "larkmoor_bulletin", Ruling.PASS, "larkmoor_bulletin:noise"),
        ("97.6 dB(A) ± 0.5 dB(A)", "larkmoor_bulletin", Ruling.NOT_PROVEN, "larkmoor_bulletin:noise"),
    ],
)
def test_the_lowest_noise_figure_decides(level: str, to: str, ruling: Ruling, decided_by: str):
    finding = on("united_kingdom_club:noise-level", inspection({"noise.level": level}, to))
    assert (finding.ruling, finding.decided_by) == (ruling, decided_by)


def test_the_bulletin_waives_the_rear_decal_and_says_so():
    without = {"harrow_down.decal_width[rear]": "0 mm", "harrow_down.decal_height[rear]": "0 mm"}
    for to, ruling in (("harrow_down_series", Ruling.FAIL), ("larkmoor_bulletin", Ruling.NOT_APPLICABLE)):
        assert on("harrow_down_series:decal-rear", inspection(without, to)).ruling is ruling
    waived = on("harrow_down_series:decal-rear", inspection(without))
    assert "larkmoor_bulletin:no-rear-decal" in waived.reason


@pytest.mark.parametrize(
    ("standard", "label", "to", "ruling"),
    [
        ("8853-2016", "2023", "international", Ruling.EXPIRES),
        ("8853-2016", "2023", "united_kingdom_club", Ruling.PASS),
        ("8853-2016", "2020", "united_kingdom_club", Ruling.EXPIRES),
        ("8853/98", "2026", "united_kingdom_club", Ruling.PASS),
        ("8853/98", "2025", "united_kingdom_club", Ruling.EXPIRES),
    ],
)
def test_a_harness_runs_out_by_the_book_on_top(standard: str, label: str, to: str, ruling: Ruling):
    written = {"harness.standard": standard, "harness.label": label}
    found = inspection(written, to, Form.LABEL)
    rulings = {one.ruling for one in found.findings if "harness-date" in one.id}
    assert rulings - {Ruling.NOT_APPLICABLE} == {ruling}


@pytest.mark.parametrize(
    ("discipline", "ruling"), [("endurance race", Ruling.EXPIRES), ("rally", Ruling.PASS)]
)
def test_two_more_years_for_a_seat_in_rallies_alone(discipline: str, ruling: Ruling):
    written = {
        "seat.standard": "8855-1999",
        "seat.label_form": "not valid after",
        "seat.not_after": "2024",
        "car.discipline": discipline,
    }
    found = inspection(written, "united_kingdom_club", Form.LABEL)
    assert on("international:seat-not-after-label", found).ruling is ruling


def test_the_helmet_of_2015_outlasts_the_international_list():
    written = {"drivers": "Robin", "kit.helmet_standard[Robin]": "SA2015"}
    for to, ruling in (("international", Ruling.EXPIRES), ("united_kingdom_club", Ruling.PASS)):
        assert on("international:helmet-standard", inspection(written, to, Form.LABEL)).ruling is ruling


def test_a_tensile_figure_does_not_stand_for_the_yield():
    found = inspection(
        {"cage.route": "drawings", "cage.tensile_strength": "420 N/mm2"},
        "united_kingdom_club",
        Form.CERTIFICATE,
    )
    assert on("international:steel-yield", found).ruling is Ruling.NOT_PROVEN
    assert on("international:steel-tensile", found).ruling is Ruling.NOT_APPLICABLE


def test_the_series_own_rule_takes_the_place_of_one_from_memory():
    lamp = {"lights.rain_outline": "0 0, 60 0, 60 60, 0 60 mm ± 0 mm", "lights.rain_power": "21 W"}
    lamp |= {"lights.rain_is_listed_led": "no"}
    national = on("international:rain-light-list", inspection(lamp, "united_kingdom_club"))
    assert (national.ruling, national.is_unverified) == (Ruling.NOT_PROVEN, True)
    series = on("international:rain-light-list", inspection(lamp))
    assert (series.ruling, series.decided_by) == (Ruling.PASS, "harrow_down_series:rain-lamp-area")


def test_a_season_later_the_old_books_settle_nothing():
    found = inspection({"noise.level": "90 dB(A) ± 0 dB(A)"}, on=date(2027, 6, 20))
    late = {one.book.id for one in found.left_open if "in force" in one.reason}
    assert late == {"united_kingdom_club", "harrow_down_series", "larkmoor_bulletin"}


def test_nothing_recorded_nothing_passes():
    found = inspection({})
    assert not found.of(Ruling.PASS)
    assert found.left_open
