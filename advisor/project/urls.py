"""Every address of the service, by room."""

from django.contrib import admin
from django.urls import include, path

urlpatterns = [
    path("", include("frontend.urls")),
    path("admin/", admin.site.urls),
    path("api/v1/", include("api.urls")),
]

handler400 = "api.handlers.bad_request"
handler403 = "api.handlers.forbidden"
handler404 = "api.handlers.not_found"
handler500 = "api.handlers.failed"
