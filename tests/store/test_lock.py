"""One writer at a time, whatever becomes of him."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from stores import draft, new_store
from tintop.errors import BadInput
from tintop.store.garage_store import Store

HOLD = """
import sys
from tintop.store.garage_store import Store
store = Store.open(sys.argv[1])
print("open", flush=True)
sys.stdin.read()
"""


def test_another_process_that_writes_keeps_writers_out_until_it_dies(tmp_path: Path) -> None:
    new_store(tmp_path).close()
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(tmp_path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    try:
        assert holder.stdout and holder.stdout.readline() == "open\n"
        with pytest.raises(BadInput, match="another tintop has it open for writing since 20"):
            Store.open(tmp_path)
        with Store.open(tmp_path, writing=False) as reader:
            assert reader.entries() == ()
            assert reader.back_up().exists()
    finally:
        holder.kill()
        holder.communicate()
    with Store.open(tmp_path) as store:
        store.append([draft("one")])
        assert store.notices == ()


def test_one_left_open_on_another_machine_is_told(tmp_path: Path) -> None:
    new_store(tmp_path).close()
    assert (tmp_path / "garage.lock").read_bytes() == b""
    left = {"machine": "the laptop in the shed", "since": "2026-05-02T10:00:00Z"}
    (tmp_path / "garage.lock").write_text(json.dumps(left))
    with Store.open(tmp_path) as store:
        assert any("left open on the laptop in the shed since 2026-05-02" in words for words in store.notices)
    with Store.open(tmp_path) as store:
        assert store.notices == ()


@pytest.mark.parametrize("content", [b"\xff\x00", b"[1]", b"{", b'"text"'])
def test_whatever_the_lock_file_says_it_is_no_obstacle(tmp_path: Path, content: bytes) -> None:
    new_store(tmp_path).close()
    (tmp_path / "garage.lock").write_bytes(content)
    with Store.open(tmp_path) as store:
        assert store.notices == ()


def test_closing_twice_is_closing_once(tmp_path: Path) -> None:
    store = new_store(tmp_path)
    store.close()
    store.close()
    Store.open(tmp_path).close()
