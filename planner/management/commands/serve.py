"""Opens the house: one process, eight threads, after a look at the tables."""

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.core.wsgi import get_wsgi_application
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from waitress.server import create_server

THREADS = 8
THIS_MACHINE = ("127.0.0.1", "localhost", "::1")


class Command(BaseCommand):
    help = "Serve the house on --host and --port; SITE_URL says under which address it is known."

    def add_arguments(self, parser):
        parser.add_argument("--host", default="127.0.0.1", help="0.0.0.0 for the home network")
        parser.add_argument("--port", type=int, default=8000)

    def handle(self, *, host, port, **options):
        check_address(host)
        check_tables()
        connection.close()
        if not settings.DEBUG:
            call_command("collectstatic", interactive=False, verbosity=0)
        server = open_server(host, port)
        self.stdout.write(f"Open {settings.SITE_URL}/ (listening on {host}:{port}, Ctrl+C ends it)")
        for advice in advice_on(host, port):
            self.stdout.write(advice)
        self.stdout.flush()
        server.run()


def advice_on(host: str, port: int):
    """What will not work as SITE_URL promises, though the server runs."""
    if proxied():
        return
    if host in THIS_MACHINE and settings.SITE.hostname not in THIS_MACHINE:
        yield "Only this machine reaches it; add --host 0.0.0.0 for the home network."
    if (settings.SITE.port or 80) != port:
        yield (
            f"SITE_URL names port {settings.SITE.port or 80}: one-time links and calendar "
            f"addresses lead there. Set SITE_URL to the address people type."
        )


def open_server(host: str, port: int):
    application = get_wsgi_application()
    try:
        return create_server(
            application, host=host, port=port, threads=THREADS, ident=None, **proxy_headers()
        )
    except OSError as error:
        raise CommandError(f"{host}:{port} cannot be opened: {error.strerror}.") from None


def proxied() -> bool:
    return settings.BEHIND_PROXY


def check_address(host: str) -> None:
    """What SITE_URL promises and what this server can keep must fit together."""
    if settings.HTTPS and not proxied():
        raise CommandError(
            "SITE_URL begins with https, and this server speaks plain http. "
            "Put a proxy that speaks https before it and set PROXY=1."
        )
    if proxied() and host not in THIS_MACHINE:
        raise CommandError(
            "With PROXY=1 the server believes what the proxy says, so only this machine may "
            "reach it: leave --host at 127.0.0.1."
        )


def check_tables() -> None:
    """Refuse to serve tables that are missing, older or newer than the program."""
    try:
        executor = MigrationExecutor(connection)
    except DatabaseError as error:
        raise CommandError(
            f"The house's records cannot be opened ({error}). Is the data folder "
            f"{settings.DATA_DIR} in place? A new house is made with: manage.py setup"
        ) from None
    loader = executor.loader
    newer = [
        f"{app} {name}"
        for app, name in loader.applied_migrations
        if app in loader.migrated_apps and (app, name) not in loader.disk_migrations
    ]
    if newer:
        raise CommandError(
            f"The house's records were made by a newer program ({', '.join(sorted(newer))}). "
            "Bring the program up to date; nothing was touched."
        )
    if executor.migration_plan(loader.graph.leaf_nodes()):
        raise CommandError(
            "The tables are not made yet, or are older than the program. Run: manage.py setup"
        )


def proxy_headers() -> dict:
    """The proxy on this machine says by which scheme and from whom a request came."""
    if not proxied():
        return {}
    return {
        "trusted_proxy": "127.0.0.1",
        "trusted_proxy_headers": {"x-forwarded-for", "x-forwarded-proto"},
        "clear_untrusted_proxy_headers": True,
    }
