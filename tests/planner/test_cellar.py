"""The cellar by the worked example: tests, openings, hazards judged anew, bursts, and all taken back."""

import datetime as dt

import pytest

from inventory import activity, audit, cellar, glass, ledger, loans, places
from inventory.models import Activity, CellarLot, Loan, UsedLot
from inventory.refusals import Refusal
from planner import bottling, cellar_view, decanting, drinks_of, tastings, today
from planner.bottling import Done
from planner.bottling_plan import Wish
from planner.models import Batch, Tasting
from tests.conftest import PIECE
from tests.planner.glass_world import BOTTLED, furnish, quiet_batch, sugar_lot

LATER = BOTTLED + dt.timedelta(days=28)


@pytest.fixture
def there(settings, house):
    settings.PRETEND_TODAY = BOTTLED
    return furnish(crown_rated=6000)


@pytest.fixture
def laid(there, maker, sugar, settings):
    """7 x 750, 6 x 500 and 2 x 330 under the stairs, the 750s at 3.0 volumes."""
    glass.move(item=there["750"], count=1, source="dirty", target="clean", on=BOTTLED, by=maker)
    wish = Wish(
        is_fizzy=True, volumes=3.0, warmest_c=18.0, abv=11.3, lower=True, place=there["stairs"],
    )  # fmt: skip
    counts = {there["750"].pk: 7, there["500"].pk: 6, there["330"].pk: 2}
    bottling.bottle(
        batch=quiet_batch(maker),
        wish=wish,
        done=Done(counts=counts, priming_lot=sugar_lot(sugar, maker)),
        on=BOTTLED,
        by=maker,
    )
    settings.PRETEND_TODAY = LATER
    return {lot.item.name: lot for lot in CellarLot.objects.select_related("item")}


def take(lot, there, maker, count=1, fate="opened", **more):
    place = there["stairs"]
    return cellar.take(lot=lot, fate=fate, count=count, on=LATER, by=maker, place=place, **more)


def word(name, day):
    return next(one for one in cellar_view.held(today=day) if one.lot.item.name == name).word


def test_days_of_the_example(laid):
    days = BOTTLED + dt.timedelta(days=13), BOTTLED + dt.timedelta(days=14), LATER

    assert [word("Fizz 750", day) for day in days] == ["resting", "to be tested", "ready"]
    assert word("Fizz 750", dt.date(2027, 8, 16)) == "past its best"


def test_a_330_is_offered_as_the_test_bottle(laid, house):
    found = today.day_of(house=house, today=BOTTLED + dt.timedelta(days=14)).cellar

    assert [one.lot.item.name for one in found] == ["Crown 330"]


def test_opening_leaves_dirty_glass_and_older_cages(laid, there, maker):
    take(laid["Crown 330"], there, maker)
    take(laid["Fizz 750"], there, maker, count=2)

    held = {one.lot.item.name: one.left for one in cellar_view.held(today=LATER)}
    assert held == {"Fizz 750": 5, "Crown 500": 6, "Crown 330": 1}
    states = glass.counts(there[name].pk for name in ("750", "330", "cage", "stopper", "cap"))
    assert states[there["750"].pk]["dirty"] == 1 + 2
    assert states[there["330"].pk]["dirty"] == 1
    assert states[there["cage"].pk]["clean"] == 2
    older = UsedLot.objects.values_list("lot__item__name", "uses", "lot__movements__quantity")
    assert sorted(older) == [("Cage", 1, 2 * PIECE), ("Stopper", 1, 2 * PIECE)]
    assert states[there["cap"].pk]["clean"] == 40 - 8
    assert not list(audit.findings())


def test_a_cage_used_as_often_as_it_may_is_spent(laid, there, maker):
    there["cage"].cage_type.uses = 1
    there["cage"].cage_type.save()

    take(laid["Fizz 750"], there, maker)

    assert ledger.stock([there["cage"].pk]).get(there["cage"].pk, 0) == 0


def test_opening_is_taken_back_with_everything(laid, there, maker):
    take(laid["Fizz 750"], there, maker, count=2)

    activity.undo(activity=Activity.objects.get(undo="cellar.take"), by=maker)

    assert cellar.left(laid["Fizz 750"]) == 7
    assert not UsedLot.objects.exists()
    assert ledger.stock([there["cage"].pk]).get(there["cage"].pk, 0) == 0
    assert not list(audit.findings())


@pytest.mark.parametrize(
    ("count", "words"), [(3, "3 of .* wanted, 2 lie at Under the stairs"), (0, "whole number")]
)
def test_more_than_lie_there_are_never_opened(laid, there, maker, count, words):
    with pytest.raises(Refusal, match=words):
        take(laid["Crown 330"], there, maker, count=count)


def test_a_bottle_is_opened_once(laid, there, maker):
    take(laid["Crown 330"], there, maker, count=2)

    with pytest.raises(Refusal, match="0 lie at"):
        take(laid["Crown 330"], there, maker)


def test_units_of_the_example(laid):
    CellarLot.objects.update(strength=11_660)
    big = CellarLot.objects.get(item__name="Fizz 750")
    whole = sum(drinks_of.units_of(lot, "GB") * lot.filled for lot in CellarLot.objects.all())

    # 7 x 8.745 + 6 x 5.83 + 2 x 3.848 = 103.9.
    assert drinks_of.units_of(big, "GB") == pytest.approx(8.75, abs=0.005)
    assert whole == pytest.approx(103.9, abs=0.05)


