"""The pack for the scrutineer: nothing left out or dressed up, no prices and no camera's notes in it."""

import io
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from printed import bare, furthest_right, is_a4, pages, said
from pypdf import PdfReader
from shown_car import HOSTILE, keep, photograph, record, shown_garage

from findings_by_hand import BOOK, clause, finding, inspection, millimetres, proven
from inspected_garages import draft, new_garage, planned, prove
from tintop.errors import BadInput
from tintop.garage.inspection import inspected
from tintop.garage.scrutineer_pack import scrutineer_pack, scrutineer_pack_content
from tintop.logbook.proof_entries import AccidentHappened
from tintop.logbook.season import Season
from tintop.papers.pack_content import Exhibit
from tintop.papers.pack_groups import in_ranges
from tintop.papers.scrutineer_pack import scrutineer_pack_of
from tintop.papers.typeset import set_scrutineer_pack
from tintop.rules.book import Limits, Read, Severity
from tintop.rules.evidence import Evidence, Form, Paper
from tintop.rules.expression import Amount, Calculation, Named
from tintop.rules.facts import Fact, FactKey, FactKind, Marked, Station
from tintop.rules.findings import Heard, Ruling

PICTURE = Exhibit(
    svg='<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 3"><rect width="4" height="3"/></svg>'
)
LABEL = Paper(digest="1" * 64, name="label.jpg", media_type="image/jpeg")
BILL = Paper(digest="2" * 64, name="bill.jpg", media_type="image/jpeg")
ANCHOR = Fact(
    name="harness.anchor",
    ask="Shoulder strap's anchor",
    kind=FactKind.POINT,
    station=Station.CABIN,
    unit="mm",
    each=("left", "right"),
)


@pytest.fixture(scope="module")
def garage(tmp_path_factory):
    garage = shown_garage(tmp_path_factory.mktemp("pack") / "garage")
    yield garage
    garage.close()


@pytest.fixture(scope="module")
def content(garage):
    return scrutineer_pack_content(garage, garage.next_meeting())


@pytest.fixture(scope="module")
def handed(garage) -> bytes:
    return scrutineer_pack(garage, garage.next_meeting())


@pytest.fixture(scope="module")
def own(garage) -> bytes:
    return scrutineer_pack(garage, garage.next_meeting(), has_prices=True)


def pack_of(
    found, *, evidence=None, facts=None, exhibits=None, jobs=(), has_prices=False, parts=None, made=None
):
    """The pack of an inspection made by hand."""
    return scrutineer_pack_of(
        found,
        facts or {},
        planned("summer"),
        Season(events=(), dates=()),
        title="Lantern",
        owner="Ann",
        car=None,
        place="Larkmoor",
        day=date(2026, 6, 9),
        exhibits=exhibits or {},
        parts=parts or {},
        made=made,
        evidence=evidence or Evidence(proven={}, fallen={}),
        jobs=jobs,
        cage=None,
        cage_drawing="",
        currency="£",
        has_prices=has_prices,
    )


def images(pdf: bytes) -> list[Image.Image]:
    found = {}
    for page in PdfReader(io.BytesIO(pdf)).pages:
        for image in page.images:
            found[image.indirect_reference.idnum] = Image.open(io.BytesIO(image.data))
    return list(found.values())


# -- by hand ------------------------------------------------------------------------------------------

rulings = st.sampled_from(Ruling)
severities = st.sampled_from(Severity)
groups = st.sampled_from(["harness", "cage", "noise", "something new"])


