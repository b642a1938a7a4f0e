"""docs/rule_books.md says what the code does: its books read, its tables are whole, its dates come out."""

import re
import tomllib
from datetime import date
from pathlib import Path

import click
import pytest

from tintop.cli import main
from tintop.rules.book import ExpiryKind, Read
from tintop.rules.evaluate import Given
from tintop.rules.evidence import Evidence, Form, Proven
from tintop.rules.expiry import last_good_day
from tintop.rules.facts import Fact, FactKey, FactKind, Station
from tintop.rules.findings import Ruling
from tintop.rules.functions import CHOOSES, FUNCTIONS, Function
from tintop.rules.inspect import inspect
from tintop.rules.writing_facts import read_fact
from tintop.store.exchange.text import drafts_from_text
from tintop.store.rule_books import load_books, load_stack, read_rule_book, shipped_facts
from tintop.store.rule_books.document import book_text
from tintop.store.rule_books.reader import rule_book_from

ROOT = Path(__file__).parents[1]
PAGE = (ROOT / "docs" / "rule_books.md").read_text("utf-8")
BLOCKS = re.findall(r"```toml\n(.*?)```", PAGE, re.S)
HEAD, BULLETIN = (block for block in BLOCKS if "[book]" in block)
WRITTEN = next(block for block in BLOCKS if "[[entry]]" in block)
OWN = "\n".join(block for block in BLOCKS if block not in (HEAD, BULLETIN, WRITTEN))
TEXTS = {"ferrier-vale": f"{HEAD}\n{OWN}", "ferrier-vale-bulletin-1": BULLETIN}
EXAMPLES = sorted((ROOT / "docs" / "examples").glob("*.toml"))


def table(first_cell):
    """The rows of the table whose head begins so, as lists of cells."""
    lines = PAGE[PAGE.index(f"| {first_cell} |") :].split("\n\n")[0].splitlines()[2:]
    return [[cell.strip() for cell in re.split(r"(?<!\\)\|", line)[1:-1]] for line in lines]


def function_row(function: Function) -> list[str]:
    gives = function.gives or "as given"
    return [f"`{function.written}`", function.meaning, function.formula.replace("|", "\\|"), gives]


def test_the_book_of_the_page_reads_as_it_stands():
    (*_, found), _ = load_books(["ferrier-vale"], TEXTS)
    assert len(found.clauses) == TEXTS["ferrier-vale"].count("[[clause]]")
    assert found.facts
    assert found.clause("seat-cushion").is_verified


def test_the_bulletin_of_the_page_tightens_waives_and_adds():
    stack, facts = load_stack(["ferrier-vale-bulletin-1"], TEXTS)
    assert [book.id for book in stack.books][-2:] == ["ferrier-vale", "ferrier-vale-bulletin-1"]
    heights = {FactKey("numbers.height", each): "240 mm" for each in ("left", "right", "bonnet")}
    strips = {FactKey("ferrier.sill_strip_height", each): "150 mm" for each in ("left", "right")}
    proven = {
        key: Proven(
            key=key, value=read_fact(facts[key.fact], text)[0], error=0.001, form=Form.MEASUREMENT, day=DAY
        )
        for key, text in (heights | strips).items()
    }
    day = date(2026, 6, 20)
    found = inspect(stack, facts, Evidence(proven=proven, fallen={}), day, day)
    ruled = {finding.id: finding for finding in found.findings}
    assert ruled["ferrier-vale:number-height"].ruling is Ruling.FAIL
    assert ruled["ferrier-vale:number-height"].decided_by == "ferrier-vale-bulletin-1:number-height"
    assert ruled["ferrier-vale:cameras"].ruling is Ruling.NOT_APPLICABLE
    assert ruled["ferrier-vale-bulletin-1:sill-strip"].ruling is Ruling.PASS
    late = inspect(stack, facts, Evidence(proven=proven, fallen={}), date(2026, 6, 22), date(2026, 6, 22))
    assert "ferrier-vale-bulletin-1:in-force" in {finding.id for finding in late.findings}


def test_the_evidence_of_the_page_reads():
    _, facts = load_books(["ferrier-vale"], TEXTS)
    drafts = drafts_from_text(WRITTEN, "evidence.toml", facts)
    assert [(one.matter.fact, str(one.day)) for one in drafts] == [
        ("numbers.height", "2026-05-30"),
        ("fire.system_checked", "2026-03-14"),
    ]


@pytest.mark.parametrize("written", re.findall(r"`tintop ([a-z]+(?: [a-z]+)?)([^`]*)`", PAGE))
def test_the_commands_the_page_names_are_there_with_their_options(written):
    names, rest = written
    command = main
    with click.Context(main) as context:
        for name in names.split():
            found = command.get_command(context, name) if isinstance(command, click.Group) else None
            command = found or command
    known = {option for each in command.params for option in each.opts}
    assert command is not main
    assert set(re.findall(r"--[a-z-]+", rest)) <= known


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_books_beside_the_page_read(path):
    assert read_rule_book(path).clauses


def test_the_table_of_functions_is_that_of_the_code():
    rows = table("function")
    assert [row[:4] for row in rows[:-1]] == [function_row(function) for function in FUNCTIONS.values()]
    assert rows[-1][0] == f"`{CHOOSES}(condition, a, b)`"


