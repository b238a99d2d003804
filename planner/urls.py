"""Every address of the site, grouped by what it is about."""

from django.urls import include, path

planner = []

urlpatterns = [
    path("", include((planner, "planner"))),
    path("", include("inventory.urls")),
]

handler400 = "inventory.views.failures.bad_request"
handler403 = "inventory.views.failures.forbidden"
handler404 = "inventory.views.failures.not_found"
handler500 = "inventory.views.failures.server_error"
