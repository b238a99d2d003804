"""Weather files of every shape that is read, and what is said of those that are not.

The lines are made up in the shapes that the services print; the flags mean what their readmes say.
"""

import datetime as dt
import gzip

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.refusals import Refusal
from planner.weather_files import MOST_BYTES, months_to_normals, read

pytestmark = pytest.mark.unit

JAN = dt.date(2026, 1, 1)


def days(count, start=JAN):
    return [start + dt.timedelta(n) for n in range(count)]


def ghcn_rows(count=20, **more):
    for day in days(count):
        for element, value in (("TMAX", 83), ("TMIN", 12), ("PRCP", 0)):
            yield f"UKE00105915,{day:%Y%m%d},{element},{value},,,E,"
    yield from more.get("also", ())


def fixed_line(element, values, month="202601", flags="   "):
    cells = [f"{value:5}{flags}" for value in values]
    return f"UKE00105915{month}{element}" + "".join(cells)


def text_of(*lines):
    return "\n".join(lines).encode()


def test_daily_values_by_station_are_tenths_and_doubtful_ones_are_left_out():
    doubtful = "UKE00105915,20260121,TMAX,900,,G,E,"

    found = read(text_of(*ghcn_rows(also=[doubtful])))

    assert found.kind == "GHCN daily values of one station"
    assert found.days[JAN] == (1.2, 8.3)
    assert len(found.days) == 20
    assert found.oddities == ("Left out: 1 that are marked as doubtful by the service.",)


def test_fixed_columns_skip_days_that_do_not_exist():
    february = [50] * 28 + [-9999] * 3
    lines = [
        fixed_line("TMAX", [83] * 31),
        fixed_line("TMIN", [12] * 31),
        fixed_line("TMAX", february, "202602"),
        fixed_line("TMIN", [10] * 28 + [-9999] * 3, "202602"),
    ]

    found = read(text_of(*lines))

    assert (found.first, found.last, found.missing) == (JAN, dt.date(2026, 2, 28), 0)
    assert found.days[dt.date(2026, 2, 28)] == (1.0, 5.0)


def test_eca_files_hold_one_element_and_say_which_is_lacking():
    preface = ["EUROPEAN CLIMATE ASSESSMENT", "", "FILE FORMAT", ""]
    heading = "STAID, SOUID,    DATE,   TX, Q_TX"
    rows = [f"   274,100001,{day:%Y%m%d},   83,    0" for day in days(20)]
    rows += ["   274,100001,20260121,-9999,    9", "   274,100001,20260122,  300,    1"]

    found = read(text_of(*preface, heading, *rows))

    assert found.days[JAN] == (None, 8.3)
    assert found.lacks == "lowest"
    assert len(found.days) == 20
    assert "1 that are marked as doubtful" in found.oddities[0]


def test_monthly_text_gives_normals_and_names_estimates_and_provisional_months():
    preface = ["Bottom Weir", "Location: here, 63 metres amsl", "   yyyy  mm   tmax    tmin"]
    rows = [
        f"   {year}   {month:2}    {month + 5 + (year - 2000)}.0     {month}.0     3    60.2    50.1"
        for year in (2000, 2002)
        for month in range(1, 13)
    ]
    rows += ["   2003    1     9.1*    ---       1    50.0    40.0#  Provisional"]

    found = read(text_of(*preface, *rows))
    lows, highs = months_to_normals(found.months)

    assert (lows[0], highs[0], highs[11]) == (1.0, 7.0, 18.0)
    assert found.oddities == (
        "1 months are estimates of the service.",
        "1 months are provisional and may change.",
    )
    with pytest.raises(Refusal, match="No year of the file has both figures of January"):
        months_to_normals(found.months, years=[2003])


@pytest.mark.parametrize(
    ("heading", "row"),
    [
        ("date,tmin,tmax", "{d:%Y-%m-%d},1.2,8.3"),
        ("Date;Max temp (°C);Min temp (°C)", "{d:%d.%m.%Y};8,3;1,2"),
        ("time\ttemperature_2m_max (°C)\ttemperature_2m_min (°C)", "{d:%Y-%m-%d}\t8.3\t1.2"),
        ("STATIONS_ID;MESS_DATUM;QN_3; TXK; TNK;eor", "433;{d:%Y%m%d};10;  8.3;  1.2;eor"),
        ("year,month,dd,low,high", "{d:%Y},{d:%m},{d:%d},1.2,8.3"),
        ("day,tmin (F),tmax (F)", "{d:%Y-%m-%d},34.16,46.94"),
    ],
)
def test_a_table_is_read_by_its_headings(heading, row):
    found = read(text_of(heading, *(row.format(d=day) for day in days(20))))

    low, high = found.days[JAN]
    assert (low, high) == (pytest.approx(1.2), pytest.approx(8.3))
    assert (found.last, found.missing) == (dt.date(2026, 1, 20), 0)