def test_the_kinds_of_facts_are_all_there_with_an_example_that_reads():
    rows = {row[0].strip("`"): row[1].strip("`") for row in table("kind of fact")}
    assert list(rows) == list(FactKind)
    for kind, example in rows.items():
        choices = ("foam", "gas") if kind == FactKind.CHOICE else ()
        quantity = "length" if kind.startswith(FactKind.NUMBER) else ""
        fact = Fact(
            name="a", ask="a", kind=FactKind(kind), station=Station.CABIN, quantity=quantity, choices=choices
        )
        read_fact(fact, example)


LABEL, AGAIN = "test.label", "seat.certified_again"


@pytest.mark.parametrize("row", table("`kind`"), ids=lambda row: row[0])
def test_the_last_good_day_of_each_kind_comes_out(row):
    kind, beside, label, day = row
    fields = "\n".join(re.findall(r"`(.*?)`", beside))
    text = HEAD.replace('"united_kingdom_club"', "")
    marked = "" if kind == f"`{ExpiryKind.WITHDRAWN}`" else f'marked = "{LABEL}"'
    names = [LABEL, *({AGAIN} - set(shipped_facts()))]
    text += "".join(
        f'[[fact]]\nname = "{name}"\nask = "a"\nkind = "marked date"\nstation = "cabin"\n' for name in names
    )
    text += (
        '[[clause]]\nid = "a"\ngroup = "kit"\ntitle = "a"\nrequirement = "a"\nreference = "a"\n'
        f'severity = "advice"\nknown = "own"\n[clause.expires]\nkind = "{kind.strip("`")}"\n'
        f"{marked}\n{fields}\n"
    )
    facts = dict(shipped_facts())
    book = rule_book_from(book_text(text, "ferrier-vale.toml"), facts)
    facts |= {fact.name: fact for fact in book.facts}
    check = book.clauses[0].check
    key = check.standard or check.marked
    fact = facts[key.fact]
    value = read_fact(fact, label)[0]
    each = "Robin" if fact.each else ""
    given = Given(values={FactKey(key.fact, each): value}, errors={}, facts=facts, each=each)
    expected = None if day == "none" else date.fromisoformat(day)
    assert last_good_day(check, given).day == expected


def test_every_kind_of_expiry_and_every_way_of_knowing_is_on_the_page():
    assert [row[0].strip("`") for row in table("`kind`")] == list(ExpiryKind)
    assert [row[0].strip("`") for row in table("`known`")] == list(Read)


def test_the_facts_the_page_names_are_shipped_or_its_own():
    own = {fact["name"] for fact in tomllib.loads(OWN).get("fact", [])}
    named = re.findall(r"`([a-z_]+\.[a-z_]+)(?:\[[a-z]+\])?`", PAGE)
    assert set(named) - {"clause.expires"} <= set(shipped_facts()) | own | {"rule_books.md"}


SECOND = "wolds-and-marsh"
DAY = date(2026, 6, 6)


def rulings(**written):
    """Rulings of the second book's own clauses, with facts written as an owner writes them."""
    text = (ROOT / "docs" / "examples" / f"{SECOND}.toml").read_text("utf-8")
    stack, facts = load_stack([SECOND], {SECOND: text})
    proven = {}
    for name, value in written.items():
        fact, _, each = name.replace("__", ".").partition("_of_")
        key = FactKey(fact, each)
        proven[key] = Proven(key=key, value=read_fact(facts[fact], value)[0], form=Form.MEASUREMENT, day=DAY)
    found = inspect(stack, facts, Evidence(proven=proven, fallen={}), DAY, DAY)
    return {
        heard.clause.removeprefix(f"{SECOND}:"): heard.ruling
        for finding in found.findings
        for heard in finding.heard
        if heard.clause.startswith(SECOND)
    }


def test_the_second_book_passes_nothing_on_no_evidence():
    found = rulings()
    assert len(found) >= 14
    assert set(found.values()) == {Ruling.NOT_PROVEN}


@pytest.mark.parametrize(
    ("mass", "ruling"), [("960 kg", Ruling.PASS), ("961 kg", Ruling.PASS), ("959.9 kg", Ruling.FAIL)]
)
def test_the_second_books_least_mass_is_worked_out_from_the_capacity(mass, ruling):
    car = {"car__capacity": "1600 cm3", "car__is_forced_induction": "no"}
    assert rulings(mass__with_driver=mass, **car)["least-mass"] is ruling


def test_the_second_book_advises_and_waives_as_its_sheet_says():
    found = rulings(
        mass__with_driver="1000 kg",
        power__at_wheels="108 kW",
        drivers="Robin",
        seat__helmet_gap_of_Robin="45 mm",
        car__year_homologated="1998",
        car__is_forced_induction="no",
        power__sheet_day="2025-05-31",
    )
    assert found["power-to-mass"] is Ruling.ADVISED
    assert found["helmet-gap"] is Ruling.FAIL
    assert found["restrictor"] is Ruling.NOT_APPLICABLE
    assert found["power-sheet-age"] is Ruling.EXPIRES
