"""A small rule book of the garage's own, and the next event under it."""

from dataclasses import replace

from tintop.garage.keeper import Garage
from tintop.logbook.entries import Draft, MeetingPlanned

BOOK = """[book]
id = "harrow"
title = "Harrow Down series"
edition = "2026"
jurisdiction = "Harrow Down Touring Club"
valid_from = 2026-01-01
cautions = ["A working aid of figures, never the regulations."]

[[fact]]
name = "test.top"
ask = "Top of the seat back"
kind = "point"
station = "cabin"
how = "Tape from the origin."

[[fact]]
name = "test.anchor"
ask = "Shoulder strap anchor"
kind = "point"
station = "cabin"
how = "Tape to the middle of the bolt."
each = ["left", "right"]
error = "5 mm"

[[fact]]
name = "test.opens"
ask = "Bonnet opens from outside"
kind = "yes or no"
station = "outside"

[[fact]]
name = "test.label"
ask = "Year on the belt label"
kind = "marked date"
in_future = true
station = "cabin"

[[fact]]
name = "test.height"
ask = "Height of the door numbers"
kind = "number"
quantity = "length"
unit = "mm"
station = "outside"
error = "1 mm"

[[fact]]
name = "test.plate"
ask = "Mounting plate"
kind = "outline"
station = "underneath"

[[fact]]
name = "test.standard"
ask = "Standard on the helmet"
kind = "choice"
choices = ["8859-2015", "8860-2018", "none"]
station = "driver's kit"

[[fact]]
name = "test.drivers"
ask = "Drivers entered"
kind = "names"
station = "papers"

[[fact]]
name = "test.licence"
ask = "Licence runs out"
kind = "marked date"
in_future = true
station = "papers"
each = "test.drivers"

[[clause]]
id = "strap-angle"
group = "harness"
title = "Shoulder strap, side view"
requirement = "The strap runs back level or a little down."
reference = "4.1"
severity = "stops you racing"
known = "own"
value = "angle_below(test.top, test.anchor)"
at_least = "0 deg"
at_most = "45 deg"
proof = ["measurement"]
renewed_after_accident = true
caution = "A steep strap pushes down on the spine."
cure = "Move the anchor up or back."

[[clause]]
id = "bonnet"
group = "body"
title = "Bonnet opened by marshals"
requirement = "It opens without a tool from outside."
reference = "4.2"
severity = "must be mended"
known = "own"
holds = "test.opens"

[[clause]]
id = "belt-year"
group = "harness"
title = "Belt in date"
requirement = "The belt is used to the end of the year on its label."
reference = "4.3"
severity = "stops you racing"
known = "own"
[clause.expires]
kind = "end of the label's year"
marked = "test.label"

[[clause]]
id = "number-height"
group = "numbers"
title = "Height of numbers"
requirement = "Tall enough to be read across the circuit."
reference = "4.4"
severity = "must be mended"
known = "memory"
value = "test.height"
at_least = "230 mm"

[[clause]]
id = "plate-area"
group = "cage"
title = "Area of the plate"
requirement = "Big enough to spread the load."
reference = "4.5"
severity = "advice"
known = "own"
value = "area(test.plate)"
at_least = "100 cm2"

[[clause]]
id = "helmet"
group = "kit"
title = "Helmet standard"
requirement = "Of a standard on the list."
reference = "4.6"
severity = "stops you racing"
known = "own"
value = "test.standard"
one_of = ["8859-2015", "8860-2018"]

[[clause]]
id = "licence"
group = "papers"
title = "Licences in date"
requirement = "Every driver's licence is good on the day."
reference = "4.7"
severity = "stops you racing"
known = "own"
[clause.expires]
kind = "as the label says"
marked = "test.licence"
"""


def name_the_book(garage: Garage, book: str = BOOK, id: str = "harrow") -> None:
    """Put the book into the garage and name it for the events."""
    garage.save_document(f"rule_books/{id}.toml", book, based_on=None, who="Robin", why="")
    for entry, plan in tuple(garage.book.of(MeetingPlanned)):
        garage.record(
            [
                Draft(
                    key=f"under {id} {entry.number}",
                    day=garage.today(),
                    who="Robin",
                    matter=replace(plan, rule_books=(id,)),
                    corrects=entry.number,
                )
            ]
        )


def proof(page, fact: str, each: str = "", *, files=None, **typed: str):
    """Send a proof as the walk-round does; the answer as data."""
    key = "".join(letter for letter in f"{fact} {each} {sorted(typed.items())}" if letter.isprintable())
    sent = {"key": key[:180], "fact": fact, "each": each, **typed}
    return page.post("/legal/proofs", data=sent, files=files, headers={"Accept": "application/json"})