@given(st.lists(st.tuples(rulings, severities, groups, st.booleans()), max_size=25))
def test_every_finding_stands_once_in_its_group_and_every_open_one_in_the_summary(given_findings):
    findings = [
        finding(
            f"clause-{place}",
            ruling,
            on=clause(f"clause-{place}", severity, group=group),
            missing=(FactKey("harness.label"),) if is_bare else (),
        )
        for place, (ruling, severity, group, is_bare) in enumerate(given_findings)
    ]
    pack = pack_of(inspection(*findings))
    printed = [line.title for group in pack.groups for line in (*group.lines, *group.missing)]
    aside = [words.split(",")[0] for group in pack.groups for words, _ in group.not_applicable]
    assert sorted([*printed, *aside]) == sorted(each.clause.title for each in findings)
    assert sorted(aside) == sorted(
        each.clause.title for each in findings if each.ruling is Ruling.NOT_APPLICABLE
    )
    summed = [line.title for part in pack.open for line in part.lines]
    named = [names for part in pack.open for row in part.names for names in row[1:] if names]
    summed += [title for names in named for title in names.split("; ")]
    unmet = [each for each in findings if each.ruling not in (Ruling.PASS, Ruling.NOT_APPLICABLE)]
    assert sorted(summed) == sorted(each.clause.title for each in unmet)
    assert sum(count for _, _, count in pack.counts) == len(findings)
    assert [line.title for part in pack.open if part.title == "Stops the car" for line in part.lines] == [
        each.clause.title for each in inspection(*findings).stops_racing
    ]


def test_a_line_has_value_limit_margin_rule_and_proof_with_who_when_instrument_serial():
    proof = proven(
        instrument="angle gauge", serial="A-1", form=Form.MEASUREMENT, part="belts", papers=(LABEL,)
    )
    one = finding(
        "strap",
        Ruling.PASS,
        value="44.0° ± 0.5°",
        limit="45° at most",
        margin=millimetres(1.0, 0.1),
        evidence=(proof,),
    )
    pack = pack_of(inspection(one), parts={"belts": "Six-point harness"}, exhibits={LABEL.digest: PICTURE})
    (line,) = pack.groups[0].lines
    assert (line.sign, line.word, line.degree) == ("✓", "pass", "")
    assert line.figures == (("found", "44.0° ± 0.5°"), ("limit", "45° at most"), ("margin", "1 mm"))
    assert line.rule == "art. 5, Club racing, national [A]"
    assert pack.books.rows[0][:3] == ("[A]", "Club racing, national", "2026")
    assert line.proofs[0].head == "Measurement, 1 May 2026, owner"
    assert line.proofs[0].aside == "angle gauge; serial A-1; of Six-point harness; picture 1; entry 7"
    (picture,) = pack.groups[0].pictures
    assert (
        picture.number == 1 and picture.caption == "harness.label: art. 5 [A]; owner, 1 May 2026; label.jpg"
    )
    printed = said(set_scrutineer_pack(pack))
    assert all(bare(words) in printed for words in ("44.0° ± 0.5°", "45° at most", "serial A-1"))


def test_instances_stand_apart_and_a_fact_is_asked_once():
    keys = [FactKey(ANCHOR.name, each) for each in ANCHOR.each]
    proofs = [
        proven(key=key, value=(-1.2, 0.3, 0.9), form=Form.MEASUREMENT, entry=place)
        for place, key in enumerate(keys, 1)
    ]
    heard = [
        Heard(
            clause="national_club:strap",
            each=key.each,
            ruling=ruling,
            severity=Severity.STOPS,
            reason="x",
            value=value,
            evidence=(proof,),
        )
        for key, ruling, value, proof in zip(
            keys, (Ruling.FAIL, Ruling.PASS), ("46°", "44°"), proofs, strict=True
        )
    ]
    one = finding("strap", Ruling.FAIL, value="46°", heard=tuple(heard), evidence=tuple(proofs))
    (line,) = pack_of(inspection(one), facts={ANCHOR.name: ANCHOR}).groups[0].lines
    assert line.instances == (("left", "✗", "46°", ""), ("right", "✓", "44°", ""))
    assert "found" not in dict(line.figures)
    assert [proof.aside for proof in line.proofs] == ["entry 1, 2"]


