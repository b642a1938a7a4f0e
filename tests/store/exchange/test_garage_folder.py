"""A whole garage out and in again: the same bytes, entries, revisions and originals; or nothing at all."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from python_calamine import CalamineWorkbook

from tintop.cli import main
from tintop.errors import BadInput
from tintop.logbook.entries import Draft, Matter, PaperAdded, Remark, RoadDriven, Withdrawn
from tintop.settings import Settings
from tintop.store.document_names import documents_on_disk
from tintop.store.exchange.garage_folder import Carried, export_garage, import_garage
from tintop.store.exchange.histories import revisions_from_text, revisions_to_text
from tintop.store.exchange.text import logbook_from_text
from tintop.store.exchange.toml_writing import toml_lines
from tintop.store.garage_store import Store
from tintop.store.revisions import Revision, digest_of

PHOTOGRAPH = bytes(range(256)) * 40


def draft(key: str, matter: Matter, corrects: int | None = None) -> Draft:
    return Draft(key=key, day=date(2026, 5, 2), who="Robin", matter=matter, corrects=corrects)


@pytest.fixture
def exported(tmp_path: Path) -> Path:
    """A folder exported from a garage with entries, corrections, revisions and an original."""
    with Store.create(tmp_path / "garage", Settings(title="Lantern", currency="€")) as store:
        first = store.save_document(
            "car.toml", 'name = "Lantern"\n', based_on=None, who="Robin", why="as bought"
        )
        second = store.save_document(
            "car.toml",
            'name = "Lantern"\r\n# """ 1085 kg \\\n',
            based_on=first.digest,
            who="Sam",
            why="weighed",
        )
        store.save_document("car.toml", first.text, based_on=second.digest, who="Robin", why="undone")
        store.save_document("circuits/larkmoor.csv", "x,y\n0,0\n1,0\n", based_on=None, who="", why="")
        kept = store.keep_original("scales.jpg", "image/jpeg", PHOTOGRAPH)
        paper = PaperAdded(digest=kept.digest, name=kept.name, media_type=kept.media_type, size=kept.size)
        store.append(
            [
                draft("a", RoadDriven(distance=0.1 + 0.2)),
                draft("b", Remark(text="wet,\n\tcold")),
                draft("c", paper),
            ]
        )
        store.append([draft("d", RoadDriven(distance=3.5), 1), draft("e", Withdrawn(), 2)])
        assert export_garage(store, tmp_path / "out") == Carried(
            entries=5, documents=3, revisions=5, originals=1
        )
    return tmp_path / "out"


