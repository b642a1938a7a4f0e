"""Books found and put on one another."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rule_texts import FACTS, FIRST_LINES, book, clause
from tintop.errors import BadInput
from tintop.rules.stack import stacked
from tintop.store.rule_books.load import MOST_BOOKS, load_books, load_stack, read_rule_book
from tintop.store.rule_books.shipped import shipped_facts, shipped_ids, shipped_text

LIMIT = 'value = "test.height"\nat_least = "230 mm"'


def head(id, *builds_on):
    listed = ", ".join(f'"{one}"' for one in builds_on)
    return FIRST_LINES.replace('"harrow"', f'"{id}"').replace("valid_to", f"builds_on = [{listed}]\nvalid_to")


def text(id, *builds_on, clauses=(), facts=""):
    return book(*clauses, head=head(id, *builds_on), facts=facts)


BASE = text("base", clauses=[clause(LIMIT)], facts=FACTS)


def refusal(ids, own):
    with pytest.raises(BadInput) as refused:
        load_books(ids, own)
    return str(refused.value)


def test_books_come_lowest_first_each_once():
    own = {
        "base": BASE,
        "left": text("left", "base"),
        "right": text("right", "base"),
        "top": text("top", "right", "left"),
    }
    books, facts = load_books(["top", "base"], own)
    assert [found.id for found in books] == ["base", "right", "left", "top"]
    assert set(facts) == set(shipped_facts()) | {fact.name for fact in books[0].facts}


@given(st.permutations(["base", "left", "right", "top"]))
def test_the_order_asked_for_changes_nothing_in_what_stands_on_what(ids):
    own = {
        "base": BASE,
        "left": text("left", "base"),
        "right": text("right", "left"),
        "top": text("top", "right"),
    }
    books, _ = load_books(ids, own)
    assert [found.id for found in books] == ["base", "left", "right", "top"]


def test_a_book_may_use_the_facts_of_those_below():
    own = {"base": BASE, "top": text("top", "base", clauses=[clause(LIMIT, id="other")])}
    books, _ = load_books(["top"], own)
    assert books[1].clauses[0].facts == ("test.height",)


def test_a_stack_is_laid_from_the_books():
    upper = clause('tightens = "base:height"\n' + LIMIT.replace("230", "250"), id="higher")
    own = {"base": BASE, "top": text("top", "base", clauses=[upper])}
    stack, facts = load_stack(["top"], own)
    assert stack == stacked(load_books(["top"], own)[0])
    assert [len(requirement.placed) for requirement in stack.requirements] == [2]
    assert "test.height" in facts


def test_an_own_text_wins_over_the_shipped_one_and_says_so():
    id = shipped_ids()[0]
    own_text = shipped_text(id).replace('edition = "', 'edition = "own ', 1)
    (shipped, *_), _ = load_books([id])
    books, _ = load_books([id], {id: own_text})
    assert not shipped.is_own_copy
    assert books[-1].is_own_copy
    assert books[-1].edition.startswith("own ")
    assert books[-1].name == f"rule_books/{id}.toml"


def test_a_book_that_is_not_there_is_refused_with_a_near_name():
    assert "Did you mean base?" in refusal(["bose"], {"base": BASE})
    words = refusal(["top"], {"top": text("top", "bass"), "base": BASE})
    assert "rule_books/top.toml line 7, book.builds_on: found no rule book 'bass'" in words
    assert "Did you mean base?" in words


@pytest.mark.parametrize(
    ("own", "ring"),
    [
        ({"a": text("a", "a")}, "a → a"),
        ({"a": text("a", "b"), "b": text("b", "a")}, "a → b → a"),
        (
            {"a": text("a", "b"), "b": text("b", "c"), "c": text("c", "d"), "d": text("d", "b")},
            "b → c → d → b",
        ),
    ],
)
def test_a_ring_of_books_is_refused_naming_the_ring(own, ring):
    words = refusal(["a"], own)
    assert f"({ring})" in words
    assert "line 7, book.builds_on" in words


def test_a_tower_of_books_is_refused():
    own = {f"b{n}": text(f"b{n}", f"b{n + 1}") for n in range(500)}
    assert f"more than {MOST_BOOKS} rule books" in refusal(["b0"], own)


def test_a_flood_of_books_that_are_not_there_is_cut_short():
    with pytest.raises(BadInput) as refused:
        load_books(["top"], {"top": text("top", *(f"b{n}" for n in range(5_000)))})
    assert len(refused.value.problems) <= 60


@pytest.mark.parametrize("act", ["replaces", "tightens", "waives"])
@pytest.mark.parametrize(
    ("target", "words"),
    [
        ("base:hieght", "expected a clause of base. Did you mean height?"),
        ("bose:height", "Did you mean base?"),
        ("aside:height", "Add 'aside' to builds_on."),
        ("top:height", "Change the clause itself."),
    ],
)
def test_an_act_on_nothing_is_refused(act, target, words):
    fields = f'{act} = "{target}"\n' + ("" if act == "waives" else LIMIT)
    own = {
        "base": BASE,
        "aside": text("aside", clauses=[clause('shown = ["test.height"]')], facts=FACTS),
        "top": text("top", "base", clauses=[clause(fields, id="acts")]),
    }
    said = refusal(["top", "aside"], own)
    assert words in said
    assert f"clause 'acts', {act}: found" in said


def test_problems_of_all_books_are_told_at_once():
    own = {
        "base": BASE.replace("2026-12-31", "2025-12-31"),
        "top": text("top", "base", "nowhere", clauses=[clause(LIMIT.replace("mm", "kg"))]),
    }
    said = refusal(["top"], own)
    assert "rule_books/base.toml" in said
    assert "'nowhere'" in said
    assert "a length beside a mass" in said


def test_text_that_is_not_toml_is_refused_with_its_line():
    assert "rule_books/base.toml line 2" in refusal(["base"], {"base": "[book]\nid = \n"})


def test_a_file_is_read_with_those_beside_it(tmp_path: Path):
    (tmp_path / "base.toml").write_text(BASE, "utf-8")
    top = tmp_path / "top.toml"
    top.write_text(text("top", "base", clauses=[clause(LIMIT, id="other")]), "utf-8")
    assert read_rule_book(top).id == "top"
    assert read_rule_book(str(top)).clauses[0].id == "other"
    (tmp_path / "base.toml").unlink()
    with pytest.raises(BadInput, match="no rule book 'base'"):
        read_rule_book(top)


def test_a_file_stands_on_the_shipped_books(tmp_path: Path):
    top = tmp_path / "top.toml"
    top.write_text(text("top", shipped_ids()[0]), "utf-8")
    assert read_rule_book(top).builds_on == (shipped_ids()[0],)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (None, "no such file"),
        (b"", "an empty file"),
        (b"# \n" * 2_000_000, "6.0 MB"),
        (b"\x89PNG\r\n\x1a\n\xff", "not UTF-8"),
        ('id = "a"'.encode("utf-16"), "UTF-16"),
        (b"<html></html>", "not TOML"),
        (b"clause = " + b"[" * 100_000, "nested too deeply"),
    ],
)
def test_files_that_are_no_rule_books_are_refused(tmp_path: Path, content, words):
    path = tmp_path / "harrow.toml"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(BadInput, match=words):
        read_rule_book(path)
    with pytest.raises(BadInput, match="a folder"):
        read_rule_book(tmp_path)
