"""The search page: what it finds, for whom, and what it says when there is nothing."""

import pytest

from planner.plants import load_catalogue
from tests.inventory.views.reading import text_of


def addresses(answer):
    return [
        found.thing.get_absolute_url()
        for group in answer.context["groups"]
        for found in group.found
    ]


def test_a_word_finds_the_batch_its_recipe_and_what_goes_in(as_maker, batch, sugar):
    damson = as_maker.get("/search/", {"q": "dams"})
    sugary = as_maker.get("/search/", {"q": "white sugar"})

    recipe = batch.recipe_version.recipe
    assert set(addresses(damson)) == {batch.get_absolute_url(), recipe.get_absolute_url()}
    assert addresses(sugary) == [sugar.get_absolute_url()]
    assert "Damson still wine" in text_of(damson)


@pytest.mark.parametrize("text", ["sambucus nig", "elder florets", "ELDERFLOWERS"])
def test_a_plant_is_found_by_its_names_and_its_part(text, as_maker, house):
    load_catalogue()

    assert "/plants/elderflower/" in addresses(as_maker.get("/search/", {"q": text}))


def test_a_look_alike_leads_to_the_plant_and_says_that_its_page_names_it(as_maker, house):
    load_catalogue()

    page = text_of(as_maker.get("/search/", {"q": "hemlock"}))

    assert "Alexanders stem, seed, Smyrnium olusatrum read the caution first" in page
    assert "the words stand on its page" in page


def test_a_guest_finds_what_a_guest_may_read(client, people, batch, settings):
    client.force_login(people["guest"], backend=settings.AUTHENTICATION_BACKENDS[-1])

    found = addresses(client.get("/search/", {"q": "dams"}))

    assert len(found) == 2
    assert {client.get(address).status_code for address in found} == {200}


def test_without_a_word_the_page_says_what_can_be_found(as_maker):
    page = text_of(as_maker.get("/search/"))

    assert "Plants, items, lots, recipes and batches are found by any word" in page
    assert "Nothing holds" not in page


@pytest.mark.parametrize("text", ["zebra", '"', "🍒", "<script>"])
def test_what_is_not_there_is_said_and_the_words_stay(text, as_maker, batch):
    answer = as_maker.get("/search/", {"q": text})

    assert answer.status_code == 200
    assert "Nothing holds all of these words" in text_of(answer)
    assert answer.context["form"]["q"].value() == text
    assert "<script>" not in answer.content.decode().split("<main", 1)[1]


def test_more_than_a_hundred_letters_are_refused_in_words(as_maker):
    answer = as_maker.get("/search/", {"q": 101 * "d"})

    assert answer.status_code == 422
    assert "100" in text_of(answer)


def test_the_search_page_takes_a_fixed_number_of_queries(
    as_maker, batch, django_assert_max_num_queries
):
    load_catalogue()

    # Session, person, role and house; four for the search; one for each of five nouns.
    with django_assert_max_num_queries(4 + 4 + 5):
        as_maker.get("/search/", {"q": "a"})


@pytest.mark.parametrize(
    "text", ["NEAR(a b)", "a*b", "^a", "a AND", "-a", "a:b", "'a", "a\\", "%a_", "((", 'a"b', "٣"]
)
def test_the_signs_of_a_query_are_only_signs(text, as_maker, batch):
    assert as_maker.get("/search/", {"q": text}).status_code == 200


def test_a_sum_of_the_bench_is_found_by_what_it_reckons(as_maker, house):
    page = as_maker.get("/search/", {"q": "metabi"}).content.decode()

    assert 'href="/bench/sulphite/"' in page
    assert "Nothing holds all of these words" not in page
