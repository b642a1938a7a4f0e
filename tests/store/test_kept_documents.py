"""A document and its revisions stay in step, whoever edits it and whenever the program dies."""

import threading
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stores import new_store, save
from tintop.errors import BadInput
from tintop.store import kept_documents
from tintop.store.garage_store import Store
from tintop.store.revisions import DocumentConflict, digest_of


class Died(BaseException):
    """The program dies here."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    new_store(tmp_path / "garage").close()
    return tmp_path / "garage"


def die(*_: Any) -> None:
    raise Died


def texts(store: Store, name: str) -> list[str]:
    return [one.text for one in reversed(store.revisions(name))]


def test_each_save_is_a_dated_revision_with_who_and_why(folder: Path) -> None:
    with Store.open(folder) as store:
        one = store.save_document("car.toml", "mass = 1000\n", based_on=None, who="Ann", why="weighed")
        two = store.save_document(
            "car.toml", "mass = 990\n", based_on=one.digest, who="Bob", why="lighter\nseat"
        )
        assert store.revisions("car.toml") == (two, one)
        assert (two.number, two.who, two.why, two.origin) == (2, "Bob", "lighter\nseat", "saved here")
        assert two.digest == digest_of((folder / "car.toml").read_bytes())
        assert store.revision(one.digest) == one
        assert store.document("car.toml") == two
        back = store.save_document("car.toml", one.text, based_on=two.digest, who="Ann", why="seat back in")
        assert (back.number, back.origin) == (3, "restored")
        assert store.revision(one.digest) == back


def test_saving_over_something_else_is_a_conflict_and_nothing_is_written(folder: Path) -> None:
    with Store.open(folder) as store:
        first = store.save_document("car.toml", "mass = 1\n", based_on=None, who="Ann", why="")
        second = store.save_document("car.toml", "mass = 2\n", based_on=first.digest, who="Ann", why="hers")
        for based_on in (first.digest, None, "0" * 64):
            with pytest.raises(DocumentConflict, match=r"revision 2, saved here .* by Ann") as conflict:
                store.save_document("car.toml", "mass = 3\n", based_on=based_on, who="Bob", why="his")
            assert conflict.value.stands == second
        assert texts(store, "car.toml") == ["mass = 1\n", "mass = 2\n"]
        with pytest.raises(BadInput, match="no saved revision"):
            store.save_document("new.toml", "a = 1\n", based_on="0" * 64, who="Ann", why="")
    assert (folder / "car.toml").read_text() == "mass = 2\n"


def test_the_same_save_sent_twice_is_one_revision(folder: Path) -> None:
    with Store.open(folder) as store:
        first = save(store, "car.toml", "mass = 1\n")
        once = store.save_document("car.toml", "mass = 2\n", based_on=first, who="Ann", why="")
        assert store.save_document("car.toml", "mass = 2\n", based_on=first, who="Ann", why="") == once
        assert len(store.revisions("car.toml")) == 2


def test_of_many_who_save_at_once_exactly_one_wins(folder: Path) -> None:
    with Store.open(folder) as store:
        based_on = save(store, "car.toml", "mass = 0\n")
        won, lost = [], []
        start = threading.Barrier(8)

        def try_it(number: int) -> None:
            start.wait()
            try:
                text = f"mass = {number}\n"
                won.append(store.save_document("car.toml", text, based_on=based_on, who="x", why=""))
            except DocumentConflict as conflict:
                lost.append(conflict.stands)

        threads = [threading.Thread(target=try_it, args=(number,)) for number in range(1, 9)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert len(won) == 1 and lost == won * 7
        assert store.document("car.toml") == won[0]
    assert (folder / "car.toml").read_text() == won[0].text


def test_an_edit_made_outside_is_taken_in_and_never_overwritten(folder: Path) -> None:
    with Store.open(folder) as store:
        based_on = save(store, "car.toml", "mass = 1\n")
        (folder / "car.toml").write_text("mass = 2 # by hand\n")
        with pytest.raises(DocumentConflict) as conflict:
            store.save_document("car.toml", "mass = 3\n", based_on=based_on, who="Ann", why="")
        assert conflict.value.stands.text == "mass = 2 # by hand\n"
        assert conflict.value.stands.origin == "edited outside"
        assert texts(store, "car.toml") == ["mass = 1\n", "mass = 2 # by hand\n"]
        assert (folder / "car.toml").read_text() == "mass = 2 # by hand\n"


def test_edits_made_while_the_garage_is_open_or_closed_are_noticed(folder: Path) -> None:
    with Store.open(folder) as store:
        save(store, "car.toml", "mass = 1\n")
        (folder / "car.toml").write_text("mass = 2\n")
        (folder / "events").mkdir()
        (folder / "events" / "midsummer.toml").write_text("laps = 1\n")
        taken = store.take_in_outside_edits()
        assert [(one.name, one.text) for one in taken] == [
            ("car.toml", "mass = 2\n"),
            ("events/midsummer.toml", "laps = 1\n"),
        ]
        assert store.take_in_outside_edits() == ()
    (folder / "car.toml").write_text("mass = 3\n")
    with Store.open(folder, writing=False) as store:
        assert store.document("car.toml").text == "mass = 3\n"
    with Store.open(folder) as store:
        assert "car.toml was edited outside; its text is taken in as revision 3." in store.notices
        assert store.document("car.toml").text == "mass = 3\n"


def test_opened_for_reading_the_texts_in_the_folder_stand_and_nothing_is_written(folder: Path) -> None:
    with Store.open(folder) as store:
        save(store, "car.toml", "mass = 1\n")
        save(store, "notes.toml", "a = 1\n")
    (folder / "car.toml").write_text("mass = 2\n")
    (folder / "rule_books").mkdir()
    (folder / "rule_books" / "club.toml").write_text("new = 1\n")
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    with Store.open(folder, writing=False) as store:
        assert store.document_names() == ("car.toml", "garage.toml", "notes.toml", "rule_books/club.toml")
        car, club = store.document("car.toml"), store.document("rule_books/club.toml")
        assert (car.text, car.number, club.text, club.number) == ("mass = 2\n", 2, "new = 1\n", 1)
        assert car.why == "as it lies in the folder, not yet taken in"
        assert store.digests()["car.toml"] == car.digest == digest_of("mass = 2\n")
        assert store.revision(car.digest) == car
        assert texts(store, "car.toml") == ["mass = 1\n", "mass = 2\n"]
        assert store.history()[-2:] == (car, club)
        assert [words.split(" (")[0] for words in store.document_notices] == [
            f"{name} as it lies in the folder, not yet taken in"
            for name in ("car.toml", "rule_books/club.toml")
        ]
        assert store.take_in_outside_edits() == ()
        (folder / "car.toml").write_text("mass = 3\n")
        assert [one.text for one in store.take_in_outside_edits()] == ["mass = 3\n"]
        (folder / "car.toml").write_text("mass = 1\n")
        assert [one.why for one in store.take_in_outside_edits()] == ["trial"]
        assert store.document("car.toml").why == "trial"
    (folder / "car.toml").write_text("mass = 2\n")
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before


def test_opened_for_reading_a_file_that_is_no_text_is_refused_and_the_saved_one_not_used(
    folder: Path,
) -> None:
    with Store.open(folder) as store:
        save(store, "car.toml", "mass = 1\n")
    (folder / "car.toml").write_bytes(b"mass = \xff\n")
    with Store.open(folder, writing=False) as store, pytest.raises(BadInput, match=r"not text in UTF-8"):
        store.document("car.toml")


def test_opened_for_reading_a_save_cut_off_before_its_file_was_written_stands(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Store.open(folder) as store:
        based_on = save(store, "car.toml", "mass = 1\n")
        monkeypatch.setattr(kept_documents, "put_in_place", die)
        with pytest.raises(Died):
            store.save_document("car.toml", "mass = 2\n", based_on=based_on, who="Ann", why="cut off")
    monkeypatch.undo()
    with Store.open(folder, writing=False) as store:
        assert store.document("car.toml").text == "mass = 2\n"
        assert store.document_notices == ()


def test_an_edit_of_the_same_length_within_one_tick_of_the_clock_is_noticed(folder: Path) -> None:
    with Store.open(folder) as store:
        save(store, "car.toml", "mass = 1\n")
        for number in range(2, 8):
            (folder / "car.toml").write_text(f"mass = {number}\n")
            assert [one.text for one in store.take_in_outside_edits()] == [f"mass = {number}\n"]


def test_a_save_cut_off_between_revision_and_file_is_finished_on_opening(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Store.open(folder) as store:
        based_on = save(store, "car.toml", "mass = 1\n")
        for name, text, over in (("car.toml", "mass = 2\n", based_on), ("new.toml", "a = 1\n", None)):
            with monkeypatch.context() as patch, pytest.raises(Died):
                patch.setattr(kept_documents, "put_in_place", die)
                store.save_document(name, text, based_on=over, who="Ann", why="")
    assert (folder / "car.toml").read_text() == "mass = 1\n" and not (folder / "new.toml").exists()
    with Store.open(folder) as store:
        assert sum("is now finished" in words for words in store.notices) == 2
        assert texts(store, "car.toml") == ["mass = 1\n", "mass = 2\n"]
    assert (folder / "car.toml").read_text() == "mass = 2\n"
    assert (folder / "new.toml").read_text() == "a = 1\n"
    assert not list(folder.glob(".*.part*"))
    with Store.open(folder) as store:
        assert store.notices == ()


def test_a_save_cut_off_before_the_revision_leaves_nothing(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Store.open(folder) as store:
        based_on = save(store, "car.toml", "mass = 1\n")
        monkeypatch.setattr(kept_documents.revisions, "mark_unwritten", die)
        with pytest.raises(Died):
            store.save_document("car.toml", "mass = 2\n", based_on=based_on, who="Ann", why="")
        assert texts(store, "car.toml") == ["mass = 1\n"]
    assert (folder / "car.toml").read_text() == "mass = 1\n"
    assert not list(folder.glob(".*.part*"))


def test_after_a_save_cut_off_an_edit_made_outside_still_wins_over_the_unwritten_file(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Store.open(folder) as store:
        based_on = save(store, "car.toml", "mass = 1\n")
        with monkeypatch.context() as patch, pytest.raises(Died):
            patch.setattr(kept_documents, "put_in_place", die)
            store.save_document("car.toml", "mass = 2\n", based_on=based_on, who="Ann", why="")
    (folder / "car.toml").write_text("mass = 3\n")
    with Store.open(folder) as store:
        assert texts(store, "car.toml") == ["mass = 1\n", "mass = 2\n", "mass = 3\n"]
    assert (folder / "car.toml").read_text() == "mass = 3\n"


def test_an_edit_made_in_the_moment_of_saving_is_not_overwritten(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Store.open(folder) as store:
        based_on = save(store, "car.toml", "mass = 1\n")
        mark = kept_documents.revisions.mark_unwritten

        def edit_meanwhile(*arguments: Any) -> None:
            mark(*arguments)
            (folder / "car.toml").write_text("mass = 3\n")

        with monkeypatch.context() as patch:
            patch.setattr(kept_documents.revisions, "mark_unwritten", edit_meanwhile)
            store.save_document("car.toml", "mass = 2\n", based_on=based_on, who="Ann", why="")
        assert (folder / "car.toml").read_text() == "mass = 3\n"
        store.take_in_outside_edits()
        assert texts(store, "car.toml") == ["mass = 1\n", "mass = 2\n", "mass = 3\n"]


def test_a_file_that_another_program_holds_is_written_at_the_next_chance(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def held(*_: Any) -> None:
        raise PermissionError(13, "held by an editor")

    with Store.open(folder) as store:
        based_on = save(store, "car.toml", "mass = 1\n")
        with monkeypatch.context() as patch:
            patch.setattr(kept_documents, "put_in_place", held)
            saved = store.save_document("car.toml", "mass = 2\n", based_on=based_on, who="Ann", why="")
        assert saved == store.document("car.toml")
        assert (folder / "car.toml").read_text() == "mass = 1\n"
        assert store.take_in_outside_edits() == ()
        assert (folder / "car.toml").read_text() == "mass = 2\n"
        assert not list(folder.glob(".*.part*"))


def test_a_document_deleted_outside_is_told_and_comes_back_only_when_saved(folder: Path) -> None:
    with Store.open(folder) as store:
        based_on = save(store, "car.toml", "mass = 1\n")
        (folder / "car.toml").unlink()
        assert store.take_in_outside_edits() == ()
        assert any("car.toml is gone" in words for words in store.notices)
        assert not (folder / "car.toml").exists()
        assert store.document("car.toml").text == "mass = 1\n"
        store.save_document("car.toml", "mass = 1\n", based_on=based_on, who="Ann", why="back")
        assert (folder / "car.toml").read_text() == "mass = 1\n"
        assert len(store.revisions("car.toml")) == 1
        store.take_in_outside_edits()
        assert store.notices == ()


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"name = \xff\n", "not text in UTF-8"),
        (b"\x00\x01\x02", "a zero byte"),
        (b"# much\n" * 800_000, "5.6 MB"),
    ],
)
def test_a_file_that_is_no_text_is_told_and_left_alone(folder: Path, content: bytes, words: str) -> None:
    with Store.open(folder) as store:
        based_on = save(store, "car.toml", "mass = 1\n")
        (folder / "car.toml").write_bytes(content)
        assert store.take_in_outside_edits() == ()
        assert any(words in one and "left alone" in one for one in store.notices)
        with pytest.raises(BadInput, match=words):
            store.save_document("car.toml", "mass = 2\n", based_on=based_on, who="Ann", why="")
        assert texts(store, "car.toml") == ["mass = 1\n"]
    assert (folder / "car.toml").read_bytes() == content


@pytest.mark.parametrize(
    ("text", "words"),
    [("a\x00b", "zero byte"), ("\ud800", "cannot be written"), ("x" * 5_000_001, "5.0 MB"), (None, "text")],
)
def test_text_that_cannot_be_a_document_is_refused(folder: Path, text: Any, words: str) -> None:
    with Store.open(folder) as store:
        with pytest.raises(BadInput, match=words):
            store.save_document("car.toml", text, based_on=None, who="Ann", why="")
        assert store.document_names() == ("garage.toml",)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=200))
def test_text_is_kept_to_the_letter(folder: Path, text: str) -> None:
    with Store.open(folder) as store:
        save(store, "car.toml", text)
        assert store.document("car.toml").text == text
        assert (folder / "car.toml").read_bytes() == text.encode("utf-8")
        assert store.take_in_outside_edits() == ()


def test_a_document_that_is_not_there_is_a_sentence(folder: Path) -> None:
    with Store.open(folder) as store:
        with pytest.raises(BadInput, match=r"car.toml: found no such document; expected one of garage.toml"):
            store.document("car.toml")
        with pytest.raises(BadInput, match="digest of a saved revision"):
            store.revision("0" * 64)
