"""The arrows between tables and modules, and the sizes nobody goes beyond."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest
from django.apps import apps

ROOT = Path(__file__).resolve().parent.parent
PACKAGES = ("planner", "inventory")
SOURCES = sorted(
    path
    for package in PACKAGES
    for path in (ROOT / package).rglob("*.py")
    if "migrations" not in path.parts
)
TESTS = sorted((ROOT / "tests").rglob("*.py"))
TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))
PURE = (
    "inventory.netting",
    "inventory.pictures",
    "inventory.measures",
    "inventory.refusals",
    "inventory.typed",
    "inventory.units",
    "planner.catalogue",
    "planner.chemistry.carbonation",
    "planner.kinetics",
    "planner.must",
    "planner.phenology",
    "planner.schedule",
)
ALLOWED_AT_THE_TOP = {
    "manage.py",
    "pyproject.toml",
    "README.md",
    "DEVELOPERS.md",
    "planner",
    "inventory",
    "templates",
    "tests",
}


def lines_of(path: Path) -> int:
    return len(path.read_text().splitlines())


def functions_of(path: Path):
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.FunctionDef):
            yield node


def length_without_docstring(node: ast.FunctionDef) -> int:
    first = node.body[0]
    has_docstring = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)
    docstring = first.end_lineno - first.lineno + 1 if has_docstring else 0
    return node.end_lineno - node.lineno + 1 - docstring


def test_no_inventory_table_points_at_a_planner_table():
    wrong = [
        f"{model.__name__}.{field.name}"
        for model in apps.get_app_config("inventory").get_models()
        for field in model._meta.get_fields()
        if field.is_relation
        and not field.auto_created
        and field.related_model
        and field.related_model._meta.app_label == "planner"
    ]

    assert wrong == []


def test_import_contracts_hold():
    done = subprocess.run(
        [Path(sys.executable).parent / "lint-imports"], cwd=ROOT, capture_output=True, text=True
    )

    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("module", PURE)
def test_pure_module_loads_no_django(module):
    code = f"import sys, {module}; sys.exit('django' in sys.modules)"

    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT).returncode == 0


def test_no_source_file_is_longer_than_four_hundred_lines():
    assert [path.name for path in SOURCES + TESTS if lines_of(path) > 400] == []


def test_no_template_is_longer_than_a_hundred_and_fifty_lines():
    assert [path.name for path in TEMPLATES if lines_of(path) > 150] == []


def test_no_function_is_longer_than_sixty_lines():
    long = [
        f"{path.relative_to(ROOT)}:{node.name}"
        for path in SOURCES
        for node in functions_of(path)
        if length_without_docstring(node) > 60
    ]

    assert long == []


def test_no_view_function_is_longer_than_forty_lines():
    long = [
        f"{path.relative_to(ROOT)}:{node.name}"
        for package in PACKAGES
        for path in (ROOT / package / "views").rglob("*.py")
        for node in functions_of(path)
        if length_without_docstring(node) > 40
    ]

    assert long == []


def test_package_roots_stay_empty():
    assert [package for package in PACKAGES if (ROOT / package / "__init__.py").read_text()] == []


def test_top_level_holds_only_what_the_house_rules_allow():
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True).stdout
    top = {line.split("/")[0] for line in listed.splitlines()}

    assert {name for name in top if not name.startswith(".")} <= ALLOWED_AT_THE_TOP
