"""Originals come back byte for byte, or it is said that they do not."""

from pathlib import Path

import pytest

from stores import new_store
from tintop.errors import BadInput
from tintop.store import originals
from tintop.store.garage_store import Store
from tintop.store.revisions import digest_of

PICTURE = bytes(range(256)) * 40


def test_an_original_is_kept_once_by_its_content(tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        kept = store.keep_original("../../front left.jpg", "image/jpeg", PICTURE)
        assert kept.digest == digest_of(PICTURE) and kept.size == len(PICTURE)
        assert store.keep_original("again.jpg", "image/jpeg", PICTURE) == kept
        assert store.original(kept.digest) == kept
        assert store.original_content(kept.digest) == PICTURE
    assert [path.name for path in (tmp_path / "originals").iterdir()] == [kept.digest]
    with Store.open(tmp_path) as store:
        assert store.original_content(kept.digest) == PICTURE and store.notices == ()


@pytest.mark.parametrize(
    ("name", "media_type", "content"),
    [
        ("", "image/jpeg", b"x"),
        ("a\nb", "image/jpeg", b"x"),
        ("a" * 201, "image/jpeg", b"x"),
        ("a.jpg", "image", b"x"),
        ("a.jpg", "image/jpeg; x=<b>", b"x"),
        ("a.jpg", "Image/JPEG\n", b"x"),
        ("a.jpg", "image/jpeg", b""),
    ],
)
def test_what_cannot_be_kept_is_refused(tmp_path: Path, name: str, media_type: str, content: bytes) -> None:
    with new_store(tmp_path) as store, pytest.raises(BadInput):
        store.keep_original(name, media_type, content)
    assert not (tmp_path / "originals").exists()


def test_one_that_is_too_large_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(originals, "LARGEST", 10)
    with new_store(tmp_path) as store, pytest.raises(BadInput, match="11 bytes"):
        store.keep_original("a.bin", "text/plain", b"x" * 11)


@pytest.mark.parametrize("digest", ["0" * 64, "../garage.toml", "", "x" * 10_000, "A" * 64])
def test_no_digest_leads_elsewhere(tmp_path: Path, digest: str) -> None:
    with new_store(tmp_path) as store:
        for use in (store.original, store.original_content):
            with pytest.raises(BadInput, match="digest of an original"):
                use(digest)


def test_one_gone_or_changed_is_said_and_mended_by_keeping_it_again(tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        digest = store.keep_original("a.jpg", "image/jpeg", PICTURE).digest
        path = tmp_path / "originals" / digest
        path.chmod(0o644)
        path.write_bytes(b"x" * len(PICTURE))
        with pytest.raises(BadInput, match="changed or damaged"):
            store.original_content(digest)
        path.unlink()
        with pytest.raises(BadInput, match="is gone"):
            store.original_content(digest)
    with Store.open(tmp_path) as store:
        assert any("'a.jpg' is missing" in words for words in store.notices)
        store.keep_original("a.jpg", "image/jpeg", PICTURE)
        assert store.original_content(digest) == PICTURE
