"""Gearing on the page: the ranking, the saw-tooth, and what was typed."""

import pytest
from chassis_described import describe_chassis


@pytest.fixture
def bench(garage, page):
    describe_chassis(garage, "dry")
    return page


def test_the_gearbox_is_drawn_and_gearings_are_ranked(bench):
    found = bench.get("/bench/gearing", params={"circuit": "larkmoor", "more": "3.8 4,4", "part": "answer"})
    assert found.status_code == 200
    assert 'id="gears-wide-title"' in found.text
    for drive in ("3.8", "4.06", "4.25", "4.4"):
        assert f'<th scope="row">{drive}</th>' in found.text


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ("long", "ratios with spaces"),
        ("1 2 3 4 5", "at most 4"),
        ("99", "0.5 to 12"),
        ("4_2", "ratios with spaces"),
    ],
)
def test_what_is_no_final_drive_is_said_at_its_field(bench, more, says):
    found = bench.get("/bench/gearing", params={"circuit": "larkmoor", "more": more})
    assert found.status_code == 422
    assert says in found.text
    assert f'value="{more}"' in found.text


def test_a_garage_without_a_chassis_is_told_what_to_do(page):
    assert "chassis.toml" in page.get("/bench/gearing").text
