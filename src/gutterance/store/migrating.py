"""Bringing a database's tables up to this version: every step and its record in one transaction."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import inspect

if TYPE_CHECKING:
    from sqlalchemy import Connection

_SCRIPTS = Path(__file__).with_name("migrations")


def _config() -> Config:
    config = Config()
    config.set_main_option("script_location", str(_SCRIPTS).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    return config


def known_steps() -> frozenset[str]:
    """Every step this version knows."""
    return frozenset(step.revision for step in ScriptDirectory.from_config(_config()).walk_revisions())


def newest_step() -> str:
    """The step that this version's tables are at."""
    (head,) = ScriptDirectory.from_config(_config()).get_heads()
    return head


def step_of(connection: Connection) -> str | None:
    """The step that a database is at, None where it was never migrated."""
    return MigrationContext.configure(connection).get_current_revision()


def has_tables(connection: Connection) -> bool:
    """Whether there is any table."""
    return bool(inspect(connection).get_table_names())


def migrate(connection: Connection) -> None:
    """Take every step that is missing, on a connection that the caller commits."""
    config = _config()
    config.attributes["connection"] = connection
    command.upgrade(config, "head")
