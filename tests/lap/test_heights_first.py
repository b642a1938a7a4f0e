"""Both ends of the ride height are one job."""

from tintop.car.chassis import End, Item
from tintop.car.setup_ranges import AdjusterRange
from tintop.lap.heights_first import heights_first_words
from tintop.lap.setup_search import Change


def _change(end: End, before: float, after: float) -> Change:
    places = AdjusterRange(item=Item.RIDE_HEIGHT, end=end, places=(before, after), now=0)
    return Change(range=places, before=before, after=after, worth=None, gained=0.0, needed_for="not allowed")


def test_both_ends_are_raised_as_one_job() -> None:
    found = [_change(End.FRONT, 0.128, 0.133), _change(End.REAR, 0.142, 0.147)]
    said = heights_first_words(
        found, ["front ride height 128 mm to 133 mm", "rear ride height 142 mm to 147 mm"]
    )
    assert said.startswith(
        "Raise both ends as one job: front ride height 128 mm to 133 mm and rear ride height 142 mm to 147 "
        "mm; then measure the ground clearance"
    )


def test_one_end_lowered_is_told_alone() -> None:
    said = heights_first_words([_change(End.REAR, 0.147, 0.142)], ["rear ride height 147 mm to 142 mm"])
    assert said.startswith("Rear ride height 147 mm to 142 mm; then measure")
