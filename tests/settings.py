"""The project's own settings in a throw-away data folder, with quick passwords."""

import os
import tempfile

os.environ["MAYTHORN_DATA"] = tempfile.mkdtemp(prefix="maythorn-test-")
for name in ("MAYTHORN_HOUSE", "MAYTHORN_TODAY", "MAYTHORN_DEBUG", "SITE_URL", "PROXY"):
    os.environ.pop(name, None)

from planner.settings import *  # noqa: E402, F403
from planner.settings import DATA_DIR, DATABASES, STATIC_ROOT, STORAGES  # noqa: E402

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = STORAGES | {
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
}
# client.login() has no request to count by; one test turns it on again.
AXES_ENABLED = False
# A flush between tests deletes rows; the trigger's own tests put it in place.
APPEND_ONLY_TRIGGERS = False
STATIC_ROOT.mkdir(parents=True)
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    # A file, as in a house: the live server's threads each open it; no power cut is feared here.
    DATABASES["default"]["TEST"] = {"NAME": str(DATA_DIR / "test.sqlite3")}
    DATABASES["default"]["OPTIONS"]["init_command"] = (
        "PRAGMA journal_mode=WAL; PRAGMA synchronous=OFF;"
    )
