"""Devices are paired, seen and shut out; the secret is the garage's own."""

from datetime import timedelta
from pathlib import Path

import pytest

from stores import new_store
from tintop.errors import BadInput
from tintop.store import moments
from tintop.store.garage_store import Store


def test_a_device_is_paired_seen_and_shut_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with new_store(tmp_path) as store:
        phone = store.add_device("Ann's phone", "crew")
        tablet = store.add_device("tablet", "reader")
        assert len(phone.identifier) >= 20 and phone.identifier != tablet.identifier
        assert {one.name: one.role for one in store.devices()} == {"Ann's phone": "crew", "tablet": "reader"}
        assert store.seen_device(phone.identifier) == phone
        later = moments.now() + timedelta(minutes=5)
        monkeypatch.setattr(moments, "now", lambda: later)
        assert store.seen_device(phone.identifier).last_seen == moments.written(later)
        gone = store.revoke_device(phone.identifier)
        assert gone.revoked_at == moments.written(later)
    with Store.open(tmp_path) as store:
        assert store.device(phone.identifier) == gone
        assert store.revoke_device(phone.identifier) == gone
        assert store.device(tablet.identifier).revoked_at is None


def test_a_device_that_is_none_is_refused(tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        for name, role in (("", "crew"), ("x" * 61, "crew"), ("a\nb", "crew"), ("phone", "owner")):
            with pytest.raises(BadInput):
                store.add_device(name, role)  # type: ignore[arg-type]
        for use in (store.device, store.seen_device, store.revoke_device):
            with pytest.raises(BadInput, match="paired with this garage"):
                use("nobody")
        assert store.devices() == ()


def test_each_garage_has_a_secret_of_its_own_that_stays(tmp_path: Path) -> None:
    with new_store(tmp_path / "one") as one, new_store(tmp_path / "two") as two:
        secret = one.secret()
        assert len(secret) >= 40 and secret != two.secret()
    with Store.open(tmp_path / "one") as one:
        assert one.secret() == secret