def test_a_warmer_place_is_judged_at_once(laid, there, maker, house):
    assert not any(one.hazards for one in cellar_view.held(today=LATER))

    place = there["stairs"]
    places.edit_place(place=place, version=place.version, values={"warmest_c": 34}, by=maker)

    found = {one.lot.item.name: one for one in cellar_view.held(today=LATER)}
    assert found["Fizz 750"].lying[0].bar == pytest.approx(4.56, abs=0.15)
    assert found["Crown 500"].hazards[0].verdict.level == "stop"
    named = {one.lot.item.name for one in today.day_of(house=house, today=LATER).cellar}
    assert {"Crown 500", "Crown 330"} <= named


def test_a_lower_rating_is_judged_at_once(laid, there):
    there["750"].bottle_type.rated_mbar = 2500
    there["750"].bottle_type.save()

    assert word("Fizz 750", LATER) == "beware"


def test_moving_to_the_sun_room_tells_of_the_hazard(laid, there, maker):
    cellar.move(
        lot=laid["Crown 500"],
        count=4,
        source=there["stairs"],
        target=there["sun room"],
        on=LATER,
        by=maker,
    )

    found = next(one for one in cellar_view.held(today=LATER) if one.lot == laid["Crown 500"])
    assert sorted(one.count for one in found.lying) == [2, 4]
    assert [one.place for one in found.hazards] == [there["sun room"]]
    activity.undo(activity=Activity.objects.get(undo="cellar.move"), by=maker)
    assert cellar.held([laid["Crown 500"]]) == {laid["Crown 500"].pk: {there["stairs"].pk: 6}}


def test_a_burst_bottle_flags_its_sisters(laid, there, maker):
    take(laid["Crown 500"], there, maker, fate="burst")

    assert all(lot.flagged for lot in CellarLot.objects.all())
    assert glass.counts([there["500"].pk])[there["500"].pk]["cracked"] == 1
    activity.undo(activity=Activity.objects.get(undo="cellar.take"), by=maker)
    assert not any(lot.flagged for lot in CellarLot.objects.all())


def test_bottles_given_away_are_lent_when_the_glass_comes_back(laid, there, maker):
    take(laid["Fizz 750"], there, maker, count=2, fate="given", note="Nan", comes_back=True)

    loan = Loan.objects.get()
    assert (loan.to, loan.out) == ("Nan", 2)
    loans.give_back(loan=loan, count=1, on=LATER, by=maker)
    with pytest.raises(Refusal, match="came back already"):
        activity.undo(activity=Activity.objects.get(undo="cellar.take"), by=maker)


def test_nobody_gets_a_bottle_without_a_name(laid, there, maker):
    with pytest.raises(Refusal, match="Say to whom"):
        take(laid["Fizz 750"], there, maker, fate="given")


def test_how_it_tasted_is_kept_beside_the_wishes(laid, maker):
    batch = Batch.objects.get()
    wishes = tastings.wishes_of(batch)
    true = dict.fromkeys(wishes, True) | {"lasting": False}

    row = tastings.taste(
        batch=batch, lot=laid["Fizz 750"], on=LATER, liking=4, by=maker, wishes=true,
        again=True, lesson="rack once more",
    )  # fmt: skip

    assert tastings.of_batch(batch) == [row]
    activity.undo(activity=Activity.objects.get(undo="tastings.taste"), by=maker)
    assert tastings.of_batch(batch) == []
    assert Tasting.objects.get().taken_back


def test_a_primed_750_poured_into_a_500_is_stopped(laid, there, maker):
    with pytest.raises(Refusal, match=r"5\.\d+ bar is over the bottle, rated 3 bar"):
        decanting.decant(
            lot=laid["Fizz 750"], count=2, place=there["stairs"], into=there["500"],
            closure=there["cap"], cage=None, filled=3, on=LATER, by=maker, target=there["sun room"],
        )  # fmt: skip


def test_the_gas_of_the_poured_750_is_that_of_the_example(laid, there):
    CellarLot.objects.update(strength=11_300)
    lot = CellarLot.objects.get(item__name="Fizz 750")

    assert decanting.poured_co2_g_per_l(lot, 0.5) / 1.97681 == pytest.approx(4.11, abs=0.02)
    verdict = decanting.judged(lot, there["500"].bottle_type, there["cap"], there["sun room"])
    bar = float(verdict.reasons[0].words.split(" bar")[0])
    assert bar == pytest.approx(5.87, abs=0.15)


def test_more_is_not_poured_than_was_in_it(laid, there, maker):
    with pytest.raises(Refusal, match=r"1 of 0.33 L do not fill 1 of 0.5 L"):
        decanting.decant(
            lot=laid["Crown 330"], count=1, place=there["stairs"], into=there["500"],
            closure=there["cap"], cage=None, filled=1, on=LATER, by=maker,
        )  # fmt: skip


def test_pouring_over_and_back(laid, there, maker):
    glass.move(item=there["750"], count=1, source="dirty", target="clean", on=LATER, by=maker)
    ledger.receive(item=there["stopper"], quantity=PIECE, on=LATER, by=maker)
    ledger.receive(item=there["cage"], quantity=PIECE, on=LATER, by=maker)

    made = decanting.decant(
        lot=laid["Crown 500"], count=2, place=there["stairs"], into=there["750"],
        closure=there["stopper"], cage=there["cage"], filled=1, on=LATER, by=maker,
        target=there["stairs"],
    )  # fmt: skip
    assert (cellar.left(laid["Crown 500"]), cellar.left(made)) == (4, 1)
    assert not list(audit.findings())

    activity.undo(activity=Activity.objects.get(undo="decanting.decant"), by=maker)
    assert (cellar.left(laid["Crown 500"]), cellar.left(made)) == (6, 0)
    assert not list(audit.findings())
