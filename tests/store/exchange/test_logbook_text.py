"""The logbook as text: nothing lost, the same bytes again, and what is wrong named by its line."""

import tomllib
from datetime import date

import pytest
from hypothesis import given, settings

from logbook.entry_strategies import books
from tintop.errors import BadInput
from tintop.logbook.entries import Entry, Measure, Reading, Remark
from tintop.store.exchange.text import drafts_from_text, logbook_from_text, logbook_to_text

REMARK = '[[entry]]\nday = 2026-05-02\nkind = "remark"\ntext = "x"\n'


@given(books())
@settings(max_examples=150, deadline=None)
def test_export_import_export_loses_nothing_and_gives_the_same_bytes(entries: tuple[Entry, ...]) -> None:
    text = logbook_to_text(entries)
    again = logbook_from_text(text, "logbook.toml")
    assert again == entries
    assert logbook_to_text(reversed(again)) == text
    assert len(tomllib.loads(text).get("entry", [])) == len(entries)


def test_an_entry_reads_like_a_line_of_a_logbook() -> None:
    entry = Entry(
        number=1,
        key="k",
        day=date(2026, 5, 2),
        written_at="2026-05-02T10:00:00+00:00",
        who="Robin",
        matter=Reading(measure=Measure.TREAD_DEPTH, value=0.1 + 0.2, written='0,3 "rough"\n'),
        clock="10:55",
    )
    assert logbook_to_text([entry]).partition("\n\n")[2] == (
        '[[entry]]\nnumber = 1\nday = 2026-05-02\nclock = "10:55"\nkind = "reading"\n'
        'measure = "tread depth"\n'
        'value = 0.30000000000000004\nwritten = "0,3 \\"rough\\"\\n"\nwho = "Robin"\nkey = "k"\n'
        'written_at = "2026-05-02T10:00:00+00:00"\n'
    )


def test_an_empty_book_is_text_too() -> None:
    assert logbook_from_text(logbook_to_text([]), "logbook.toml") == ()


def test_hand_written_entries_get_their_key_from_name_and_place() -> None:
    text = 'who = "Robin"\n' + REMARK + REMARK + 'who = "Sam"\nkey = "own"\ncorrects = 1\n'
    first, second = drafts_from_text(text, "season.toml")
    assert (first.key, first.who, second.key, second.who) == ("season-1", "Robin", "own", "Sam")
    assert second.corrects == 1 and first.matter == Remark(text="x")
    assert drafts_from_text(text, "season.toml") == (first, second)


def test_an_exported_logbook_reads_as_drafts_too() -> None:
    entry = logbook_from_text(
        REMARK + 'number = 1\nwho = "R"\nkey = "k"\nwritten_at = "2026-05-02T10:00:00+00:00"\n', "a.toml"
    )
    (draft,) = drafts_from_text(logbook_to_text(entry), "a.toml")
    assert (draft.key, draft.matter) == ("k", entry[0].matter)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (REMARK, "season.toml line 1, entry 1 (remark), who: found nothing"),
        (
            'who = "R"\n\n' + REMARK + "abuot = 3\n",
            "season.toml line 7, entry 1 (remark), abuot: found",
        ),
        ('who = "R"\n' + REMARK + "note = 3\n", "season.toml line 6, entry 1 (remark), note: found 3"),
        (
            'who = "R"\n' + REMARK + "corrects = 1\n",
            "line 6, entry 1 (remark), corrects: found 1;",
        ),
        (
            'who = "R"\n' + REMARK + "number = 2\n",
            "line 6, entry 1 (remark), number: found 2; expected 1, its",
        ),
        (
            'who = "R"\n' + 2 * (REMARK + 'key = "k"\n'),
            "line 11, entry 2 (remark), key: found the key 'k'",
        ),
        ("who = 3\n" + REMARK, "season.toml, who: found 3; expected text in quotes"),
        ('whom = "R"\n' + REMARK, "season.toml, whom: found a field outside any entry"),
        ("[entry]\nday = 2026-05-02\n", "in double brackets"),
        ("entry = [1]\n", "a table of fields"),
        ('who = "R\n', "season.toml line 1: found text that is not TOML"),
        ('who = "R"\n' + REMARK + 'text = "y"\n', "text that is not TOML"),
    ],
)
def test_what_is_wrong_is_named_by_its_line(text: str, sentence: str) -> None:
    with pytest.raises(BadInput) as refusal:
        drafts_from_text(text, "season.toml")
    assert sentence in str(refusal.value)


def written(number: int, key: str, more: str = "") -> str:
    rest = f'number = {number}\nkey = "{key}"\nwho = "R"\nwritten_at = "2026-05-02T10:00:00+00:00"\n'
    return REMARK + rest + more


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (written(2, "a") + written(2, "b"), "entry 2 (remark), number: found 2; expected more than 2"),
        (written(1, "a") + written(2, "a"), "entry 2 (remark), key: found the key 'a' a second time"),
        (
            written(1, "a", "corrects = 2\n") + written(2, "b"),
            "corrects: found 2; expected the number",
        ),
    ],
)
def test_a_logbook_out_of_order_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(BadInput) as refusal:
        logbook_from_text(text, "logbook.toml")
    assert sentence in str(refusal.value)
