from collections import Counter

import pytest

from planner.catalogue import CatalogueError, DoseBasis, LegalClass, catalogue, read_catalogue
from planner.phenology import ShiftKind, Window

HEADING = (
    "id,common_name,latin_name,part,use_class,reference_place,first_doy,peak_doy,last_doy,"
    "wraps_year,window_src,bbch,bbch_name,bbch_src,cue_event,cue_lag_days,cue_src,"
    "shelf_room_days,shelf_fridge_days,shelf_freezer_months,shelf_src,net_yield_pct,yield_src,"
    "dose_min_g_per_l,dose_max_g_per_l,dose_basis,dose_src,sugar_g_per_100g,sugar_src,"
    "acid_g_per_100g,acid_src,tannin_note,tannin_src,hazard_level,hazard_text,lookalikes,"
    "hazard_src,legal_class,legal_note,legal_src,notes,aliases,aliases_src"
)
CELLS = {
    "id": "bramble",
    "common_name": "Bramble",
    "latin_name": "Rubus fruticosus agg.",
    "part": "fruit",
    "use_class": "wine;mead",
    "reference_place": "Oxford 51.76N 1.26W 63 m",
    "first_doy": "222",
    "peak_doy": "244",
    "last_doy": "275",
    "wraps_year": "no",
    "bbch": "89",
    "bbch_name": "fully ripe",
    "cue_event": "bramble first flower",
    "cue_lag_days": "60",
    "dose_min_g_per_l": "350",
    "dose_max_g_per_l": "800",
    "dose_basis": "per L must",
    "hazard_level": "1",
    "legal_class": "wild-personal",
    "legal_note": "own use",
} | {
    f"{group}_src": "from memory"
    for group in ["window", "bbch", "cue", "shelf", "yield", "dose", "hazard", "legal"]
}


def table(**changes):
    cells = CELLS | changes
    return [HEADING, ",".join(cells.get(column, "") for column in HEADING.split(","))]


@pytest.fixture
def plants():
    return {plant.key: plant for plant in catalogue()}


def test_the_table_holds_every_row_and_class():
    plants = catalogue()

    assert len(plants) == 103
    assert Counter(plant.must_not_be_used for plant in plants) == {False: 97, True: 6}
    assert Counter(plant.hazard_level for plant in plants) == {0: 25, 1: 37, 2: 22, 3: 12, 4: 7}
    assert Counter(plant.legal_class for plant in plants) == {
        LegalClass.WILD_PERSONAL: 44,
        LegalClass.CULTIVATED: 33,
        LegalClass.NORTH_AMERICA: 9,
        LegalClass.AVOID_OR_PROTECTED: 6,
        LegalClass.DO_NOT_USE: 5,
        LegalClass.TREE_OWNER_CONSENT: 3,
        LegalClass.UPROOT_CONSENT: 2,
        LegalClass.INVASIVE_CONTROLLED: 1,
    }


def test_elderflower_has_all_its_parts(plants):
    elder = plants["elderflower"]

    assert elder.latin_name == "Sambucus nigra"
    assert elder.uses == ("wine", "sparkling", "cordial", "mead")
    assert elder.window == Window(145, 162, 185)
    assert (elder.cue_event, elder.cue_lag_days) == ("elder first flower", 7)
    assert elder.room_days.low == 0.5
    assert elder.net_yield_percent.high == 45.0
    assert elder.hazard_level == 2
    assert elder.sources["hazard"] == "source: MMWR 1984; Senica et al.; Appenteng 2021"
    assert "sugar" not in elder.sources
    assert not elder.sugar_g_per_100g.is_known


def test_a_lone_dash_is_read_as_nothing(plants):
    assert plants["strawberry"].hazard_text == ""
    assert plants["strawberry"].look_alikes == ""


def test_reference_places_carry_their_coordinates(plants):
    oxford, boston = plants["sloe"].place, plants["persimmon"].place
    burlington = plants["maple_sap"].place

    assert (oxford.latitude, oxford.longitude, oxford.height_m) == (51.76, -1.26, 63)
    assert (oxford.name, oxford.normals) == ("Oxford", "1991-2020 normals")
    assert (boston.latitude, boston.longitude, boston.height_m) == (42.36, -71.06, 10)
    assert (burlington.latitude, burlington.longitude, burlington.height_m) == (44.48, -73.2, 60)


def test_three_roots_are_dug_over_new_year():
    wrapping = {plant.key: plant.window for plant in catalogue() if plant.window.wraps}

    assert wrapping == {
        "dandelion_root": Window(275, 320, 60),
        "burdock_root": Window(275, 315, 70),
        "parsnip": Window(305, 350, 75),
    }


@pytest.mark.parametrize(
    ("key", "text", "low", "high"),
    [
        ("damson", "9", 9.0, 9.0),
        ("chokecherry", "9.37-14.22", 9.37, 14.22),
        ("rowan", "highest of 25 species", None, None),
        ("sea_buckthorn", "1.9-7.1 (juice, g/100 mL)", None, None),
        ("gorse_flower", "", None, None),
    ],
)
def test_sugar_is_a_number_only_where_the_whole_cell_is_one(plants, key, text, low, high):
    sugar = plants[key].sugar_g_per_100g

    assert (sugar.text, sugar.low, sugar.high) == (text, low, high)


