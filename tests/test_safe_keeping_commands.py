"""The owner's path through backup and restore."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from stores import draft, new_store, save
from tintop.cli import main
from tintop.store.garage_store import Store


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


@pytest.fixture
def garage(tmp_path: Path) -> str:
    with new_store(tmp_path / "garage") as store:
        store.append([draft("one")])
        save(store, "car.toml", "mass = 1\n")
    return str(tmp_path / "garage")


def test_back_up_spoil_and_go_back(garage: str) -> None:
    backup = run("backup", garage)
    assert backup.exit_code == 0, backup.output
    assert "Backed up and compared" in backup.output
    (Path(garage) / "garage.sqlite").write_bytes(b"spoiled")
    refused = run("backup", garage)
    assert refused.exit_code == 2 and f'tintop restore "{garage}"' in refused.stderr
    back = run("restore", garage)
    assert back.exit_code == 0, back.output
    assert (
        "The garage is as it was in garage-20" in back.output and "Entries in the logbook: 1." in back.output
    )
    with Store.open(garage) as store:
        assert len(store.entries()) == 1


def test_backups_are_listed_and_one_is_named(garage: str) -> None:
    first = json.loads(run("backup", garage, "--json").stdout)
    with Store.open(garage) as store:
        store.append([draft("two")])
    run("backup", garage)
    listed = json.loads(run("restore", garage, "--list", "--json").stdout)
    assert len(listed) == 3 and {"path", "made_at", "size_bytes"} == listed[0].keys()
    table = run("restore", garage, "--list").output.replace("\n", "")
    assert "Backups, newest first" in table and "made (UTC)" in table
    said = json.loads(run("restore", garage, "--from", first["backup"], "--json").stdout)
    assert said["entries"] == 1 and any("paired anew" in words for words in said["notices"])
    assert "There is no backup." in run("restore", str(Path(garage) / "circuits"), "--list").output


def test_a_backup_beside_an_open_page_is_made_and_a_restore_is_not(garage: str) -> None:
    with Store.open(garage):
        assert run("backup", garage).exit_code == 0
        refused = run("restore", garage)
        assert refused.exit_code == 2 and "open for writing" in refused.stderr


@pytest.mark.parametrize("command", ["backup", "restore"])
def test_a_folder_without_a_garage_is_a_sentence(command: str, tmp_path: Path) -> None:
    for folder in (tmp_path, tmp_path / "nowhere"):
        result = run(command, str(folder))
        assert result.exit_code == 2 and "found no" in result.stderr
    assert [path.name for path in tmp_path.iterdir()] == []
