"""Addresses of the store and the household."""

app_name = "inventory"

urlpatterns = []