def test_what_other_books_say_is_told_and_a_figure_from_memory_is_no_pass():
    other = clause("other", read=Read.MEMORY)
    book = replace(BOOK, clauses=(other,))
    memory = finding(
        "strap",
        Ruling.NOT_PROVEN,
        on=clause("strap", read=Read.MEMORY),
        is_unverified=True,
        value="44°",
        heard=(
            Heard(
                clause="national_club:other",
                each="",
                ruling=Ruling.PASS,
                severity=Severity.STOPS,
                reason="x",
                limit="45°",
            ),
        ),
    )
    pack = pack_of(inspection(memory, books=(book,)))
    (line,) = pack.groups[0].lines
    assert line.word == "not proven" and "from memory" in line.reason and "not verified" in line.rule
    assert line.also == (
        "✓ pass by art. 5, Club racing, national [A]; figure from memory, not verified, limit 45°",
    )
    assert pack.verdict == "not proven" and pack.sign == "?"


def test_a_recommendation_that_may_be_missed_is_never_called_met():
    strap = clause("strap", read=Read.MEMORY, caution="A strap this low pulls the spine together.")
    reason = "Strap: 42°, recommended 30° at most: allowed, but 12° too much: and the figure is from memory"
    one = finding("strap", Ruling.NOT_PROVEN, on=strap, reason=reason, to_do="Move the anchor back.")
    pack = pack_of(inspection(one))
    (line,) = pack.groups[0].lines
    assert line.is_open and "12° too much" in line.reason
    assert line.to_do == "Move the anchor back." and "spine" in line.caution
    assert [part.title for part in pack.open] == ["Recorded, and not enough to say"]
    met = replace(one, is_unverified=True)
    assert [part.title for part in pack_of(inspection(met)).open] == ["Met by figures from memory"]
    advised = replace(one, ruling=Ruling.ADVISED)
    assert [part.title for part in pack_of(inspection(advised)).open] == ["Allowed, and advised against"]


def test_a_picture_of_many_facts_names_its_group_and_its_clauses_in_ranges():
    proofs = tuple(proven(f"numbers.fact_{place}", papers=(LABEL,)) for place in range(9))
    findings = [
        finding(
            f"n-{number}",
            Ruling.PASS,
            on=clause(f"n-{number}", group="numbers", reference=f"sheet 6.{number}"),
            evidence=proofs,
        )
        for number in (2, 1, 3, 6)
    ]
    (picture,) = pack_of(inspection(*findings), exhibits={LABEL.digest: PICTURE}).groups[0].pictures
    assert picture.caption == ("Numbers and decals: sheet 6.1–6.3, 6.6 [A]; owner, 1 May 2026; label.jpg")


@pytest.mark.parametrize(
    ("references", "words"),
    [
        (["art. 5"], "art. 5"),
        (["6.1", "6.2"], "6.1–6.2"),
        (["6.1", "6.3", "6.1"], "6.1, 6.3"),
        (["art. 08", "art. 9"], "art. 9, art. 08"),
        (["national law", "art. 7.1", "art. 8.1"], "art. 7.1, art. 8.1, national law"),
    ],
)
def test_clauses_in_ranges(references, words):
    assert in_ranges(references) == words


@given(st.lists(st.integers(0, 40), min_size=1, unique=True))
def test_a_range_holds_the_numbers_given_and_no_others(numbers):
    runs = in_ranges([f"art. 6.{each}" for each in numbers]).removeprefix("art. ").split(", ")
    ends = [[int(end.removeprefix("6.")) for end in run.split("–")] for run in runs]
    assert [each for run in ends for each in range(run[0], run[-1] + 1)] == sorted(numbers)


def test_several_comparisons_stand_each_beside_its_limit():
    one = finding(
        "panel",
        Ruling.PASS,
        value="Width: 520 mm; Height: 402 mm",
        limit="Width: at least 500 mm; Height: at least 380 mm",
    )
    (line,) = pack_of(inspection(one)).groups[0].lines
    assert line.figures == (
        ("found", "Width: 520 mm (limit at least 500 mm)"),
        ("found", "Height: 402 mm (limit at least 380 mm)"),
    )


def test_what_is_known_broken_stands_on_the_cover_and_first_among_what_is_open():
    found = replace(inspection(finding("seat", Ruling.PASS)), broken=("Brake hoses: braid showing, £62",))
    pack = pack_of(found)
    assert pack.broken == ("Brake hoses: braid showing, [sum left out]",)
    assert "Known broken" not in pack.sentence and pack.verdict == "not proven"
    first, second = pages(set_scrutineer_pack(pack))[:2]
    for page in (first, second):
        assert bare("Known broken and still on the car") in bare(page) and "braid showing" in page


