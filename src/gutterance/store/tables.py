"""The tables. Times are text: ISO 8601 in UTC to the microsecond, so that their order is the order of text.

A line is evidence: it is added once and never changed, but for the time it was taken back. Photos name their
line without a foreign key: a photo that arrives before its line is kept all the same.
"""

from __future__ import annotations

from sqlalchemy import (
    Column,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
    UniqueConstraint,
)

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
        "pk": "pk_%(table_name)s",
    }
)

about = Table(
    "about",
    metadata,
    Column("key", Text, primary_key=True),
    Column("value", Text, nullable=False),
)

jobs = Table(
    "jobs",
    metadata,
    Column("id", Text, primary_key=True),
    Column("title", Text, nullable=False),
    Column("state", Text, nullable=False),
    Column("archived_at", Text),
    Column("made_at", Text, nullable=False),
    Column("changed_at", Text, nullable=False),
    Column("revision", Integer, nullable=False),
)

devices = Table(
    "devices",
    metadata,
    Column("id", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("role", Text, nullable=False),
    Column("key_hash", Text, nullable=False, unique=True),
    Column("paired_at", Text, nullable=False),
    Column("seen_at", Text, nullable=False),
    Column("dropped_at", Text),
)

lines = Table(
    "lines",
    metadata,
    Column("id", Text, primary_key=True),
    Column("job_id", Text, ForeignKey("jobs.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("text", Text, nullable=False),
    Column("sha256", Text, nullable=False),
    Column("after", Text),
    Column("captured_at", Text),
    Column("received_at", Text, nullable=False),
    Column("device_id", Text),
    Column("by", Text, nullable=False),
    Column("taken_back_at", Text),
    UniqueConstraint("job_id", "number"),
)

clashes = Table(
    "clashes",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=True),
    Column("line_id", Text, nullable=False),
    Column("job_id", Text, nullable=False),
    Column("text", Text, nullable=False),
    Column("sha256", Text, nullable=False),
    Column("at", Text, nullable=False),
    Column("device_id", Text),
    Column("by", Text, nullable=False),
    UniqueConstraint("line_id", "job_id", "sha256"),
)

photos = Table(
    "photos",
    metadata,
    Column("id", Text, primary_key=True),
    Column("job_id", Text, ForeignKey("jobs.id"), nullable=False),
    Column("line_id", Text),
    Column("type", Text, nullable=False),
    Column("sha256", Text, nullable=False),
    Column("size", Integer, nullable=False),
    Column("content", LargeBinary, nullable=False),
    Column("received_at", Text, nullable=False),
    Column("device_id", Text),
    Column("by", Text, nullable=False),
)

events = Table(
    "events",
    metadata,
    Column("id", Text, primary_key=True),
    Column("job_id", Text, ForeignKey("jobs.id"), nullable=False),
    Column("revision", Integer, nullable=False),
    Column("at", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("role", Text, nullable=False),
    Column("what", Text, nullable=False),
    Column("path", Text),
    Column("before", Text),
    Column("after", Text),
    Column("said", Text),
    Column("why", Text),
    Column("undoes", Text),
    UniqueConstraint("job_id", "revision", "id"),
)

pairing_codes = Table(
    "pairing_codes",
    metadata,
    Column("hash", Text, primary_key=True),
    Column("role", Text, nullable=False),
    Column("expires_at", Text, nullable=False),
    Column("tries", Integer, nullable=False),
)

Index("ix_photos_job_id", photos.c.job_id)
Index("ix_jobs_changed_at", jobs.c.changed_at)
