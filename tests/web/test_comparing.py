from hypothesis import given
from hypothesis import strategies as st

from tintop.web.comparing import Run, compared

TEXTS = st.lists(
    st.sampled_from(["a = 1\n", "a = 2\n", "b = 1\n", "\n", "long line of words\n"]), max_size=30
).map("".join)


def test_the_same_text_has_no_difference():
    assert compared("a\n", "a\n") == ()


def test_a_changed_word_is_marked_within_its_line():
    found = compared("car = 1038 kg\n", "car = 1041 kg\n")
    assert Run("gone", "38") in found
    assert Run("new", "41") in found


def test_lines_far_from_a_change_are_left_out():
    lines = [f"line {number}\n" for number in range(100)]
    found = compared("".join(lines), "".join([*lines[:50], "new\n", *lines[51:]]))
    shown = "".join(run.text for run in found)
    assert "line 47\n" in shown
    assert "line 40\n" not in shown
    assert found[0] == Run("skipped", "line 48\n")


@given(TEXTS, TEXTS)
def test_every_line_that_is_only_in_one_text_is_shown(first, second):
    found = compared(first, second)
    gone = "".join(run.text for run in found if run.kind in ("same", "gone"))
    new = "".join(run.text for run in found if run.kind in ("same", "new"))
    for line in set(first.splitlines()) - set(second.splitlines()):
        assert line in gone
    for line in set(second.splitlines()) - set(first.splitlines()):
        assert line in new
    assert (found == ()) == (first == second)
