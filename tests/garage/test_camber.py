"""Camber asked of a bench: which circuit, and what is said without one."""

from dataclasses import replace

import pytest

from benches import demo_bench
from tintop.errors import BadInput
from tintop.garage.camber import circuit_for


def test_camber_without_a_circuit_says_what_file_will_do():
    bench = replace(demo_bench(), circuits={})
    with pytest.raises(BadInput, match="A trace of one lap will do"):
        circuit_for(bench, replace(bench.setup("dry"), circuit=""))
