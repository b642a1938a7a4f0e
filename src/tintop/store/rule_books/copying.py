"""Texts of rule books for an owner to edit: a copy of a shipped book, and a new one."""

import re
from hashlib import sha256

from tintop.errors import did_you_mean, refuse
from tintop.rules.book import Read
from tintop.store.plain_text import check_line
from tintop.store.rule_books.document import book_text
from tintop.store.rule_books.reader import ID
from tintop.store.rule_books.shipped import shipped_ids, shipped_text

_NOTE = """\
# Your own copy of the book {id!r} shipped with tintop. In this garage it stands in place of the shipped
# one, also when a later tintop ships another edition, and every answer that rests on it says so. It is a
# working aid of figures with their clause and date, never the regulations: those in force, and the
# scrutineer, come first.
# Copied from the shipped text {digest}
# {from_memory} of {clauses} clauses are marked known = "memory": such a figure never gives a pass until it is
# looked up in the regulation in force. Look it up, put it right, and write into the clause
#   verified_on = 2026-02-01
#   verified_by = "Your name"
# or let the page or `tintop books verify {id}:CLAUSE` write it.
# `tintop books check FILE` reads it; `tintop books changes {id} --garage FOLDER` lists what you changed.

"""
_COPIED_FROM = re.compile(r"^# Copied from the shipped text ([0-9a-f]{16})\s*$", re.MULTILINE)
_NEW = """\
# {title}: a rule book for tintop. docs/rule_books.md explains every field.
# A working aid of figures with their clause and date, never the regulations.

[book]
id = "{id}"                       # the same as the file's name
title = "{title}"
edition = "1"
jurisdiction = "who has to keep it, and where"
valid_from = {first_day}
builds_on = [{builds_on}]
cautions = ["A working aid of figures with their clause and date, never the regulations."]

# One requirement; copy it for each. Take the # away and change every line.
# [[clause]]
# id = "door-number-height"
# group = "numbers"
# title = "Height of the door numbers"
# requirement = "In your own words, one or two sentences."
# reference = "Art. 4.2"
# severity = "must be mended"     # or "stops you racing", "advice"
# known = "own"                   # or "read", "quoted" (with source = "..."), "memory", "computed"
# value = "numbers.height"
# at_least = "230 mm"
# cure = "What to do when it is not met."
"""


def copy_text(id: str) -> str:
    """Give the text of a shipped book with a note on top on what to do with it.

    Raises BadInput naming the books there are for any other id.
    """
    if id not in shipped_ids():
        expected = f"one of {', '.join(shipped_ids())}"
        raise refuse("rule book", repr(id), expected, did_you_mean(id, shipped_ids()))
    text = shipped_text(id)
    clauses = book_text(text, f"{id}.toml").tables.get("clause", [])
    from_memory = sum(clause.get("known") == Read.MEMORY for clause in clauses)
    note = _NOTE.format(id=id, from_memory=from_memory, clauses=len(clauses), digest=_digest(text))
    return note + text


def has_changed_since(id: str, copy: str) -> bool:
    """Whether the shipped book is another text now than the one a copy of it was made from.

    False for a text that does not say what it was copied from, and for an id that is not shipped.
    """
    found = _COPIED_FROM.search(copy)
    return found is not None and id in shipped_ids() and found[1] != _digest(shipped_text(id))


def _digest(text: str) -> str:
    return sha256(text.encode()).hexdigest()[:16]


def new_book_text(id: str, title: str, builds_on: tuple[str, ...] = (), first_day: str = "2026-01-01") -> str:
    """Give a commented text to start a rule book from; BadInput for an id or title that will not do."""
    for one in (id, *builds_on):
        if not ID.fullmatch(one):
            raise refuse("id of a rule book", repr(one[:60]), "small letters a to z, digits, - and _")
    check_line("title of a rule book", title)
    if re.search(r'["\\]', title):
        raise refuse("title of a rule book", repr(title), 'a title without " and \\')
    listed = ", ".join(f'"{one}"' for one in builds_on)
    return _NEW.format(id=id, title=title, builds_on=listed, first_day=first_day)


def next_edition_text(text: str, old: str, new: str) -> str:
    """Give the text of a book under another id, such as next year's edition beside this year's.

    Raises BadInput for an id that will not do, or where the book's own id cannot be found on its line.
    """
    if not ID.fullmatch(new):
        raise refuse("id of a rule book", repr(new[:60]), "small letters a to z, digits, - and _")
    lines = text.split("\n")
    place = (book_text(text, f"{old}.toml").line_of("book.id") or 1) - 1
    changed = re.sub(
        rf"(\bid\s*=\s*)([\"'])({re.escape(old)})\2", rf"\g<1>\g<2>{new}\g<2>", lines[place], count=1
    )
    if changed == lines[place]:
        raise refuse(
            f"{old}.toml line {place + 1}", lines[place].strip()[:60], f'id = "{old}" on a line of its own'
        )
    lines[place] = changed
    return "\n".join(lines)
