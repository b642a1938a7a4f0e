"""Two set-ups of a bench: the jobs alone, or both driven on the same day."""

from dataclasses import replace

import pytest

from benches import demo_bench
from tintop.car.setup_words import job_words
from tintop.errors import BadInput
from tintop.garage.setups import assumed_radii, compare_setups
from tintop.known import Origin


def test_without_a_circuit_nothing_is_driven() -> None:
    found = compare_setups(demo_bench(), "road", "wet")
    assert found.predicted is None and found.jobs
    assert (found.a.name, found.b.name) == ("Road drive", "Wet circuit")


def test_names_there_are_not_are_refused() -> None:
    with pytest.raises(BadInput, match="Did you mean wet"):
        compare_setups(demo_bench(), "road", "wat")
    with pytest.raises(BadInput, match="larkmoor"):
        compare_setups(demo_bench(), "road", "wet", "larkmor")


def test_the_minutes_of_the_worked_example() -> None:
    """As added up by hand in docs/theory/setups.md."""
    found = compare_setups(demo_bench(), "road", "dry")
    assert found.minutes == 2 * 12.5 + 45 + 35 + 35 + 20 + 10 + 25 + 40 + 4 * 4 + 2 * 8 == 267
    assert not found.untimed


def test_the_height_that_the_tyres_give_is_said_and_the_demo_measured_them() -> None:
    bench = demo_bench()
    assert assumed_radii(bench) == ()
    found = compare_setups(bench, "road", "dry")
    job = next(job for job in found.jobs if job.title == "Front ride height")
    assert (job.height_by_tyre, job.is_radius_assumed) == (pytest.approx(-0.002), False)
    words = job_words(job, bench.chassis, bench.settings.units)
    assert words[-1] == "2 mm of it by the smaller tyre."


def test_a_radius_of_the_class_is_said_to_be_assumed() -> None:
    bench = demo_bench()
    assumed = {
        path: replace(known, origin=Origin.ASSUMED) if path == "tyre_sets.2.front.radius" else known
        for path, known in bench.chassis_known.items()
    }
    bench = replace(bench, chassis_known=assumed)
    assert assumed_radii(bench) == ("road tyres",)
    for pair, words in (
        (("road", "dry"), "2 mm of it by the smaller tyre (radius assumed: measure both)."),
        (("dry", "road"), "2 mm of it by the larger tyre (radius assumed: measure both)."),
    ):
        job = next(job for job in compare_setups(bench, *pair).jobs if job.title == "Front ride height")
        assert job_words(job, bench.chassis, bench.settings.units)[-1] == words


def test_tyres_that_work_against_the_perches_are_said_to() -> None:
    bench = demo_bench()
    road = bench.setups["road"]
    lower = replace(road, corners=tuple(replace(one, ride_height=0.120) for one in road.corners))
    bench = replace(bench, setups={**bench.setups, "road": lower})
    job = next(job for job in compare_setups(bench, "dry", "road").jobs if job.title == "Front ride height")
    assert job_words(job, bench.chassis, bench.settings.units)[-1] == (
        "The larger tyre moves it 2 mm the other way."
    )
