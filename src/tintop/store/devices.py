"""The devices paired with a garage, and the secret their sessions are signed with."""

import secrets
from dataclasses import dataclass
from datetime import timedelta
from typing import Literal

from sqlalchemy import Connection, delete, insert, select, update

from tintop.errors import refuse
from tintop.store import moments
from tintop.store.plain_text import check_line
from tintop.store.tables import device as table
from tintop.store.tables import secret as secret_table

Role = Literal["crew", "reader"]
_SEEN_EVERY = timedelta(minutes=1)
_SIGNING = "signing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """A phone or laptop paired with the garage; moments are UTC, ISO 8601."""

    identifier: str
    name: str
    role: Role
    paired_at: str
    last_seen: str
    revoked_at: str | None = None


def add(connection: Connection, name: str, role: Role) -> Device:
    """Pair a device; raise BadInput for a name or role that cannot be kept."""
    check_line("device name", name, longest=60)
    if role not in ("crew", "reader"):
        raise refuse("role", repr(role), "crew or reader")
    moment = moments.written(moments.now())
    made = Device(
        identifier=secrets.token_urlsafe(16), name=name, role=role, paired_at=moment, last_seen=moment
    )
    connection.execute(
        insert(table).values(
            identifier=made.identifier,
            name=name,
            role=role,
            paired_at=moment,
            last_seen=moment,
            revoked_at=None,
        )
    )
    return made


def all_of(connection: Connection) -> tuple[Device, ...]:
    """Every device, revoked ones too, in the order of pairing."""
    rows = connection.execute(select(*table.c).order_by(table.c.paired_at, table.c.identifier))
    return tuple(Device(**row._mapping) for row in rows)


def find(connection: Connection, identifier: str) -> Device:
    """One device; raise BadInput if it was never paired."""
    row = connection.execute(select(*table.c).where(table.c.identifier == identifier)).first()
    if row is None:
        raise refuse("device", repr(identifier)[:80], "a device paired with this garage")
    return Device(**row._mapping)


def is_due(device: Device) -> bool:
    """Whether a device was last seen long enough ago to note it anew."""
    return moments.now() - moments.read(device.last_seen) >= _SEEN_EVERY


def see(connection: Connection, identifier: str) -> None:
    """Note that a device was here."""
    moment = moments.written(moments.now())
    connection.execute(update(table).where(table.c.identifier == identifier).values(last_seen=moment))


def revoke(connection: Connection, identifier: str | None = None) -> None:
    """Shut one device out, or with None every device; one already shut out keeps its moment."""
    change = update(table).where(table.c.revoked_at.is_(None))
    if identifier is not None:
        change = change.where(table.c.identifier == identifier)
    connection.execute(change.values(revoked_at=moments.written(moments.now())))


def renew_secret(connection: Connection) -> None:
    """Make a new random secret; whatever the old one signed is no longer good."""
    connection.execute(delete(secret_table).where(secret_table.c.name == _SIGNING))
    connection.execute(insert(secret_table).values(name=_SIGNING, value=secrets.token_urlsafe(32)))


def read_secret(connection: Connection) -> str:
    """The secret of the garage."""
    chosen = select(secret_table.c.value).where(secret_table.c.name == _SIGNING)
    return str(connection.execute(chosen).scalar_one())
