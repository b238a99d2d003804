"""Which pictures belong to a thing, and where do they lie?

A picture is drawn anew before it is kept: turned upright, shrunk, and without what the camera wrote
into it, such as the place. The file lies in the data folder under a name of its own.
"""

import io
import os
import secrets
from collections.abc import Iterable
from pathlib import Path

from django.conf import settings
from django.db import models, transaction
from PIL import Image, ImageOps, UnidentifiedImageError

from inventory import activity
from inventory.models import Person, Photo
from inventory.refusals import Refusal
from inventory.values import check_columns

MOST_BYTES = 8_000_000
# 24 million: more than most phones take, little enough to draw in a small house's memory.
MOST_PIXELS = 24_000_000
FORMATS = ("JPEG", "PNG", "WEBP")
# What the library raises over data that is no picture, cut off, or made to fill the memory.
UNREADABLE = (
    UnidentifiedImageError,
    Image.DecompressionBombError,
    OSError,
    ValueError,
    SyntaxError,
    EOFError,
)
LONGEST_SIDE = 1600
SMALLEST_SIDE = 8
QUALITY = 82
TAKEN = "a JPEG, PNG or WebP picture of at most 8 MB and 24 million points"


@transaction.atomic
def keep(*, data: bytes, of: models.Model, words: str, by: Person | None) -> Photo:
    """Keep a picture of a row. The file is on the disk before the row is written.

    Refuses, naming the box `photo`, what is no picture, too large or cut off. Can be undone.
    """
    picture = _drawn(data)
    drawn = io.BytesIO()
    picture.save(drawn, "JPEG", quality=QUALITY, optimize=True)
    photo = Photo(name=f"{secrets.token_hex(16)}.jpg", about=about(of), words=words[:120], by=by)
    photo.width, photo.height = picture.size
    photo.size = drawn.tell()
    check_columns(photo, ["words"])
    write_file(path_of(photo), drawn.getvalue())
    photo.save(force_insert=True)
    activity.record(
        by=by,
        verb="photo",
        subject=photo,
        summary=f"Kept a picture: {photo}",
        link=of.get_absolute_url() if hasattr(of, "get_absolute_url") else "",
        undo="photos.keep",
        undo_data={"photo": photo.pk},
    )
    return photo


@activity.undoes("photos.keep")
def _undo_keep(data: dict, by: Person | None) -> None:
    changed = Photo.objects.filter(pk=data["photo"], taken_back=False).update(taken_back=True)
    if not changed:
        raise Refusal("It has been taken back already.")


def take_back(keys: Iterable[int]) -> None:
    """These belong to nothing any more, as part of a larger act; their files stay."""
    Photo.objects.filter(pk__in=list(keys)).update(taken_back=True)


def about(row: models.Model) -> str:
    """The key under which the pictures of a row stand."""
    return f"{row._meta.model_name}:{row.pk}"


def of_rows(rows: Iterable[models.Model]) -> dict[str, list[Photo]]:
    """By `about` the pictures of these rows; one query."""
    keys = [about(row) for row in rows]
    found: dict[str, list[Photo]] = {}
    for photo in Photo.objects.filter(about__in=keys, taken_back=False):
        found.setdefault(photo.about, []).append(photo)
    return found


def path_of(photo: Photo) -> Path:
    return Path(settings.PHOTO_DIR) / photo.name


def _drawn(data: bytes) -> Image.Image:
    """The picture upright, in plain colours and no larger than wanted."""
    if len(data) > MOST_BYTES:
        raise Refusal(f"The picture has {len(data) / 1e6:.1f} MB; take {TAKEN}.", field="photo")
    try:
        with Image.open(io.BytesIO(data), formats=FORMATS) as opened:
            _refuse_bad_size(*opened.size)
            opened.draft("RGB", (2 * LONGEST_SIDE, 2 * LONGEST_SIDE))
            upright = ImageOps.exif_transpose(opened)
            picture = upright.convert("RGB")
    except UNREADABLE as wrong:
        raise Refusal(f"That cannot be read as a picture; take {TAKEN}.", field="photo") from wrong
    picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    # A new picture carries nothing of what the camera wrote.
    bare = Image.new("RGB", picture.size)
    bare.paste(picture)
    return bare


def _refuse_bad_size(width: int, height: int) -> None:
    if width * height > MOST_PIXELS:
        raise Refusal(f"The picture is {width} by {height} points; take {TAKEN}.", field="photo")
    if min(width, height) < SMALLEST_SIDE:
        raise Refusal(f"The picture is {width} by {height} points: too small.", field="photo")


def write_file(path: Path, data: bytes) -> None:
    """Whole on the disk under its name, or not there at all."""
    path.parent.mkdir(parents=True, exist_ok=True)
    unfinished = path.with_suffix(".part")
    with unfinished.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    unfinished.replace(path)
