"""Tables brought in: every row tried first, then all of them written or none."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from inventory import clock, glass, ledger, places, sheets
from inventory.models import Item, Lot
from inventory.refusals import Refusal
from tests.conftest import KILO
from tests.inventory.views.reading import text_of

LOTS = "Item;How much;Received on;Use by;Place;Paid\n"


@pytest.fixture
def as_maker(client, maker, settings, house):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    return client


def bring(client, text, what="lots", **more):
    return client.post("/sheets/add/", {"what": what, "text": text} | more)


def test_a_pasted_table_is_looked_through_and_then_taken_in(as_maker, sugar, yeast, maker):
    places.add_place(by=maker, name="Pantry")
    text = (
        LOTS + "White sugar;2.5 kg;1 Apr 2026;;pantry;3.10\nwine yeast;3;1 Apr 2026;1 Mar 2027;;\n"
    )

    page = text_of(bring(as_maker, text))
    assert "2 rows, all of them good. Nothing is written yet." in page
    assert not Lot.objects.exists()

    bring(as_maker, text, do="take")
    assert "2 lots came in." in text_of(as_maker.get("/lots/"))
    assert ledger.on_hand(Lot.objects.get(item=sugar)) == 2_500_000
    assert Lot.objects.get(item=sugar).cost == 310
    assert str(Lot.objects.get(item=yeast).use_by) == "2027-03-01"


def test_each_fault_is_named_by_row_and_column_and_nothing_is_written(as_maker, sugar):
    text = LOTS + (
        "White sugar;1 kg;1 Apr 2026;;;\n"
        "Nobody's sugar;1 kg;1 Apr 2026;;;\n"
        "White sugar;3 sachets;1 Apr 2026;;;\n"
        "White sugar;-1 kg;30 Feb 2026;;Attic;\n"
    )

    answer = bring(as_maker, text, do="take")
    page = text_of(answer)

    assert answer.status_code == 422
    assert (
        "Row 3: Nobody's sugar, 1 kg, 1 Apr 2026, , , Item: “Nobody's sugar” is not known here."
        in page
    )
    assert "Row 4" in page
    assert 'How much: "-1 kg" is below zero.' in page
    assert 'Received on: "30 Feb 2026" is no day there is' in page
    assert "Place: “Attic” is not known here." in page
    assert "Row 2" not in page
    assert not Lot.objects.exists()


def test_items_are_named_with_their_ways_of_counting(as_maker):
    text = "Name\tKind\tCounted\tPack\tShop\nRaisins\tingredient\tweight\t500 g\tCorner shop\n"
    bring(as_maker, text, what="items", do="take")

    raisins = Item.objects.get()
    assert (raisins.kind, raisins.base, raisins.pack) == ("ingredient", "mg", 500_000)


def test_our_own_file_of_lots_comes_back(as_maker, sugar, maker):
    lot = ledger.receive(item=sugar, quantity=KILO, on=clock.today(), by=maker, origin="=shop")
    file = as_maker.get("/lots/?format=csv").content.decode()
    ledger.throw_out(lot=lot, on=clock.today(), by=maker, reason="mould")

    bring(as_maker, file, do="take")

    back = Lot.objects.exclude(pk=lot.pk).get()
    assert (ledger.on_hand(back), back.origin, back.item) == (KILO, "=shop", sugar)


def test_a_file_is_read_like_a_pasted_table(as_maker, sugar):
    file = SimpleUploadedFile("goods.csv", (LOTS + "White sugar;1 kg;;;;\n").encode("utf-8-sig"))

    page = text_of(as_maker.post("/sheets/add/", {"what": "lots", "file": file}))

    assert "1 row, all of them good" in page


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "Choose a file or paste a table."),
        ("Item;How much\n", "no row under the headings"),
        ("Thing;Number\nx;1\n", "These columns are missing: Item, How much"),
        ("Item;How much\n=cmd();1 kg\n", "is a formula, not a value"),
        ("Item;How much\n" + "White sugar;1 kg\n" * 501, "more than the 500"),
        ('Item;How much\n"White sugar;1 kg\n', "cannot be read"),
        ("a;" * 60 + "\nx", "More than 40 columns"),
    ],
)
def test_a_table_that_cannot_be_used_says_why(as_maker, sugar, text, words):
    answer = bring(as_maker, text)

    assert answer.status_code == 422
    assert words in text_of(answer)
    assert not Lot.objects.exists()


def test_a_file_in_another_encoding_is_refused(as_maker):
    file = SimpleUploadedFile("goods.csv", "Item;Größe\n".encode("latin-1"))

    answer = as_maker.post("/sheets/add/", {"what": "lots", "file": file})

    assert "no UTF-8 text" in text_of(answer)


def test_one_bad_row_at_the_end_undoes_all_before_it(sugar, maker):
    good = {"item": sugar, "quantity": KILO, "on": clock.today()}

    with pytest.raises(Refusal, match="Row 3: "):
        sheets.take_in(what="lots", rows=[(2, good), (3, good | {"quantity": 0})], by=maker)

    assert not Lot.objects.exists()


GLASS = "Bottle;Holds;Brimful;Mouth;Rated;Source;Clean;Dirty\n"


def test_kinds_of_bottle_come_in_with_their_counts(as_maker):
    text = GLASS + (
        "Fizz 750;750 mL;775 mL;fizz;6;the owner's word;6;2\nBeer 500;500 mL;;crown_26;;;9;\n"
    )

    assert "2 rows, all of them good" in text_of(bring(as_maker, text, what="glass"))
    bring(as_maker, text, what="glass", do="take")

    fizz, beer = Item.objects.order_by("-name")
    counts = glass.counts([fizz.pk, beer.pk])
    assert (counts[fizz.pk]["clean"], counts[fizz.pk]["dirty"]) == (6, 2)
    assert counts[beer.pk]["clean"] == 9
    assert (fizz.bottle_type.rated_mbar, beer.bottle_type.rated_mbar) == (6000, None)


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("Fizz 750;750 mL;700 mL;fizz;;;6;2", "at least its nominal volume"),
        ("Fizz 750;750 mL;;narrow;;;6;2", "“narrow” is not known here"),
        ("Fizz 750;750 mL;;fizz;6;;6;", "Say where the rating comes from"),
        ("Fizz 750;750 mL;;fizz;;;-6;", "-6"),
        (";750 mL;;fizz;;;6;", "needed"),
    ],
)
def test_a_bottle_that_cannot_be_brings_in_none(as_maker, row, says):
    good = "Beer 500;500 mL;;crown_26;;;9;\n"

    answer = bring(as_maker, GLASS + good + row, what="glass", do="take")

    assert answer.status_code == 422
    assert says in text_of(answer)
    assert not Item.objects.exists()
