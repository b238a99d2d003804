"""Everything of a house as one file, and the same house again out of it, equal row for row.

A zip of one JSON line per row and table, of every picture, and of a note that says by which version
it was made. It holds the hashes of passwords: whoever has it can try to guess them.
"""

import datetime as dt
import json
import tempfile
import zipfile
from pathlib import Path
from typing import IO

from django.conf import settings
from django.contrib.auth.models import Group
from django.core import serializers
from django.core.management.color import no_style
from django.core.serializers.base import DeserializationError
from django.core.serializers.json import DjangoJSONEncoder
from django.db import DatabaseError, connection, models, transaction
from django.db.migrations.recorder import MigrationRecorder
from django.utils import timezone

from inventory import photos
from inventory.audit import OWN_APPS, own_tables
from inventory.models import Household, Photo, SentForm
from inventory.refusals import Refusal

FORMAT = 1
META = "house.json"
LEFT_BEHIND = (SentForm,)
# Far beyond a household's rows for a lifetime: what unpacks to more is no house.
MOST_BYTES = 2_000_000_000
CHUNK = 2000
DAMAGED = (
    zipfile.BadZipFile,
    NotImplementedError,
    EOFError,
    OSError,
    UnicodeDecodeError,
    ValueError,
)


class _Exact(DjangoJSONEncoder):
    """Moments to the microsecond, so that they come back as they were."""

    def default(self, o):
        return o.isoformat() if isinstance(o, dt.datetime) else super().default(o)


def tables() -> list[type[models.Model]]:
    """What is carried, in an order that never changes."""
    found = [table for table in own_tables() if table not in LEFT_BEHIND]
    return sorted(found, key=lambda table: table._meta.label_lower)


def carry_out(target: IO[bytes]) -> dict[str, int]:
    """Write the whole house into a file, as it stands at one moment; how many rows of each table."""
    counts = {}
    is_outermost = not connection.in_atomic_block
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as box, transaction.atomic():
        if is_outermost and connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")
        for table in tables():
            counts[table._meta.label_lower] = table.objects.count()
            with box.open(_name(table), "w", force_zip64=True) as file:
                _write_rows(table, file)
        for photo in Photo.objects.order_by("pk"):
            path = photos.path_of(photo)
            if path.is_file():
                box.write(path, f"photos/{photo.name}")
        box.writestr(META, json.dumps(_meta(counts), indent=2))
    return counts


def _write_rows(table: type[models.Model], file: IO[bytes]) -> None:
    rows = table.objects.order_by("pk").iterator(chunk_size=CHUNK)
    for row in rows:
        text = serializers.serialize("jsonl", [row], cls=_Exact, ensure_ascii=False)
        file.write(text.encode())


def _meta(counts: dict[str, int]) -> dict:
    house = Household.objects.first()
    return {
        "format": FORMAT,
        "house": house.name if house else "",
        "made": timezone.now().isoformat(timespec="seconds"),
        "changes": _changes(),
        "groups": dict(Group.objects.order_by("pk").values_list("name", "pk")),
        "rows": counts,
    }


def _changes() -> dict[str, str]:
    """The last change of the tables, by app: a file and a program must agree on them."""
    rows = MigrationRecorder.Migration.objects.filter(app__in=OWN_APPS)
    found = dict.fromkeys(OWN_APPS, "")
    for app, name in rows.values_list("app", "name"):
        found[app] = max(found[app], name)
    return found


def _name(table: type[models.Model]) -> str:
    return f"tables/{table._meta.label_lower}.jsonl"


@transaction.atomic
def carry_in(source: IO[bytes]) -> dict[str, int]:
    """Bring a house into an empty one: all of its rows and pictures, or nothing.

    Refuses a house that has anything in it, a file of another version, and a damaged one. Returns how
    many rows of each table came.
    """
    _refuse_a_lived_in_house()
    try:
        with zipfile.ZipFile(source) as box:
            meta = _checked(box)
            for table in tables():
                _read_rows(table, box)
            came = {table._meta.label_lower: table.objects.count() for table in tables()}
            if came != meta["rows"]:
                raise Refusal("Rows are missing: the file is damaged.")
            _take_pictures(box)
    except DAMAGED as wrong:
        raise Refusal(f"The file is damaged or none of ours: {wrong}") from wrong
    _count_on()
    return came


def _refuse_a_lived_in_house() -> None:
    full = [str(table._meta.verbose_name_plural) for table in tables() if table.objects.exists()]
    if full:
        raise Refusal(f"This house is not empty: there are {', '.join(full[:5])} in it already.")


def _checked(box: zipfile.ZipFile) -> dict:
    """The note of the file, once every name in it is one of ours and nothing unpacks to too much."""
    names = {_name(table) for table in tables()} | {META}
    listed = box.infolist()
    strange = [one.filename for one in listed if one.filename not in names and not _is_picture(one)]
    if strange or len({one.filename for one in listed}) != len(listed):
        raise Refusal(
            f"The file holds what no house does: {', '.join(strange[:3]) or 'a name twice'}."
        )
    if sum(one.file_size for one in listed) > MOST_BYTES:
        raise Refusal("The file unpacks to more than any house holds.")
    missing = names - {one.filename for one in listed}
    if missing:
        raise Refusal(f"The file lacks {', '.join(sorted(missing)[:3])}.")
    meta = json.loads(box.read(META))
    if not isinstance(meta, dict):
        raise Refusal("The file says nothing of where it is from.")
    if meta.get("format") != FORMAT or meta.get("changes") != _changes():
        raise Refusal(
            "The file was made by another version; bring this program to the same one first."
        )
    if meta.get("groups") != dict(Group.objects.order_by("pk").values_list("name", "pk")):
        raise Refusal("The roles of the file are not those of this program.")
    return meta


def _is_picture(one: zipfile.ZipInfo) -> bool:
    folder, _, name = one.filename.partition("/")
    stem, _, kind = name.partition(".")
    plain = stem.isalnum() and stem.isascii() and kind == "jpg"
    return folder == "photos" and plain and one.file_size <= photos.MOST_BYTES


def _read_rows(table: type[models.Model], box: zipfile.ZipFile) -> None:
    with box.open(_name(table)) as file:
        for number, line in enumerate(file, start=1):
            try:
                for row in serializers.deserialize("jsonl", line.decode()):
                    if type(row.object) is not table:
                        raise ValueError("a row of another table")
                    row.save(force_insert=True)
            except (DeserializationError, DatabaseError, ValueError) as wrong:
                raise Refusal(f"{_name(table)}, row {number}: {wrong}") from wrong


def _take_pictures(box: zipfile.ZipFile) -> None:
    for photo in Photo.objects.order_by("pk"):
        try:
            data = box.read(f"photos/{photo.name}")
        except KeyError:
            continue
        photos.write_file(Path(settings.PHOTO_DIR) / photo.name, data)


def _count_on() -> None:
    """New rows are numbered after those that came."""
    for statement in connection.ops.sequence_reset_sql(no_style(), tables()):
        with connection.cursor() as cursor:
            cursor.execute(statement)


def as_file() -> IO[bytes]:
    """The whole house in a file that is gone when it is closed."""
    # Closed, and with that gone, by the answer that sends it.
    file = tempfile.TemporaryFile(prefix="maythorn-")  # noqa: SIM115
    carry_out(file)
    file.seek(0)
    return file
