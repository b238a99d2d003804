"""Prepares a real, empty house: the data folder, the tables, the catalogue and the first keeper."""

import getpass
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass

from django.conf import settings
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection, transaction
from django.db.migrations.executor import MigrationExecutor
from django.utils import timezone

from inventory import household
from inventory.models import Household, Person
from inventory.models.people import Units
from inventory.refusals import Refusal
from inventory.typed import clean_text, parse_number

SQLITE = "django.db.backends.sqlite3"


def read_name(text: str) -> str:
    return clean_text(text, name="name", most=80)


def read_latitude(text: str) -> int:
    degrees = parse_number(text, name="latitude", low=-90, high=90, places=3, three_places_ok=True)
    return int(degrees * 1000)


def read_height(text: str) -> int:
    return int(parse_number(text, name="height", low=-450, high=5000, places=0))


def read_units(text: str) -> str:
    if text not in Units.values:
        raise Refusal(f"Units {text!r} are not known; they are one of {', '.join(Units.values)}.")
    return text


@dataclass(frozen=True)
class Question:
    """One thing to know about the house: its column, the words, the usual answer, the reader."""

    column: str
    words: str
    usual: str
    read: Callable[[str], str | int]


QUESTIONS = {
    "name": Question("name", "What is the house called?", "", read_name),
    "time-zone": Question("time_zone", "Its time zone", "Europe/London", household.check_time_zone),
    "country": Question("country", "Its country, two letters", "GB", household.check_country),
    "latitude": Question(
        "latitude_thousandths", "Its latitude in degrees, south negative", "54", read_latitude
    ),
    "height": Question("height_m", "Its height above the sea in metres", "100", read_height),
    "units": Question("units", f"Its units: {', '.join(Units.values)}", "metric", read_units),
}
KEEPER = "Name under which the first keeper signs in"


class Command(BaseCommand):
    help = (
        "Prepare a real, empty house: tables, catalogue, name and first keeper. Safe to run again."
    )

    def add_arguments(self, parser):
        for name, question in QUESTIONS.items():
            parser.add_argument(f"--{name}", help=question.words, dest=question.column)
        parser.add_argument("--keeper", help=KEEPER)
        parser.add_argument(
            "--no-input",
            action="store_false",
            dest="interactive",
            help="Ask nothing; the keeper gets a one-time link instead of a password",
        )

    def handle(self, *, interactive, keeper, **options):
        self.interactive = interactive
        self.prepare_tables()
        call_command("load_catalogue", stdout=self.stdout)
        try:
            with transaction.atomic():
                self.prepare_house(options)
                self.prepare_keeper(keeper)
        except Refusal as refusal:
            raise CommandError(refusal.message) from None

    def prepare_tables(self) -> None:
        if settings.DATABASES["default"]["ENGINE"] == SQLITE:
            settings.DATABASE_FILE.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            settings.DATABASE_FILE.touch(mode=0o600)
        executor = MigrationExecutor(connection)
        wanted = executor.migration_plan(executor.loader.graph.leaf_nodes())
        if wanted and executor.loader.applied_migrations:
            self.keep_copy()
        call_command("migrate", interactive=False, verbosity=0)
        self.stdout.write(
            f"Tables: {len(wanted)} changes made." if wanted else "Tables: up to date."
        )

    def keep_copy(self) -> None:
        """A whole copy beside the file, before its tables change."""
        if connection.vendor != "sqlite":
            return
        stamp = timezone.now().strftime("%Y%m%dT%H%M%SZ")
        path = settings.DATABASE_FILE.with_name(f"{settings.HOUSE}-before-{stamp}.sqlite3")
        with sqlite3.connect(path) as copy:
            connection.connection.backup(copy)
        copy.close()
        path.chmod(0o600)
        self.stdout.write(f"A copy from before the change: {path.name}")

    def prepare_house(self, options: dict) -> None:
        if house := Household.objects.first():
            self.stdout.write(f"House: {house} is there already; nothing changed.")
            return
        values = {
            question.column: self.answer(name, question, options[question.column])
            for name, question in QUESTIONS.items()
        }
        house = household.settle(**values)
        self.stdout.write(f"House: {house}, {house.time_zone}.")

    def answer(self, name: str, question: Question, given: str | None) -> str | int:
        """What was given as an option, or else typed, asked again until it can be read."""
        if given or not self.interactive:
            if not (given or question.usual):
                raise CommandError(f"Say --{name}, since nothing is asked with --no-input.")
            return question.read(given or question.usual)
        usual = f" [{question.usual}]" if question.usual else ""
        while True:
            typed = input(f"{question.words}{usual}: ").strip() or question.usual
            try:
                if typed:
                    return question.read(typed)
            except Refusal as refusal:
                self.stderr.write(refusal.message)

    def prepare_keeper(self, username: str | None) -> None:
        if not username:
            if household.keepers().exists():
                self.stdout.write("Keeper: there is one already; nothing changed.")
                return
            wanted = Question("username", KEEPER, "", household.check_username)
            username = self.answer("keeper", wanted, None)
        if Person.objects.filter(username__iexact=username).exists():
            self.stdout.write(
                f"Keeper: {username} is there already; nothing changed. "
                f"A new password is set with: manage.py changepassword {username}"
            )
            return
        self.add_keeper(username)

    def add_keeper(self, username: str) -> None:
        person = household.add_person(
            username=username,
            password=self.ask_password() if self.interactive else None,
            role="keeper",
            units=household.current().units,
        )
        self.stdout.write(f"Keeper: {person}.")
        if not person.has_usable_password():
            path = household.invite(person=person, by=None)
            self.stdout.write(
                "Open this address once, within 24 hours, to set a password:\n"
                f"  {settings.SITE_URL}{path}"
            )

    def ask_password(self) -> str | None:
        """A good password typed twice, or None for a one-time link."""
        while True:
            typed = getpass.getpass("Password, 12 letters or more (empty for a one-time link): ")
            if not typed:
                return None
            try:
                validate_password(typed)
            except ValidationError as error:
                self.stderr.write(" ".join(error.messages))
                continue
            if getpass.getpass("The same again: ") == typed:
                return typed
            self.stderr.write("The two differ.")
