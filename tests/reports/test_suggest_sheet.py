"""The best set-up as a sheet and as content: what is said, beside what."""

import json

import pytest

from short_benches import SHORT, short_bench
from tintop.car.chassis import End, Item
from tintop.car.setup_ranges import with_value
from tintop.garage.setup_effects import line_of
from tintop.owner_units import lap_words
from tintop.questions.best_setup import best_setup
from tintop.reports.suggest_sheet import suggest_content, suggest_sheet
from tintop.settings import USUAL_UNITS

BENCH = short_bench()


@pytest.fixture(scope="module")
def found():
    low = with_value(BENCH.chassis, BENCH.setup("dry"), Item.PRESSURE, End.FRONT, 1.3e5)
    return best_setup(
        BENCH.described,
        BENCH.chassis,
        low,
        line_of(BENCH, SHORT),
        BENCH.weather(),
        "Short",
        wanted=("front cold pressure", "rear anti-roll bar", "toe"),
    )


def tables(sheet):
    return {table.title.split(",")[0].split(":")[0]: table for table in sheet.tables}


def test_the_sheet_has_the_changes_in_the_owners_units_and_both_laps(found):
    sheet = suggest_sheet([found], {**USUAL_UNITS, "pressure": "bar"})
    told = tables(sheet)
    row = next(row for row in told["What to change"].rows if row[0] == "front cold pressure")
    assert row[1].endswith("bar") and row[1].startswith("1.30")
    before, after = found.confirmed.before, found.confirmed.after
    assert told["By whole laps"].rows[0][1:] == (lap_words(before.lap_time), lap_words(after.lap_time))
    assert told["Not tried"].rows[0][0] == "front toe"
    assert sheet.sentences[0] == found.answer.sentence
    assert set(found.answer.cautions) == set(sheet.cautions)


def test_an_end_of_the_room_and_a_step_that_breaks_something_are_told(found):
    rows = {row[0]: row for row in tables(suggest_sheet([found]))["How flat it is"].rows}
    bar = next(one for one in found.searched.flatness if one.range.item is Item.BAR)
    if bar.at + 1 == len(bar.lost):
        assert rows["rear anti-roll bar"][3] == "no further"
    for one in found.searched.flatness:
        for column, at in ((2, one.at - 1), (3, one.at + 1)):
            if 0 <= at < len(one.lost) and one.broken[at]:
                assert rows[one.range.name][column] == one.broken[at]


def test_several_circuits_stand_one_beneath_the_other(found):
    sheet = suggest_sheet([found, found])
    assert len(sheet.tables[0].rows) == 2
    assert sheet.tables[0].rows[0][2] == f"{found.confirmed.gain:.3f} s"
    assert len(sheet.cautions) == len(set(sheet.cautions))


def test_the_content_is_plain_and_whole(found):
    content = json.loads(json.dumps(suggest_content([found]), allow_nan=False))
    (one,) = content["circuits"]
    assert one["confirmed"]["gain_s"] == found.confirmed.gain
    assert one["confirmed"]["search_gain_s"] == found.searched.quick_gain
    assert [each["adjuster"] for each in one["changes"]] == [c.range.name for c in found.searched.changes]
    assert one["left_out"] == dict(found.ranges.left_out)
    assert one["suggested"]["tyres"] == "semi-slicks"
