import os
import re
import socket
import subprocess
import sys
from pathlib import Path
from urllib.error import HTTPError
from urllib.parse import urlsplit
from urllib.request import HTTPRedirectHandler, Request, build_opener

import pytest
from django.core.management.base import CommandError
from django.db import connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder

from planner.management.commands.serve import advice_on, check_address, check_tables

ROOT = Path(__file__).resolve().parent.parent.parent


def know_as(settings, address, *, behind_proxy=False):
    settings.SITE_URL, settings.SITE = address, urlsplit(address)
    settings.HTTPS = address.startswith("https")
    settings.BEHIND_PROXY = behind_proxy


@pytest.mark.django_db
def test_tables_of_a_newer_program_are_not_served():
    MigrationRecorder(connection).record_applied("inventory", "9999_of_the_future")

    with pytest.raises(CommandError, match="newer program .inventory 9999_of_the_future"):
        check_tables()


@pytest.mark.django_db
def test_tables_older_than_the_program_are_not_served():
    [last] = MigrationLoader(connection).graph.leaf_nodes("inventory")
    MigrationRecorder(connection).record_unapplied(*last)

    with pytest.raises(CommandError, match="older than the program. Run: manage.py setup"):
        check_tables()


@pytest.mark.django_db
def test_tables_that_fit_are_served():
    assert check_tables() is None


def test_https_without_a_proxy_is_refused_since_no_page_would_ever_open(settings):
    know_as(settings, "https://fold.example")

    with pytest.raises(CommandError, match="PROXY=1"):
        check_address("127.0.0.1")


def test_with_a_proxy_nobody_else_may_reach_the_server(settings):
    know_as(settings, "https://fold.example", behind_proxy=True)

    with pytest.raises(CommandError, match="leave --host at 127.0.0.1"):
        check_address("0.0.0.0")


def test_an_address_that_others_cannot_reach_is_told(settings):
    know_as(settings, "http://fold.local:8000")

    assert list(advice_on("127.0.0.1", 8000)) == [
        "Only this machine reaches it; add --host 0.0.0.0 for the home network."
    ]
    assert list(advice_on("0.0.0.0", 8000)) == []


def test_links_to_another_port_are_told(settings):
    know_as(settings, "http://fold.local:8000")

    assert "names port 8000" in next(advice_on("0.0.0.0", 8931))


class Stay(HTTPRedirectHandler):
    def redirect_request(self, *arguments):
        return None


def ask(port, path, **headers):
    request = Request(f"http://127.0.0.1:{port}{path}", headers=headers)
    try:
        with build_opener(Stay).open(request, timeout=20) as answer:
            return answer.status, answer.read().decode()
    except HTTPError as error:
        return error.code, error.headers.get("Location", "")


@pytest.fixture
def house(tmp_path):
    """Starts a prepared house in a process of its own; gives its port."""
    environment = {
        "PATH": os.environ["PATH"],
        "MAYTHORN_DATA": str(tmp_path),
        "DJANGO_SETTINGS_MODULE": "planner.settings",
    }
    servers = []

    def manage(*arguments, **more):
        command = [sys.executable, "manage.py", *arguments]
        pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT, "text": True}
        return subprocess.Popen(command, cwd=ROOT, env=environment | more, **pipes)

    def start(**more):
        manage("setup", "--no-input", "--name=Fold", "--keeper=ruth").communicate(timeout=120)
        with socket.socket() as door:
            door.bind(("127.0.0.1", 0))
            port = door.getsockname()[1]
        servers.append(manage("serve", "--port", str(port), **more))
        assert "Open http" in servers[0].stdout.readline()
        return port

    yield start
    for server in servers:
        server.terminate()
        server.wait(timeout=20)


def test_a_prepared_house_opens_with_its_own_styles(house):
    port = house()

    health = ask(port, "/health/")
    page = ask(port, "/sign-in/")[1]
    style = re.search(r'href="(/static/planner/app\.[0-9a-f]+\.css)"', page)[1]

    assert health == (200, "ok")
    assert ask(port, style)[0] == 200


def test_behind_a_proxy_the_scheme_it_tells_is_believed(house):
    port = house(SITE_URL="https://fold.example", PROXY="1")
    told = {"Host": "fold.example", "X-Forwarded-For": "192.0.2.7"}

    by_https = ask(port, "/sign-in/", **told, **{"X-Forwarded-Proto": "https"})
    by_http = ask(port, "/sign-in/", **told, **{"X-Forwarded-Proto": "http"})

    assert by_https[0] == 200
    assert by_http == (301, "https://fold.example/sign-in/")


def test_a_folder_without_a_house_stays_without_one(tmp_path):
    environment = {"PATH": os.environ["PATH"], "MAYTHORN_DATA": str(tmp_path)}

    started = subprocess.run(
        [sys.executable, "manage.py", "serve"],
        cwd=ROOT, env=environment, capture_output=True, text=True, timeout=60,
    )  # fmt: skip

    assert started.returncode == 1
    assert "manage.py setup" in started.stderr
    assert not list(tmp_path.glob("*.sqlite3*"))
