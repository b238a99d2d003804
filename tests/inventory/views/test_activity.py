import pytest

from inventory import activity
from inventory.models import Activity


@pytest.fixture
def undone():
    """What the undo of a made-up kind of activity was called with."""
    calls = []
    activity.undoes("take down the ladder")(lambda data, by: calls.append((data, str(by))))
    yield calls
    del activity.UNDOERS["take down the ladder"]


def done(house, by, words, **details):
    return activity.record(by=by, verb="test", subject=house, summary=words, **details)


@pytest.fixture
def makers_client(client, maker):
    client.force_login(maker)
    return client


def rows(answer):
    return [row.record.summary for row in answer.context["table"].page.object_list]


def test_the_newest_stands_first(makers_client, house, maker):
    done(house, maker, "Racked the damson")
    done(house, maker, "Pressed the bramble")

    answer = makers_client.get("/household/activity/")

    assert rows(answer)[:2] == ["Pressed the bramble", "Racked the damson"]


def test_the_list_is_narrowed_by_person_and_words(makers_client, house, people):
    done(house, people["maker"], "Racked the damson")
    done(house, people["picker"], "Racked the bramble")
    done(house, people["picker"], "Weighed the damson")

    answer = makers_client.get(f"/household/activity/?q=damson&person={people['picker'].pk}")

    assert rows(answer) == ["Weighed the damson"]


@pytest.mark.parametrize(
    "query",
    ["person=abc", "person=99999999999999999999999", "q=" + "x" * 101, "person=-1"],
)
def test_a_question_that_cannot_be_read_is_said_so(makers_client, query):
    answer = makers_client.get(f"/household/activity/?{query}")

    assert answer.status_code == 422
    assert answer.context["filter"].errors


@pytest.mark.parametrize("query", ["page=abc", "page=-1", "page=99999999999999999999", "sort=x"])
def test_a_page_that_is_not_there_shows_one_that_is(makers_client, query):
    assert makers_client.get(f"/household/activity/?{query}").status_code == 200


def test_a_long_list_comes_in_pages_of_fifty(makers_client, house, maker):
    for number in range(60):
        done(house, maker, f"Washed bottle {number}")

    first = makers_client.get("/household/activity/?q=Washed")
    second = makers_client.get("/household/activity/?q=Washed&page=2")

    assert (len(rows(first)), len(rows(second))) == (50, 10)


def test_an_activity_is_undone_once(makers_client, house, maker, undone):
    made = done(house, maker, "Put up the ladder", undo="take down the ladder", undo_data={"n": 1})
    address = f"/household/activity/{made.pk}/undo/"

    first = makers_client.post(address, {"token": "one"}, follow=True)
    second = makers_client.post(address, {"token": "two"}, follow=True)

    assert undone == [({"n": 1}, "maker")]
    assert "Undone: Put up the ladder" in first.content.decode()
    assert "cannot be undone, or has been undone already" in second.content.decode()


def test_a_picker_cannot_undo(client, house, people, undone):
    made = done(house, None, "Put up the ladder", undo="take down the ladder")
    client.force_login(people["picker"])

    answer = client.post(f"/household/activity/{made.pk}/undo/")

    assert (answer.status_code, undone) == (403, [])


def test_words_of_others_are_shown_as_text_only(makers_client, house, maker):
    done(house, maker, "<script>alert(1)</script>")

    page = makers_client.get("/household/activity/").content.decode()

    assert "<script>alert" not in page


def test_the_list_asks_as_many_questions_for_many_rows_as_for_few(
    makers_client, house, maker, django_assert_max_num_queries
):
    for number in range(45):
        done(house, maker, f"Washed bottle {number}")

    with django_assert_max_num_queries(12):
        makers_client.get("/household/activity/")

    assert Activity.objects.count() >= 45
