import datetime as dt
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.refusals import Refusal
from inventory.typed import date_text, number_text, parse_date, parse_number, quoted

FRIDAY = dt.date(2026, 9, 11)
DAYS = st.dates(dt.date(1900, 1, 1), dt.date(2199, 12, 31))
ANY_TEXT = st.text(st.characters(exclude_categories=()), max_size=80)
DIGITS_AND_MARKS = st.text("0123456789.,-+/ ½¼²٣e_' \u00a0−", max_size=20)


def number(text, **changed):
    wanted = {"name": "Weight", "low": 0, "high": 10_000, "places": 3} | changed
    return parse_number(text, **wanted)


def day(text, **changed):
    return parse_date(text, **({"name": "Picked", "today": FRIDAY} | changed))


def outcome(read, text, **changed):
    try:
        return read(text, **changed)
    except Refusal as no:
        return no.message


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("2.5", "2.5"),
        ("2,5", "2.5"),
        (" 12 ", "12"),
        (".5", "0.5"),
        ("007", "7"),
        ("+3", "3"),
        ("２.５", "2.5"),
        ("0.250", "0.25"),
        ("0,250", "0.25"),
        ("1.2340", "1.234"),
        ("1234.567", "1234.567"),
        ("1/2", "0.5"),
        ("1 1/2", "1.5"),
        ("½", "0.5"),
        ("1½", "1.5"),
        ("1 ½", "1.5"),
        ("11⁄2", "5.5"),
        ("1/3", "0.333"),
    ],
)
def test_a_number_is_read(typed, value):
    assert number(typed) == Decimal(value)


def test_a_minus_of_either_kind_is_read_where_the_range_allows_it():
    assert number("-5", low=-10) == Decimal("-5")
    assert number("\u22125", low=-10) == Decimal("-5")


@pytest.mark.parametrize(
    ("typed", "reason"),
    [
        ("", "type a number from 0 to 10000"),
        ("  ", "type a number from 0 to 10000"),
        ("NaN", "is not a number"),
        ("sNaN", "is not a number"),
        ("Infinity", "is not a number"),
        ("1e400", "is not a number"),
        ("1_5", "is not a number"),
        ("1\x005", "is not a number"),
        ("\ud800", "is not a number"),
        ("\u202e15", "is not a number"),
        ("5²", "is not a number"),
        ("①", "is not a number"),
        ("5.", "is not a number"),
        ("1.5.", "is not a number"),
        ("--5", "is not a number"),
        ("ten", "is not a number"),
        ("٣", "digits 0 to 9"),
        ("1٣", "digits 0 to 9"),
        ("三", "digits 0 to 9"),
        ("9" * 5000, "too long"),
        ("-1", "outside the range"),
        ("10000.001", "outside the range"),
        ("1/0", "not a fraction"),
        ("1 3/2", "not a fraction"),
        ("1.2345", "at most 3 places"),
        ("1/16", "at most 3 places"),
        ("1/3000", "at most 3 places"),
        ("1,234", "thousands or a fraction"),
        ("1.234", "thousands or a fraction"),
        ("123,456", "thousands or a fraction"),
        ("1,234.5", "marks between the thousands"),
        ("1.234.567", "marks between the thousands"),
        ("1'234", "marks between the thousands"),
        ("12 000", "Type it without: 12000"),
        ("12\u00a0000", "Type it without: 12000"),
        ("12\u202f000,5", "Type it without: 12000,5"),
    ],
)
def test_a_number_that_might_mean_something_else_is_refused(typed, reason):
    with pytest.raises(Refusal, match=reason):
        number(typed)


def test_a_half_is_no_whole_number():
    with pytest.raises(Refusal, match="a whole number"):
        number("½", places=0)


@pytest.mark.parametrize("typed", ["1.045", "1,045"])
def test_a_gravity_has_three_decimals_and_is_never_a_thousand(typed):
    gravity = number(typed, low=Decimal("0.9"), high=Decimal("1.2"), three_places_ok=True)

    assert gravity == Decimal("1.045")


def test_a_refusal_names_the_box_what_was_typed_and_what_is_wanted():
    with pytest.raises(Refusal) as no:
        number("1.234")

    assert no.value.field == "Weight"
    assert no.value.message == (
        'Weight: "1.234" can be read in two ways: is that thousands or a fraction? '
        "Type 1234 for thousands, 1.2340 for a fraction."
    )


def test_what_was_typed_is_quoted_short_and_without_what_a_page_cannot_carry():
    assert quoted("\ud800\x00\u202eab\tc" + 100 * "d") == '"���ab c' + 33 * "d" + '…"'


