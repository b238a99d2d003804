from django.apps import AppConfig
from django.db.models.signals import post_migrate


class InventoryConfig(AppConfig):
    name = "inventory"

    def ready(self):
        from inventory import append_only

        post_migrate.connect(append_only.after_migrate, sender=self)
