"""Nasty values in every box and every query parameter: no 500, words at the box, nothing lost."""

import datetime as dt
import re
from html import unescape

import pytest

from planner import demo
from tests.crawler import crawl

pytestmark = [pytest.mark.fuzz, pytest.mark.django_db]

NASTY = [
    "NaN",
    "-1",
    "1e400",
    "1_5",
    "٣",
    "9" * 400,
    "0001-01-01",
    "a\x00b",
    "\u202egnp.exe",
    "\ud800",
    "<script>alert(1)</script>",
    "x" * 50_000,
    "3 furlongs",
]
KEPT = ["1_5", "NaN", "3 furlongs", "<script>alert(1)</script>"]


@pytest.fixture
def keeper_client(client, db, settings):
    settings.PRETEND_TODAY = dt.date(2026, 4, 6)
    people = demo.build(today=dt.date(2026, 4, 6))
    client.force_login(people["keeper"], backend=settings.AUTHENTICATION_BACKENDS[-1])
    client.raise_request_exception = True
    return client


def safe(value: str) -> str:
    return value.encode("utf-8", "surrogatepass").decode("utf-8", "replace")


def test_no_form_answers_a_nasty_value_with_a_server_error(keeper_client):
    _, forms = crawl(keeper_client)
    posts = [form for form in forms.values() if form.method == "post" and form.typed]

    assert len(posts) >= 20
    for form in posts:
        for value in NASTY:
            filled = {**form.values, **dict.fromkeys(form.typed, safe(value))}
            response = keeper_client.post(form.action, filled)
            assert response.status_code < 500, (form.action, value[:40])


def test_every_box_alone_refuses_or_reads_a_nasty_value(keeper_client):
    _, forms = crawl(keeper_client)
    posts = [form for form in forms.values() if form.method == "post"]

    for form in posts:
        # Rows of one form are alike: one box of each kind is enough.
        alone = {re.sub(r"\d+", "0", name): name for name in form.typed}
        for name in alone.values():
            for value in ("1e400", "0001-01-01", "-1"):
                filled = {**form.values, name: value}
                response = keeper_client.post(form.action, filled)
                assert response.status_code < 500, (form.action, name, value)


def test_what_was_typed_is_still_there_after_a_refusal(keeper_client):
    _, forms = crawl(keeper_client)
    refused = 0

    shown = [form for form in forms.values() if "password" not in form.action]
    for form in shown:
        # No browser lets a page fill in a file again.
        kept = set(form.typed) - set(form.files) if form.method == "post" else ()
        boxes = sorted(name for name in kept if "password" not in name)
        for value in KEPT:
            filled = {**form.values, **dict.fromkeys(boxes, value)}
            response = keeper_client.post(form.action, filled) if boxes else None
            if response is not None and response.status_code == 422:
                refused += 1
                assert value in unescape(response.content.decode()), (form.action, value)

    assert refused >= 20


def test_no_query_parameter_answers_with_a_server_error(keeper_client):
    queries, _ = crawl(keeper_client)
    names = ["q", "page", "sort", "format", "per_page"]

    for path, own in queries.items():
        for value in NASTY if own else ["", "1e400", "a\x00b"]:
            asked = dict.fromkeys([*names, *sorted(own)], safe(value))
            response = keeper_client.get(path, asked)
            assert response.status_code < 500, (path, value[:40])


def test_no_single_query_parameter_answers_with_a_server_error(keeper_client):
    queries, _ = crawl(keeper_client)

    for path, own in queries.items():
        for name in sorted(own):
            for value in ("-1", "1e400", "9" * 400):
                response = keeper_client.get(path, {name: value})
                assert response.status_code < 500, (path, name, value[:40])
