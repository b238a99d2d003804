from pathlib import Path

from django.core.management.base import BaseCommand

from inventory import carrying


class Command(BaseCommand):
    help = (
        "Writes everything of the house, pictures too, into one file. It holds hashes of passwords."
    )

    def add_arguments(self, parser):
        parser.add_argument("file", type=Path)

    def handle(self, *, file, **options):
        unfinished = file.with_name(f"{file.name}.part")
        with unfinished.open("wb") as target:
            counts = carrying.carry_out(target)
        unfinished.chmod(0o600)
        unfinished.replace(file)
        self.stdout.write(f"{sum(counts.values())} rows of {len(counts)} tables are in {file}.")
