"""Many people change the same thing at once: whoever is late is told, and no change is lost unseen."""

import pytest

from tests.race.servers import hurry, run, serving

pytestmark = pytest.mark.race
ASK = (
    "import django; django.setup(); from inventory.models import Item; "
    "print(Item.objects.filter(kind='ingredient').values_list('version', flat=True).get())"
)


def edit(item: int, version: int, notes: str) -> tuple[str, dict]:
    values = {
        "name": "White sugar", "kind": "ingredient", "base": "mg", "pack": "1 kg",
        "notes": notes, "version": version,
    }  # fmt: skip
    return f"/items/{item}/edit/", values


def test_of_240_edits_none_is_lost_without_a_word():
    with serving("1", "500") as server:
        item, saved = server.scene["item"], 0

        for version in range(1, 41):
            jobs = [edit(item, version, f"round {version}, hand {hand}") for hand in range(6)]
            answers = hurry(server, clients=6, jobs=jobs)
            assert answers.statuses == {302: 1, 409: 5}
            saved += answers.statuses[302]

        assert run(["-c", ASK], server.environment).stdout.strip() == str(saved + 1)
