"""Keeps the ledger append-only in the database itself, for the ORM and raw SQL alike."""

from django.conf import settings

TABLE = "inventory_movement"
MESSAGE = "movements are append-only: write the opposite line"
SQLITE = [f"DROP TRIGGER IF EXISTS {TABLE}_no_{verb}" for verb in ("update", "delete")] + [
    f"CREATE TRIGGER {TABLE}_no_{verb} BEFORE {verb.upper()} ON {TABLE} "
    f"BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END"
    for verb in ("update", "delete")
]
POSTGRESQL = [
    f"CREATE OR REPLACE FUNCTION {TABLE}_refuse() RETURNS trigger AS $$ "
    f"BEGIN RAISE EXCEPTION '{MESSAGE}'; END $$ LANGUAGE plpgsql",
    f"DROP TRIGGER IF EXISTS {TABLE}_no_change ON {TABLE}",
    f"CREATE TRIGGER {TABLE}_no_change BEFORE UPDATE OR DELETE ON {TABLE} "
    f"FOR EACH ROW EXECUTE FUNCTION {TABLE}_refuse()",
]


def install(connection) -> None:
    """Create the triggers anew; a migration that rebuilds the table drops them silently."""
    statements = SQLITE if connection.vendor == "sqlite" else POSTGRESQL
    with connection.cursor() as cursor:
        for statement in statements:
            cursor.execute(statement)


def remove(connection) -> None:
    names = ("no_update", "no_delete") if connection.vendor == "sqlite" else ("no_change",)
    on = "" if connection.vendor == "sqlite" else f" ON {TABLE}"
    with connection.cursor() as cursor:
        for name in names:
            cursor.execute(f"DROP TRIGGER IF EXISTS {TABLE}_{name}{on}")


def installed(connection) -> bool:
    """Whether the database refuses changes to movements."""
    question = (
        "SELECT count(*) FROM sqlite_master WHERE type = 'trigger' AND name LIKE %s"
        if connection.vendor == "sqlite"
        else "SELECT count(*) FROM pg_trigger WHERE tgname LIKE %s AND tgenabled <> 'D'"
    )
    with connection.cursor() as cursor:
        cursor.execute(question, [f"{TABLE}_no_%"])
        return cursor.fetchone()[0] >= 1


def after_migrate(sender, using="default", **kwargs) -> None:
    from django.db import connections

    connection = connections[using]
    if settings.APPEND_ONLY_TRIGGERS and TABLE in connection.introspection.table_names():
        install(connection)
