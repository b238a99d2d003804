import pytest
from django.contrib.sessions.models import Session

from inventory import household
from inventory.models import Activity, Person
from inventory.refusals import Refusal


@pytest.fixture
def ended():
    """The people whose access ended during the test, as a listener hears it."""
    heard = []
    listener = household.when_access_ends(lambda person: heard.append(str(person)))
    yield heard
    household.ENDINGS.remove(listener)


def change(person, by, *, role, active=True):
    return household.change_access(person=person, role=role, active=active, by=by)


def test_the_only_keeper_cannot_give_the_keys_away(keeper):
    with pytest.raises(Refusal, match="only keeper who can sign in"):
        change(keeper, keeper, role="maker")

    assert household.role_of(Person.objects.get(pk=keeper.pk)) == "keeper"


def test_the_only_keeper_cannot_be_shut_out(keeper):
    with pytest.raises(Refusal, match="only keeper who can sign in"):
        change(keeper, keeper, role="keeper", active=False)


def test_a_keeper_who_is_shut_out_does_not_count_as_another_one(people, keeper):
    change(people["maker"], keeper, role="keeper", active=False)

    with pytest.raises(Refusal, match="only keeper who can sign in"):
        change(keeper, keeper, role="guest")


def test_one_of_two_keepers_may_step_down(people, keeper):
    change(people["maker"], keeper, role="keeper")

    change(keeper, keeper, role="guest")

    assert household.role_of(Person.objects.get(pk=keeper.pk)) == "guest"


def test_a_person_has_one_role_after_a_change(maker, keeper):
    change(maker, keeper, role="picker")

    assert list(maker.groups.values_list("name", flat=True)) == ["picker"]


def test_a_lower_role_ends_what_was_handed_out(maker, keeper, ended):
    change(maker, keeper, role="picker")

    assert ended == ["maker"]


def test_a_higher_role_ends_nothing(people, keeper, ended):
    change(people["picker"], keeper, role="maker")

    assert ended == []


def test_a_shut_door_ends_what_was_handed_out(maker, keeper, ended):
    change(maker, keeper, role="maker", active=False)

    assert ended == ["maker"]


def test_a_refused_change_ends_nothing(keeper, ended):
    with pytest.raises(Refusal):
        change(keeper, keeper, role="guest")

    assert ended == []


def test_a_cookie_from_before_opens_nothing_after_the_door_is_opened_again(client, maker, keeper):
    client.force_login(maker)
    change(maker, keeper, role="maker", active=False)

    change(maker, keeper, role="maker")

    assert client.get("/me/").status_code == 302


def test_the_sessions_of_others_stay(client, maker, keeper):
    client.force_login(keeper)

    change(maker, keeper, role="maker", active=False)

    assert Session.objects.count() == 1


def test_a_name_that_differs_only_in_capitals_is_taken(maker):
    with pytest.raises(Refusal, match="is taken"):
        household.add_person(username="MAKER", password=None, role="guest")


@pytest.mark.parametrize("name", ["", "ruth m", "ruth\x00", "r" * 151, "ruth/../x"])
def test_a_name_nobody_could_sign_in_with_is_refused(house, name):
    with pytest.raises(Refusal, match="cannot be signed in with"):
        household.add_person(username=name, password=None, role="guest")


def test_an_unknown_role_is_refused(maker, keeper):
    with pytest.raises(Refusal, match="is not known"):
        change(maker, keeper, role="lord")


def test_somebody_shut_out_gets_no_link(maker, keeper):
    change(maker, keeper, role="maker", active=False)

    with pytest.raises(Refusal, match="let them in again"):
        household.invite(person=Person.objects.get(pk=maker.pk), by=keeper)


def test_everything_done_to_people_is_written_down(maker, keeper):
    change(maker, keeper, role="picker")
    change(maker, keeper, role="picker", active=False)
    change(maker, keeper, role="picker")
    household.set_password(person=keeper, password="gorse on the moor")

    words = [done.summary for done in Activity.objects.all()[:4]]

    assert words == [
        "keeper set a password",
        "maker may sign in again, as picker",
        "maker can no longer sign in",
        "maker is now picker",
    ]


def test_nothing_done_to_people_can_be_undone_by_a_maker(maker, keeper):
    change(maker, keeper, role="picker")

    assert not Activity.objects.exclude(undo="").exists()


@pytest.mark.parametrize("zone", ["Mars/Olympus", "", "../../etc/passwd", "Europe/London\x00"])
def test_a_clock_nobody_keeps_is_refused(house, zone):
    with pytest.raises(Refusal, match="is not known"):
        household.check_time_zone(zone)


@pytest.mark.parametrize("code", ["", "G", "GBR", "G1", "ÄÖ"])
def test_a_country_is_two_letters(code):
    with pytest.raises(Refusal, match="two letters"):
        household.check_country(code)
