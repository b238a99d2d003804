from pathlib import Path

from django.conf import settings
from django.core.management import CommandError, call_command
from django.core.management.base import BaseCommand
from django.db import connection

from inventory import carrying
from inventory.refusals import Refusal


class Command(BaseCommand):
    help = (
        "Brings a house out of a file that carry_out wrote into an empty one: all of it or nothing."
    )
    requires_migrations_checks = False

    def add_arguments(self, parser):
        parser.add_argument("file", type=Path)

    def handle(self, *, file, **options):
        if connection.vendor == "sqlite":
            settings.DATABASE_FILE.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            settings.DATABASE_FILE.touch(mode=0o600)
        call_command("migrate", interactive=False, verbosity=0)
        try:
            with file.open("rb") as source:
                counts = carrying.carry_in(source)
        except FileNotFoundError:
            raise CommandError(f"There is no file {file}.") from None
        except Refusal as refusal:
            raise CommandError(refusal.message) from refusal
        self.stdout.write(f"{sum(counts.values())} rows came in; sign in as before.")
