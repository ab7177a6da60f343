"""The database: jobs, the lines of their notes, photos, events, devices. It knows nothing of the trade.

SQLite in a folder of the office's own, or a PostgreSQL that it names: the same tables, the same statements.
"""

from gutterance.store.database import Database
from gutterance.store.errors import DamagedDatabase, NewerDatabase, NotOurDatabase, StoreError
from gutterance.store.opening import open_database

__all__ = [
    "DamagedDatabase",
    "Database",
    "NewerDatabase",
    "NotOurDatabase",
    "StoreError",
    "open_database",
]
