import datetime as dt
import os
import shutil
from pathlib import Path

from django.conf import settings
from django.core.management import CommandError, call_command
from django.core.management.base import BaseCommand
from django.db import connection

from inventory import clock, household, shopping, shown
from planner import demo, feed
from planner.models import Step

HEADINGS = ("Item", "Short", "On", "Order by", "Hurts")


class Command(BaseCommand):
    help = "Makes a fresh demo house, prints its shortfalls, writes schedule.ics and serves it."
    requires_migrations_checks = False

    def add_arguments(self, parser):
        parser.add_argument("--no-serve", action="store_true", help="stop before serving")
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument("--date", type=self.day, help="a day to pretend, as 2026-04-06")

    @staticmethod
    def day(text):
        return dt.date.fromisoformat(text)

    def handle(self, *, no_serve, port, date, **options):
        if settings.HOUSE != "demo":
            raise CommandError("The demo keeps its own data: start it as `manage.py demo`.")
        settings.SITE_URL = f"http://127.0.0.1:{port}"
        if date:
            settings.PRETEND_TODAY = date
        self.fresh_database()
        household.activate_clock()
        today = clock.today()
        demo.build(today=today)
        household.activate_clock()
        self.print_shortfalls(today)
        self.write_calendar()
        self.print_people(port)
        if not no_serve:
            call_command("serve", port=port, host="127.0.0.1")

    def fresh_database(self):
        connection.close()
        for suffix in ("", "-wal", "-shm", "-journal"):
            Path(f"{settings.DATABASE_FILE}{suffix}").unlink(missing_ok=True)
        shutil.rmtree(settings.PHOTO_DIR, ignore_errors=True)
        settings.DATABASE_FILE.touch(mode=0o600)
        call_command("migrate", verbosity=0)

    def print_shortfalls(self, today):
        self.stdout.write(f"Skelder Fold on {shown.day_text(today)}: what will be short\n")
        rows = [HEADINGS]
        for line in shopping.shopping_lines(today=today):
            rows.append(self.row(line))
        widths = [max(len(row[n]) for row in rows) for n in range(len(HEADINGS))]
        for row in rows:
            self.stdout.write(
                "  ".join(
                    cell.ljust(width) for cell, width in zip(row, widths, strict=True)
                ).rstrip()
            )

    def row(self, line):
        overdue = "overdue, " if line.overdue else ""
        return (
            line.item.name,
            shown.quantity_text(line.quantity, line.item, "metric"),
            shown.day_text(line.arrive_day),
            overdue + shown.day_text(line.order_day),
            ", ".join(sorted({hurt.label.split(":")[0] for hurt in line.for_what})),
        )

    def write_calendar(self):
        path = Path("schedule.ics")
        path.write_bytes(feed.calendar(name="Skelder Fold", steps=Step.objects.all()))
        self.stdout.write(f"\nThe steps of all batches are in {os.path.abspath(path)}")

    def print_people(self, port):
        self.stdout.write(
            f"\nSign in at http://127.0.0.1:{port}/ as keeper, maker, picker or guest; "
            f"the password of each is: {demo.PASSWORD}"
        )
