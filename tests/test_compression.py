"""Pages go out compressed to whoever understands it; what is compressed already is left alone."""

import gzip

from planner import feeds
from planner.plants import load_catalogue


def test_a_page_is_compressed_for_a_browser_and_says_what_it_depends_on(client, maker):
    client.force_login(maker)

    plain = client.get("/store/")
    packed = client.get("/store/", headers={"accept-encoding": "gzip, deflate"})

    assert "Content-Encoding" not in plain
    assert packed["Content-Encoding"] == "gzip"
    assert "Accept-Encoding" in packed["Vary"]
    assert b"<h1>Store</h1>" in gzip.decompress(packed.content)
    assert len(packed.content) < len(plain.content) / 2


def test_a_calendar_fetched_compressed_is_still_known_by_its_mark(client, maker):
    _, secret = feeds.make_token(
        person=maker, label="my phone", content="windows", alarm_hours=None, by=maker
    )
    load_catalogue()
    asked = {"accept-encoding": "gzip"}
    first = client.get(f"/feed/{secret}.ics", headers=asked)

    again = client.get(f"/feed/{secret}.ics", headers=asked | {"if-none-match": first["ETag"]})

    assert first["Content-Encoding"] == "gzip"
    assert again.status_code == 304
