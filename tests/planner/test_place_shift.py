import pytest

from planner.phenology import Place, ShiftKind, place_cautions, place_shift

OXFORD = Place(51.76, -1.26, 63)
BECK_BOTTOM = Place(54.4, -1.9, 210, name="Beck Bottom")


def test_late_fruit_follows_half_way_and_frost_the_other_way():
    spring = place_shift(origin=OXFORD, target=BECK_BOTTOM)
    fruit = place_shift(origin=OXFORD, target=BECK_BOTTOM, kind=ShiftKind.LATE_FRUIT)
    frost = place_shift(origin=OXFORD, target=BECK_BOTTOM, kind=ShiftKind.FIRST_FROST)

    # 3.6 x 2.64 degrees + 3.3 x 1.47 hundred metres
    assert spring == pytest.approx(14.355, abs=0.001)
    assert fruit == pytest.approx(7.178, abs=0.001)
    assert frost == pytest.approx(-14.355, abs=0.001)


def test_the_spot_itself_is_never_scaled():
    hollow = place_shift(origin=OXFORD, target=OXFORD, kind=ShiftKind.FIRST_FROST, site_days=4.0)

    assert hollow == pytest.approx(4.0, abs=1e-9)


def test_only_spring_events_may_be_carried_by_sums_of_warmth():
    assert ShiftKind.SPRING.allows_thermal_time
    assert not ShiftKind.LATE_FRUIT.allows_thermal_time
    assert not ShiftKind.FIRST_FROST.allows_thermal_time


def test_a_shift_says_what_to_doubt():
    boston, far_north = Place(42.36, -71.06, 10), Place(60.14, -1.18, 82)

    near = place_cautions(origin=OXFORD, target=BECK_BOTTOM, kind=ShiftKind.SPRING)
    abroad = place_cautions(origin=boston, target=boston, kind=ShiftKind.SPRING)
    fruit = place_cautions(origin=OXFORD, target=far_north, kind=ShiftKind.LATE_FRUIT)

    assert near == ()
    assert [caution.split(";")[0] for caution in abroad] == [
        "The shift was measured on British spring flowers"
    ]
    assert [caution.split()[0] for caution in fruit] == ["The", "Late"]


@pytest.mark.parametrize(
    ("latitude", "longitude", "height_m"),
    [(-33.9, 18.4, 20), (91, 0, 0), (52, 181, 0), (52, 0, 9000), (float("nan"), 0, 0)],
)
def test_a_place_off_the_map_or_south_of_the_line_is_refused(latitude, longitude, height_m):
    with pytest.raises(ValueError, match="must lie between"):
        Place(latitude, longitude, height_m)
