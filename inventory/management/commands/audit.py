from django.core.management.base import BaseCommand, CommandError

from inventory.audit import RULES, findings


class Command(BaseCommand):
    help = "Check every rule of the data and name the rows that break one; exit code 1 if any does."

    def handle(self, *args, **options):
        broken = 0
        for found in findings():
            broken += found.grave
            lead = "BROKEN" if found.grave else "note"
            self.stdout.write(f"{lead}: {found.rule}: {found.row} {found.fault}")
        if broken:
            raise CommandError(f"{broken} rows break a rule.", returncode=1)
        self.stdout.write(f"All {len(RULES)} rules hold.")
