"""Small rule books to start from in tests."""

FIRST_LINES = """\
[book]
id = "harrow"
title = "Harrow Down series"
edition = "2026"
jurisdiction = "Harrow Down Touring Club"
valid_from = 2026-01-01
valid_to = 2026-12-31
cautions = ["A working aid, never the regulations."]
"""
FACTS = """
[[fact]]
name = "test.height"
ask = "Height of the test figure"
kind = "number"
quantity = "length"
unit = "mm"
station = "outside"
error = "1 mm"

[[fact]]
name = "test.strap"
ask = "Strap anchor"
kind = "point"
station = "cabin"
each = ["left", "right"]

[[fact]]
name = "test.hoop"
ask = "Tube of the hoop"
kind = "tube"
station = "cabin"

[[fact]]
name = "test.mass"
ask = "Mass"
kind = "number"
quantity = "mass"
station = "outside"

[[fact]]
name = "test.standard"
ask = "Standard on the label"
kind = "choice"
choices = ["A-2015", "A-2020"]
station = "driver's kit"

[[fact]]
name = "test.label"
ask = "Date on the label"
kind = "marked date"
station = "driver's kit"

[[fact]]
name = "test.is_armed"
ask = "Whether it is armed"
kind = "yes or no"
station = "cabin"
"""


def clause(fields: str, id: str = "height", known: str = "own") -> str:
    """One clause with the given fields after those every clause has."""
    return f"""
[[clause]]
id = "{id}"
group = "numbers"
title = "Height"
requirement = "High enough to be read."
reference = "Art. 4"
severity = "must be mended"
known = "{known}"
{fields}
"""


def book(*clauses: str, head: str = FIRST_LINES, facts: str = FACTS) -> str:
    """A whole book."""
    return head + facts + "".join(clauses)
