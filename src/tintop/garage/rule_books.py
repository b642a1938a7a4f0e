"""The rule books of a garage: its own documents, and the shipped ones below them."""

from collections.abc import Mapping, Sequence
from pathlib import PurePosixPath
from types import MappingProxyType

from tintop.errors import BadInput, refuse
from tintop.garage.keeper import RULE_BOOKS, Garage
from tintop.rules.facts import Fact
from tintop.rules.stack import Stack
from tintop.store.garage_store import Revision
from tintop.store.rule_books.load import load_stack
from tintop.store.rule_books.shipped import shipped_facts, shipped_ids

SET_ASIDE = """\
# Set aside: in this garage the book of this id stands as it is shipped with tintop.
# The copy that stood here is among the revisions of this document; bring one back and it counts again.
"""


def own_books(garage: Garage) -> Mapping[str, str]:
    """The texts of the garage's own rule books, by id; without copies set aside."""
    standing = garage.standing(_names(garage))
    texts = {_id(name): revision.text for name, revision in standing.items()}
    return {id: text for id, text in texts.items() if text != SET_ASIDE}


def forget_book(garage: Garage, id: str, who: str) -> Revision:
    """Set the garage's own copy of a shipped book aside: the shipped one stands again; no revision is lost.

    Raises BadInput where there is no such copy, where no book of that id is shipped, or where another of the
    garage's books rests on what only the copy has.
    """
    own, name = own_books(garage), f"{RULE_BOOKS}/{id}.toml"
    if id not in own:
        raise refuse(id, "no copy of yours", f"one of {', '.join(sorted(own)) or 'none: nothing is copied'}")
    return garage.save_document(
        name, SET_ASIDE, based_on=garage.standing([name])[name].digest, who=who, why="the shipped book again"
    )


def based_on(garage: Garage, id: str) -> str | None:
    """What a new text of a book is based on: nothing, or the copy that was set aside."""
    name = f"{RULE_BOOKS}/{id}.toml"
    is_there = name in garage.document_names(RULE_BOOKS) and id not in own_books(garage)
    return garage.standing([name])[name].digest if is_there else None


def own_digests(garage: Garage) -> Mapping[str, str]:
    """The digests of the garage's own rule books, by the name of the document."""
    return {name: revision.digest for name, revision in garage.standing(_names(garage)).items()}


def stack_of(garage: Garage, ids: Sequence[str]) -> tuple[Stack, Mapping[str, Fact]]:
    """The books of these ids with all they build on, and every fact they speak of.

    Raises BadInput with every problem of a book that is missing or does not read.
    """
    stands_on = (tuple(ids), tuple(own_digests(garage).items()))
    return garage.remember(
        f"rule books {' '.join(ids)}", stands_on, lambda: load_stack(ids, own_books(garage))
    )


def facts_of(garage: Garage) -> Mapping[str, Fact]:
    """Every fact that may be recorded: the shipped, and those the garage's own readable books declare."""
    stands_on = tuple(own_digests(garage).items())
    return garage.remember("facts", stands_on, lambda: facts_in(own_books(garage)))


def check_rule_book(garage: Garage, name: str, text: str) -> None:
    """Raise BadInput with every problem of a rule book about to be saved, and of those it builds on."""
    path = PurePosixPath(name)
    if path.suffix != ".toml":
        raise refuse(
            name, f"a document ending in {path.suffix}", f"a rule book such as {RULE_BOOKS}/series.toml"
        )
    if text != SET_ASIDE:
        load_stack([path.stem], {**own_books(garage), path.stem: text})
        return
    if path.stem not in shipped_ids():
        raise refuse(
            name, "a book that is not shipped", "a copy of a shipped one", "Take it off the events instead."
        )
    others = {id: own for id, own in own_books(garage).items() if id != path.stem}
    load_stack([path.stem, *others], others)


def facts_in(own: Mapping[str, str]) -> Mapping[str, Fact]:
    """The shipped facts, and those that the readable ones of some books declare."""
    found = dict(shipped_facts())
    for id in own:
        try:
            found |= load_stack([id], own)[1]
        except BadInput:
            continue  # said where the book is used
    return MappingProxyType(found)


def _names(garage: Garage) -> tuple[str, ...]:
    names = garage.document_names(RULE_BOOKS)
    return tuple(name for name in names if name.endswith(".toml"))


def _id(name: str) -> str:
    return PurePosixPath(name).stem
