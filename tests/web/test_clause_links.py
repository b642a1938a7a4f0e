"""From a clause on to the calculators, with the values recorded filled in."""

import html
import re
from urllib.parse import parse_qs, urlsplit

import pytest
from own_book import BOOK, name_the_book, proof
from test_car import words

MORE = """
[[fact]]
name = "test.bolts"
ask = "Anchor bolts"
kind = "bolts"
station = "cabin"

[[fact]]
name = "test.tube"
ask = "Main hoop tube"
kind = "tube"
station = "cabin"

[[clause]]
id = "bolts"
group = "harness"
title = "Anchor bolts hold"
requirement = "They do."
reference = "5.1"
severity = "stops you racing"
known = "own"
value = "bolt_shear(test.bolts)"
at_least = "14.7 kN"

[[clause]]
id = "hoop"
group = "cage"
title = "Main hoop tube"
requirement = "One of the listed."
reference = "5.2"
severity = "stops you racing"
known = "own"
tube = "test.tube"
tubes = ["45 x 2.5 mm"]
"""


@pytest.fixture
def links(page, garage):
    """The ways on from the findings, by address: the fields each fills in."""
    name_the_book(garage, BOOK + MORE)
    proof(page, "test.top", x="0", y="100", z="0", form="measurement")
    proof(page, "test.anchor", "left", x="-300", y="90", z="-50", form="measurement")
    proof(page, "test.bolts", value="2 x M10 8.8", form="measurement")
    proof(page, "test.tube", value="45 x 2.5 mm", form="measurement")
    proof(page, "test.plate", value="0 0\n120 0\n120 100\n0 100", form="measurement")
    found = re.findall(r'<a href="(/calculators/[^"]+|/cage)"', page.get("/legal").text)
    return [html.unescape(each) for each in found]


def fields(links: list[str], calculator: str) -> dict[str, str]:
    (address,) = [each for each in links if each.startswith(f"/calculators/{calculator}?")]
    return {name: value for name, (value,) in parse_qs(urlsplit(address).query).items()}


def test_the_points_of_a_strap_are_filled_in(links):
    assert fields(links, "strap") == {
        "x1": "0 mm", "y1": "100 mm", "z1": "0 mm", "x2": "-300 mm", "y2": "90 mm", "z2": "-50 mm",
    }  # fmt: skip


def test_bolts_and_the_load_the_clause_asks_for_are_filled_in(links):
    assert fields(links, "anchor") == {"thread": "M10", "grade": "8.8", "load": "14700 N"}


def test_outline_and_tube_are_filled_in_and_the_cage_is_reached(links):
    assert fields(links, "plate")["corners"] == "0 0\n120 0\n120 100\n0 100"
    assert fields(links, "tube") == {"diameter": "45 mm", "wall": "2.5 mm"}
    assert "/cage" in links


def test_every_calculator_reads_what_was_filled_in_and_says_what_is_still_an_example(page, links):
    for address in links:
        assert page.get(address).status_code == 200, address
    (anchor,) = [each for each in links if "/anchor?" in each]
    said = words(page.get(anchor).text)
    assert "Still example figures: Hole in the bracket" in said
    assert "Thread" not in said[said.index("Still example figures") :][:400].partition(".")[0]
