from django.apps import AppConfig


class AdvisorConfig(AppConfig):
    name = "advisor"
    verbose_name = "Advice"
