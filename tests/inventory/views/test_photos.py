"""Pictures: drawn anew, shrunk, without the camera's notes; what is no picture is refused."""

import io
import zlib

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from inventory import activity, audit, ledger, photos
from inventory.models import Activity, Photo
from inventory.refusals import Refusal
from tests.conftest import FIRST_MONDAY, KILO

GPS, ORIENTATION = 34853, 274


@pytest.fixture
def lot(sugar, maker):
    return ledger.receive(item=sugar, quantity=KILO, on=FIRST_MONDAY, by=maker)


def picture(size=(2400, 1200), kind="JPEG", exif=None):
    drawn = io.BytesIO()
    more = {"exif": exif} if exif else {}
    Image.new("RGB", size, (200, 40, 90)).save(drawn, kind, **more)
    return drawn.getvalue()


def keep(lot, data, maker):
    return photos.keep(data=data, of=lot, words="White sugar", by=maker)


def test_a_picture_is_shrunk_and_turned_upright_without_its_place(lot, maker):
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    exif[GPS] = {1: "N", 2: (54.0, 24.0, 0.0)}
    sent = picture(exif=exif)
    assert GPS in Image.open(io.BytesIO(sent)).getexif()

    kept = keep(lot, sent, maker)

    with Image.open(photos.path_of(kept)) as opened:
        assert (opened.size, dict(opened.getexif())) == ((800, 1600), {})
        assert opened.format == "JPEG"
    assert photos.of_rows([lot]) == {f"lot:{lot.pk}": [kept]}


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_other_kinds_are_kept_as_jpeg(lot, maker, kind):
    kept = keep(lot, picture((60, 40), kind), maker)

    assert (kept.width, kept.height) == (60, 40)
    assert photos.path_of(kept).read_bytes()[:2] == b"\xff\xd8"


def png_that_says(width, height):
    """The head of a PNG that claims a size; nothing of it is ever drawn."""
    head = b"IHDR" + width.to_bytes(4) + height.to_bytes(4) + b"\x08\x02\x00\x00\x00"
    data = b"IDAT" + zlib.compress(b"")
    chunks = [head, data, b"IEND"]
    body = b"".join((len(c) - 4).to_bytes(4) + c + zlib.crc32(c).to_bytes(4) for c in chunks)
    return b"\x89PNG\r\n\x1a\n" + body


@pytest.mark.filterwarnings("ignore::PIL.Image.DecompressionBombWarning")
@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"no picture at all", "cannot be read as a picture"),
        (picture()[:5000], "cannot be read as a picture"),
        (picture(kind="GIF"), "cannot be read as a picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "cannot be read as a picture"),
        (png_that_says(13_000, 13_000), "13000 by 13000 points"),
        (picture((4, 400)), "too small"),
        (b"\xff\xd8" + bytes(8_000_001), "8.0 MB"),
    ],
    ids=["words", "cut off", "another kind", "a drawing", "a bomb", "tiny", "heavy"],
)
def test_what_is_no_fit_picture_is_refused_and_nothing_kept(lot, maker, data, words):
    with pytest.raises(Refusal, match=words) as refused:
        keep(lot, data, maker)

    assert refused.value.field == "photo"
    assert not Photo.objects.exists()


def test_it_is_taken_back_and_no_longer_served(lot, maker, makers_client):
    kept = keep(lot, picture(), maker)
    assert makers_client.get(kept.get_absolute_url())["Content-Type"] == "image/jpeg"

    activity.undo(activity=Activity.objects.get(undo="photos.keep"), by=maker)

    assert makers_client.get(kept.get_absolute_url()).status_code == 404
    assert photos.of_rows([lot]) == {}


def test_a_missing_file_is_named_by_the_audit(lot, maker, makers_client):
    kept = keep(lot, picture(), maker)
    assert not list(audit.findings())
    photos.path_of(kept).unlink()

    assert [found.rule for found in audit.findings()] == ["every picture has its file"]
    assert makers_client.get(kept.get_absolute_url()).status_code == 404


def test_a_lot_gets_its_picture_by_the_form(lot, makers_client, people):
    sent = SimpleUploadedFile("jar.jpg", picture(), content_type="image/jpeg")

    makers_client.post(f"/lots/{lot.pk}/photo/", {"photo": sent})
    page = makers_client.get(lot.get_absolute_url()).content.decode()

    assert f'src="/photos/{Photo.objects.get().pk}/"' in page
    makers_client.force_login(people["guest"])
    assert "/photos/" not in makers_client.get(lot.get_absolute_url()).content.decode()


def test_no_picture_chosen_is_said_at_the_box(lot, makers_client):
    answer = makers_client.post(f"/lots/{lot.pk}/photo/", {})

    assert answer.status_code == 422
    assert "needed" in answer.content.decode()
