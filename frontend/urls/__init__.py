"""The addresses of pages, by subject."""

from frontend.urls import accounts, asking, catalogue

app_name = "pages"
urlpatterns = [*asking.urlpatterns, *accounts.urlpatterns, *catalogue.urlpatterns]
