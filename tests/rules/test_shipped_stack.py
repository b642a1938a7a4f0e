"""The shipped books laid on one another: whose figure decides, and what the reader is told of it."""

from datetime import date

import pytest

from inspections import PHOTOGRAPH, proven
from shipped_rules import books
from tintop.rules.evidence import Form
from tintop.rules.facts import FactKind
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


@pytest.mark.parametrize(
    ("to", "strap", "ruling", "decided_by"),
    [
        ("international", {}, Ruling.NOT_PROVEN, "international:towing-webbing"),
        ("united_kingdom_club", {}, Ruling.FAIL, "united_kingdom_club:tow-eye-webbing"),
        ("harrow_down_series", {}, Ruling.NOT_PROVEN, "harrow_down_series:tow-strap"),
        ("harrow_down_series", {"width": "45 mm"}, Ruling.FAIL, "harrow_down_series:tow-strap"),
        ("harrow_down_series", {"width": "55 mm"}, Ruling.PASS, "harrow_down_series:tow-strap"),
    ],
)
def test_webbing_tows_only_where_a_book_allows_it_by_name(
    to: str, strap: dict[str, str], ruling: Ruling, decided_by: str
):
    written = {"towing.kind[front]": "webbing", "towing.kind[rear]": "rigid eye"}
    if strap:
        written |= {
            "harrow_down.tow_strap_width[front]": strap["width"],
            "harrow_down.tow_strap_strength[front]": "21 kN",
        }
    finding = on("international:towing-webbing", inspection(written, to))
    assert (finding.ruling, finding.decided_by) == (ruling, decided_by)


@pytest.mark.parametrize("to", ["international", "united_kingdom_club", "larkmoor_bulletin"])
def test_a_car_without_any_extinguisher_is_stopped(to: str):
    none = {
        "fire.system_list": "none fitted",
        "fire.hand_agent": "none carried",
        "car.discipline": "circuit race",
    }
    finding = on("international:extinguisher-required", inspection(none, to, Form.LABEL))
    assert (finding.ruling, finding.stops_racing) == (Ruling.FAIL, True)


@pytest.mark.parametrize("standard", ["SFI 16.6", "other", "none"])
@pytest.mark.parametrize("book", ["united_states_club", "new_zealand", "western_canada", "australia"])
def test_a_harness_whose_life_a_book_does_not_know_is_not_let_by(book: str, standard: str):
    by_id, facts = books()
    evidence = proven(facts, {"harness.standard": standard, "harness.is_sound": "yes"}, form=Form.LABEL)
    found = inspect(stacked([by_id[book]]), facts, evidence, EVENT, EVENT)
    assert on(f"{book}:harness-standard", found).stops_racing


def test_bolts_and_plates_of_cage_seat_and_harness_are_proven_anew_after_a_hard_hit():
    by_id, facts = books()
    forgotten = [
        f"{book.id}:{clause.id}"
        for book in by_id.values()
        for clause in book.clauses
        if clause.group in ("cage", "seat", "harness") and not clause.renewed_after_accident
        if any(facts[name].kind in (FactKind.BOLTS, FactKind.OUTLINE) for name in clause.facts)
    ]
    assert not forgotten


def test_a_hit_leaves_papers_and_steel_as_they_were_and_nothing_that_can_bend_or_tear():
    """Owner's caution: belts, seat, helmet, bolts, positions and soundness are always recorded anew."""
    facts = books()[1].values()
    lasting = [fact for fact in facts if fact.lasts_through_accident]
    renewed = [fact for fact in facts if fact.renewed_by_inspection]
    assert {fact.name.split(".")[0] for fact in lasting} == {"cage", "harness", "papers"}
    assert [fact.name for fact in lasting if fact.name.startswith("harness.")] == ["harness.sheet_strength"]
    assert {fact.name for fact in renewed if not fact.name.startswith("cage.")} == set()
    figures = {FactKind.TUBE, FactKind.OUTLINE, FactKind.NUMBER, FactKind.NUMBERS}
    assert {fact.kind for fact in renewed} == figures
    assert not {fact.kind for fact in lasting} & {
        FactKind.POINT,
        FactKind.BOLTS,
        FactKind.OUTLINE,
        FactKind.TUBE,
    }
    assert not [fact.name for fact in (*lasting, *renewed) if "sound" in fact.name or "altered" in fact.name]
    assert not set(lasting) & set(renewed)


def test_a_book_that_stands_alone_says_that_it_holds_some_figures_only():
    """All but the international one, which holds too much from memory to let a car by."""
    alone = {book.id for book in books()[0].values() if not book.builds_on}
    assert {id for id in alone if not books()[0][id].is_partial} == {"international"}


def test_a_season_later_the_old_books_settle_nothing():
    found = inspection({"noise.level": "90 dB(A) ± 0 dB(A)"}, on=date(2027, 6, 20))
    late = {one.book.id for one in found.left_open if "in force" in one.reason}
    assert late == {"united_kingdom_club", "harrow_down_series", "larkmoor_bulletin"}


def test_nothing_recorded_nothing_passes():
    found = inspection({})
    assert not found.of(Ruling.PASS)
    assert found.left_open
