"""A throw-away house with the project's own settings, for a bench to fill; import it before any model."""

import atexit
import os
import tempfile
from pathlib import Path

import django

FOLDER = tempfile.TemporaryDirectory(prefix="maythorn-bench-")
atexit.register(FOLDER.cleanup)
FILE = Path(FOLDER.name, "house.sqlite3")
FILE.touch()
for name in ("MAYTHORN_HOUSE", "MAYTHORN_DEBUG", "SITE_URL", "PROXY", "DATABASE_URL"):
    os.environ.pop(name, None)
os.environ |= {
    "MAYTHORN_DATA": FOLDER.name,
    "MAYTHORN_TODAY": "2026-04-06",
    "DJANGO_SETTINGS_MODULE": "planner.settings",
}
django.setup()

from django.conf import settings  # noqa: E402
from django.core.management import call_command  # noqa: E402

try:
    import pysqlite3 as sqlite3
except ImportError:
    import sqlite3

call_command("migrate", verbosity=0)


def bare_connection() -> sqlite3.Connection:
    """The driver alone on the same file, with the same pragmas."""
    connection = sqlite3.connect(FILE, isolation_level=None)
    connection.executescript(settings.DATABASES["default"]["OPTIONS"]["init_command"])
    connection.execute("PRAGMA foreign_keys = ON")
    return connection
