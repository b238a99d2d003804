"""Pages for what went wrong say what to do next, and ask nothing of a database that fails."""

import pytest
from django import forms
from django.db import OperationalError
from django.shortcuts import render

from inventory.views import failures


@pytest.fixture
def request_of(rf, maker):
    request = rf.get("/nowhere/")
    request.user = maker
    return request


@pytest.mark.parametrize(
    ("words", "advice"),
    [
        ("database or disk is full", "The disk is full."),
        ("attempt to write a readonly database", "The data folder cannot be written."),
        ("unable to open database file", "The data folder or its disk is missing."),
        ("database is locked", "The database did not answer in time."),
    ],
)
def test_a_failing_disk_is_named_without_a_query(rf, django_assert_num_queries, db, words, advice):
    with django_assert_num_queries(0):
        page = failures.storage_fault(rf.get("/"), OperationalError(words))

    assert page.status_code == 503
    assert advice in page.content.decode()


def test_a_fault_of_the_program_is_admitted_without_a_query(rf, django_assert_num_queries, db):
    with django_assert_num_queries(0):
        page = failures.server_error(rf.get("/"))

    assert page.status_code == 500
    assert "Something in the program failed" in page.content.decode()


def test_what_could_not_be_read_is_escaped(rf):
    page = failures.bad_request(rf.get("/"), "<script>").content.decode()

    assert "&lt;script&gt;" in page
    assert "<script>" not in page


def test_a_second_editor_sees_both_versions_and_loses_nothing(request_of):
    class ItemForm(forms.Form):
        shop = forms.CharField()

    page = render(
        request_of,
        "409.html",
        {
            "current": "White sugar",
            "rows": [("Shop", "The corner shop", "The mill", True)],
            "form": ItemForm({"shop": "The mill"}),
        },
        status=409,
    ).content.decode()

    assert "White sugar was changed meanwhile" in page
    assert 'data-label="As it stands now">The corner shop</td>' in page
    assert 'data-label="As you typed it">The mill</td>' in page
    assert "differs" in page
    assert 'name="shop" value="The mill"' in page


@pytest.mark.parametrize("page", [failures.forbidden, failures.not_found, failures.form_expired])
def test_each_failure_has_one_heading_and_a_way_on(request_of, page):
    html = page(request_of).content.decode()

    assert html.count("<h1>") == 1
    assert 'href="/"' in html


def test_a_text_too_long_for_any_form_is_told_what_to_do(client, maker):
    client.force_login(maker)

    page = client.post("/items/add/", {"name": "Honey", "notes": "x" * 2_600_000})

    assert page.status_code == 413
    assert "at most 2.5 MB of text" in page.content.decode()


def test_a_form_of_too_many_boxes_is_told_what_to_do(client, maker):
    client.force_login(maker)

    page = client.post("/items/add/", {f"box-{n}": "" for n in range(1001)})

    assert page.status_code == 413
    assert "at most 1000 boxes" in page.content.decode()