def test_lines_before_the_heading_are_passed_over():
    preface = ["latitude,longitude,elevation", "51.7,-1.2,63.0", ""]
    rows = [f"{day},8.3,1.2" for day in days(10)]

    found = read(text_of(*preface, "time,temperature_2m_max (°C),temperature_2m_min (°C)", *rows))

    assert len(found.days) == 10


def table(*rows):
    return text_of("date,tmin,tmax", *rows)


def test_what_is_odd_is_named_and_left_out():
    good = [f"{day},1,8" for day in days(20)]
    odd = ["2026-01-21,9,8", "2026-02-30,1,8", "2026-01-22,one,8", "2026-01-01,2,8", "2026-01-23,1"]
    odd += ["2026-01-24,-,NA", "2026-01-25,1,99"]

    found = read(table(*good, *odd))

    assert "Left out: 1 that have a lowest above their highest." in found.oddities
    assert "Left out: 1 that stand on a day that cannot be read." in found.oddities
    assert "Left out: 1 that are no numbers." in found.oddities
    assert "Left out: 1 that are lines with too few columns." in found.oddities
    assert "Left out: 1 that are outside -95 to 65 °C." in found.oddities
    assert any("twice with different figures" in said for said in found.oddities)
    assert found.days[JAN] == (1, 8)
    assert found.days[dt.date(2026, 1, 22)] == (None, 8)
    assert found.missing == 5


def test_whole_tenths_are_told_from_degrees_by_their_size():
    found = read(table(*(f"{day},12,{183 if n % 2 else 95}" for n, day in enumerate(days(20)))))

    assert found.days[JAN] == (1.2, 9.5)
    assert found.oddities == ("Its figures are read as tenths of a degree.",)


def test_a_date_that_can_be_read_either_way_is_said():
    either = read(table(*(f"{day:%d/%m/%Y},1,8" for day in days(12))))
    month_first = read(table(*(f"{day:%m/%d/%Y},1,8" for day in days(20))))

    assert "can be read either way" in either.oddities[0]
    assert (month_first.first, month_first.last) == (JAN, dt.date(2026, 1, 20))
    assert not month_first.oddities


def test_gaps_are_counted_and_too_many_are_refused():
    some = read(table(*(f"{day},1,8" for day in days(100) if day.day % 5)))
    assert 15 <= some.missing <= 25

    with pytest.raises(Refusal, match="40% of its days are missing"):
        read(table(*(f"{day},1,8" for n, day in enumerate(days(101)) if n % 5 < 3)))


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "is empty"),
        (b" \n \n", "is empty"),
        (b"PK\x03\x04\x00\x00", "no text file"),
        (b"name,weight\nsugar,2 kg\n", "Wanted: a line of headings with a date"),
        (b"date,rain\n2026-01-01,3\n", "Found: day"),
        (b"date,tmin,tmax\n2026-01-01,x,y\n", "no day in it has a temperature"),
        (b"date,tmin,tmax\n", "no day in it has a temperature"),
        (b"\x1f\x8bgarbage", "damaged"),
        (b"\xff\xfe\xfd", "no weather file"),
    ],
)
def test_a_file_that_cannot_be_used_says_why(data, words):
    with pytest.raises(Refusal, match=words):
        read(data)


def test_packed_files_are_unpacked_within_bounds():
    plain = table(*(f"{day},1,8" for day in days(20)))

    assert len(read(gzip.compress(plain)).days) == 20
    with pytest.raises(Refusal, match="larger than 30 MB"):
        read(gzip.compress(b" " * (MOST_BYTES + 10)))


def test_other_letters_than_utf_8_are_read_all_the_same():
    rows = [f"{day};1;8" for day in days(20)]
    data = "\r\n".join(["Datum;Min °C;Max °C", *rows]).encode("latin-1")

    assert len(read(data).days) == 20


@given(st.binary(max_size=400) | st.text(max_size=400).map(str.encode))
def test_no_file_breaks_the_reader(data):
    try:
        found = read(data)
    except Refusal:
        return
    assert found.days or found.months


@given(
    st.lists(
        st.tuples(st.dates(dt.date(1990, 1, 1), dt.date(2030, 1, 1)), st.floats(-20, 20)),
        min_size=1,
        max_size=30,
        unique_by=lambda pair: pair[0],
    )
)
def test_every_temperature_comes_back_as_it_was_written(rows):
    first = rows[0][0]
    lines = [
        f"{first + dt.timedelta(n)},{low:.1f},{low + 5:.1f}" for n, (_, low) in enumerate(rows)
    ]

    found = read(table(*lines))

    assert [low for low, _ in found.days.values()] == [
        pytest.approx(low, abs=0.051) for _, low in rows
    ]
