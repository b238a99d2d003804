"""Reminders of a country's law: dated, with their source, and never the last word."""

import pytest

from planner.catalogue import LegalClass, notes_for
from planner.catalogue.country_notes import EVERYWHERE, read_notes
from planner.models import Plant

HEAD = "country,classes,words,source,noted"


def test_britain_has_its_own_notes_and_the_general_one_last():
    found = notes_for("gb", "wild-personal")

    assert found[-1].country == EVERYWHERE
    assert any("Theft Act 1968 s.4(3)" in note.source for note in found)
    assert all(note.noted.year >= 2026 for note in found)


def test_a_country_without_notes_gets_the_general_one():
    assert [note.country for note in notes_for("NZ", "wild-personal")] == [EVERYWHERE]


def test_what_grows_in_the_garden_needs_none():
    assert notes_for("GB", "cultivated") == []


def test_every_class_named_is_a_class_of_the_catalogue():
    known = {member.value for member in LegalClass}
    named = {
        cls for country in ("GB", "US", "DE", "SE") for cls in known if notes_for(country, cls)
    }

    assert "wild-personal" in named
    for country in ("GB", "IE", "DE", "SE", "NO", "FI", "US"):
        for note in notes_for(country, "wild-personal"):
            assert note.classes <= known


def test_a_note_without_a_source_is_refused():
    with pytest.raises(ValueError, match="row 2"):
        read_notes([HEAD, "GB,wild-personal,Ask first.,,2026-07-01"])


def test_a_plants_page_shows_them_as_reminders(as_maker, house):
    Plant.objects.create(slug="sloe", common_name="Sloe", legal_class="wild-personal")

    page = as_maker.get("/plants/sloe/").content.decode()

    assert "reminders, not legal advice" in page
    assert "Theft Act 1968" in page
