"""Bring the plants of the catalogue into the house, or up to date."""

from django.core.management.base import BaseCommand

from planner.plants import load_catalogue


class Command(BaseCommand):
    help = "Read the catalogue of plants; the house's own plants stay as they are."

    def handle(self, *args, **options):
        made, changed = load_catalogue()
        self.stdout.write(f"plants: {made} new, {changed} changed")
