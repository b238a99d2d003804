"""A real server on a free loopback port with its own house, and clients that hurry."""

import contextlib
import http.client
import json
import os
import secrets
import socket
import subprocess
import sys
import tempfile
import threading
import time
import urllib.parse
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent


def free_port() -> int:
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        return door.getsockname()[1]


@contextlib.contextmanager
def own_database():
    """The DATABASE_URL of a new database beside the given one, or "" for SQLite."""
    url = os.environ.get("DATABASE_URL", "")
    if not url:
        yield ""
        return
    import psycopg

    name = f"race_{secrets.token_hex(4)}"
    with psycopg.connect(url, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
        yield urllib.parse.urlsplit(url)._replace(path=f"/{name}").geturl()
        connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


@dataclass
class Server:
    port: int
    scene: dict
    environment: dict

    def audit(self) -> subprocess.CompletedProcess:
        return run(["manage.py", "audit"], self.environment)


def run(arguments: list[str], environment: dict) -> subprocess.CompletedProcess:
    return subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, env=environment, capture_output=True, text=True
    )


@contextlib.contextmanager
def serving(*scene_arguments: str):
    """Build the scene in a new house, serve it with waitress, end the server by its process."""
    with tempfile.TemporaryDirectory(prefix="maythorn-race-") as folder, own_database() as url:
        port = free_port()
        environment = {
            **os.environ,
            "MAYTHORN_DATA": folder,
            "DATABASE_URL": url,
            "SITE_URL": f"http://127.0.0.1:{port}",
            "DJANGO_SETTINGS_MODULE": "planner.settings",
        }
        Path(folder, "house.sqlite3").touch()
        migrated = run(["manage.py", "migrate", "-v0"], environment)
        assert migrated.returncode == 0, migrated.stderr
        built = run(["-m", "tests.race.scene", *scene_arguments], environment)
        assert built.returncode == 0, built.stderr
        process = subprocess.Popen(
            [sys.executable, "manage.py", "serve", "--port", str(port)],
            cwd=ROOT, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        try:
            wait_for(port, process)
            yield Server(port, json.loads(built.stdout), environment)
        finally:
            process.terminate()
            process.wait(timeout=20)


def wait_for(port: int, process: subprocess.Popen) -> None:
    for _ in range(600):
        if process.poll() is not None:
            raise AssertionError(f"the server ended with {process.returncode}")
        with contextlib.suppress(OSError):
            socket.create_connection(("127.0.0.1", port), 0.2).close()
            return
        time.sleep(0.05)
    raise AssertionError("the server did not open its port within 30 s")


@dataclass
class Answers:
    """What came back: how often each status, and how long the slow ones took."""

    statuses: Counter = field(default_factory=Counter)
    seconds: list[float] = field(default_factory=list)
    lock: threading.Lock = field(default_factory=threading.Lock)

    def add(self, status: int, seconds: float) -> None:
        with self.lock:
            self.statuses[status] += 1
            self.seconds.append(seconds)

    def percentile(self, share: float) -> float:
        return sorted(self.seconds)[int(share * (len(self.seconds) - 1))]


class Client:
    """One signed-in person on one kept connection."""

    def __init__(self, server: Server):
        self.connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=60)
        self.cookie = f"maythorn={server.scene['session']}; maythorn-form={server.scene['csrf']}"
        self.csrf = server.scene["csrf"]

    def post(self, path: str, values: dict) -> int:
        body = urllib.parse.urlencode({**values, "csrfmiddlewaretoken": self.csrf})
        headers = {"Cookie": self.cookie, "Content-Type": "application/x-www-form-urlencoded"}
        self.connection.request("POST", path, body, headers)
        response = self.connection.getresponse()
        response.read()
        return response.status


def hurry(server: Server, *, clients: int, jobs: list[tuple[str, dict]]) -> Answers:
    """Send all jobs from so many clients at once; each client takes the next job in turn."""
    answers, waiting, lock = Answers(), list(jobs), threading.Lock()

    def work():
        client = Client(server)
        while True:
            with lock:
                if not waiting:
                    return
                path, values = waiting.pop()
            begun = time.perf_counter()
            answers.add(client.post(path, values), time.perf_counter() - begun)

    threads = [threading.Thread(target=work) for _ in range(clients)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=120)
    return answers
