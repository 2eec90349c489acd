"""The addresses of the catalogue, and of one's own parts."""

from __future__ import annotations

from django.urls import path, register_converter

from catalog.kinds import KINDS, Kind
from catalog.validators import CODE
from frontend.views import catalogue, offers, own, own_enclosures

KIND_BY_PATH = {kind.path: kind for kind in KINDS}


class KindConverter:
    """A kind of the catalogue by its plural; any other word leads nowhere."""

    regex = "[a-z-]+"

    def to_python(self, value: str) -> Kind:
        if value not in KIND_BY_PATH:
            raise ValueError(f"there is no kind '{value}'")
        return KIND_BY_PATH[value]

    def to_url(self, value: Kind | str) -> str:
        return value if isinstance(value, str) else value.path


class OwnKindConverter(KindConverter):
    """A kind of which people have parts of their own."""

    def to_python(self, value: str) -> Kind:
        kind = super().to_python(value)
        if not kind.layout.is_part:
            raise ValueError(f"nobody has own {kind.plural}")
        return kind


class PartCodeConverter:
    """A code; what cannot be one leads nowhere."""

    regex = CODE.pattern

    def to_python(self, value: str) -> str:
        return value

    def to_url(self, value: str) -> str:
        return value


register_converter(KindConverter, "kind")
register_converter(OwnKindConverter, "own_kind")
register_converter(PartCodeConverter, "part_code")

_ONE = "catalogue/<own_kind:kind>/<part_code:code>/"
urlpatterns = [
    path("catalogue/", catalogue.Kinds.as_view(), name="catalogue"),
    path("catalogue/<kind:kind>/", catalogue.KindList.as_view(), name="kind"),
    path("catalogue/<kind:kind>/<part_code:code>/", catalogue.PartPage.as_view(), name="part"),
    path(f"{_ONE}offer/", offers.Offer.as_view(), name="part-offer"),
    path(f"{_ONE}withdraw/", offers.Withdraw.as_view(), name="part-withdraw"),
    path(f"{_ONE}accept/", offers.Accept.as_view(), name="part-accept"),
    path(f"{_ONE}decline/", offers.Decline.as_view(), name="part-decline"),
    path("own/", own.OwnParts.as_view(), name="own"),
    path("own/enclosure/", own_enclosures.Enter.as_view(), name="own-enclosure"),
    path("own/enclosure/<part_code:code>/", own_enclosures.EnterAgain.as_view(), name="own-enclosure-again"),
    path("own/<own_kind:kind>/", own.AddPart.as_view(), name="own-add"),
    path("own/<own_kind:kind>/<part_code:code>/", own.ChangePart.as_view(), name="own-change"),
    path("own/<own_kind:kind>/<part_code:code>/delete/", own.DeletePart.as_view(), name="own-delete"),
]