def test_an_own_copy_is_called_so_and_a_receipt_is_not_shown_with_the_copy_handed_over():
    own_copy = replace(BOOK, is_own_copy=True)
    one = finding("seat", Ruling.PASS, evidence=(proven(form=Form.RECEIPT, papers=(BILL,)),), book=own_copy)
    pack = pack_of(inspection(one, books=(own_copy,)), exhibits={BILL.digest: Exhibit(why_not="a receipt")})
    assert pack.books.rows[0][4] == "owner's own copy"
    assert not pack.groups[0].pictures
    assert pack.groups[0].not_printed[0][1].endswith("bill.jpg: a receipt")


@pytest.mark.parametrize(
    ("who", "entry", "head"),
    [
        ("owner", 7, "Seen by the owner, 1 May 2026"),
        ("ann", 7, "Seen by the owner, 1 May 2026"),
        ("", 7, "Seen by the owner, 1 May 2026"),
        ("Kim", 7, "Witness, 1 May 2026, Kim"),
        ("", 0, "From the owner's records, 1 May 2026"),
    ],
)
def test_a_witness_is_another_person(who, entry, head):
    one = finding("seat", Ruling.PASS, evidence=(proven(form=Form.WITNESS, who=who, entry=entry),))
    (line,) = pack_of(inspection(one)).groups[0].lines
    assert line.proofs[0].head == head


def test_a_value_worked_out_says_what_it_is_made_of():
    height, opening = (
        Fact(
            name=f"cage.{name}",
            ask=f"{name.capitalize()}: height",
            kind=FactKind.NUMBER,
            station=Station.CABIN,
        )
        for name in ("bars", "opening")
    )
    share = Calculation("/", Named(height.name), Named(opening.name))
    facts = {each.name: each for each in (height, opening)}
    bars = clause("bars", check=Limits(value=share, at_most=Amount(0.5, "number", "0.5")))
    pack = pack_of(inspection(finding("bars", Ruling.PASS, on=bars, value="0.453")), facts=facts)
    figures = dict(pack.groups[0].lines[0].figures)
    assert figures["found"] == "0.453"
    assert figures["that is"] == "Bars: height divided by opening: height"
    measured = clause("bars", check=Limits(value=Named(height.name), at_most=Amount(0.5, "number", "0.5")))
    pack = pack_of(inspection(finding("bars", Ruling.PASS, on=measured, value="0.453")), facts=facts)
    assert "that is" not in dict(pack.groups[0].lines[0].figures)


def test_labels_on_one_part_stand_together_and_papers_apart():
    facts = {
        name: Fact(name=name, ask=ask, kind=kind, station=Station.CABIN, each=each)
        for name, ask, kind, each in (
            ("harness.standard", "Harness: standard", FactKind.CHOICE, ()),
            ("harness.year", "Harness: year on the label", FactKind.MARKED, ("left", "right")),
            ("kit.standard", "Helmet: standard", FactKind.CHOICE, "drivers"),
            ("road.tax", "Last day for which road tax is paid", FactKind.MARKED, ()),
        )
    }
    year = Marked(day=date(2026, 12, 31), precision="year")
    proofs = [
        proven("harness.standard", value="8853-2016", part="belts", serial="H-1"),
        *(proven(key=FactKey("harness.year", each), value=year, part="belts") for each in ("left", "right")),
        proven(key=FactKey("kit.standard", "Robin"), value="8859-2015", part="helmet"),
        proven("road.tax", value=year, form=Form.CERTIFICATE),
    ]
    evidence = Evidence(proven={each.key: each for each in proofs}, fallen={})
    pack = pack_of(inspection(), facts=facts, evidence=evidence, made={"helmet": date(2023, 6, 14)})
    chapter = next(each for each in pack.chapters if each.title.startswith("Labels"))
    on_parts, papers = (block for block in chapter.blocks if hasattr(block, "rows"))
    assert [row[:5] for row in on_parts.rows] == [
        ("Harness", "8853-2016", "H-1", "–", "2026"),
        ("Helmet, Robin", "8859-2015", "–", "14 Jun 2023", "–"),
    ]
    assert [row[:3] for row in papers.rows] == [("Road tax is paid", "–", "2026")]


