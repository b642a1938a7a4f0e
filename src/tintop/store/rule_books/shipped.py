"""The rule books and facts that come with tintop."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from types import MappingProxyType

from tintop.rules.book import RuleBook
from tintop.rules.facts import Fact
from tintop.store.rule_books.document import book_text
from tintop.store.rule_books.reader import facts_of

_SUFFIX = ".toml"


@cache
def shipped_ids() -> tuple[str, ...]:
    """Give the ids of the books shipped, in alphabetical order."""
    return tuple(sorted(name.removesuffix(_SUFFIX) for name in _names(_folder())))


def shipped_text(id: str) -> str:
    """Give the text of a shipped book; KeyError for any other id."""
    if id not in shipped_ids():
        raise KeyError(id)
    return _folder().joinpath(id + _SUFFIX).read_text("utf-8")


@cache
def shipped_facts() -> Mapping[str, Fact]:
    """Give the facts shipped, by name, in the order of their files."""
    found: dict[str, Fact] = {}
    folder = _folder().joinpath("facts")
    texts = [book_text(folder.joinpath(name).read_text("utf-8"), f"facts/{name}") for name in _names(folder)]
    for text in sorted(texts, key=_lists_first):
        found.update((fact.name, fact) for fact in facts_of(text, found))
    return MappingProxyType(found)


def shipped_book(id: str) -> RuleBook:
    """Give a shipped book; raises BadInput naming the books there are for any other id."""
    from tintop.store.rule_books.load import load_books

    return load_books([id])[0][-1]


def _lists_first(text: object) -> bool:
    return '"names"' not in getattr(text, "text", "")


def _folder() -> Traversable:
    return files("tintop").joinpath("data/rule_books")


def _names(folder: Traversable) -> list[str]:
    return sorted(entry.name for entry in folder.iterdir() if entry.name.endswith(_SUFFIX))
