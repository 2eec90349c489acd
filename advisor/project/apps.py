"""The admin pages with a site of our own."""

from django.contrib.admin.apps import AdminConfig


class AdminPagesConfig(AdminConfig):
    default_site = "advisor.project.admin_site.AdminPages"
