"""Every command, setting and dependency is in DEVELOPERS.md, and the README keeps its shape."""

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text()
README = (ROOT / "README.md").read_text()
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]


def test_every_command_is_described():
    commands = {
        path.stem
        for package in ("planner", "inventory")
        for path in (ROOT / package / "management" / "commands").glob("*.py")
        if path.stem != "__init__"
    }

    assert {name for name in commands if f"`manage.py {name}`" not in DEVELOPERS} == set()


def test_every_setting_from_the_environment_is_described():
    source = (ROOT / "planner" / "settings.py").read_text()
    names = set(re.findall(r'read_(?:text|flag|day)\(\s*"([A-Z_]+)"', source))

    assert names
    assert {name for name in names if f"`{name}`" not in DEVELOPERS} == set()


def test_every_dependency_has_its_reason():
    wanted = PROJECT["dependencies"] + [
        entry for extra in PROJECT["optional-dependencies"].values() for entry in extra
    ]
    names = {re.match(r"[A-Za-z0-9_-]+", entry).group() for entry in wanted} - {"maythorn"}

    assert {name for name in names if f"| {name} |" not in DEVELOPERS} == set()


def test_readme_gives_exactly_two_commands():
    commands = re.findall(r"^    (\S.*)$", README, flags=re.MULTILINE)

    assert len(commands) == 2
    assert "manage.py demo" in commands[0]
    assert "pytest" in commands[1]


def test_only_the_house_clock_tells_the_day():
    pattern = re.compile(r"date\.today\(|datetime\.now\(|utcnow\(|date\.fromtimestamp\(")
    sources = [
        path
        for package in ("planner", "inventory")
        for path in (ROOT / package).rglob("*.py")
        if pattern.search(path.read_text())
    ]

    assert sources == []
