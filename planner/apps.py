from importlib import import_module

from django.apps import AppConfig


class PlannerConfig(AppConfig):
    name = "planner"

    def ready(self):
        # Says what can be found.
        import_module("planner.search")
