from django.apps import AppConfig
from django.db.models.signals import post_migrate


class CatalogConfig(AppConfig):
    name = "catalog"
    verbose_name = "Catalogue"

    def ready(self) -> None:
        from catalog.built_in import make_built_in

        post_migrate.connect(make_built_in, sender=self, dispatch_uid="catalog.make_built_in")
