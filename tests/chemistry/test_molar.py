import pytest
from chemicals import MW
from molmass import Formula

from planner.chemistry import molar

FORMULAS = {
    "WATER": ("H2O", "7732-18-5"),
    "CARBON_DIOXIDE": ("CO2", "124-38-9"),
    "ETHANOL": ("C2H5OH", "64-17-5"),
    "HEXOSE": ("C6H12O6", "50-99-7"),
    "SUCROSE": ("C12H22O11", "57-50-1"),
    "SULPHUR_DIOXIDE": ("SO2", "7446-09-5"),
    "POTASSIUM_METABISULPHITE": ("K2S2O5", "16731-55-8"),
    "SODIUM_METABISULPHITE": ("Na2S2O5", "7681-57-4"),
    "SORBIC_ACID": ("C6H8O2", "110-44-1"),
    "TARTARIC_ACID": ("C4H6O6", "87-69-4"),
    "MALIC_ACID": ("C4H6O5", "6915-15-7"),
    "CITRIC_ACID": ("C6H8O7", "77-92-9"),
    "LACTIC_ACID": ("C3H6O3", "50-21-5"),
    "ACETIC_ACID": ("C2H4O2", "64-19-7"),
    "SULPHURIC_ACID": ("H2SO4", "7664-93-9"),
    "POTASSIUM_BICARBONATE": ("KHCO3", "298-14-6"),
    "CALCIUM_CARBONATE": ("CaCO3", "471-34-1"),
    "DIAMMONIUM_PHOSPHATE": ("(NH4)2HPO4", "7783-28-0"),
}
# Not every salt is in the second library's list.
ONE_LIBRARY = {
    "POTASSIUM_SORBATE": "C6H7KO2",
    "GLUCOSE_MONOHYDRATE": "C6H14O7",
    "CITRIC_ACID_MONOHYDRATE": "C6H10O8",
}


@pytest.mark.parametrize("name", sorted(FORMULAS))
def test_molar_masses_agree_with_two_libraries(name):
    formula, cas = FORMULAS[name]

    assert getattr(molar, name) == pytest.approx(Formula(formula).mass, rel=5e-6)
    # The second library rounds its masses to five digits or so.
    assert getattr(molar, name) == pytest.approx(MW(cas), rel=5e-5)


@pytest.mark.parametrize("name", sorted(ONE_LIBRARY))
def test_other_molar_masses_agree_with_one(name):
    assert getattr(molar, name) == pytest.approx(Formula(ONE_LIBRARY[name]).mass, rel=5e-6)


def test_fermentation_loses_no_mass():
    assert pytest.approx(1.0) == molar.ETHANOL_PER_HEXOSE + molar.CO2_PER_HEXOSE