def content_of(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def test_export_import_export_gives_the_same_bytes(exported: Path, tmp_path: Path) -> None:
    import_garage(exported, tmp_path / "second")
    with Store.open(tmp_path / "second") as store:
        export_garage(store, tmp_path / "again")
    again = content_of(tmp_path / "again")
    assert again == content_of(exported)
    assert set(again) == {
        "logbook.toml",
        "revisions.toml",
        "originals.toml",
        "documents/garage.toml",
        "documents/car.toml",
        "documents/circuits/larkmoor.csv",
        f"originals/{digest_of(PHOTOGRAPH)}",
    }


def test_the_new_garage_is_the_old_one(exported: Path, tmp_path: Path) -> None:
    import_garage(exported, tmp_path / "second")
    with Store.open(tmp_path / "garage") as old, Store.open(tmp_path / "second") as new:
        assert new.entries() == old.entries()
        assert new.history() == old.history()
        assert new.originals() == old.originals()
        assert new.settings == old.settings
        assert new.original_content(digest_of(PHOTOGRAPH)) == PHOTOGRAPH
        assert new.secret() != old.secret()
        assert new.take_in_outside_edits() == ()
        stands = new.document("car.toml")
        assert (stands.number, stands.origin) == (3, "restored")
        new.save_document("car.toml", "name = 'x'\n", based_on=stands.digest, who="Robin", why="goes on")
        assert new.append([draft("f", Remark(text="goes on"))])[0].number == 6
    assert documents_on_disk(tmp_path / "second") == documents_on_disk(tmp_path / "garage")


def swapped(name: str, old: str, new: str) -> Callable[[Path], object]:
    def harm(folder: Path) -> None:
        text = (folder / name).read_bytes().decode()
        assert old in text
        (folder / name).write_bytes(text.replace(old, new, 1).encode())

    return harm


def gone(name: str) -> Callable[[Path], object]:
    return lambda folder: next(folder.glob(name)).unlink()


@pytest.mark.parametrize(
    ("harm", "sentence"),
    [
        (gone("logbook.toml"), "logbook.toml: found no such file"),
        (gone("revisions.toml"), "revisions.toml: found no such file"),
        (gone("originals/*"), "found no file; expected the original of 'scales.jpg'"),
        (gone("documents/car.toml"), "documents/car.toml: found nothing"),
        (swapped("documents/car.toml", "Lantern", "Lamp"), "a text that is not its latest revision"),
        (lambda folder: (folder / "documents" / "new.toml").write_text("a = 1\n"), "new.toml: found a text"),
        (lambda folder: next(folder.glob("originals/*")).write_bytes(b"x"), "changed or cut short"),
        (swapped("logbook.toml", "number = 2", "number = 1"), "(remark), number: found 1; expected more"),
        (swapped("logbook.toml", "number = 1\n", "number = 0\n"), "number: found 0; expected 1 or more"),
        (swapped("logbook.toml", "number = 5", "number = 6"), "without a gap"),
        (swapped("logbook.toml", "distance", "distnace"), "Did you mean distance?"),
        (swapped("logbook.toml", "day = 2026-05-02", "day = 1026-05-02"), "a date from 1900 to 2200"),
        (swapped("revisions.toml", "1085 kg", "1080 kg"), "a text that does not have its digest"),
        (swapped("revisions.toml", '"car.toml"', '"../car.toml"'), "document name: found '../car.toml'"),
        (swapped("revisions.toml", "number = 2", "number = 4"), "expected 2, the next of car.toml"),
        (swapped("revisions.toml", "number = 2", 'number = "2"'), "revision 3, number: found '2'"),
        (swapped("revisions.toml", 'origin = "saved here"', 'origin = "dreamt"'), "origin: found 'dreamt'"),
        (swapped("revisions.toml", 'saved_at = "', 'saved_at = "x'), "expected such as 2026-05-02T14:05:00Z"),
        (swapped("originals.toml", 'digest = "', 'digest = "../'), "expected 64 digits"),
        (swapped("originals.toml", "size", "sise"), "originals.toml, original 1, s"),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_refused_and_nothing_is_made(
    exported: Path, tmp_path: Path, harm: Callable[[Path], object], sentence: str
) -> None:
    harm(exported)
    before = sorted(tmp_path.iterdir())
    with pytest.raises(BadInput) as refusal:
        import_garage(exported, tmp_path / "second")
    assert sentence in str(refusal.value)
    assert sorted(tmp_path.iterdir()) == before


def test_what_is_there_already_is_left_alone(exported: Path, tmp_path: Path) -> None:
    before = content_of(exported)
    with Store.open(tmp_path / "garage") as store, pytest.raises(BadInput, match="something there already"):
        export_garage(store, exported)
    with pytest.raises(BadInput, match="something there already"):
        import_garage(exported, tmp_path / "garage")
    assert content_of(exported) == before


def test_an_export_that_fails_leaves_nothing(exported: Path, tmp_path: Path) -> None:
    next((tmp_path / "garage" / "originals").iterdir()).unlink()
    before = sorted(tmp_path.iterdir())
    with Store.open(tmp_path / "garage") as store, pytest.raises(BadInput, match=r"scales\.jpg"):
        export_garage(store, tmp_path / "again")
    assert sorted(tmp_path.iterdir()) == before


@given(
    st.lists(
        st.text(st.characters(exclude_categories=("Cs", "Cc", "Cf"), include_characters="\n\t\"'\\")),
        max_size=5,
    )
)
@settings(deadline=None)
def test_any_text_of_a_document_comes_back_equal(texts: list[str]) -> None:
    history = tuple(
        Revision(
            number=number, name="car.toml", digest=digest_of(text), text=text,
            saved_at="2026-05-02T14:05:00Z", who="Robin", why=text[:5], origin="saved here",
        )
        for number, text in enumerate(texts, 1)
    )  # fmt: skip
    assert revisions_from_text(revisions_to_text(history), "revisions.toml") == history


def test_lines_stay_lines() -> None:
    assert toml_lines('[masses]\ncar = "1085 kg"\n') == '"""\n[masses]\ncar = "1085 kg"\n"""'


def run(*words: object) -> str:
    result = CliRunner().invoke(main, [str(word) for word in words])
    assert result.exit_code == 0, result.output
    return result.stdout


def test_the_owners_path_out_and_in(exported: Path, tmp_path: Path) -> None:
    garage, folder, second = tmp_path / "garage", tmp_path / "text", tmp_path / "second"
    said = run("export", garage, folder)
    assert said == f"5 entries, 3 documents in 5 revisions and 1 originals written to {folder}.\n"
    assert f"in the new garage {second}" in run("import", folder, second)
    assert '"entries": 5' in run("export", second, tmp_path / "third", "--json")
    assert content_of(tmp_path / "third") == content_of(exported)
    assert len(logbook_from_text((folder / "logbook.toml").read_text(), "logbook.toml")) == 5


def test_the_owners_path_to_a_spreadsheet(exported: Path, tmp_path: Path) -> None:
    file = tmp_path / "season.xlsx"
    assert run("export", tmp_path / "garage", file) == f"5 entries written to {file}.\n"
    book = CalamineWorkbook.from_path(file)
    assert dict(book.get_sheet_by_name("read me").to_python())["garage"] == "Lantern"
    assert [row[3] for row in book.get_sheet_by_name("road driven").to_python()[1:]] == [0.1 + 0.2, 3.5]


@pytest.mark.parametrize("words", [("export", "{}/none", "{}/x"), ("import", "{}/none", "{}/x")])
def test_bad_paths_get_a_sentence(tmp_path: Path, words: tuple[str, ...]) -> None:
    result = CliRunner().invoke(main, [word.format(tmp_path) for word in words])
    assert result.exit_code == 2
    assert "found" in result.stderr and "Traceback" not in result.output
    assert list(tmp_path.iterdir()) == []
