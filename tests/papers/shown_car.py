"""A garage whose car is to be shown to a scrutineer: labels, measurements, photographs, and what is open."""

import io
from pathlib import Path

from PIL import Image, ImageDraw

from inspected_garages import draft, new_garage, planned
from tintop.garage.keeper import Garage
from tintop.garage.rule_books import facts_of
from tintop.logbook.entries import Area, JobOpened, PaperAdded, PartAdded, PartFitted
from tintop.logbook.proof_values import proof_entry
from tintop.rules.evidence import Form
from tintop.rules.writing_facts import read_fact
from tintop.store.demo import demo_path

BOOK = """
[book]
id = "series"
title = "Harrow Down Touring Club, series rules"
edition = "2026"
jurisdiction = "invented"
valid_from = 2026-01-01
valid_to = 2026-12-31
builds_on = ["united_kingdom_club"]
cautions = ["An invented series."]

[[clause]]
id = "least-mass"
group = "mass"
title = "Least mass with driver"
requirement = "As it crosses the line, with the driver in it."
reference = "rule 4.2"
severity = "stops you racing"
known = "own"
value = "mass.with_driver"
at_least = "1150 kg"
caution = "The event's scales decide."
"""
MEETINGS = (
    planned("larkmoor", "2026-06-20", rule_books=("series",), circuit="circuits/larkmoor.csv"),
    planned("autumn", "2026-09-12", rule_books=("series",)),
    planned("finale", "2027-02-20", rule_books=("series",)),
)
HARNESS = {
    "harness.standard": "8853-2016",
    "harness.label": "2019",
    "harness.made": "2020-03",
    "harness.straps": "6",
    "harness.releases": "1",
    "harness.is_sound": "yes",
}
SEAT = {"seat.standard": "8855-1999", "seat.made": "2022-02", "seat.is_sound": "yes"}
MEASURED = {
    "harness.seat_back_top[left]": "-1100 450 900 mm",
    "harness.seat_back_top[right]": "-1100 250 900 mm",
    "harness.shoulder_anchor[left]": "-1400 440 860 mm",
    "harness.shoulder_anchor[right]": "-1400 260 858 mm",
    "mass.with_driver": "1162 ± 1 kg",
    "noise.level": "106 dB(A)",
}
LOOKED = {
    "drivers": "Robin, Sam",
    "papers.log_book": "HD 1187",
    "cage.route": "drawings",
    "cage.is_sound": "yes",
}
HOSTILE = '#read("/etc/passwd") *x* $y$ <b>'


def photograph(words: str = "LABEL", size: tuple[int, int] = (1600, 1200), **saved) -> bytes:
    """A JPEG with words in it."""
    picture = Image.new("RGB", size, "#d8d2c4")
    pen = ImageDraw.Draw(picture)
    pen.rectangle((size[0] // 8, size[1] // 8, size[0] * 7 // 8, size[1] * 7 // 8), outline="black", width=8)
    pen.text((size[0] // 6, size[1] // 3), words, fill="black", font_size=size[1] // 12)
    content = io.BytesIO()
    picture.save(content, saved.pop("kind", "JPEG"), **saved)
    return content.getvalue()


def keep(garage: Garage, name: str, content: bytes, media_type: str = "image/jpeg") -> str:
    """Keep a paper and give its digest."""
    kept = garage.keep_original(name, media_type, content)
    paper = PaperAdded(digest=kept.digest, name=name, media_type=media_type, size=kept.size)
    garage.record([draft(paper, key=kept.digest[:40])])
    return kept.digest


def record(garage: Garage, written: dict[str, str], form: Form, **more) -> None:
    """Record facts as a person writes them, those that books ask for."""
    known = facts_of(garage)
    instrument = more.pop("instrument", "")
    drafts = []
    for name, text in written.items():
        fact, _, each = name.rstrip("]").partition("[")
        if fact not in known:
            continue
        value, error = read_fact(known[fact], text)
        entry = proof_entry(known[fact], each, value, form, written=text, error=error, **more)
        drafts.append(draft(entry, key=f"{name} {text} {form}", instrument=instrument))
    garage.record(drafts)


def shown_garage(folder: Path) -> Garage:
    """The garage, open."""
    garage = new_garage(folder, MEETINGS, BOOK.replace('id = "series"', 'id = "club"'))
    garage.save_document("rule_books/series.toml", BOOK, based_on=None, who="Robin", why="new")
    circuit = demo_path("circuit.csv").read_text("utf-8")
    garage.save_document("circuits/larkmoor.csv", circuit, based_on=None, who="Robin", why="new")
    belts = PartAdded(
        part="belts",
        name="Six-point harness, £210 at the sale",
        family="harness",
        area=Area.CABIN,
        position=(-1.2, 0.35, 0.7),
        price_cents=21000,
    )
    garage.record(
        [
            draft(belts, key="belts"),
            draft(PartFitted(part="belts"), key="belts on"),
            draft(JobOpened(job="belts", title="New belts ordered for £240", part="belts"), key="job"),
        ]
    )
    cage = demo_path("cage.toml").read_text("utf-8")
    garage.save_document("cage.toml", cage, based_on=None, who="Robin", why="new")
    label = keep(garage, "harness label.jpg", photograph("8853-2016  NOT VALID AFTER 2025"))
    seat = keep(
        garage, "seat label.png", photograph("8855-1999  02/2022", (900, 1200), kind="PNG"), "image/png"
    )
    receipt = keep(garage, "receipt of the seat.jpg", photograph("PAID 420.00"))
    certificate = keep(garage, "cage certificate.pdf", b"%PDF-1.4\n%%EOF", "application/pdf")
    record(garage, HARNESS, Form.LABEL, serial="A-40917", part="belts", papers=(label,))
    record(garage, SEAT, Form.LABEL, papers=(seat,), serial="S 2202")
    record(garage, {"seat.cushion[Robin]": "20 mm"}, Form.RECEIPT, papers=(receipt,))
    record(garage, MEASURED, Form.MEASUREMENT, instrument="tape and plumb, £9")
    record(garage, LOOKED, Form.WITNESS)
    record(garage, {"cage.carbon": "0.18 %"}, Form.CERTIFICATE, papers=(certificate,))
    return garage
