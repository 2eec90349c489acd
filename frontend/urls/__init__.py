"""The addresses of pages, by subject."""

from frontend.urls import accounts, asking

app_name = "pages"
urlpatterns = [*asking.urlpatterns, *accounts.urlpatterns]
