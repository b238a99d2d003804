import pytest

from planner.chemistry.fizz_law import classes_at, low_bar, span_bar


@pytest.mark.parametrize(
    ("excess_bar", "names"),
    [
        (0.9, []),
        (1.0, ["EU semi-sparkling wine"]),
        (2.5, ["EU semi-sparkling wine"]),
        (2.7, []),
        (3.0, ["EU sparkling wine", "EU quality aromatic sparkling wine"]),
        (
            3.5,
            [
                "EU sparkling wine",
                "EU quality aromatic sparkling wine",
                "EU/UK quality sparkling wine",
                "OIV sparkling wine",
            ],
        ),
    ],
)
def test_terms_that_a_pressure_meets(excess_bar, names):
    assert [found.name for found in classes_at(excess_bar=excess_bar)] == names


def test_a_small_bottle_needs_less():
    assert low_bar(name="OIV sparkling wine", bottle_l=0.2) == 3.0
    assert low_bar(name="OIV sparkling wine", bottle_l=0.75) == 3.5


def test_semi_sparkling_has_a_lid():
    assert span_bar(name="EU semi-sparkling wine") == (1.0, 2.5)


def test_an_unknown_term_is_refused():
    with pytest.raises(ValueError, match="term must be one of"):
        low_bar(name="prickly")
