"""Groups of people are named on the label; what concerns picking is not."""

import pytest

from planner.catalogue import catalogue, groups_to_warn


@pytest.mark.parametrize(
    ("text", "groups"),
    [
        (
            "Salicylates: avoid if aspirin-sensitive, asthma, anticoagulants, pregnancy, children",
            [
                "Salicylates: avoid if aspirin-sensitive, asthma, anticoagulants, pregnancy, children"
            ],
        ),
        ("Thujone; avoid in pregnancy; pollen allergy", ["avoid in pregnancy", "pollen allergy"]),
        ("Pips cyanogenic; heart medicine caution", ["heart medicine caution"]),
        ("Leaf blades toxic (oxalate): discard", []),
        ("Stalks and leaf cyanogenic; strip florets", []),
        ("", []),
    ],
)
def test_only_clauses_that_name_people_are_carried(text, groups):
    assert groups_to_warn(text) == groups


def test_the_catalogue_warns_of_some_plants_and_not_of_most():
    warned = [plant for plant in catalogue() if groups_to_warn(plant.hazard_text)]

    assert 15 <= len(warned) <= 40
