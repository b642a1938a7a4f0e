"""A set-up's sheet as typed: what is shown reads back as the same set-up, whatever the owner's units."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setups_by_hand import chassis_by_hand, corner_by_hand, dry_by_hand
from tintop.car.setup import CornerSetup, Setup
from tintop.web.setup_sheet_form import label_of, read_setup_sheet, typed_setup
from tintop.web.typed_form import TypedForm
from tintop.web.understanding import Hand

CHASSIS = chassis_by_hand()


def _read(typed: dict[str, str], standing: Setup, units: dict[str, str]) -> tuple[Setup | None, TypedForm]:
    form = TypedForm(hand=Hand(units=units, currency="£", today=date(2026, 6, 15)), typed=typed)
    return read_setup_sheet(form, standing, CHASSIS, units, ("larkmoor",)), form


corners = st.builds(
    corner_by_hand,
    camber=st.floats(-0.09, 0.0),
    toe=st.floats(-0.01, 0.01),
    ride_height=st.floats(0.11, 0.138),
    bump=st.integers(0, 24),
    rebound=st.integers(0, 24),
    pressure_cold=st.floats(1.2e5, 2.8e5),
)


@given(st.tuples(corners, corners, corners, corners), st.sampled_from(["bar", "psi", "kPa"]))
def test_a_sheet_typed_as_it_is_shown_is_the_same_sheet(
    four: tuple[CornerSetup, CornerSetup, CornerSetup, CornerSetup], unit: str
) -> None:
    """Over another sheet, so that every field is read and none merely kept; what is far is meant."""
    linked = tuple(replace(one, bump=one.rebound) for one in four)
    setup = replace(dry_by_hand(), corners=linked)
    units = {"pressure": unit}
    typed, standing = typed_setup(setup, CHASSIS, units), replace(setup, corners=dry_by_hand().corners)
    _, asked = _read(dict(typed), standing, units)
    sure = {name: f"{typed[name]} sure" for name in asked.asks}
    found, form = _read({**typed, **sure}, standing, units)
    assert form.is_good, (form.problems, form.asks)
    assert found is not None
    for one, other in zip(found.corners, setup.corners, strict=True):
        assert one.camber == pytest.approx(other.camber, abs=1e-7)
        assert one.toe == pytest.approx(other.toe, abs=1e-7)
        assert one.ride_height == pytest.approx(other.ride_height, abs=1e-8)
        assert (one.bump, one.rebound) == (other.bump, other.rebound)
        assert one.pressure_cold == pytest.approx(other.pressure_cold, rel=1e-6)


def test_what_was_not_touched_keeps_its_last_digit() -> None:
    setup = replace(dry_by_hand(), corners=(corner_by_hand(camber=-1 / 31, toe=1 / 777),) * 4)
    found, _ = _read(typed_setup(setup, CHASSIS, {}), setup, {})
    assert found == setup


def test_labels_name_the_corner_or_the_end() -> None:
    assert label_of("pressure_cold_FL") == "FL, cold pressure"
    assert label_of("bar_hole_rear") == "Rear hole"
    assert label_of("bias_turns") == "Bias turns"


@pytest.mark.parametrize("turns", ["", "0_4", "1_0", "nan", "1e9", "-1"])
def test_turns_that_are_no_number_or_none_are_asked_for_and_never_taken_as_nought(turns: str) -> None:
    setup = dry_by_hand()
    found, form = _read({**typed_setup(setup, CHASSIS, {}), "bias_turns": turns}, setup, {})
    assert found is None and "bias_turns" in form.problems