def test_sloes_have_a_dose_for_must_and_one_for_spirit(plants):
    must, spirit = plants["sloe"].doses

    assert (must.low, must.high, must.basis) == (220, 450, DoseBasis.MUST)
    assert (spirit.low, spirit.high, spirit.basis) == (400, 650, DoseBasis.SPIRIT)
    assert plants["sloe"].dose_text == "220-450 g per L must; 400-650 per L spirit"


def test_sap_is_counted_in_millilitres(plants):
    (dose,) = plants["birch_sap"].doses

    assert (dose.unit, dose.basis) == ("mL/L", DoseBasis.SAP_AS_WATER)
    assert plants["birch_sap"].dose_text == "1000 mL per L (used as the water)"


def test_warning_rows_offer_no_dose_and_no_use(plants):
    broom = plants["warn_broom"]

    assert broom.doses == ()
    assert broom.uses == ()
    assert broom.must_not_be_used


@pytest.mark.parametrize(
    ("word", "keys"),
    [
        ("Bramble", ["blackberry"]),
        (" furze ", ["gorse_flower"]),
        ("sambucus nigra", ["elderflower", "elderberry"]),
        ("meadowsweet", ["meadowsweet"]),
        ("turnip", []),
    ],
)
def test_a_plant_answers_to_its_names(word, keys):
    assert [plant.key for plant in catalogue() if plant.answers_to(word)] == keys


@pytest.mark.parametrize(
    ("key", "kind"),
    [
        ("elderflower", ShiftKind.SPRING),
        ("heather", ShiftKind.SPRING),
        ("strawberry", ShiftKind.SPRING),
        ("birch_sap", ShiftKind.SPRING),
        ("gooseberry", ShiftKind.LATE_FRUIT),
        ("blackberry", ShiftKind.LATE_FRUIT),
        ("crab_apple", ShiftKind.LATE_FRUIT),
        ("parsnip", ShiftKind.FIRST_FROST),
        ("medlar", ShiftKind.FIRST_FROST),
        ("burdock_root", ShiftKind.FIRST_FROST),
    ],
)
def test_a_window_follows_the_place_by_its_kind(plants, key, kind):
    assert plants[key].shift_kind == kind


def test_no_row_calls_a_plant_safe():
    written = " ".join(repr(plant) for plant in catalogue()).casefold()

    assert "safe" not in written


def test_a_row_of_our_own_is_read_with_remarks_above_it():
    (plant,) = read_catalogue(["# remark", *table(aliases="blackberry", aliases_src="here")])

    assert plant.key == "bramble"
    assert plant.aliases == ("blackberry",)


@pytest.mark.parametrize(
    ("changes", "column", "message"),
    [
        ({"first_doy": "May"}, "first_doy", "'May' is not a whole number from 1 to 365"),
        ({"last_doy": "366"}, "last_doy", "'366' is not a whole number"),
        ({"peak_doy": "300"}, "peak_doy", "must lie in the window"),
        ({"wraps_year": "yes"}, "wraps_year", "does not run over New Year"),
        ({"wraps_year": "maybe"}, "wraps_year", "neither yes nor no"),
        ({"reference_place": "Oxford"}, "reference_place", "no degrees and height"),
        ({"reference_place": "Pole 97N 0E 2 m"}, "reference_place", "latitude must lie between"),
        ({"hazard_level": "5"}, "hazard_level", "'5' is not a whole number from 0 to 4"),
        ({"hazard_level": "4"}, "lookalikes", "must say what it is taken for"),
        ({"hazard_level": "3"}, "hazard_text", "must say why"),
        ({"legal_class": "free"}, "legal_class", "'free' is not one of wild-personal"),
        ({"legal_class": "do-not-use"}, "dose_basis", "does not fit the legal class"),
        ({"dose_basis": "per pint"}, "dose_basis", "'per pint' is not a known basis"),
        ({"dose_basis": "per L must; some"}, "dose_basis", "'some' is not a range and a basis"),
        ({"dose_min_g_per_l": "900"}, "dose_max_g_per_l", "800 is less than the least dose, 900"),
        ({"dose_min_g_per_l": "a lot"}, "dose_min_g_per_l", "'a lot' is not a number"),
        ({"net_yield_pct": "101"}, "net_yield_pct", "'101' is not a percentage"),
        ({"sugar_g_per_100g": "9-4", "sugar_src": "x"}, "sugar_g_per_100g", "runs downwards"),
        ({"sugar_g_per_100g": "9"}, "sugar_src", "must not be empty"),
        ({"window_src": ""}, "window_src", "must not be empty"),
        ({"latin_name": ""}, "latin_name", "must not be empty"),
    ],
)
def test_a_bad_cell_is_named_by_line_row_and_column(changes, column, message):
    with pytest.raises(CatalogueError, match=f"^Line 2, row bramble, column {column}: ") as found:
        read_catalogue(table(**changes))
    assert message in str(found.value)
    assert (found.value.line, found.value.row, found.value.column) == (2, "bramble", column)


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        ([HEADING.replace("part,", ""), ""], "row heading, column part: this heading is missing"),
        ([HEADING + ",price", ""], "column price: this heading is unknown"),
        ([HEADING + ",id", ""], "column id: this heading is given twice"),
        ([HEADING, "bramble,Bramble"], "Line 2, row bramble, .* 2 cells under 43 headings"),
        ([*table(), table()[1]], "Line 3, row bramble, column id: this key stands twice"),
        ([HEADING, '"bramble'], "Line 2, .* unexpected end of data"),
        ([], "heading is missing"),
    ],
)
def test_a_broken_table_is_named_by_line(lines, message):
    with pytest.raises(CatalogueError, match=message):
        read_catalogue(lines)