def test_what_fell_is_told_beside_what_is_missing():
    key = FactKey(ANCHOR.name, "left")
    evidence = Evidence(proven={}, fallen={key: "recorded on 1 May, but the belts came off, £210"})
    one = finding("strap", Ruling.NOT_PROVEN, missing=(key, FactKey(ANCHOR.name, "right")))
    (line,) = pack_of(inspection(one), facts={ANCHOR.name: ANCHOR}, evidence=evidence).groups[0].missing
    assert line.missing == (
        "Shoulder strap's anchor (left, right); Shoulder strap's anchor, left: recorded on 1 May, but the "
        "belts came off, [sum left out]"
    )


def test_without_any_clause_it_is_not_proven_and_still_a_paper():
    printed = " ".join(pages(set_scrutineer_pack(pack_of(inspection()))))
    assert "NOT PROVEN" in printed and "Remarks of the scrutineer" in printed


# -- of a garage --------------------------------------------------------------------------------------


def test_the_cover_says_what_stops_the_car(content, handed):
    first = pages(handed)[0]
    assert (content.sign, content.verdict) == ("✗", "no")
    assert "own check says: NO" in first and "Not legal: 2 clauses stop you racing" in first
    assert "Noise, static" in first and "runs out 536 days before the event ends" in first
    assert "Motorsport UK National Competition Rules 2026" in first and "as shipped" in first
    assert "owner's own copy" in first and "HD 1187" in first


def test_every_clause_is_printed_with_its_reference(garage, handed):
    printed = said(handed)
    findings = inspected(garage, garage.next_meeting()).inspection.findings
    assert len(findings) > 200
    for each in findings:
        assert bare(each.clause.reference) in printed
        if each.clause.act != "waives":
            assert bare(each.clause.title) in printed


def test_prices_are_in_the_owners_own_copy_alone(handed, own):
    handed_words, own_words = said(handed), said(own)
    for words in ("€210.00", "£210", "£240", "£9"):
        assert words in own_words
        assert words not in handed_words
    assert "€" not in handed_words and "£" not in handed_words
    assert "withoutprices" in handed_words and "nottobehandedover" in own_words
    assert bare("Job open: New belts ordered for [sum left out]") in handed_words


def test_pictures_are_printed_small_and_receipts_and_papers_by_name(handed, own):
    assert len(images(handed)) == 2 and len(images(own)) == 3
    assert all(max(image.size) <= 840 for image in images(own))
    printed = said(handed)
    assert bare("cage certificate.pdf: a PDF, kept with the logbook") in printed
    assert bare("receipt of the seat.jpg: a receipt, kept by the owner") in printed
    assert len(handed) < 600_000


def test_labels_bear_standard_serial_made_and_the_last_good_day(content):
    labels = next(each for each in content.chapters if each.title.startswith("Labels"))
    on_parts, _papers = (block for block in labels.blocks if hasattr(block, "rows"))
    rows = {row[0]: row[1:6] for row in on_parts.rows}
    by_rule = "31 Dec 2024: end of the label's year + 5 years, NCR harness 10.4"
    assert rows["Harness"] == ("8853-2016", "A-40917", "March 2020", "2019", by_rule)
    assert rows["Seat"][:3] == ("8855-1999", "S 2202", "February 2022")


def test_dates_stand_against_every_event_of_the_season(content):
    (dates,) = [
        block
        for each in content.chapters
        if each.title.startswith("Dates")
        for block in each.blocks
        if hasattr(block, "rows")
    ]
    assert [column.head for column in dates.columns] == ["item", "last good day", "rule", "1", "2", "3"]
    assert dates.rows[0][:2] == ("Rule book: Harrow Down Touring Club, series rules", "31 Dec 2026")
    assert dates.rows[0][3:] == ("✓", "✓", "✗")
    (harness,) = [row for row in dates.rows if row[0] == "Harness date, 8853-2016"]
    assert harness[1] == "31 Dec 2024" and harness[3:] == ("✗", "✗", "✗")


