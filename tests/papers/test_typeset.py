from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import bare, furthest_right, is_a4, pages, said

from tintop.papers.content import BuildBook, Chapter, Column, Facts, Picture, Table, Words
from tintop.papers.typeset import set_build_book

HOSTILE = (
    '#import "x"',
    "*bold*",
    "$x$",
    "_thin_ `raw` ~",
    "@nobody <label> = title",
    "// gone /* gone */ \\ #",
    '#read("/etc/passwd")',
    "{{ }} [#panic()]",
    "5 % & <b>x</b> -- ...",
)
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 20"><text x="2" y="12">{}</text></svg>'


def book(**changes) -> BuildBook:
    plain = BuildBook(
        title="Lantern",
        lead="a hatchback",
        edition="an edition",
        day=date(2026, 6, 15),
        facts=(("owner", "Sam"),),
        by_hand=("Chassis number",),
        failed=(),
        drawing="",
        chapters=(Chapter(title="One", blocks=(Words(text="words"),)),),
        cautions=("a caution",),
    )
    return replace(plain, **changes)


def everywhere(words: str) -> BuildBook:
    table = Table(
        columns=(Column(head=words), Column(head="n", is_number=True)),
        rows=((words, words), (words, "2")),
        title=words,
        strong=frozenset({1}),
        bars=(0.5, 1.5),
    )
    blocks = (
        Words(text=words),
        Facts(pairs=((words, words),)),
        table,
        Picture(svg=SVG.format("x"), caption=words),
    )
    return book(
        title=words,
        lead=words,
        edition=words,
        facts=((words, words),),
        by_hand=(words,),
        failed=(words,),
        chapters=(Chapter(title=words, blocks=blocks),),
        cautions=(words,),
    )


@pytest.mark.parametrize("words", HOSTILE)
def test_what_was_typed_comes_out_as_typed(words):
    # title twice, lead, edition, facts 2, by hand, caution, heading, contents, words, facts 2, table 5
    assert said(set_build_book(everywhere(words))).count(bare(words)) >= 17


@settings(max_examples=4, deadline=None)
@given(
    st.lists(
        st.text(st.characters(min_codepoint=33, max_codepoint=126), min_size=1, max_size=30),
        min_size=8,
        max_size=8,
    )
)
def test_any_text_comes_out_as_typed(words):
    rows = tuple((each, "") for each in words)
    table = Table(columns=(Column(head="a"), Column(head="b")), rows=rows)
    printed = said(set_build_book(book(chapters=(Chapter(title="One", blocks=(table,)),))))
    for each in words:
        assert bare(each) in printed


def test_the_same_content_gives_the_same_bytes_and_another_day_others():
    assert set_build_book(book()) == set_build_book(book())
    assert set_build_book(book()) != set_build_book(book(day=date(2026, 6, 16)))


def test_every_page_is_a4_numbered_and_defers_to_the_scrutineer():
    many = tuple(Chapter(title=f"Chapter {n}", blocks=(Words(text="words " * 400),)) for n in range(6))
    pdf = set_build_book(book(chapters=many))
    found = pages(pdf)
    assert is_a4(pdf) and len(found) > 3
    for number, page in enumerate(found, 1):
        assert f"{number} / {len(found)}" in page
        assert "scrutineers, the regulations in force and licensed practice come first" in page
        assert "15 June 2026" in page


def test_the_contents_name_the_pages_the_chapters_are_on():
    many = tuple(Chapter(title=f"Matter {n}", blocks=(Words(text="words " * 500),)) for n in range(5))
    found = pages(set_build_book(book(chapters=many)))
    for n in range(5):
        at = next(number for number, page in enumerate(found, 1) if page.count(f"Matter {n}") > (number == 2))
        assert f"Matter {n} " in found[1]
        listed = found[1].split(f"Matter {n} ", 1)[1].split("Matter", 1)[0]
        assert listed.replace(". ", "").split()[0] == str(at)


def test_words_longer_than_a_column_stay_on_the_page():
    long = "Wheel" * 60
    narrow = Table(columns=tuple(Column(head=f"h{n}") for n in range(8)), rows=((long,) * 8,))
    pdf = set_build_book(book(title=long, chapters=(Chapter(title=long, blocks=(narrow,)),)))
    assert bare(long) in said(pdf)
    assert furthest_right(pdf) < 595.28 - 40.0


def test_signs_that_no_drawing_may_hold_do_not_stop_the_paper():
    picture = Picture(svg=SVG.format("a\x00b\x1bc"))
    assert set_build_book(book(chapters=(Chapter(title="One", blocks=(picture,)),))).startswith(b"%PDF")
