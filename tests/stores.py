"""A garage to write into, and drafts for it."""

from datetime import date
from pathlib import Path

from tintop.logbook.entries import Draft, Matter, Remark
from tintop.settings import Settings
from tintop.store.garage_store import Store

LANTERN = Settings(title="Lantern", owner="Ann", currency="€")
DAY = date(2026, 5, 2)
CHANGED_BY_A_RESTORE = ("device", "secret", "unwritten")


def new_store(folder: Path) -> Store:
    return Store.create(folder, LANTERN)


def draft(key: str, matter: Matter | None = None, *, corrects: int | None = None, who: str = "Ann") -> Draft:
    return Draft(key=key, day=DAY, who=who, matter=matter or Remark(text=f"about {key}"), corrects=corrects)


def save(store: Store, name: str, text: str, why: str = "trial") -> str:
    """Save over whatever stands and give the digest."""
    return store.save_document(name, text, based_on=store.digests().get(name), who="Ann", why=why).digest
