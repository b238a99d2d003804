"""Walks every address of the site as everybody, against the table in access_table.py."""

import pytest
from django.db import transaction
from django.test import Client
from django.urls import get_resolver, reverse
from django.urls.resolvers import URLPattern

from inventory.household import ROLES
from tests.access_table import ADDRESSES, PUBLIC, THINGS

pytestmark = pytest.mark.access
VISITORS = (None, *ROLES)
VISITOR = Client(raise_request_exception=False)


def patterns(resolver=None, space=""):
    """Every address of the resolver by its full name."""
    for entry in (resolver or get_resolver()).url_patterns:
        if isinstance(entry, URLPattern):
            yield f"{space}{entry.name}", entry
        else:
            yield from patterns(entry, space + (f"{entry.namespace}:" if entry.namespace else ""))


FOUND = dict(patterns())
GUARDED = [name for name in sorted(FOUND) if ADDRESSES.get(name) != PUBLIC]


def thing_for(name):
    """The keys in an address, of a thing made for it."""
    if not FOUND[name].pattern.converters:
        return {}
    begins = [start for start in THINGS if name.startswith(start)]
    assert begins, f"{name}: add to THINGS in tests/access_table.py how to make its thing"
    return THINGS[max(begins, key=len)]()


def ask(person, method, address):
    """One request as this person; what it changed is taken back."""
    VISITOR.cookies.clear()
    with transaction.atomic():
        if person:
            VISITOR.force_login(person)
        answer = VISITOR.get(address) if method == "GET" else VISITOR.post(address)
        transaction.set_rollback(True)
    return answer


def outcome(answer):
    if answer.status_code == 302 and "/sign-in/?next=" in answer["Location"]:
        return "asked to sign in"
    if answer.status_code == 403:
        return "refused"
    return "failed" if answer.status_code >= 500 else "admitted"


def wanted(row, role, method):
    if row == PUBLIC:
        return "admitted"
    if role is None:
        return "asked to sign in"
    lowest = row[0] if method == "GET" else row[1]
    admitted = lowest is not None and ROLES.index(role) >= ROLES.index(lowest)
    return "admitted" if admitted else "refused"


@pytest.mark.parametrize("name", sorted(FOUND))
def test_an_address_admits_whom_the_table_says_and_nobody_else(name, people):
    assert name in ADDRESSES, f"{name}: add its row to ADDRESSES in tests/access_table.py"
    address = reverse(name, kwargs=thing_for(name))

    wrong = [
        f"{role or 'nobody'} {method} {address}: {answer.status_code}, wanted: {fitting}"
        for role in VISITORS
        for method in ("GET", "POST")
        for fitting in [wanted(ADDRESSES[name], role, method)]
        for answer in [ask(people.get(role), method, address)]
        if outcome(answer) != fitting
    ]

    assert wrong == []


def test_every_row_of_the_table_is_an_address():
    assert set(ADDRESSES) - set(FOUND) == set()


ABSENT = {"IntConverter": 999_999_999, "SlugConverter": "no-such-thing"}
ABOUT_ONE_THING = [
    name
    for name in GUARDED
    if any(type(one).__name__ in ABSENT for one in FOUND[name].pattern.converters.values())
]


@pytest.mark.parametrize("name", ABOUT_ONE_THING)
def test_a_key_of_nothing_is_an_absent_page(name, people):
    keys = {
        key: ABSENT[type(converter).__name__]
        for key, converter in FOUND[name].pattern.converters.items()
    }
    address = reverse(name, kwargs=keys)

    statuses = {ask(people["keeper"], method, address).status_code for method in ("GET", "POST")}

    assert 404 in statuses
    assert statuses <= {404, 405, 403}


@pytest.mark.parametrize("key", ["-1", "0", "9" * 30, "1e3", "%00", "1/../2"])
def test_a_key_that_is_no_key_is_never_a_failure(key, people):
    answer = ask(people["keeper"], "GET", f"/vessels/{key}/edit/")

    assert answer.status_code in (400, 404)


def test_the_calendar_address_of_somebody_else_is_an_absent_page(people):
    theirs = reverse("planner:feed-delete", kwargs=THINGS["planner:feed-"]())

    answers = {role: ask(people[role], "POST", theirs).status_code for role in people}

    assert answers == {"guest": 302, "picker": 404, "maker": 404, "keeper": 404}
