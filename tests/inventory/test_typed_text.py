import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.refusals import Refusal
from inventory.typed import clean_text

ANY_TEXT = st.text(st.characters(exclude_categories=()), max_size=80)
VISIBLE_TEXT = st.text(
    st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12
)


def outcome(read, text):
    try:
        return read(text)
    except Refusal as no:
        return no.message


def line(text, most=40):
    return clean_text(text, name="Note", most=most)


def rows(text, most=40):
    return clean_text(text, name="Note", most=most, lines=True)


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("  Beck   Bottom\t(north)\r\n", "Beck Bottom (north)"),
        ("bell\x07 and escape\x1b[0m", "bell and escape[0m"),
        ("turned \u202eround\u202c", "turned round"),
        ("\u2066boxed\u2069", "boxed"),
        ("\ufeffmark\u200b", "mark"),
        ("e\u0301te", "éte"),
        ("e\u202e\u0301te", "éte"),
        ("ליקר דובדבנים", "ליקר דובדבנים"),
        ("two\u2028lines", "two lines"),
        ("\u200d", ""),
        (" \u00a0 ", ""),
        ("🍎", "🍎"),
    ],
)
def test_a_line_keeps_what_can_be_seen(typed, kept):
    assert line(typed) == kept


def test_several_lines_keep_their_breaks_and_their_indents():
    assert rows("\r\nmash  \r\n  enzyme  last\r\rpress\x0b\n") == "mash\n  enzyme  last\n\npress"


@pytest.mark.parametrize("typed", ["a\x00b", "a\ud800b", "\udfff"])
def test_a_broken_letter_is_refused(typed):
    with pytest.raises(Refusal, match="broken letter"):
        line(typed)


def test_the_longest_text_is_kept_whole():
    assert line(40 * "é") == 40 * "é"


@pytest.mark.parametrize("length", [41, 50_000])
def test_a_longer_text_is_refused_with_both_lengths(length):
    with pytest.raises(Refusal, match=f"{length} letters, and 40 is the most"):
        line(length * "a")


@given(ANY_TEXT)
@settings(max_examples=300, deadline=None)
def test_any_text_is_kept_or_refused_in_words_that_can_be_sent(text):
    assert isinstance(outcome(rows, text).encode(), bytes)


@given(VISIBLE_TEXT)
@settings(max_examples=300, deadline=None)
def test_a_second_washing_changes_nothing(text):
    assert rows(rows(text)) == rows(text)
    assert line(line(text)) == line(text)
