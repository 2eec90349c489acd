"""An own part's way into the public catalogue: offered by its owner, accepted or declined by a curator."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django.core.exceptions import ObjectDoesNotExist
from django.db import transaction
from django.http import Http404
from django.utils import timezone
from rest_framework.request import Request
from rest_framework.response import Response

from advisor.access import objects
from api.endpoint import Endpoint
from api.errors import Invalid
from api.etags import require_match
from api.serializers.offers import AcceptBody, DeclineBody, OfferBody
from api.serializers.parts import body_of, fetched, version_of
from api.views.parts import OfKind
from api.writing import refused
from catalog.importing.known import hold_codes
from catalog.models import Part
from catalog.offers import OfferRefused, accept, decline, offer, withdraw


class PartOffer(OfKind, Endpoint):
    """The offer of one's own part."""

    def post(self, request: Request, code: str) -> Response:
        with self._own(code) as part:
            body = OfferBody.read(request.data)
            offer(part=part, by=request.user, now=timezone.now(), contributor=body.get("contributor"))
        return self.answer(code)

    def delete(self, request: Request, code: str) -> Response:
        with self._own(code) as part:
            withdraw(part=part, by=request.user)
        return self.answer(code)

    @contextmanager
    def _own(self, code: str) -> Iterator[Part]:
        with _refusing(), self.found(code):
            yield objects.parts_owned(self.model, self.request.user).get(code=code)


class _Decision(OfKind, Endpoint):
    """What a curator does with a part on offer, in the version that the curator has seen."""

    @contextmanager
    def offered(self, code: str) -> Iterator[Part]:
        on_offer = objects.parts_on_offer(self.model, self.request.user)
        with _refusing(), _there(), transaction.atomic():
            hold_codes()  # nobody changes the part between the look at its version and the decision
            part = fetched(on_offer, self.kind.layout).get(code=code)
            require_match(self.request, version_of(body_of(self.kind, self.kind.layout, part, self.request)))
            yield part


class PartAccept(_Decision):
    """The acceptance of a part on offer."""

    def post(self, request: Request, code: str) -> Response:
        with self.offered(code) as part:
            public = accept(part=part, code=AcceptBody.read(request.data)["code"])
        return self.answer(public.code)


class PartDecline(_Decision):
    """The refusal of a part on offer."""

    def post(self, request: Request, code: str) -> Response:
        with self.offered(code) as part:
            decline(part=part, note=DeclineBody.read(request.data)["note"])
        return Response(status=204)


@contextmanager
def _refusing() -> Iterator[None]:
    try:
        yield
    except OfferRefused as error:
        raise Invalid([refused(one.column, one.value, one.reason, one.accepted) for one in error.problems]) from None


@contextmanager
def _there() -> Iterator[None]:
    try:
        yield
    except ObjectDoesNotExist:
        raise Http404 from None
