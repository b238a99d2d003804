import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.keeping import shelf, sucrose_share_for, water_activity


@given(st.floats(0.45, 1.0))
def test_sucrose_for_a_water_activity_gives_it(share):
    wanted = water_activity(sucrose_share=share * 0.75)

    back = sucrose_share_for(water_activity_wanted=wanted)
    assert back == pytest.approx(share * 0.75, abs=1e-9)


@given(st.floats(0, 0.7), st.floats(0, 0.74))
def test_more_sugar_binds_more_water(sucrose, invert):
    if sucrose + invert <= 0.74:
        thin = water_activity(sucrose_share=sucrose, invert_share=invert)
        thick = water_activity(sucrose_share=sucrose + 0.01, invert_share=invert)
        assert thick < thin


def test_half_split_syrup_keeps_at_a_lower_sugar():
    plain = water_activity(sucrose_share=0.60)
    half = water_activity(sucrose_share=0.30, invert_share=0.30)

    assert half < plain


# Worked by a separate program: 2:1 syrup 0.853, 1:1 syrup 0.935.
@pytest.mark.parametrize(("share", "activity"), [(0.667, 0.853), (0.50, 0.935)])
def test_two_to_one_syrup_keeps_and_one_to_one_does_not(share, activity):
    assert water_activity(sucrose_share=share) == pytest.approx(activity, abs=0.002)


def test_a_thick_sour_hot_filled_syrup_goes_to_the_cupboard():
    assert shelf(brix=66, ph=3.2, heat="hot-filled").place == "cupboard"


def test_a_thin_sour_pasteurised_cordial_keeps_until_opened():
    assert shelf(brix=50, ph=3.0, heat="pasteurised").place == "cupboard until opened"


def test_a_thin_cordial_that_was_not_heated_goes_cold_and_is_told_why():
    told = shelf(brix=50, ph=3.0, heat="none")

    assert told.place == "cold, with a date"
    assert told.reasons == ("50 degBx is thinner than 65: sugar does not keep it", "not heated")


@pytest.mark.parametrize(("brix", "ph"), [(None, 3.0), (66, None), (None, None)])
def test_what_is_not_known_counts_as_not_met(brix, ph):
    told = shelf(brix=brix, ph=ph, heat="hot-filled")

    assert told.place == "cold, with a date"
    assert any("not known" in reason for reason in told.reasons)


def test_a_heat_without_a_name_is_refused():
    with pytest.raises(ValueError, match="heat must be one of none, hot-filled, pasteurised"):
        shelf(brix=66, ph=3, heat="warm")
