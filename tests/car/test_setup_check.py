"""Whether a set-up fits the chassis, without a file."""

from dataclasses import replace

import pytest

from benches import demo_bench
from tintop.car.chassis import End
from tintop.car.setup_check import check_setup, setup_problems
from tintop.errors import BadInput


def test_the_demo_s_set_ups_fit_its_chassis():
    bench = demo_bench()
    for setup in bench.setups.values():
        check_setup(setup, bench.chassis)


def test_every_problem_is_named_with_the_set_up_and_the_field():
    bench = demo_bench()
    setup = bench.setup("dry").with_pair(End.REAR, rebound=11)
    setup = replace(setup, front=replace(setup.front, bar="thick"), pads="none", brake_bias_turns=99.0)
    with pytest.raises(BadInput) as caught:
        check_setup(setup, bench.chassis)
    where = [problem.where for problem in caught.value.problems]
    assert where == [
        "set-up Dry circuit, pads",
        "set-up Dry circuit, front.bar",
        "set-up Dry circuit, RL.rebound",
        "set-up Dry circuit, RR.rebound",
        "set-up Dry circuit, brake_bias_turns",
    ]


def test_one_knob_turns_both_ways_alike():
    bench = demo_bench()
    front = bench.chassis.front
    linked = replace(front.dampers[0], is_linked=True)
    chassis = replace(bench.chassis, front=replace(front, dampers=(linked,)))
    dry = bench.setup("dry")
    assert [each.where for each in setup_problems(dry, chassis)] == ["FL.bump", "FR.bump"]
    assert setup_problems(dry.with_pair(End.FRONT, bump=10), chassis) == ()
