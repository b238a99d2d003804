"""A whole house goes into one file and comes back equal row for row, or not at all."""

import datetime as dt
import io
import json
import zipfile

import pytest
from django.apps import apps
from django.contrib.auth.models import Group
from django.core.management import CommandError, call_command
from django.db import connection, transaction

from inventory import append_only, audit, carrying, photos
from inventory.models import Activity, Item, Lot, Photo
from inventory.refusals import Refusal
from planner import demo
from tests.inventory.views.test_photos import picture

DAY = dt.date(2026, 9, 12)
pytestmark = pytest.mark.django_db(transaction=True)


def everything():
    """Every row of every table of ours, to the microsecond."""
    return {
        table._meta.label_lower: list(table.objects.order_by("pk").values())
        for table in carrying.tables()
    }


def wipe():
    """An empty house with its tables and roles, as `migrate` leaves it."""
    append_only.remove(connection)
    between = (
        "planner_patch_plants",
        "inventory_person_groups",
        "inventory_person_user_permissions",
    )
    names = [
        *between,
        *(
            table._meta.db_table
            for app in ("planner", "inventory")
            for table in apps.get_app_config(app).get_models()
        ),
    ]
    # Foreign keys are looked at when all of it is done.
    with transaction.atomic(), connection.cursor() as cursor:
        for name in names:
            cursor.execute(f"DELETE FROM {connection.ops.quote_name(name)}")
    assert not any(everything().values())


@pytest.fixture
def roles():
    """A flush between tests takes the roles away with everything else."""
    for role in ("guest", "picker", "maker", "keeper"):
        Group.objects.get_or_create(name=role)


@pytest.fixture
def lived_in(roles, settings):
    settings.PRETEND_TODAY = DAY
    demo.build(today=DAY)
    photos.keep(data=picture((300, 200)), of=Lot.objects.first(), words="a jar", by=None)


def test_a_house_comes_back_equal_row_for_row_with_its_pictures(lived_in):
    before, file = everything(), io.BytesIO()
    kept = photos.path_of(Photo.objects.get()).read_bytes()
    counts = carrying.carry_out(file)
    photos.path_of(Photo.objects.get()).unlink()
    wipe()

    assert carrying.carry_in(file) == counts

    assert everything() == before
    assert sum(counts.values()) > 1000
    assert photos.path_of(Photo.objects.get()).read_bytes() == kept
    assert [found for found in audit.findings() if found.grave] == []
    # New rows are numbered after the old ones.
    last = Activity.objects.order_by("pk").last().pk
    assert Activity.objects.create(verb="x", model="x", summary="x").pk > last


def test_nothing_comes_into_a_house_that_is_lived_in(lived_in):
    file = io.BytesIO()
    carrying.carry_out(file)

    with pytest.raises(Refusal, match="not empty"):
        carrying.carry_in(file)


def changed(file, name, text):
    """The same file with one entry in another text; none leaves the entry out."""
    made = io.BytesIO()
    with zipfile.ZipFile(file) as old, zipfile.ZipFile(made, "w") as new:
        for one in old.infolist():
            if one.filename != name:
                new.writestr(one.filename, old.read(one.filename))
        if text is not None:
            new.writestr(name, text)
    return made


@pytest.fixture
def carried(roles, settings):
    """The file of a small house, and the house empty again."""
    Item.objects.create(name="White sugar", kind="ingredient", base="mg")
    file = io.BytesIO()
    carrying.carry_out(file)
    Item.objects.all().delete()
    return file


def meta(carried, **more):
    with zipfile.ZipFile(carried) as box:
        return json.dumps(json.loads(box.read("house.json")) | more)


ROW = (
    '{"model": "inventory.item", "pk": 1, "fields": {"name": "X", "kind": "y", "base": "stone"}}\n'
)
FAULTS = {
    "no zip": lambda file: io.BytesIO(b"nothing of the kind"),
    "cut off": lambda file: io.BytesIO(file.getvalue()[:-400]),
    "a table left out": lambda file: changed(file, "tables/inventory.item.jsonl", None),
    "a row left out": lambda file: changed(file, "tables/inventory.item.jsonl", ""),
    "a row that cannot be": lambda file: changed(file, "tables/inventory.item.jsonl", ROW),
    "a row of another table": lambda file: changed(
        file, "tables/inventory.item.jsonl", ROW.replace(".item", ".vessel")
    ),
    "no rows at all": lambda file: changed(file, "tables/inventory.item.jsonl", "{}{"),
    "a way out of the folder": lambda file: changed(file, "photos/../../key.jpg", "x"),
    "a program": lambda file: changed(file, "photos/run.sh", "x"),
    "another format": lambda file: changed(file, "house.json", meta(file, format=2)),
    "another version": lambda file: changed(
        file, "house.json", meta(file, changes={"inventory": "0001"})
    ),
    "no note": lambda file: changed(file, "house.json", None),
    "a note of nothing": lambda file: changed(file, "house.json", "[]"),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_a_file_with_a_fault_brings_nothing_in(carried, fault):
    with pytest.raises(Refusal):
        carrying.carry_in(FAULTS[fault](carried))

    assert not any(everything().values())


def test_the_commands_carry_out_and_in(carried, tmp_path, capsys):
    (tmp_path / "house.zip").write_bytes(carried.getvalue())
    call_command("carry_in", tmp_path / "house.zip")
    call_command("carry_out", tmp_path / "again.zip")

    assert "1 rows came in" in capsys.readouterr().out
    assert (tmp_path / "again.zip").stat().st_mode & 0o077 == 0
    with pytest.raises(CommandError, match="not empty"):
        call_command("carry_in", tmp_path / "again.zip")
    with pytest.raises(CommandError, match="no file"):
        call_command("carry_in", tmp_path / "nowhere.zip")


def test_only_a_keeper_takes_everything_away(client, roles, house, people):
    client.force_login(people["maker"])
    assert client.get("/household/everything.zip").status_code == 403
    client.force_login(people["keeper"])

    answer = client.get("/household/everything.zip")

    data = b"".join(answer.streaming_content)
    assert zipfile.ZipFile(io.BytesIO(data)).testzip() is None
    assert "skelder-fold-" in answer["Content-Disposition"]
