"""Every answer carries its rule: walk all the formulas and look."""

import importlib
import pkgutil

import pytest

import planner.chemistry
from planner.chemistry.figure import Formula, Rule

MODULES = [
    importlib.import_module(f"planner.chemistry.{found.name}")
    for found in pkgutil.iter_modules(planner.chemistry.__path__)
]
FORMULAS = {
    f"{module.__name__.rsplit('.', 1)[1]}.{name}": value
    for module in MODULES
    for name, value in vars(module).items()
    if isinstance(value, Formula)
}
RULES = {
    f"{module.__name__.rsplit('.', 1)[1]}.{name}": value
    for module in MODULES
    for name, value in vars(module).items()
    if isinstance(value, Rule)
}


@pytest.mark.parametrize("name", sorted(FORMULAS))
def test_a_formula_has_a_unit_a_rule_and_only_named_arguments(name):
    formula = FORMULAS[name]

    assert formula.unit
    assert isinstance(formula.rule, Rule)
    assert formula.function.__code__.co_argcount == 0
    assert 1 <= formula.function.__code__.co_kwonlyargcount <= 7


@pytest.mark.parametrize("name", sorted(RULES))
def test_a_rule_names_itself_its_source_and_where_it_holds(name):
    rule = RULES[name]

    assert rule.name.strip()
    assert rule.source.strip()
    assert rule.validity.strip()
