import pytest

from tintop.papers.content import Chapter, Column, Table, Words
from tintop.papers.money_chapters import LEFT_OUT, without_money

SUMS = [
    ("paid £1,234.50 for it", "paid [sum left out] for it"),
    ("cost 45 pounds at the show", "cost [sum left out] at the show"),
    ("45,50 € the pair", "[sum left out] the pair"),
    ("EUR 80 or 90 EUR", "[sum left out] or [sum left out]"),
    ("$20", "[sum left out]"),
    ("semi-slicks at a fifth off", "semi-slicks at [sum left out]"),
    ("15 % off list", "[sum left out] list"),
    ("£12.5k all in", "[sum left out] all in"),
    ("−£20 back", "−[sum left out] back"),
    ("120 kr", "[sum left out]"),
]


@pytest.mark.parametrize(("typed", "printed"), SUMS)
def test_sums_of_money_are_cut_out(typed, printed):
    assert without_money(typed, "kr" if "kr" in typed else "£") == printed


@pytest.mark.parametrize(
    "typed",
    [
        "12.3 mm",
        "70 N/mm, 450 lb/in",
        "14th of 31, 5th in class",
        "4.5 L",
        "FLB-E21",
        "brake bias 70 % front",
        "lap 47",
    ],
)
def test_what_is_no_sum_stays(typed):
    assert without_money(typed, "£") == typed


def test_every_text_within_is_gone_through():
    table = Table(columns=(Column(head="£5"),), rows=(("£6",), ("7 mm",)), title="£8")
    found = without_money(Chapter(title="£9", blocks=(Words(text="£10"), table)), "£")
    assert "£" not in repr(found) and "7 mm" in repr(found)
    assert repr(found).count(LEFT_OUT) == 5
    assert found.blocks[1].columns[0].share == 1.0


def test_a_drawing_keeps_its_lines_and_loses_its_sums():
    drawn = '<svg><path d="M1 2 L 3 4"/><text x="5">seat 6 L</text></svg>'
    assert without_money(drawn, "L") == f'<svg><path d="M1 2 L 3 4"/><text x="5">seat {LEFT_OUT}</text></svg>'
