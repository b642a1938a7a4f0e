"""A suggested change of ride height in words: both ends are one job."""

from collections.abc import Sequence

from tintop.lap.setup_search import Change


def heights_first_words(heights: Sequence[Change], words: Sequence[str]) -> str:
    """The changes of ride height, each in `words`, as one job, never one end alone first."""
    rises = {
        one.after > one.before
        for one in heights
        if not isinstance(one.after, str) and not isinstance(one.before, str)
    }
    way = "Raise" if rises == {True} else "Lower" if rises == {False} else "Set"
    said = " and ".join(words)
    lead = f"{way} both ends as one job: {said}" if len(heights) > 1 else f"{said[:1].upper()}{said[1:]}"
    return (
        f"{lead}; then measure the ground clearance and the toe before it runs. Three laps before the next "
        "change."
    )
