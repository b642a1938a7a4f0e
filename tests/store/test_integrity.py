"""What is wrong with a folder is said in a sentence, with the way back; a full disk loses nothing."""

import os
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event

from stores import draft, new_store, save
from tintop.errors import BadInput
from tintop.logbook.entries import Remark
from tintop.store.garage_store import Store

LONG = Remark(text="x" * 15_000)

FILL = """
import resource, sys
from tintop.errors import BadInput
sys.path.insert(0, sys.argv[2])
from stores import draft, save
from tintop.logbook.entries import Remark
from tintop.store.garage_store import Store
store = Store.open(sys.argv[1])
size = (store.folder / "garage.sqlite").stat().st_size + 100_000
resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))
words = []
try:
    for number in range(1000):
        (entry,) = store.append([draft(str(number), Remark(text="x" * 15_000))])
        print(entry.number, flush=True)
except BadInput as error:
    words.append(str(error))
for use in (
    lambda: store.save_document("car.toml", "x" * (size + 1), based_on=None, who="", why=""),
    lambda: store.keep_original("a", "a/b", b"x" * (size + 1)),
):
    try:
        use()
    except BadInput as error:
        words.append(str(error))
print(len(store.entries()), store.document_names(), flush=True)
print("|".join(words), flush=True)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="this machine has no limit of file size")
def test_a_disk_that_fills_up_refuses_plainly_and_keeps_what_it_acknowledged(tmp_path: Path) -> None:
    new_store(tmp_path).close()
    tests = Path(__file__).parents[1]
    run = subprocess.run(
        [sys.executable, "-c", FILL, str(tmp_path), str(tests)], capture_output=True, text=True, check=True
    )
    *numbers, state, words = run.stdout.splitlines()
    assert 1 <= len(numbers) < 20
    assert state == f"{len(numbers)} ('garage.toml',)"
    refusals = words.split("|")
    assert len(refusals) == 3 and all("no room left on the disk" in one for one in refusals)
    with Store.open(tmp_path) as store:
        assert [str(entry.number) for entry in store.entries()] == numbers
        assert store.document_names() == ("garage.toml",) and store.notices == ()
    assert not list(tmp_path.rglob(".*.part*"))


def test_a_database_that_may_not_grow_refuses_a_batch_wholly(tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        engine = store._database.engine
        engine.dispose()

        @event.listens_for(engine, "connect")
        def _limit(connection: sqlite3.Connection, _record: Any) -> None:
            (pages,) = connection.execute("PRAGMA page_count").fetchone()
            connection.execute(f"PRAGMA max_page_count = {pages + 20}")

        store.append([draft("small")])
        with pytest.raises(BadInput, match="no room left on the disk"):
            store.append([draft(str(number), LONG) for number in range(50)])
        with pytest.raises(BadInput, match="no room left on the disk"):
            save(store, "car.toml", "x" * 200_000)
        assert [entry.key for entry in store.entries()] == ["small"]
        assert store.document_names() == ("garage.toml",)
        assert store.append([draft("small again")])[0].number == 2
    assert not (tmp_path / "car.toml").exists()
    assert not list(tmp_path.rglob(".*.part*"))


def as_nobody(work: Any) -> str:
    """Do some work without the rights of the superuser and give what it says."""
    ours, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        if os.getuid() == 0:
            os.setgroups([])
            os.setgid(65534)
            os.setuid(65534)
        try:
            said = str(work())
        except BaseException as error:
            said = f"{type(error).__name__}: {error}"
        os.write(theirs, said.encode())
        os._exit(0)
    os.close(theirs)
    with os.fdopen(ours) as pipe:
        said = pipe.read()
    os.waitpid(child, 0)
    return said


@pytest.fixture
def open_to_all() -> Any:
    import tempfile

    with tempfile.TemporaryDirectory() as place:
        Path(place).chmod(0o777)
        yield Path(place)


def read_count(folder: Path) -> int:
    with Store.open(folder, writing=False) as store:
        return len(store.entries())


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this machine has no fork")
@pytest.mark.parametrize("protected", ["folder", "database", "both"])
def test_write_protection_is_a_sentence_and_reading_still_works(open_to_all: Path, protected: str) -> None:
    folder = open_to_all / "garage"
    with new_store(folder) as store:
        store.append([draft("one")])
    for path in folder.rglob("*"):
        path.chmod(0o777 if path.is_dir() else 0o666)
    folder.chmod(0o555 if protected in ("folder", "both") else 0o777)
    (folder / "garage.sqlite").chmod(0o444 if protected in ("database", "both") else 0o666)
    said = as_nobody(lambda: Store.open(folder))
    assert said.startswith("BadInput") and "writing is not allowed" in said and "write protection" in said
    assert as_nobody(lambda: read_count(folder)) == "1"
    if protected != "database":
        assert "writing is not allowed" in as_nobody(lambda: Store.restore(folder))
    folder.chmod(0o777)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this machine has no fork")
def test_a_garage_that_may_not_even_be_read_is_a_sentence(open_to_all: Path) -> None:
    folder = open_to_all / "garage"
    new_store(folder).close()
    folder.chmod(0o777)
    (folder / "garage.sqlite").chmod(0o000)
    for writing in (True, False):
        said = as_nobody(lambda writing=writing: Store.open(folder, writing=writing))
        assert said.startswith("BadInput") and "reading is not allowed" in said
    (open_to_all / "closed").mkdir(mode=0o755)
    assert "writing is not allowed" in as_nobody(lambda: new_store(open_to_all / "closed" / "garage"))


def test_a_folder_that_is_none_or_holds_no_garage_is_a_sentence(tmp_path: Path) -> None:
    for folder, words in (
        (tmp_path / "nowhere", "found no such folder"),
        (Path(__file__), "found a file"),
        (tmp_path, "found no garage"),
    ):
        for writing in (True, False):
            with pytest.raises(BadInput, match=words):
                Store.open(folder, writing=writing)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "name",
    [
        "garage (conflicted copy).sqlite",
        "garage (1).sqlite",
        "garage-shed-laptop.sqlite",
        "Copy of garage.sqlite",
        "garage.sqlite.old",
    ],
)
def test_a_second_copy_beside_the_database_is_told_and_never_touched(tmp_path: Path, name: str) -> None:
    new_store(tmp_path).close()
    shutil.copyfile(tmp_path / "garage.sqlite", tmp_path / name)
    before = (tmp_path / name).read_bytes()
    for writing in (True, False):
        with Store.open(tmp_path, writing=writing) as store:
            assert any(words.startswith(f"{name} lies beside garage.sqlite") for words in store.notices)
    assert (tmp_path / name).read_bytes() == before


def test_a_database_replaced_from_outside_while_open_takes_no_more(tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        store.append([draft("one")])
        older = tmp_path / "older"
        shutil.copyfile(tmp_path / "garage.sqlite", older)
        older.replace(tmp_path / "garage.sqlite")
        for use in (store.entries, lambda: store.append([draft("two")])):
            with pytest.raises(BadInput, match="replaced, moved or deleted from outside"):
                use()
        (tmp_path / "garage.sqlite").unlink()
        with pytest.raises(BadInput, match="replaced, moved or deleted from outside"):
            store.append([draft("two")])


def test_a_transaction_cut_off_is_rolled_back_by_reader_and_writer(tmp_path: Path) -> None:
    new_store(tmp_path).close()
    script = (
        "import os, sqlite3, sys\n"
        "c = sqlite3.connect(sys.argv[1], isolation_level=None)\n"
        "c.execute('PRAGMA cache_size = 1')\n"
        "c.execute('BEGIN')\n"
        "for n in range(1, 400):\n"
        '    c.execute("INSERT INTO entry VALUES "\n'
        "        \"(?, ?, '2026-05-02', '', '', '', '', '', NULL, 'remark', ?)\", (n, str(n), 'x' * 5000))\n"
        "os._exit(9)\n"
    )
    for writing in (False, True):
        subprocess.run([sys.executable, "-c", script, str(tmp_path / "garage.sqlite")], check=False)
        assert (tmp_path / "garage.sqlite-journal").stat().st_size > 0
        with Store.open(tmp_path, writing=writing) as store:
            assert store.entries() == ()
        with closing(sqlite3.connect(tmp_path / "garage.sqlite")) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def test_the_database_syncs_fully_and_is_one_file_when_closed(tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        store.append([draft("one")])
        with store._database.reading() as connection:
            pragma = {
                name: connection.exec_driver_sql(f"PRAGMA {name}").scalar()
                for name in ("synchronous", "journal_mode", "foreign_keys", "busy_timeout")
            }
        assert pragma == {
            "synchronous": 3,
            "journal_mode": "delete",
            "foreign_keys": 1,
            "busy_timeout": 15_000,
        }
    assert sorted(path.name for path in tmp_path.iterdir() if path.is_file()) == [
        "garage.lock",
        "garage.sqlite",
        "garage.toml",
    ]


def test_a_program_that_holds_the_database_is_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tintop.store.database._PATIENCE", 50)
    with new_store(tmp_path) as store, closing(sqlite3.connect(tmp_path / "garage.sqlite")) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(BadInput, match="another program holding the database"):
            store.append([draft("one")])
        other.rollback()
        assert store.append([draft("one")])[0].number == 1
