"""A part's way into the catalogue, step by step: its owner offers or withdraws it, a curator accepts or declines it."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core.exceptions import ObjectDoesNotExist
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views import View

from advisor.access import objects
from catalog.importing.known import hold_codes
from catalog.kinds import Kind
from catalog.offers import OfferRefused, accept, decline, offer, withdraw
from frontend.forms.deciding import AcceptForm, DeclineForm, OfferForm, StepForm
from frontend.views.catalogue import render_part, row_seen
from frontend.views.versions import version_of

_CHANGED = "It has changed since you looked at it. Look at it as it is now, then decide again."


class Step(View):
    """One step about one part, sent from the part's page."""

    form: type[StepForm] | None = None

    def post(self, request: HttpRequest, kind: Kind, code: str) -> HttpResponse:
        form = self.form(request.POST) if self.form else None
        try:
            with transaction.atomic():
                return self.step(request, kind, code, form)
        except ObjectDoesNotExist:
            raise Http404 from None
        except OfferRefused as refused:
            row = row_seen(kind, request.user, code)
            if form is None:
                messages.error(request, "It is not on offer: nothing is left to withdraw.")
                return redirect("pages:part", kind, code)
            form.tell(refused)
            return render_part(request, kind, row, form)

    def step(self, request: HttpRequest, kind: Kind, code: str, form: Any) -> HttpResponse:
        raise NotImplementedError


class Offer(Step):
    """Offer one's own part."""

    form = OfferForm

    def step(self, request: HttpRequest, kind: Kind, code: str, form: Any) -> HttpResponse:
        row = objects.parts_owned(kind.layout.model, request.user).get(code=code)
        offer(part=row, by=request.user, now=timezone.now(), contributor=form.data.get("contributor", ""))
        messages.success(request, "It is on offer. A curator looks at it; until then it stays yours.")
        return redirect("pages:part", kind, code)


class Withdraw(Step):
    """Take the offer back."""

    def step(self, request: HttpRequest, kind: Kind, code: str, form: Any) -> HttpResponse:
        withdraw(part=objects.parts_owned(kind.layout.model, request.user).get(code=code), by=request.user)
        messages.success(request, "The offer is withdrawn: only you see it now.")
        return redirect("pages:part", kind, code)


class _Decision(Step):
    """What a curator does with a part on offer, in the version that the curator has seen."""

    def step(self, request: HttpRequest, kind: Kind, code: str, form: Any) -> HttpResponse:
        hold_codes()  # nobody changes the part between the look at its version and the decision
        offered = objects.parts_on_offer(kind.layout.model, request.user)
        row = offered.prefetch_related("notes", *(entry.key for entry in kind.layout.children)).get(code=code)
        if form.data.get("version") != version_of(kind, row):
            form = type(form)({**form.data.dict(), "version": version_of(kind, row)})
            form.add_error(None, _CHANGED)
            return render_part(request, kind, row, form)
        return self.decide(request, kind, row, form)

    def decide(self, request: HttpRequest, kind: Kind, row: Any, form: Any) -> HttpResponse:
        raise NotImplementedError


class Accept(_Decision):
    """Take a part on offer into the catalogue."""

    form = AcceptForm

    def decide(self, request: HttpRequest, kind: Kind, row: Any, form: Any) -> HttpResponse:
        public = accept(part=row, code=form.data.get("code", "").strip())
        messages.success(request, f"{public.name} is in the catalogue.")
        return redirect("pages:part", kind, public.code)


class Decline(_Decision):
    """Leave a part on offer to its owner."""

    form = DeclineForm

    def decide(self, request: HttpRequest, kind: Kind, row: Any, form: Any) -> HttpResponse:
        decline(part=row, note=" ".join(form.data.get("note", "").split()))
        messages.success(request, f"{row.name} is declined; its owner reads why.")
        return redirect("pages:catalogue")