@given(st.one_of(ANY_TEXT, DIGITS_AND_MARKS))
@settings(max_examples=400, deadline=None)
def test_any_text_is_a_number_in_range_or_a_refusal_that_can_be_sent(text):
    found = outcome(number, text)

    assert str(found).encode()
    assert isinstance(found, str) or 0 <= found <= 10_000


@given(st.decimals(min_value=-9999, max_value=9999, places=3))
def test_an_edited_number_reads_back_the_same(value):
    text = number_text(value, decimal_mark=",")

    assert number(text, low=-9999) == value


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("2026-09-12", dt.date(2026, 9, 12)),
        ("2026/9/2", dt.date(2026, 9, 2)),
        ("12.9.2026", dt.date(2026, 9, 12)),
        ("12/9/2026", dt.date(2026, 9, 12)),
        ("1/2/2027", dt.date(2027, 2, 1)),
        ("12 Sep 2026", dt.date(2026, 9, 12)),
        ("12th september 2026", dt.date(2026, 9, 12)),
        ("Sep 12, 2026", dt.date(2026, 9, 12)),
        ("12-sept-2026", dt.date(2026, 9, 12)),
        ("12 Sep", dt.date(2026, 9, 12)),
        ("12.9.", dt.date(2026, 9, 12)),
        ("11 Sep", dt.date(2026, 9, 11)),
        ("10 Sep", dt.date(2027, 9, 10)),
        ("today", dt.date(2026, 9, 11)),
        ("Tomorrow", dt.date(2026, 9, 12)),
        ("yesterday", dt.date(2026, 9, 10)),
        ("sat", dt.date(2026, 9, 12)),
        ("thursday", dt.date(2026, 9, 17)),
        ("fri", dt.date(2026, 9, 18)),
        ("+7", dt.date(2026, 9, 18)),
        ("in 7 days", dt.date(2026, 9, 18)),
        ("in 2 weeks", dt.date(2026, 9, 25)),
        ("-2", dt.date(2026, 9, 9)),
        ("3 days ago", dt.date(2026, 9, 8)),
        ("29 Feb 2028", dt.date(2028, 2, 29)),
        ("1900-01-01", dt.date(1900, 1, 1)),
        ("31/12/2199", dt.date(2199, 12, 31)),
    ],
)
def test_a_day_is_read(typed, wanted):
    assert day(typed) == wanted


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("12 Sep", dt.date(2025, 9, 12)),
        ("11 Sep", dt.date(2026, 9, 11)),
        ("24 Jun", dt.date(2026, 6, 24)),
        ("thu", dt.date(2026, 9, 10)),
        ("fri", dt.date(2026, 9, 4)),
        ("sat", dt.date(2026, 9, 5)),
    ],
)
def test_a_day_without_a_year_can_be_one_that_is_past(typed, wanted):
    assert day(typed, coming=False) == wanted


@pytest.mark.parametrize(
    ("typed", "reason"),
    [
        ("", "Type a day such as"),
        ("soon", "Type a day such as"),
        ("12 Se", "Type a day such as"),
        ("12 Foo 2026", "Type a day such as"),
        ("٣ Sep", "Type a day such as"),
        ("12\x00 Sep", "Type a day such as"),
        ("\ud800", "Type a day such as"),
        ("\u202e12 Sep", "Type a day such as"),
        ("9" * 5000, "Type a day such as"),
        ("9/25/2026", "no month 25: the day comes first"),
        ("0/9/2026", "September 2026 has 30 days"),
        ("31 Sep 2026", "September 2026 has 30 days"),
        ("29 Feb 2027", "February 2027 has 28 days"),
        ("29 Feb", "February 2027 has 28 days"),
        ("12/9/26", "four digits"),
        ("12 Sep 26", "four digits"),
        ("0001-01-01", "outside the years 1900 to 2199"),
        ("31/12/9999", "outside the years 1900 to 2199"),
        ("in 9999 weeks", "outside the years 1900 to 2199"),
    ],
)
def test_a_day_that_is_none_is_refused(typed, reason):
    with pytest.raises(Refusal, match=reason):
        day(typed)


@given(st.one_of(ANY_TEXT, st.text("0123456789-/. +sepfbtoday", max_size=14)), DAYS)
@settings(max_examples=400, deadline=None)
def test_any_text_is_a_day_in_range_or_a_refusal_that_can_be_sent(text, today):
    found = outcome(day, text, today=today)

    assert str(found).encode()
    assert isinstance(found, str) or 1900 <= found.year <= 2199


@given(DAYS, DAYS)
def test_an_edited_day_reads_back_the_same(found, today):
    assert day(date_text(found), today=today) == found
