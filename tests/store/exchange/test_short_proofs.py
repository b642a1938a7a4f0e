"""Proofs written in words in a file of evidence: read as on the page, blanks left, mistakes by line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.errors import BadInput
from tintop.logbook.proof_values import value_of
from tintop.rules.facts import Fact, FactKind, Station
from tintop.rules.reading_facts import read_fact
from tintop.store.exchange.text import drafts_from_text
from tintop.store.rule_books import shipped_facts

FACTS = {
    **shipped_facts(),
    "a.height": Fact(
        name="a.height",
        ask="Height",
        kind=FactKind.NUMBER,
        station=Station.OUTSIDE,
        quantity="length",
        unit="mm",
    ),
}
HEAD = 'who = "Robin"\nday = 2026-05-01\n'


def block(fact="a.height", form="measurement", written="153 mm", more=""):
    return f'[[entry]]\nfact = "{fact}"\nform = "{form}"\nwritten = "{written}"\n{more}\n'


def drafts(*blocks, head=HEAD):
    return drafts_from_text(head + "".join(blocks), "evidence.toml", FACTS)


def refusal(*blocks):
    with pytest.raises(BadInput) as refused:
        drafts(*blocks)
    return [str(problem) for problem in refused.value.problems]


def test_a_value_in_words_is_read_with_its_unit_and_error():
    (one,) = drafts(block(written="153 ± 0.5 mm", more='instrument = "tape"\nserial = "7"'))
    proof = one.matter
    assert (value_of(proof), proof.error, proof.written) == (0.153, pytest.approx(0.0005), "153 ± 0.5 mm")
    assert (one.who, str(one.day), one.instrument, proof.serial) == ("Robin", "2026-05-01", "tape", "7")


@pytest.mark.parametrize(
    ("fact", "each", "form", "written"),
    [
        ("numbers.height", "left", "measurement", "235 mm"),
        ("harness.label", "", "label", "2027"),
        ("drivers", "", "witness", "Robin, Sam"),
        ("kit.helmet_standard", "Robin", "label", "8859-2015"),
        ("fire.system_checked", "", "label", "2026-03-14"),
        ("lights.rain_light", "", "witness", "one red lamp"),
        ("lights.rain_switch_by_driver", "", "trial", "yes"),
        ("cage.main_hoop_tube", "", "measurement", "45 x 2.5 mm"),
    ],
)
def test_every_kind_of_fact_is_read_as_it_is_on_the_page(fact, each, form, written):
    known = FACTS[fact]
    if isinstance(known.each, tuple) and known.each:
        each = known.each[0]
    (one,) = drafts(block(fact, form, written, f'each = "{each}"' if each else ""))
    assert value_of(one.matter) == read_fact(known, written)[0]
    assert (one.matter.fact, one.matter.each, one.matter.form) == (fact, each, form)


def test_blanks_are_passed_over_and_the_full_form_still_reads_beside_it():
    full = 'kind = "proof"\nfact_kind = "number"\nvalues = [0.2]\n'
    found = drafts(block(written=""), block(), block(more=full, written="200 mm"))
    assert [value_of(one.matter) for one in found] == [0.153, 0.2]


def test_every_mistake_is_told_with_its_line():
    found = refusal(
        block(written="153"),
        block(fact="a.hieght"),
        block(form="measured"),
        block(fact="numbers.height", written="250 mm"),
    )
    assert [one.split(": found")[0] for one in found] == [
        "evidence.toml line 6, entry 1, written",
        "evidence.toml line 9, entry 2, fact",
        "evidence.toml line 15, entry 3, form",
        "evidence.toml line 18, entry 4, each",
    ]
    assert "Did you mean a.height?" in found[1] and "Did you mean measurement?" in found[2]


def test_a_line_after_blanks_is_told_as_it_stands_in_the_file():
    (one,) = refusal(block(written=""), block(written=""), block(written="x"))
    assert one.startswith("evidence.toml line 16, entry 3, written")


@pytest.mark.parametrize(
    ("once", "says"), [("who = 3", "text in quotes"), ('day = "today"', "a day such as")]
)
def test_what_stands_once_on_top_is_checked(once, says):
    with pytest.raises(BadInput, match=says):
        drafts(block(), head=once + "\n")


@given(
    st.dictionaries(st.sampled_from(["fact", "form", "written", "each", "kind", "day", "papers"]), st.text())
)
def test_whatever_is_written_is_read_or_refused(fields):
    import tomli_w

    text = tomli_w.dumps({"who": "Robin", "entry": [fields]})
    try:
        drafts_from_text(text, "evidence.toml", FACTS)
    except BadInput as error:
        assert all("evidence.toml" in problem.where for problem in error.problems)
