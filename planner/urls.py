"""Every address of the site, grouped by what it is about."""

from django.urls import include, path

from planner.views import (
    batch_life,
    batches,
    bench,
    book,
    bottling,
    busy,
    calendar,
    cellar,
    compositions,
    living,
    look_back,
    must,
    picks,
    plants,
    recipes,
    runs_out,
    search,
    sheet,
    steps,
    today,
    vessels,
    weather,
)

planner = [
    path("", today.today, name="today"),
    path("search/", search.search, name="search"),
    # season and plants
    path("season/", plants.season, name="season"),
    path("plants/", plants.plant_list, name="plant-list"),
    path("plants/add/", plants.plant_add, name="plant-add"),
    path("plants/<slug:slug>/edit/", plants.plant_edit, name="plant-edit"),
    path("plants/<slug:slug>/", plants.plant_detail, name="plant-detail"),
    # patches/, observations/ and picks/
    path("patches/", picks.patch_list, name="patch-list"),
    path("patches/add/", picks.patch_add, name="patch-add"),
    path("patches/<int:pk>/", picks.patch_detail, name="patch-detail"),
    path("patches/<int:pk>/edit/", picks.patch_edit, name="patch-edit"),
    path("observations/add/", picks.observation_add, name="observation-add"),
    path("picks/", picks.pick_list, name="pick-list"),
    path("picks/add/", picks.pick_add, name="pick-add"),
    path("picks/<int:pk>/", picks.pick_detail, name="pick-detail"),
    path("lots/<int:pk>/becomes/", picks.pick_in_hand, name="pick-in-hand"),
    # weather/ and busy/
    path("weather/", weather.weather_page, name="weather"),
    path("weather/add/", weather.weather_add, name="weather-add"),
    path("weather/files/<int:pk>/", weather.weather_file, name="weather-file"),
    path("weather/normals/add/", weather.normals_add, name="normals-add"),
    path("busy/", busy.busy_list, name="busy-list"),
    path("busy/add/", busy.busy_add, name="busy-add"),
    path("busy/<int:pk>/remove/", busy.busy_remove, name="busy-remove"),
    # recipes/
    path("recipes/", recipes.recipe_list, name="recipe-list"),
    path("recipes/add/", recipes.recipe_add, name="recipe-add"),
    path("recipes/<int:pk>/", recipes.recipe_detail, name="recipe-detail"),
    path("recipes/<int:pk>/edit/", recipes.recipe_edit, name="recipe-edit"),
    path("recipes/<int:pk>/versions/add/", recipes.version_add, name="version-add"),
    path("recipes/<int:pk>/versions/<int:number>/", recipes.recipe_version, name="recipe-version"),
    path("recipes/<int:pk>/reckon/", must.must_reckon, name="must-reckon"),
    path("compositions/<int:pk>/", compositions.composition, name="composition"),
    # bench/
    path("bench/", bench.bench_list, name="bench-list"),
    path("bench/<slug:slug>/", bench.bench_sum, name="bench-sum"),
    # batches/
    path("batches/", batches.batch_list, name="batch-list"),
    path("batches/add/", batches.batch_add, name="batch-add"),
    path("batches/<int:pk>/", batches.batch_detail, name="batch-detail"),
    path("batches/<int:pk>/edit/", batches.batch_edit, name="batch-edit"),
    path("batches/<int:pk>/drop/", batches.batch_drop, name="batch-drop"),
    path("batches/<int:pk>/calendar.ics", calendar.batch_calendar, name="batch-calendar"),
    path("batches/<int:pk>/book/", book.batch_book, name="batch-book"),
    path("batches/<int:pk>/volume/", batch_life.batch_volume, name="batch-volume"),
    path("batches/<int:pk>/bottle/", bottling.batch_bottle, name="batch-bottle"),
    path("batches/<int:pk>/vessels/", vessels.batch_vessels, name="batch-vessels"),
    path("batches/compare/", look_back.batch_compare, name="batch-compare"),
    path("batches/<int:pk>/back/", look_back.batch_back, name="batch-back"),
    path("batches/<int:pk>/version/", look_back.batch_version, name="batch-version"),
    path("cellar/year/", look_back.year_back, name="year-back"),
    path("batches/<int:pk>/part/", batch_life.batch_part, name="batch-part"),
    path("batches/<int:pk>/pour/", batch_life.batch_pour, name="batch-pour"),
    path("batches/<int:pk>/trace/", batch_life.batch_trace, name="batch-trace"),
    path("batches/<int:pk>/steps/add/", batch_life.step_add, name="batch-step-add"),
    path("lots/<int:pk>/trace/", batch_life.lot_trace, name="lot-trace"),
    # readings/ and additions/
    path("readings/add/", book.reading_add, name="reading-add"),
    path("readings/<int:pk>/strike/", book.reading_strike, name="reading-strike"),
    path("additions/add/", book.addition_add, name="addition-add"),
    path("requirements/<int:pk>/instead/", steps.need_instead, name="need-instead"),
    # steps/
    path("steps/<int:pk>/move/", steps.step_move, name="step-move"),
    path("steps/<int:pk>/complete/", steps.step_complete, name="step-complete"),
    path("steps/<int:pk>/skip/", steps.step_skip, name="step-skip"),
    path("steps/<int:pk>/pin/", steps.step_pin, name="step-pin"),
    # cellar/
    path("cellar/", cellar.cellar_list, name="cellar"),
    path("cellar/<int:pk>/", cellar.cellar_lot, name="cellar-lot"),
    path("cellar/<int:pk>/labels/", cellar.cellar_labels, name="cellar-labels"),
    path("cellar/<int:pk>/photo/", cellar.cellar_photo, name="cellar-photo"),
    path("cellar/<int:pk>/decant/", cellar.cellar_decant, name="cellar-decant"),
    path("cellar/<int:pk>/take/", cellar.cellar_take, name="cellar-take"),
    path("cellar/<int:pk>/move/", cellar.cellar_move, name="cellar-move"),
    path("cellar/<int:pk>/taste/", cellar.cellar_taste, name="cellar-taste"),
    # calendar/
    path("calendar/", calendar.calendar, name="calendar"),
    path("calendar/day-sheet/", sheet.day_sheet, name="day-sheet"),
    path("calendar/schedule.ics", calendar.schedule, name="schedule"),
    path("calendar/feeds/add/", calendar.feed_add, name="feed-add"),
    path("calendar/feeds/<int:pk>/delete/", calendar.feed_delete, name="feed-delete"),
    # vessels/
    path("vessels/<int:pk>/weigh/", vessels.vessel_weigh, name="vessel-weigh"),
    path("vessels/fit/", vessels.vessel_fit, name="vessel-fit"),
    path("vessels/year/", vessels.vessel_year, name="vessel-year"),
    path("runs-out/", runs_out.runs_out_list, name="runs-out"),
    # for whoever looks after the pages
    path("living/", living.living, name="living"),
    path("feed/<str:secret>.ics", calendar.feed_by_secret, name="feed"),
]

urlpatterns = [
    path("", include((planner, "planner"))),
    path("", include("inventory.urls")),
]

handler400 = "inventory.views.failures.bad_request"
handler403 = "inventory.views.failures.forbidden"
handler404 = "inventory.views.failures.not_found"
handler500 = "inventory.views.failures.server_error"
