"""The time of writing: UTC, ISO 8601, to the second."""

from datetime import UTC, datetime


def now() -> datetime:
    """Give the present moment, UTC, to the second."""
    return datetime.now(UTC).replace(microsecond=0)


def written(moment: datetime) -> str:
    """Write a moment as it stands in the database, such as `2026-05-02T14:05:00Z`."""
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def read(text: str) -> datetime:
    """Read a moment that `written` wrote."""
    return datetime.strptime(text, "%Y-%m-%dT%H:%M:%SZ").replace(tzinfo=UTC)
