import tomllib

import pytest

from tintop.errors import BadInput
from tintop.store import cases


def _folder(tmp_path, text, monkeypatch):
    folder = tmp_path / "data" / "cases"
    folder.mkdir(parents=True)
    (folder / "one.toml").write_text(text, encoding="utf-8")
    monkeypatch.setattr(cases, "files", lambda _: tmp_path)


BLOCK = """
[[case]]
id = "X-1"
title = "Top speed"
source = "own"
provenance = "closed form"
run = "top_speed"
tolerance = { relative = 1e-5 }
inputs = { m = 1150 }
expected = { v_m_s = 60.0 }
"""


def test_every_shipped_case_has_an_id_of_its_own():
    found = cases.read_cases()
    assert len({case.id for case in found}) == len(found) >= 45


def test_a_block_is_read_as_written(tmp_path, monkeypatch):
    _folder(tmp_path, BLOCK, monkeypatch)
    (case,) = cases.read_cases()
    assert case.expected == tomllib.loads(BLOCK)["case"][0]["expected"]
    assert str(case.tolerance) == "0.001 %"


def test_the_same_id_twice_is_refused(tmp_path, monkeypatch):
    _folder(tmp_path, BLOCK + BLOCK, monkeypatch)
    with pytest.raises(BadInput, match=r"one.toml case 2 X-1: found an id used before"):
        cases.read_cases()


def test_a_case_without_a_source_is_refused(tmp_path, monkeypatch):
    _folder(tmp_path, BLOCK.replace('source = "own"\n', ""), monkeypatch)
    with pytest.raises(BadInput, match=r"one.toml case 1 X-1: found missing or unknown: source"):
        cases.read_cases()
