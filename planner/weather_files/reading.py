"""Which kind of weather file is this, and what does it say?"""

import zlib

from inventory.refusals import Refusal
from planner.weather_files import plain, stations
from planner.weather_files.found import MOST_BYTES, Found, settle

GZIP = b"\x1f\x8b"
READERS = (
    (stations.is_ghcn_csv, stations.read_ghcn_csv),
    (stations.is_ghcn_fixed, stations.read_ghcn_fixed),
    (stations.is_eca, stations.read_eca),
    (stations.is_monthly, stations.read_monthly),
)


def read(data: bytes) -> Found:
    """What a file says, however it is written; raises Refusal where it cannot be used.

    Known are GHCN daily files by station (comma or fixed columns), ECA daily files of one element,
    monthly station text, and any table with headings; packed by gzip or not.
    """
    lines = _text(_unpacked(data)).splitlines()
    if not any(line.strip() for line in lines):
        raise Refusal("The file is empty.", field="file")
    for is_it, reader in READERS:
        if is_it(lines):
            return settle(reader(lines))
    return settle(plain.read_plain(lines))


def _unpacked(data: bytes) -> bytes:
    if data.startswith(GZIP):
        unpacker = zlib.decompressobj(wbits=31)
        try:
            data = unpacker.decompress(data, MOST_BYTES + 1)
        except zlib.error:
            raise Refusal("The packed file is damaged.", field="file") from None
    if len(data) > MOST_BYTES:
        raise Refusal(
            f"The file is larger than {MOST_BYTES // 1_000_000} MB; bring fewer years.",
            field="file",
        )
    return data


def _text(data: bytes) -> str:
    if b"\x00" in data:
        raise Refusal("This is no text file: save it as CSV or plain text first.", field="file")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")
