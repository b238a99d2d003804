import pytest

from planner.chemistry.spoons import spoon_mass_g


@pytest.mark.parametrize(
    ("material", "grams"),
    [("granulated sugar", 4.25), ("active dry yeast", 4.05), ("cream of tartar", 3.05)],
)
def test_a_metric_teaspoon(material, grams):
    spoon = spoon_mass_g(material=material, volume_ml=5)

    assert spoon.value == pytest.approx(grams, abs=0.01)
    assert spoon.low < spoon.value < spoon.high
    assert spoon.known == "taken on trust"


def test_a_density_from_memory_is_the_less_sure():
    read = spoon_mass_g(material="granulated sugar", volume_ml=5)
    memory = spoon_mass_g(material="malic acid", volume_ml=5)

    assert memory.high / memory.value > read.high / read.value


@pytest.mark.parametrize("salt", ["potassium metabisulphite", "sodium metabisulphite"])
def test_sulphite_by_the_spoon_is_refused(salt):
    with pytest.raises(ValueError, match="never measured by the spoon: weigh it"):
        spoon_mass_g(material=salt, volume_ml=1)
