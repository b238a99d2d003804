"""Is everything stored true to the rules? Each rule names the row that breaks it.

A rule is a function that yields (row, fault) in words, marked with `@check("the rule in words")`. Every app
may keep its own in a module called `invariants`; here are those of the database itself.
"""

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from importlib import import_module

from django.apps import apps
from django.conf import settings
from django.db import connection, models
from django.db.models import Exists, OuterRef
from django.utils.module_loading import autodiscover_modules

from inventory import append_only

OWN_APPS = ("inventory", "planner")


@dataclass(frozen=True)
class Finding:
    """A row that breaks a rule; what is not grave is worth knowing and no damage."""

    rule: str
    row: str
    fault: str
    grave: bool


Rule = Callable[[], Iterable[tuple[str, str]]]
RULES: dict[str, tuple[Rule, bool]] = {}


def check(rule: str, *, grave: bool = True) -> Callable[[Rule], Rule]:
    """Mark a function as the one that looks for rows breaking this rule."""

    def register(function: Rule) -> Rule:
        RULES[rule] = function, grave
        return function

    return register


def findings() -> Iterator[Finding]:
    """Every row that breaks a rule of any app; reads only."""
    autodiscover_modules("invariants")
    # Whatever can be undone is registered by the modules that the addresses lead to.
    import_module(settings.ROOT_URLCONF)
    for name, (rule, grave) in RULES.items():
        for row, fault in rule():
            yield Finding(name, row, fault, grave)


def own_tables() -> list[type[models.Model]]:
    return [table for table in apps.get_models() if table._meta.app_label in OWN_APPS]


def name_of(table: type[models.Model], key: object) -> str:
    return f"{table._meta.verbose_name} {key}"


@check("the database file is whole")
def _integrity():
    if connection.vendor != "sqlite":
        return
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA integrity_check")
        for (answer,) in cursor.fetchall():
            if answer != "ok":
                yield str(settings.DATABASES["default"]["NAME"]), answer


@check("every row that another points at is there")
def _orphans():
    for table in own_tables():
        for column in table._meta.concrete_fields:
            if not column.is_relation:
                continue
            target = column.related_model._base_manager.filter(pk=OuterRef(column.attname))
            rows = table._base_manager.filter(~Exists(target), **{f"{column.name}__isnull": False})
            for key, missing in rows.values_list("pk", column.attname):
                yield name_of(table, key), f"points at {column.name} {missing}, which is gone"


@check("every value lies within its range")
def _ranges():
    for table in own_tables():
        for constraint in table._meta.constraints:
            if isinstance(constraint, models.CheckConstraint):
                rows = table._base_manager.exclude(constraint.condition).order_by("pk")
                for key in rows.values_list("pk", flat=True):
                    yield name_of(table, key), f"breaks {constraint.name}"


@check("every word is one of its list")
def _choices():
    for table in own_tables():
        for column in table._meta.concrete_fields:
            if not column.choices:
                continue
            known = [value for value, _ in column.flatchoices] + ([""] if column.blank else [])
            rows = table._base_manager.exclude(**{f"{column.name}__in": known})
            rows = rows.exclude(**{f"{column.name}__isnull": True}) if column.null else rows
            for key, word in rows.values_list("pk", column.attname):
                yield name_of(table, key), f"{column.name} is {word!r}"


@check("the database itself refuses what breaks a rule")
def _constraints():
    known = _schema_words()
    for table in own_tables():
        for constraint in table._meta.constraints:
            if constraint.name not in known:
                yield table._meta.db_table, f"has lost {constraint.name}"


def _schema_words() -> set[str]:
    """The names of all checks and unique indexes that stand in the database."""
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL")
            return {word for (sql,) in cursor.fetchall() for word in re.findall(r'"(\w+)"', sql)}
        cursor.execute("SELECT conname FROM pg_constraint UNION SELECT indexname FROM pg_indexes")
        return {name for (name,) in cursor.fetchall()}


@check("the ledger can be neither changed nor deleted")
def _triggers():
    if settings.APPEND_ONLY_TRIGGERS and not append_only.installed(connection):
        yield append_only.TABLE, "has lost its trigger"
