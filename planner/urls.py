"""Every address of the site, grouped by what it is about."""

from django.urls import include, path

from planner.views import plants, recipes

planner = [
    path("", plants.season, name="today"),
    # season and plants
    path("season/", plants.season, name="season"),
    path("plants/", plants.plant_list, name="plant-list"),
    path("plants/<slug:slug>/", plants.plant_detail, name="plant-detail"),
    # recipes/
    path("recipes/", recipes.recipe_list, name="recipe-list"),
    path("recipes/add/", recipes.recipe_add, name="recipe-add"),
    path("recipes/<int:pk>/", recipes.recipe_detail, name="recipe-detail"),
    path("recipes/<int:pk>/edit/", recipes.recipe_edit, name="recipe-edit"),
    path("recipes/<int:pk>/versions/add/", recipes.version_add, name="version-add"),
    path(
        "recipes/<int:pk>/versions/<int:number>/", recipes.recipe_version, name="recipe-version"
    ),
    # batches/
    path("batches/", plants.season, name="batch-list"),
    path("batches/add/", plants.season, name="batch-add"),
    path("batches/<int:pk>/", plants.season, name="batch-detail"),
    # steps/
    # calendar/
    path("calendar/", plants.season, name="calendar"),
    path("calendar/schedule.ics", plants.season, name="schedule"),
]

urlpatterns = [
    path("", include((planner, "planner"))),
    path("", include("inventory.urls")),
]

handler400 = "inventory.views.failures.bad_request"
handler403 = "inventory.views.failures.forbidden"
handler404 = "inventory.views.failures.not_found"
handler500 = "inventory.views.failures.server_error"
