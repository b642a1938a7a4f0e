"""Bringing a database to its present tables."""

from sqlalchemy import Connection, inspect, text

from tintop.errors import refuse
from tintop.store.database import Database, damaged
from tintop.store.migrations import LATEST, VERSIONS


def version_of(connection: Connection, where: Database) -> str:
    """The version of a database's tables; raise BadInput if they are a newer tintop's or none of ours."""
    if not inspect(connection).has_table("alembic_version"):
        raise damaged(where.file, "a database without the tables of a garage")
    found = connection.execute(text("SELECT version_num FROM alembic_version")).scalars().all()
    if len(found) != 1:
        raise damaged(where.file, "a database without its version")
    if found[0] not in VERSIONS:
        raise refuse(
            str(where.file),
            f"tables of a newer version ({found[0]})",
            f"version {LATEST} at most",
            "It was written by a newer tintop: install that one. Nothing was changed.",
        )
    return str(found[0])


def migrate(database: Database, to: str = LATEST) -> None:
    """Bring the tables to a version, wholly or not at all."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", "tintop.store:migrations")
    with database.writing() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, to)
