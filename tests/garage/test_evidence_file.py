"""A car inspected on a file of evidence: days to come, papers that are not there, names misspelt."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from tintop.errors import BadInput
from tintop.garage.inspecting import inspect_car
from tintop.rules.findings import Finding, Ruling
from tintop.store.demo import demo_path
from tintop.store.revisions import digest_of

EVENT = date(2026, 6, 20)
TODAY = date(2026, 6, 9)
PICTURE, PAPER = b"\x89PNG\r\n\x1a\n" + b"picture", b"%PDF-1.7 certificate"
BOOK = """
[book]
id = "club"
title = "Club"
edition = "2026"
jurisdiction = "invented"
valid_from = 2026-01-01
cautions = ["A working aid."]

[[fact]]
name = "club.plate"
ask = "Plate of the club"
kind = "yes or no"
station = "outside"

[[clause]]
id = "net"
group = "body"
title = "Net"
requirement = "There is one."
reference = "1"
severity = "stops you racing"
known = "own"
{more}
holds = "body.net"
"""
PROOF = """
[[entry]]
day = {day}
kind = "proof"
fact = "body.net"
form = "{form}"
fact_kind = "yes or no"
values = [1.0]
papers = ["{digest}"]
"""
ADDED = """
[[entry]]
day = 2026-05-01
kind = "paper added"
digest = "{digest}"
name = "{name}"
media_type = "{media_type}"
size = 10
"""


def inspected(
    folder: Path,
    *,
    more: str = "",
    day: str = "2026-05-01",
    form: str = "witness",
    content: bytes = PICTURE,
    media_type: str = "image/png",
    is_there: bool = True,
    today: date = TODAY,
    event: date = EVENT,
) -> tuple[Finding, tuple[str, ...]]:
    (folder / "car.toml").write_bytes(demo_path("car.toml").read_bytes())
    (folder / "club.toml").write_text(BOOK.format(more=more), "utf-8")
    digest = digest_of(content)
    text = 'who = "owner"\n' + ADDED.format(digest=digest, name="net.png", media_type=media_type)
    text += PROOF.format(day=day, form=form, digest=digest)
    (folder / "evidence.toml").write_text(text, "utf-8")
    if is_there:
        (folder / "originals").mkdir()
        (folder / "originals" / "whatever it is called.png").write_bytes(content)
    found = inspect_car(
        folder / "car.toml",
        [str(folder / "club.toml")],
        event,
        evidence=folder / "evidence.toml",
        today=today,
    )
    (finding,) = found.inspection.findings
    return finding, found.notices


@pytest.mark.parametrize(
    ("day", "today", "event", "ruling"),
    [
        ("2026-06-09", TODAY, EVENT, Ruling.PASS),
        ("2026-06-10", TODAY, EVENT, Ruling.NOT_PROVEN),  # of tomorrow
        ("2026-06-20", TODAY, EVENT, Ruling.NOT_PROVEN),
        ("2026-06-20", EVENT + timedelta(days=9), EVENT, Ruling.PASS),
        ("2026-06-21", EVENT + timedelta(days=9), EVENT, Ruling.NOT_PROVEN),  # the event was over
    ],
)
def test_proof_of_a_day_to_come_or_after_the_event_does_not_count(tmp_path, day, today, event, ruling):
    finding, notices = inspected(tmp_path, day=day, today=today, event=event)
    assert finding.ruling is ruling
    assert any("of days to come" in notice for notice in notices) == (date.fromisoformat(day) > today)


@pytest.mark.parametrize(
    ("form", "more", "content", "media_type", "is_there", "ruling", "words"),
    [
        ("witness", "photograph = true", PICTURE, "image/png", True, Ruling.PASS, ""),
        ("witness", "photograph = true", PICTURE, "image/png", False, Ruling.NOT_PROVEN, "no photograph is"),
        ("witness", "photograph = true", PAPER, "image/png", True, Ruling.NOT_PROVEN, "no photograph is"),
        ("photograph", "", PICTURE, "image/png", True, Ruling.PASS, ""),
        ("photograph", "", PICTURE, "image/png", False, Ruling.NOT_PROVEN, ""),
        ("photograph", "", PAPER, "application/pdf", True, Ruling.NOT_PROVEN, ""),
        ("photograph", "", PAPER, "image/png", True, Ruling.NOT_PROVEN, ""),
        ("certificate", 'proof = ["certificate"]', PAPER, "application/pdf", True, Ruling.PASS, ""),
    ],
)
def test_a_picture_counts_where_it_is_kept_and_is_one(
    tmp_path, form, more, content, media_type, is_there, ruling, words
):
    finding, notices = inspected(
        tmp_path, form=form, more=more, content=content, media_type=media_type, is_there=is_there
    )
    assert finding.ruling is ruling and words in finding.reason
    assert any("net.png is in the folder originals" in notice for notice in notices) == (not is_there)
    if form == "photograph" and ruling is Ruling.NOT_PROVEN:
        said = "net.png is no photograph" if is_there else "its photograph is not in the logbook"
        assert said in f"{finding.reason} {finding.to_do}"


@pytest.mark.parametrize(
    ("name", "cure"), [("body.nett", "Did you mean body.net?"), ("club.plat", "Did you mean club.plate?")]
)
def test_a_fact_misspelt_is_refused_with_the_one_meant(tmp_path, name, cure):
    inspected(tmp_path)
    path = tmp_path / "evidence.toml"
    path.write_text(path.read_text("utf-8").replace("body.net", name), "utf-8")
    with pytest.raises(BadInput) as refusal:
        inspect_car(tmp_path / "car.toml", [str(tmp_path / "club.toml")], EVENT, evidence=path, today=TODAY)
    assert "evidence.toml" in str(refusal.value) and name in str(refusal.value)
    assert cure in str(refusal.value)


def test_a_fact_that_only_another_book_at_hand_asks_for_is_no_mistake(tmp_path):
    inspected(tmp_path)
    (tmp_path / "rule_books").mkdir()
    other = BOOK.format(more="").replace('id = "club"', 'id = "other"').replace("club.plate", "other.plate")
    (tmp_path / "rule_books" / "other.toml").write_text(other, "utf-8")
    path = tmp_path / "evidence.toml"
    path.write_text(path.read_text("utf-8").replace("body.net", "other.plate"), "utf-8")
    found = inspect_car(
        tmp_path / "car.toml", [str(tmp_path / "club.toml")], EVENT, evidence=path, today=TODAY
    )
    assert found.inspection.findings[0].ruling is Ruling.NOT_PROVEN
