"""No name leads out of the garage's folder."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stores import new_store
from tintop.errors import BadInput
from tintop.store.document_names import check_document_name, document_path, documents_on_disk

GOOD = [
    "car.toml",
    "garage.toml",
    "circuits/larkmoor.csv",
    "events/2026-05_midsummer.toml",
    "a/b.gpx",
    "0.geojson",
]
BAD = [
    "",
    "car",
    "car.txt",
    "Car.toml",
    ".toml",
    ".car.toml",
    "-car.toml",
    "../car.toml",
    "circuits/../car.toml",
    "circuits/../../car.toml",
    "/etc/car.toml",
    "//car.toml",
    "circuits//car.toml",
    "a/b/car.toml",
    "circuits\\car.toml",
    "..\\car.toml",
    "c:\\car.toml",
    "c:car.toml",
    "car.toml\x00.png",
    "car\x00.toml",
    "car.toml\n",
    "\ncar.toml",
    "car .toml",
    "cär.toml",
    "ｃar.toml",
    "car.toml/",
    "%2e%2e/car.toml",
    "con.toml",
    "nul/car.toml",
    "com1.csv",
    "originals/car.toml",
    "backup/car.toml",
    "before-restore-1/car.toml",
    "x" * 200 + ".toml",
    "x" * 1_000_000,
    "garage.sqlite",
    "garage.lock",
]


@pytest.mark.parametrize("name", GOOD)
def test_a_good_name_leads_into_the_folder(name: str, tmp_path: Path) -> None:
    assert document_path(tmp_path, name) == tmp_path / name


@pytest.mark.parametrize("name", BAD, ids=lambda name: repr(name)[:30])
def test_a_bad_name_is_refused_everywhere_and_touches_nothing(name: str, tmp_path: Path) -> None:
    folder = tmp_path / "garage"
    with new_store(folder) as store:
        before = sorted(tmp_path.rglob("*"))
        for use in (
            lambda: store.save_document(name, "a = 1\n", based_on=None, who="Ann", why=""),
            lambda: store.document(name),
            lambda: store.revisions(name),
        ):
            with pytest.raises(BadInput, match="document name: found") as refused:
                use()
            assert len(str(refused.value)) < 400
        assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("name", [None, 7, b"car.toml", Path("car.toml")])
def test_a_name_is_text(name: object) -> None:
    with pytest.raises(BadInput):
        check_document_name(name)


@given(st.one_of(st.text(), st.from_regex(r"[a-z./\\]{1,12}(\.toml|\.csv)", fullmatch=True)))
def test_whatever_is_asked_for_lies_in_the_folder_or_is_refused(name: str) -> None:
    folder = Path("/nowhere/garage")
    try:
        path = document_path(folder, name)
    except BadInput:
        return
    assert path.resolve().is_relative_to(folder)
    assert len(path.relative_to(folder).parts) <= 2


def test_a_link_that_leads_elsewhere_is_neither_read_nor_written(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "secret.toml").write_text("secret = 1\n")
    folder = tmp_path / "garage"
    with new_store(folder) as store:
        (folder / "events").symlink_to(outside)
        (folder / "car.toml").symlink_to(outside / "secret.toml")
        for name in ("events/secret.toml", "events/new.toml", "car.toml"):
            with pytest.raises(BadInput, match="a link to another place"):
                store.save_document(name, "a = 1\n", based_on=None, who="Ann", why="")
        assert store.take_in_outside_edits() == ()
        assert sum("is a link" in words for words in store.notices) == 2
    assert sorted(outside.iterdir()) == [outside / "secret.toml"]
    assert (outside / "secret.toml").read_text() == "secret = 1\n"


def test_files_that_only_look_like_documents_are_told(tmp_path: Path) -> None:
    for name in ("car.toml", "Car two.toml", "notes.txt", "car (conflicted copy).toml", "car (1).toml"):
        (tmp_path / name).write_text("a = 1\n")
    for name in ("backup", "originals", "before-restore-x", "deep/er"):
        (tmp_path / name).mkdir(parents=True)
        (tmp_path / name / "car.toml").write_text("a = 1\n")
    names, words = documents_on_disk(tmp_path)
    assert names == ("car.toml",)
    assert [one.split(" is ")[0].split(" looks ")[0] for one in words] == [
        "Car two.toml",
        "car (1).toml",
        "car (conflicted copy).toml",
    ]
    assert sum("second copy" in one for one in words) == 2
