import datetime as dt

from django.core.files.uploadedfile import SimpleUploadedFile

from inventory import activity, ledger
from inventory.models import Activity, Movement, Photo
from tests.inventory.views.test_photos import picture
from tests.planner.world import days, step


def test_moving_a_step_carries_the_later_ones(as_maker, batch):
    press = step(batch, "press")

    response = as_maker.post(f"/steps/{press.pk}/move/", {"day": "21 Sep 2026"})

    assert response.status_code == 302
    assert days(batch)[2:4] == [dt.date(2026, 9, 21), dt.date(2026, 10, 12)]


def test_a_step_moved_before_its_predecessor_is_refused_with_the_reason(as_maker, batch):
    press = step(batch, "press")

    response = as_maker.post(f"/steps/{press.pk}/move/", {"day": "2026-09-01"})

    assert response.status_code == 422
    assert b"2026-09-01" in response.content
    assert days(batch)[2] == dt.date(2026, 9, 19)


def test_a_day_that_does_not_exist_is_refused_at_its_box(as_maker, batch):
    press = step(batch, "press")

    response = as_maker.post(f"/steps/{press.pk}/move/", {"day": "29 Feb 2027"})

    assert response.status_code == 422
    assert b"29 Feb 2027" in response.content


def test_the_page_for_moving_names_the_steps_that_follow(as_maker, batch):
    press = step(batch, "press")

    page = as_maker.get(f"/steps/{press.pk}/move/").content.decode()

    assert "rack again" in page
    assert "mash" not in page.split("These follow")[1]


def test_doing_a_step_takes_what_it_needs(as_maker, batch, sugar, settings, maker):
    settings.PRETEND_TODAY = dt.date(2026, 9, 12)
    ledger.receive(item=sugar, quantity=4_000_000, on=dt.date(2026, 9, 1), by=maker)
    mash = step(batch, "mash")

    response = as_maker.post(f"/steps/{mash.pk}/complete/", {"on": "today"})

    assert response.status_code == 302
    assert Movement.objects.get(kind="issue").quantity == -3_402_000


def test_doing_a_step_without_its_goods_names_what_is_missing(as_maker, batch, settings):
    settings.PRETEND_TODAY = dt.date(2026, 9, 12)
    mash = step(batch, "mash")

    response = as_maker.post(f"/steps/{mash.pk}/complete/", {"on": "12 Sep 2026"})

    assert response.status_code == 422
    assert b"White sugar" in response.content
    assert not Movement.objects.exists()


def test_done_in_one_tap_from_today_leads_back_there(as_maker, batch, settings):
    settings.PRETEND_TODAY = dt.date(2026, 9, 19)
    press = step(batch, "press")

    response = as_maker.post(f"/steps/{press.pk}/complete/", {"back": "today"})

    press.refresh_from_db()
    assert response["Location"] == "/"
    assert press.done_on == dt.date(2026, 9, 19)


def test_skipping_wants_a_reason(as_maker, batch):
    rack = step(batch, "rack")

    assert as_maker.post(f"/steps/{rack.pk}/skip/", {"reason": ""}).status_code == 422
    assert as_maker.post(f"/steps/{rack.pk}/skip/", {"reason": "Clear already"}).status_code == 302


def test_a_kept_step_stays_when_an_earlier_one_moves(as_maker, batch):
    bottle = step(batch, "bottle")

    as_maker.post(f"/steps/{bottle.pk}/pin/")
    as_maker.post(f"/steps/{step(batch, 'press').pk}/move/", {"day": "2026-09-21"})

    assert days(batch)[8] == dt.date(2027, 1, 23)


def test_a_picture_of_the_day_stands_with_its_step_until_that_is_undone(
    as_maker, batch, maker, settings
):
    settings.PRETEND_TODAY = batch.start
    press = batch.steps.get(title="press")
    sent = SimpleUploadedFile("cap.jpg", picture((400, 300)), content_type="image/jpeg")

    as_maker.post(f"/steps/{press.pk}/complete/", {"on": "today", "photo": sent})

    kept = Photo.objects.get()
    assert kept.get_absolute_url() in as_maker.get(f"/batches/{batch.pk}/").content.decode()
    activity.undo(activity=Activity.objects.filter(verb="complete").latest("pk"), by=maker)
    assert kept.get_absolute_url() not in as_maker.get(f"/batches/{batch.pk}/").content.decode()


def test_what_is_no_picture_leaves_the_step_to_do(as_maker, batch, settings):
    settings.PRETEND_TODAY = batch.start
    press = batch.steps.get(title="press")
    sent = SimpleUploadedFile("cap.jpg", b"no picture", content_type="image/jpeg")

    answer = as_maker.post(f"/steps/{press.pk}/complete/", {"on": "today", "photo": sent})

    assert answer.status_code == 422
    press.refresh_from_db()
    assert press.state == "to_do"
