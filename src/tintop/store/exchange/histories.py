"""Revisions of documents and the list of originals as TOML text, and back."""

import json
from collections.abc import Iterable, Sequence
from dataclasses import fields
from typing import Any, TypeVar

from pydantic import ConfigDict, TypeAdapter, ValidationError

from tintop.errors import BadInput, refuse
from tintop.store import moments
from tintop.store.document_names import check_document_name
from tintop.store.documents.text import toml_tables
from tintop.store.documents.written import shown
from tintop.store.exchange.toml_writing import toml_block, toml_lines
from tintop.store.kept_documents import document_bytes
from tintop.store.originals import Original
from tintop.store.plain_text import check_text
from tintop.store.revisions import Revision, digest_of

_One = TypeVar("_One", Revision, Original)

_REVISIONS_HEAD = """\
# Every saved revision of every document, in the order of saving; the texts stand once each, below.
"""
_ORIGINALS_HEAD = (
    "# Photographs, logs and papers: each is the file of this digest (sha-256) in the folder originals.\n"
)


def revisions_to_text(history: Iterable[Revision]) -> str:
    """Write revisions, oldest first: name, number, digest, when, who, why; each text once, by its digest."""
    texts: dict[str, str] = {}
    blocks = [_REVISIONS_HEAD]
    for revision in history:
        texts[revision.digest] = revision.text
        table = {one.name: getattr(revision, one.name) for one in fields(revision) if one.name != "text"}
        blocks.append(toml_block("revision", table))
    for digest, text in texts.items():
        blocks.append(f'\n[[text]]\ndigest = "{digest}"\ntext = {toml_lines(text)}\n')
    return "".join(blocks)


def revisions_from_text(text: str, name: str) -> tuple[Revision, ...]:
    """Read what `revisions_to_text` wrote; `name` is the file's.

    Raises BadInput for a text that is missing or does not have its digest, a name no document may have, or
    numbers that do not run from 1 for each document.
    """
    content = toml_tables(text, name)
    _refuse_others(content, ("revision", "text"), name)
    texts = {}
    for place, table in enumerate(_list(content, "text", name), 1):
        found = table.get("text") if isinstance(table, dict) else None
        if not isinstance(found, str) or digest_of(found) != table.get("digest"):
            raise refuse(
                f"{name}, text {place}", "a text that does not have its digest", "the text as exported"
            )
        document_bytes(f"{name}, text {place}", found)
        texts[digest_of(found)] = found
    joined = []
    for place, table in enumerate(_list(content, "revision", name), 1):
        if isinstance(table, dict):
            digest = table.get("digest")
            if not isinstance(digest, str) or digest not in texts:
                raise refuse(f"{name}, revision {place}, digest", shown(digest), "the digest of a text below")
            table = {**table, "text": texts[digest]}
        joined.append(table)
    history = _read(Revision, joined, f"{name}, revision")
    last: dict[str, int] = {}
    for place, revision in enumerate(history, 1):
        where = f"{name}, revision {place}"
        try:
            check_document_name(revision.name)
            moments.read(revision.saved_at)
            check_text("who", revision.who, longest=200)
            check_text("why", revision.why)
        except BadInput as error:
            problem = error.problems[0]
            raise refuse(f"{where}, {problem.where}", problem.found, problem.expected, problem.cure) from None
        except ValueError:
            raise refuse(
                f"{where}, saved_at", shown(revision.saved_at), "such as 2026-05-02T14:05:00Z"
            ) from None
        expected = last.get(revision.name, 0) + 1
        if revision.number != expected:
            raise refuse(f"{where}, number", revision.number, f"{expected}, the next of {revision.name}")
        last[revision.name] = expected
    return history


def originals_to_text(originals: Iterable[Original]) -> str:
    """Write what is known of each original, by digest."""
    ordered = sorted(originals, key=lambda original: original.digest)
    tables = ({one.name: getattr(original, one.name) for one in fields(original)} for original in ordered)
    return "".join([_ORIGINALS_HEAD, *(toml_block("original", table) for table in tables)])


def originals_from_text(text: str, name: str) -> tuple[Original, ...]:
    """Read what `originals_to_text` wrote; raises BadInput."""
    content = toml_tables(text, name)
    _refuse_others(content, ("original",), name)
    originals = _read(Original, _list(content, "original", name), f"{name}, original")
    digests = [original.digest for original in originals]
    for place, digest in enumerate(digests, 1):
        where = f"{name}, original {place}, digest"
        if len(digest) != 64 or not set(digest) <= set("0123456789abcdef"):
            raise refuse(where, shown(digest), "64 digits 0 to 9 and a to f")
        if digest in digests[: place - 1]:
            raise refuse(where, "the same a second time", "a digest that comes once")
    return originals


def _read(kind: type[_One], tables: Sequence[Any], where: str) -> tuple[_One, ...]:
    strictly = ConfigDict(strict=True, extra="forbid")
    adapter = TypeAdapter(list[kind], config=strictly)  # type: ignore[valid-type]
    try:
        return tuple(adapter.validate_json(json.dumps(tables, default=str)))
    except ValidationError as error:
        detail = error.errors(include_url=False)[0]
        place, *steps = detail["loc"]
        path = ", ".join([f"{where} {int(place) + 1}", *map(str, steps)])
        raise refuse(path, shown(detail["input"]), str(detail["msg"]).lower()) from None


def _list(content: dict[str, Any], key: str, name: str) -> list[Any]:
    tables = content.get(key, [])
    if not isinstance(tables, list):
        raise refuse(f"{name}, {key}", "one table", f"blocks that begin with [[{key}]], in double brackets")
    return tables


def _refuse_others(content: dict[str, Any], keys: Sequence[str], name: str) -> None:
    for key in content:
        if key not in keys:
            raise refuse(f"{name}, {key}", "a field of an unknown name", "blocks of " + " and ".join(keys))
