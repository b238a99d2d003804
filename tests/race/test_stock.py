"""Many people take from the same lots at once: nothing is oversold, nothing locks."""

import secrets

import pytest

from tests.race.servers import hurry, serving

pytestmark = pytest.mark.race


def use(lot: int, grams: int, token: str | None = None) -> tuple[str, dict]:
    values = {"quantity": f"{grams} g", "on": "2026-04-06", "reason": "race"}
    return f"/lots/{lot}/use/", {**values, "token": token or secrets.token_hex(16)}


def test_two_people_issuing_the_last_500_g_at_once_leave_one_refused():
    with serving("1", "500") as server:
        lot = server.scene["lots"][0]

        answers = hurry(server, clients=2, jobs=[use(lot, 500), use(lot, 500)])

        assert answers.statuses == {302: 1, 422: 1}
        assert server.audit().returncode == 0, server.audit().stdout


@pytest.mark.parametrize("clients", [8, 20, 50])
def test_nothing_is_oversold_when_700_requests_want_more_than_there_is(clients):
    with serving("4", "100") as server:
        jobs = [use(lot, 1) for lot in server.scene["lots"] for _ in range(175)]

        answers = hurry(server, clients=clients, jobs=jobs)

        print(f"{clients} clients: p95 {answers.percentile(0.95) * 1000:.0f} ms")  # noqa: T201
        assert answers.statuses == {302: 400, 422: 300}
        assert server.audit().returncode == 0, server.audit().stdout


def test_the_same_form_sent_six_times_at_once_counts_once():
    with serving("1", "1000") as server:
        lot = server.scene["lots"][0]
        tokens = [secrets.token_hex(16) for _ in range(100)]
        jobs = [use(lot, 10, token) for token in tokens for _ in range(6)]

        answers = hurry(server, clients=6, jobs=jobs)

        assert answers.statuses == {302: 600}
        assert server.audit().returncode == 0, server.audit().stdout


def test_twenty_people_open_no_bottle_twice():
    with serving("1", "100") as server:
        address = f"/cellar/{server.scene['bottles']}/take/"
        opened = {"fate": "opened", "count": "1", "where": "", "on": "2026-04-06"}
        jobs = [(address, opened | {"token": secrets.token_hex(16)}) for _ in range(60)]

        answers = hurry(server, clients=20, jobs=jobs)

        assert answers.statuses == {302: 40, 422: 20}
        assert server.audit().returncode == 0, server.audit().stdout
