"""The bench through its pages: the address is the form."""

import pytest

from planner.bench import SUMS
from tests.inventory.views.reading import text_of


def test_the_bench_lists_every_sum(as_maker, house):
    page = as_maker.get("/bench/").content.decode()

    assert all(f'href="/bench/{slug}/"' in page for slug in SUMS)


@pytest.mark.parametrize("slug", SUMS)
def test_a_sum_opens_empty_and_says_what_to_do(as_maker, house, slug):
    answer = as_maker.get(f"/bench/{slug}/")

    assert answer.status_code == 200
    assert "the answer comes as you type" in text_of(answer)


def test_an_address_is_a_sum_with_its_answer_rule_and_source(as_maker, house):
    page = text_of(as_maker.get("/bench/strength/?start=1.080&finish=0.995"))

    assert "Strength 11.3 % vol (11.0 to 11.6) worked out" in page
    assert "By extract method. Holds for start 1.000 to 1.200" in page
    assert "Source: Balling's yields" in page


def test_what_was_typed_stays_when_it_cannot_be_reckoned(as_maker, house):
    answer = as_maker.get("/bench/strength/?start=1.080&finish=9")

    assert answer.status_code == 422
    page = answer.content.decode()
    assert 'value="1.080"' in page
    assert "This cannot be reckoned" in page


def test_amounts_are_said_in_the_units_of_the_person(as_maker, maker):
    maker.units = "us"
    maker.save()

    page = text_of(as_maker.get("/bench/sweetening/?volume=4+gal&now=0.994&wanted=1.008"))

    assert "Sugar to weigh 1 lb 3.8 oz" in page


def test_no_such_sum_is_said(as_maker, house):
    assert as_maker.get("/bench/alchemy/").status_code == 404


def test_cautions_stand_on_the_pages_that_can_hurt(as_maker, house):
    assert "Bottles under pressure burst" in text_of(as_maker.get("/bench/pressure/"))
    assert "asthma" in text_of(as_maker.get("/bench/sulphite/"))
    assert "Hot syrup" in text_of(as_maker.get("/bench/syrup/"))


def test_a_sum_asks_the_house_no_more_than_who_is_there(
    as_maker, house, django_assert_max_num_queries
):
    with django_assert_max_num_queries(4):
        as_maker.get("/bench/priming/?volumes=3&warmest_c=18&abv=11.3&sizes=750,500,330")
