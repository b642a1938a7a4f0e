"""Whatever is saved, edited outside, deleted, cut off and reopened in whatever order: no text is lost."""

from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from deaths import place_in_memory
from stores import new_store
from tintop.store import kept_documents
from tintop.store.garage_store import Store
from tintop.store.revisions import DocumentConflict

NAME = "car.toml"
PLACES = st.sampled_from([0, 0, 0, 1, 5])
TEXTS = st.sampled_from([f"mass = {number}\n" for number in range(6)])


class Died(BaseException):
    """The program dies here."""


class OneDocument(RuleBasedStateMachine):
    """One document against a plain list of the texts it must have had."""

    def __init__(self) -> None:
        super().__init__()
        self.place = place_in_memory()
        self.folder: Path = self.place.__enter__() / "garage"
        self.store: Store | None = None
        self.expected: list[str] = []  # texts of the revisions
        self.on_disk: str | None = None  # what must be found in the file
        self.unwritten: str | None = None  # saved, its file not yet written

    @initialize()
    def make(self) -> None:
        self.store = new_store(self.folder)

    def _look(self) -> None:
        """What a look at the folder must do."""
        if self.unwritten is not None and self.on_disk == self._before:
            self.on_disk = self.unwritten
        elif self.on_disk is not None and self.expected[-1:] != [self.on_disk]:
            self.expected.append(self.on_disk)
        self.unwritten = None

    @rule(text=TEXTS, back=PLACES, edited=st.none() | TEXTS)
    def save(self, text: str, back: int, edited: str | None) -> None:
        """Save, based on what stands or on something older, perhaps just after an edit outside."""
        assert self.store
        if edited is not None:
            self.edit_outside(edited)
        digests = [one.digest for one in self.store.revisions(NAME)] if self.expected else []
        based_on = digests[min(back, len(digests) - 1)] if digests else None
        if self.on_disk is not None:
            self._look()
        stood = self.expected[-1] if self.expected else None
        try:
            self.store.save_document(NAME, text, based_on=based_on, who="Ann", why="")
        except DocumentConflict as conflict:
            assert conflict.stands.text == stood != text
            return
        if text != stood:
            self.expected.append(text)
        self.on_disk, self.unwritten = text, None

    @rule(text=TEXTS)
    def save_and_die(self, text: str) -> None:
        """Save what is based on the present text, and die before the file is written."""
        assert self.store
        self.store.take_in_outside_edits()
        self._look()
        stood = self.store.digests().get(NAME)
        if self.on_disk is None or (self.expected and self.expected[-1] == text):
            return
        put, kept_documents.put_in_place = kept_documents.put_in_place, self._die
        try:
            self.store.save_document(NAME, text, based_on=stood, who="Ann", why="")
        except Died:
            self.expected.append(text)
            self._before, self.unwritten = self.on_disk, text
        finally:
            kept_documents.put_in_place = put
        self._open_again()

    @staticmethod
    def _die(*_: object) -> None:
        raise Died

    @rule(text=TEXTS)
    def edit_outside(self, text: str) -> None:
        (self.folder / NAME).write_text(text)
        self.on_disk = text

    @rule()
    def delete_outside(self) -> None:
        (self.folder / NAME).unlink(missing_ok=True)
        self.on_disk = None

    @rule()
    def look(self) -> None:
        assert self.store
        self.store.take_in_outside_edits()
        self._look()

    @rule()
    def open_again(self) -> None:
        self._open_again()

    def _open_again(self) -> None:
        assert self.store
        self.store.close()
        self.store = Store.open(self.folder)
        self._look()

    @invariant()
    def nothing_is_lost(self) -> None:
        if self.store is None:
            return
        names = self.store.document_names()
        texts = [one.text for one in reversed(self.store.revisions(NAME))] if NAME in names else []
        assert texts == self.expected
        path = self.folder / NAME
        assert (path.read_text() if path.exists() else None) == self.on_disk
        assert not list(self.folder.glob(".*.part*"))

    def teardown(self) -> None:
        if self.store:
            self.store.close()
        self.place.__exit__(None, None, None)


TestOneDocument = OneDocument.TestCase
TestOneDocument.settings = settings(max_examples=20, stateful_step_count=15, deadline=None)
