from django.apps import AppConfig
from django.db.models.signals import post_migrate


class AdvisorConfig(AppConfig):
    name = "advisor"
    verbose_name = "Advice"

    def ready(self) -> None:
        from advisor import checks  # noqa: F401
        from advisor.access.roles import make_groups

        post_migrate.connect(make_groups, sender=self, dispatch_uid="advisor.make_groups")