def test_the_cage_is_drawn_with_its_caution_and_the_pen_has_lines(handed):
    printed = said(handed)
    assert bare("no homologation, no certificate") in printed and "Sixpointcage" in printed.replace("-", "")
    last = pages(handed)[-1]
    assert "Remarks of the scrutineer" in last and "Licence" in last and "seen again" in last


def test_it_is_a4_within_its_margins_and_the_same_each_time(garage, handed):
    assert is_a4(handed)
    assert furthest_right(handed) < 595.28 - 16.0 / 25.4 * 72.0
    assert scrutineer_pack(garage, garage.next_meeting()) == handed


def test_without_a_rule_book_there_is_no_pack(garage):
    with pytest.raises(BadInput, match="no rule book named"):
        scrutineer_pack(garage, planned("bare", rule_books=()))


# -- originals ----------------------------------------------------------------------------------------


@pytest.fixture
def small(tmp_path):
    garage = new_garage(tmp_path / "garage")
    prove(garage)
    yield garage
    garage.close()


def pack_with(garage, name: str, content: bytes, media_type: str = "image/jpeg", **more):
    digest = keep(garage, name, content, media_type)
    record(garage, {"belts.straps": "6"}, Form.PHOTOGRAPH, papers=(digest,), **more)
    return digest, lambda: scrutineer_pack(garage, garage.next_meeting())


def with_notes() -> bytes:
    """A photograph held on its side that says where it was taken, with a comment."""
    exif = Image.Exif()
    exif[0x0112] = 6
    exif[0x010F] = "CAMERA-MAKER"
    exif.get_ifd(0x8825)[1] = "N"
    return photograph("WHERE", exif=exif, comment=b"TAKEN-AT-HOME")


def test_a_photograph_is_upright_and_says_nothing_of_where_it_was_taken(small):
    content = with_notes()
    assert b"Exif" in content and b"CAMERA-MAKER" in content and b"TAKEN-AT-HOME" in content
    pdf = pack_with(small, "belts.jpg", content)[1]()
    for secret in (b"Exif", b"CAMERA-MAKER", b"TAKEN-AT-HOME"):
        assert secret not in pdf
    (image,) = images(pdf)
    assert image.size == (630, 840) and not image.getexif()


@pytest.mark.parametrize(
    "content",
    [b"\xff\xd8\xff no picture", photograph("CUT")[:3000], b"\x89PNG\r\n\x1a\n", b"GIF89a", b"<svg/>"],
)
def test_a_damaged_picture_is_said(small, content):
    pdf = pack_with(small, "belts.jpg", content)[1]()
    assert not images(pdf)
    assert bare("belts.jpg: the picture is damaged and cannot be read") in said(pdf)


@pytest.mark.parametrize("is_gone", [True, False])
def test_an_original_gone_or_changed_is_said(small, is_gone):
    digest, pack = pack_with(small, "belts.jpg", photograph("BELTS"))
    path = small.folder / "originals" / digest
    path.chmod(0o644)
    path.unlink() if is_gone else path.write_bytes(photograph("OTHER BELTS"))
    pdf = pack()
    assert not images(pdf)
    assert bare("belts.jpg: its original is gone or was changed") in said(pdf)


def test_what_was_typed_comes_out_as_typed(small):
    _, pack = pack_with(small, f"{HOSTILE}.jpg", photograph("X"), instrument=HOSTILE, serial=HOSTILE)
    assert said(pack()).count(bare(HOSTILE)) >= 3


def test_a_hard_hit_stands_on_the_cover(small):
    small.record([draft(AccidentHappened(what="the wall"), key="hit", day=date(2026, 6, 3))])
    first = pages(scrutineer_pack(small, small.next_meeting()))[0]
    assert "Hit hard on 3 Jun 2026" in first
