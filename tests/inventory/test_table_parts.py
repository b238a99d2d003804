"""Every list of the house reads, sorts and adds up the same way."""

import datetime as dt
from dataclasses import dataclass

import django_tables2 as tables
import pytest
from django.core.paginator import Paginator
from django.template import engines
from django.urls import path

from inventory.table_parts import (
    ActionsColumn,
    BadgeColumn,
    DayColumn,
    DueColumn,
    HouseTable,
    LinkColumn,
    MoneyColumn,
    QuantityColumn,
)

TODAY = dt.date(2026, 4, 6)
urlpatterns = [path("things/<int:pk>/use/", lambda request, pk: None, name="thing-use")]


@dataclass
class Thing:
    pk: int
    name: str
    amount: int = 2_500_000
    due: dt.date = TODAY
    cost: int = 575
    state: str = "low"

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return f"/things/{self.pk}/"


class ThingTable(HouseTable):
    name = LinkColumn(footer="Together")
    amount = QuantityColumn(base="mg")
    due = DueColumn(late="past its date")
    cost = MoneyColumn(footer="5.75")
    state = BadgeColumn(tones={"low": "warn"})
    actions = ActionsColumn(("Use", "thing-use"))

    class Meta(HouseTable.Meta):
        empty_text = "No things yet."


@pytest.fixture
def request_of(rf, settings, people):
    settings.ROOT_URLCONF = __name__
    settings.PRETEND_TODAY = TODAY

    def make(role="maker", units="metric", query=""):
        request = rf.get(f"/things/{query}")
        request.user, request.role = people[role], role
        request.user.units = units
        return request

    return make


def shown(table, request) -> str:
    page = engines["django"].from_string(
        "{% load render_table from django_tables2 %}{% render_table table %}"
    )
    return " ".join(page.render({"table": table}, request).split())


def cells(table, name) -> list:
    return [row.get_cell(name) for row in table.rows]


def test_quantities_are_shown_in_the_units_the_person_likes(request_of):
    rows = [Thing(1, "Sugar")]

    metric = cells(ThingTable(rows, request=request_of()), "amount")
    pounds = cells(ThingTable(rows, request=request_of(units="imperial")), "amount")

    assert (metric, pounds) == (["2.5 kg"], ["5 lb 8.2 oz"])


def test_a_quantity_takes_the_unit_of_its_item(request_of, yeast):
    class Needs(HouseTable):
        wanted = QuantityColumn(zero="none")

    table = Needs([{"item": yeast, "wanted": 2_000}, {"item": yeast, "wanted": 0}])

    assert cells(table, "wanted") == ["2 sachets", "none"]


@pytest.mark.parametrize(
    ("day", "words"),
    [
        (dt.date(2026, 4, 5), "past its date"),
        (dt.date(2026, 4, 6), "today"),
        (dt.date(2026, 4, 7), "tomorrow"),
        (dt.date(2026, 4, 13), "in 7 days"),
    ],
)
def test_a_day_that_presses_says_so_in_words(request_of, day, words):
    table = ThingTable([Thing(1, "Sugar", due=day)], request=request_of())

    assert f">{words}</span>" in cells(table, "due")[0]


def test_a_day_far_off_has_no_mark(request_of):
    table = ThingTable([Thing(1, "Sugar", due=dt.date(2026, 4, 14))], request=request_of())

    assert cells(table, "due") == ['<time datetime="2026-04-14">Tue 14 Apr 2026</time>']


def test_a_state_is_a_word_with_a_tone(request_of):
    table = ThingTable([Thing(1, "Sugar")], request=request_of())

    assert cells(table, "state") == ['<span class="badge badge-warn">low</span>']


def test_actions_name_their_row_and_are_hidden_from_a_guest(request_of):
    rows = [Thing(7, "Sugar <cane>")]

    for_maker = shown(ThingTable(rows), request_of("maker"))
    for_guest = shown(ThingTable(rows), request_of("guest"))

    link = '<a href="/things/7/use/">Use<span class="unseen"> Sugar &lt;cane&gt;</span></a>'
    assert link in for_maker
    assert "/use/" not in for_guest
    assert "What to do" not in for_guest


def test_the_name_is_the_heading_of_its_row_and_cells_name_their_column(request_of):
    html = shown(ThingTable([Thing(1, "Sugar")]), request_of())

    assert '<th scope="row" role="rowheader"><a href="/things/1/">Sugar</a></th>' in html
    assert '<td role="cell" class="number" data-label="Amount">2.5 kg</td>' in html


def test_a_total_stands_in_the_foot(request_of):
    html = shown(ThingTable([Thing(1, "Sugar")]), request_of())

    foot = html[html.index("<tfoot") :]
    assert '<th scope="row" role="rowheader">Together</th>' in foot
    assert 'data-label="Cost">5.75</td>' in foot


def test_the_sorted_column_is_marked_and_sorting_begins_at_the_first_page(request_of):
    table = ThingTable([Thing(1, "Sugar"), Thing(2, "Yeast")], order_by="-name")

    html = shown(table, request_of(query="?page=2&words=s"))

    assert 'aria-sort="descending"' in html
    assert 'href="?words=s&amp;sort=name"' in html


def test_pages_keep_the_sort_and_the_filter(request_of):
    table = ThingTable([Thing(number, f"Thing {number:02}") for number in range(1, 6)])
    table.paginator = Paginator(table.rows, 2)
    table.page = table.paginator.get_page(2)

    html = shown(table, request_of(query="?sort=name&page=2"))

    assert "Page 2 of 3" in html
    assert 'href="?sort=name&amp;page=1"' in html
    assert 'href="?sort=name&amp;page=3"' in html
    assert "Thing 03" in html
    assert "Thing 05" not in html


def test_an_empty_list_says_what_to_do(request_of):
    html = shown(ThingTable([]), request_of())

    assert "No things yet." in html
    assert "<table" not in html


def test_a_wide_table_can_be_scrolled_by_keyboard(request_of):
    class WideTable(ThingTable):
        wide = True
        caption = "Day by day"

        class Meta(HouseTable.Meta):
            pass

    html = shown(WideTable([Thing(1, "Sugar")]), request_of())

    assert 'role="region" tabindex="0" aria-label="Day by day"' in html


def test_a_day_column_writes_the_day_for_machines_too(request_of):
    class Days(HouseTable):
        day = DayColumn()
        words = tables.Column()

    table = Days([{"day": dt.date(2026, 9, 12), "words": "press"}])

    assert cells(table, "day") == ['<time datetime="2026-09-12">Sat 12 Sep 2026</time>']


def test_without_a_link_the_first_column_names_the_row(request_of):
    class Plain(HouseTable):
        title = tables.Column()
        kind = tables.Column()

    html = shown(Plain([{"title": "Jar 1", "kind": "closed"}]), request_of())

    assert '<th scope="row" role="rowheader">Jar 1</th>' in html
    assert '<td role="cell" data-label="Kind">closed</td>' in html
