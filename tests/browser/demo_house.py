"""The demo house in the middle of its year, on a real server of its own, to be looked at only."""

import contextlib
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.race.servers import ROOT, free_port, run, wait_for

# A Saturday on which a mash, orders, open windows and a week of steps fall together.
FULL_DAY = "2026-09-12"
FROM_OUTSIDE = ("MAYTHORN_HOUSE", "MAYTHORN_DEBUG", "PROXY", "DATABASE_URL")
PHONE = {"viewport": {"width": 390, "height": 844}, "is_mobile": True, "has_touch": True}
DESK = {"viewport": {"width": 1280, "height": 900}}


@dataclass(frozen=True)
class House:
    """Where it is served, the session of somebody in each role, and its pages by name."""

    url: str
    sessions: dict[str, str]
    addresses: dict[str, str]

    def cookie(self, role: str) -> dict:
        return {"name": "maythorn", "value": self.sessions[role], "url": self.url}


@contextlib.contextmanager
def serving() -> Iterator[House]:
    """Build it, serve it as a household would, and end the server by its process."""
    with tempfile.TemporaryDirectory(prefix="maythorn-look-") as folder:
        port = free_port()
        url = f"http://127.0.0.1:{port}"
        own = {name: value for name, value in os.environ.items() if name not in FROM_OUTSIDE}
        environment = own | {
            "MAYTHORN_DATA": folder,
            "MAYTHORN_TODAY": FULL_DAY,
            "SITE_URL": url,
            "DJANGO_SETTINGS_MODULE": "planner.settings",
        }
        Path(folder, "house.sqlite3").touch()
        built = run(["-m", "tests.browser.demo_pages"], environment)
        assert built.returncode == 0, built.stderr
        process = subprocess.Popen(
            [sys.executable, "manage.py", "serve", "--port", str(port)],
            cwd=ROOT, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        try:
            wait_for(port, process)
            yield House(url, **json.loads(built.stdout))
        finally:
            process.terminate()
            process.wait(timeout=20)
