"""The fields of a rule book as rows, and its JSON Schema against an independent checker."""

import json
import tomllib
from datetime import date

import pytest
from click.testing import CliRunner

from rule_texts import book, clause
from tintop.cli import main
from tintop.store.rule_books import shipped_ids
from tintop.store.rule_books.schema import rule_book_json_schema, rule_book_rows
from tintop.store.rule_books.shipped import shipped_text

jsonschema_rs = pytest.importorskip("jsonschema_rs")


def holds(text):
    tables = json.loads(json.dumps(tomllib.loads(text), default=date.isoformat))
    return jsonschema_rs.validator_for(rule_book_json_schema()).is_valid(tables)


@pytest.mark.parametrize("id", shipped_ids())
def test_every_shipped_book_keeps_to_the_json_schema(id):
    assert holds(shipped_text(id))


@pytest.mark.parametrize(
    "wrong",
    [
        book(clause("vlaue = 3")),
        book(clause('shown = "test.hoop"')),
        book(clause("value = true")),
        book(clause('[clause.expires]\nkind = "end of year"')),
        book(clause('shown = ["test.hoop"]')).replace('group = "numbers"', 'group = "nummbers"'),
        book(clause('shown = ["test.hoop"]')).replace('title = "Height"\n', ""),
        clause('shown = ["test.hoop"]'),
    ],
)
def test_what_the_reader_refuses_by_its_form_the_json_schema_refuses_too(wrong):
    assert holds(book(clause('shown = ["test.hoop"]')))
    assert not holds(wrong)


def test_severity_and_known_may_be_left_out_where_a_clause_waives_alone():
    bare = book(clause('waives = "road_drive:lamps"'))
    bare = bare.replace('severity = "must be mended"\nknown = "own"\n', "")
    assert holds(bare)
    assert not holds(bare.replace('waives = "road_drive:lamps"', 'shown = ["test.hoop"]'))


def test_every_field_is_a_row_with_its_meaning():
    rows = {row.path: row for row in rule_book_rows()}
    assert rows["book.id"].default == "required"
    assert rows["clause[].at_most"].kind == "expression"
    assert "stops you racing" in rows["clause[].severity"].kind
    assert "clause[].expires.kind" in rows
    assert "clause[].rows[].up_to" in rows
    assert all(row.meaning for row in rows.values())


def test_the_command_lists_the_rows_and_prints_the_schema():
    listed = CliRunner().invoke(main, ["schema", "--document", "rule_book.toml"])
    assert listed.exit_code == 0
    assert "clause[].requirement: what is asked" in listed.output
    printed = CliRunner().invoke(main, ["schema", "--json-schema"])
    assert json.loads(printed.stdout) == rule_book_json_schema()
