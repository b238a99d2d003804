"""Is the house put on a network the way it should be? Each check starts the program anew."""

import contextlib
import os
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
HTTPS = {"SITE_URL": "https://fold.example"}
SECRET = "k3Ep-m3_0ut-0f-th3-l0gs-4lways-and-ev3r"
ASK = """
import sys
import django
django.setup()
from django.test import Client
answer = Client().get(sys.argv[1], headers={"host": sys.argv[2]}, secure=sys.argv[3] == "secure")
print(answer.status_code)
print(*(f"{name}: {value}" for name, value in answer.items()), sep="\\n")
print(*(morsel.OutputString() for morsel in answer.cookies.values()), sep="\\n")
"""


@pytest.fixture(scope="module")
def data(tmp_path_factory):
    """A house of its own, prepared once."""
    folder = tmp_path_factory.mktemp("deploy")
    made = run(folder, "manage.py", "setup", "--no-input", "--name=Skelder Fold", "--keeper=ruth")
    assert made.returncode == 0, made.stderr
    return folder


def run(folder, *arguments, **environment):
    kept = {name: os.environ[name] for name in ("PATH", "HOME", "LANG") if name in os.environ}
    return subprocess.run(
        [sys.executable, *arguments],
        cwd=ROOT,
        env=kept
        | {"MAYTHORN_DATA": str(folder), "DJANGO_SETTINGS_MODULE": "planner.settings"}
        | environment,
        capture_output=True,
        text=True,
        timeout=120,
    )


def check(folder, **environment):
    return run(folder, "manage.py", "check", "--deploy", "--fail-level=WARNING", **environment)


def ask(folder, address, *, host, secure=False, **environment):
    scheme = "secure" if secure else "plain"
    return run(folder, "-c", ASK, address, host, scheme, MAYTHORN_DEBUG="1", **environment)


def test_by_https_nothing_is_left_to_complain_about_but_the_two_with_a_reason(tmp_path):
    checked = check(tmp_path, **HTTPS)

    assert checked.returncode == 0, checked.stderr
    assert "no issues (2 silenced)" in checked.stdout


def test_by_plain_http_the_checks_name_what_is_missing(tmp_path):
    checked = check(tmp_path, SITE_URL="http://fold.local:8000")

    named = {
        word.strip("()?: ")
        for line in checked.stderr.splitlines()
        for word in line.split()
        if "security.W" in word
    }
    assert {name.split(".")[-1] for name in named} == {"W004", "W008", "W012", "W016"}


@pytest.mark.parametrize(
    "address", ["http://fold.example", "http://8.8.8.8:8000", "ftp://fold.local", "fold.local", ""]
)
def test_an_address_that_would_show_passwords_to_strangers_is_refused(tmp_path, address):
    checked = check(tmp_path, SITE_URL=address)

    assert checked.returncode == 1
    assert "SITE_URL" in checked.stderr
    assert "Traceback" not in checked.stderr


def test_another_host_name_is_refused(data):
    own = ask(data, "/health/", host="fold.local", SITE_URL="http://fold.local:8000")
    other = ask(data, "/health/", host="elsewhere.example", SITE_URL="http://fold.local:8000")

    assert own.stdout.startswith("200")
    assert other.stdout.startswith("400")


def test_by_https_cookies_and_pages_are_bound_to_it(data):
    page = ask(data, "/sign-in/", host="fold.example", secure=True, **HTTPS).stdout
    plain = ask(data, "/sign-in/", host="fold.example", **HTTPS).stdout

    assert "__Host-maythorn-form=" in page
    assert "; Secure" in page
    assert "Strict-Transport-Security: max-age=31536000" in page
    assert plain.startswith("301")
    assert "Location: https://fold.example/sign-in/" in plain


def test_by_plain_http_cookies_come_back_too(data):
    page = ask(data, "/sign-in/", host="fold.local", SITE_URL="http://fold.local:8000").stdout

    assert "maythorn-form=" in page
    assert "Secure" not in page
    assert "Strict-Transport-Security" not in page


def test_the_scheme_told_by_a_client_is_believed_only_from_a_proxy(data):
    told = ASK.replace('"host": sys.argv[2]', '"host": sys.argv[2], "x-forwarded-proto": "https"')
    arguments = ("-c", told, "/sign-in/", "fold.example", "plain")

    alone = run(data, *arguments, MAYTHORN_DEBUG="1", **HTTPS)
    behind = run(data, *arguments, MAYTHORN_DEBUG="1", PROXY="1", **HTTPS)

    assert alone.stdout.startswith("301")
    assert behind.stdout.startswith("200")


def test_the_secret_of_a_calendar_address_stays_out_of_the_log(data):
    asked = ask(data, f"/feed/{SECRET}.ics", host="127.0.0.1")

    assert asked.stdout.startswith("404")
    assert "/feed/***" in asked.stderr
    assert SECRET not in asked.stderr


def test_the_key_of_the_house_is_readable_by_its_owner_only(data):
    key = data / "secret_key"

    assert oct(key.stat().st_mode & 0o777) == "0o600"
    assert len(key.read_text()) >= 64


def test_the_tables_and_the_code_agree(tmp_path):
    checked = run(tmp_path, "manage.py", "makemigrations", "--check", "--dry-run")

    assert checked.returncode == 0, checked.stdout


def test_a_whole_copy_is_kept_before_tables_change(data):
    run(data, "manage.py", "migrate", "sessions", "zero")

    refused = run(data, "manage.py", "serve")
    again = run(data, "manage.py", "setup", "--no-input")

    copies = list(data.glob("house-before-*.sqlite3"))
    assert "older than the program" in refused.stderr
    assert "A copy from before the change" in again.stdout
    assert len(copies) == 1
    with contextlib.closing(sqlite3.connect(copies[0])) as copy:
        assert copy.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert copy.execute("SELECT name FROM inventory_household").fetchone() == ("Skelder Fold",)
