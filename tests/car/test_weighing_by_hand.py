"""The worked example of docs/theory/weighing.md: each number by the code, by hand, and on the page."""

from pathlib import Path

import numpy as np
import pytest

from tintop.physics.ballast import centre_with
from tintop.physics.constants import STANDARD_GRAVITY
from tintop.physics.corner_loads import FourCorners, lifts_for, responses
from tintop.physics.raised_weighing import RaisedDoubt, RaisedWeighing, cg_height_doubt, cg_height_raised
from tintop.physics.weighing import CornerWeights, cg_left_of_middle, slope_of_lift

PAGE = (Path(__file__).parents[2] / "docs" / "theory" / "weighing.md").read_text("utf-8")


def test_the_worked_example():
    corners = CornerWeights(312.0, 298.0, 251.0, 239.0)
    x, y = -(1.0 - corners.front_share) * 2.6, cg_left_of_middle(corners, 1.5, 1.5)
    raised = RaisedWeighing(*corners, 311.25, 311.25, 2.6, 0.40, 0.30, 0.30, True)
    pads = RaisedDoubt(pad=0.25, lift=0.0, wheelbase=0.0, hub=0.0)
    car = FourCorners(2.6, 1.5, 1.5, 42e3, 30e3, 200e3, 200e3)
    lifts = lifts_for(responses(car), (0.51 * 1100.0 - 549.0) * STANDARD_GRAVITY)
    after = centre_with(1100.0, np.array([x, y, 0.5]), np.array([15.0]), np.array([[-1.05, -0.38, 0.26]]))
    found = {
        "1100 kg": (corners.total, 1100.0),
        "55.45 %": (100.0 * corners.front_share, 55.45),
        "51.18 %": (100.0 * corners.left_share, 51.18),
        "49.91 %": (100.0 * corners.cross_share, 49.91),
        "−1.1582 m": (x, -1.1582),
        "0.0177 m": (y, 0.0177),
        "0.15570": (slope_of_lift(2.6, 0.40), 0.15570),
        "0.4898 m": (cg_height_raised(raised), 0.4898),
        "0.0076 m": (cg_height_doubt(raised, pads)[0], 0.0076),
        "1.695 mm": (1e3 * lifts[1], 1.695),
        "2.256 mm": (1e3 * lifts[2], 2.256),
        "0.678 of a turn": (lifts[1] * 0.8 / 2e-3, 0.678),
        "1.015 turns": (lifts[2] * 0.9 / 2e-3, 1.015),
        "−1.1567 m": (after[0], -1.1567),
        "0.0124 m": (after[1], 0.0124),
    }
    for words, (value, by_hand) in found.items():
        last_digit = 10.0 ** -len(words.split()[0].partition(".")[2])
        assert value == pytest.approx(by_hand, abs=0.5 * last_digit + 1e-12), words
        assert words in PAGE, f"the page does not say {words}"
    assert lifts[0] == pytest.approx(-lifts[1]) and lifts[3] == pytest.approx(-lifts[2])
