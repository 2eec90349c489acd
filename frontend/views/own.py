"""One's own parts: what there is, adding one, changing it, deleting it."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.contrib import messages
from django.core.exceptions import ObjectDoesNotExist
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views import View

from advisor.access.objects import parts_owned
from advisor.accounts import tag_of
from catalog.exporting import block_of
from catalog.importing.refusals import LoadRefused
from catalog.importing.single import StillNeeded, TooManyOwn, add_own_block, change_block, remove_block
from catalog.kinds import Kind
from catalog.records import notes_on, record_of
from frontend.contexts.lists import noun_of
from frontend.contexts.own import own_kinds
from frontend.forms.own_part import VERSION, OwnPartForm, revised, texts_of
from frontend.views.versions import version_of

TOO_MANY = "You have {} own parts, and that is how many one may have. Delete one first; what you typed is still here."
STALE = "It was changed since you opened this form, perhaps in another tab. Open it anew to see how it is now."


class Stale(Exception):
    """What somebody is about to change has changed since they looked at it."""


class OwnParts(View):
    """All of a person's own parts."""

    def get(self, request: HttpRequest) -> HttpResponse:
        kinds = own_kinds(request.user)
        context = {
            "filled": [one for one in kinds if one.parts],
            "kinds": kinds,
            "count": sum(len(one.parts) for one in kinds),
            "most": settings.OWN_PARTS,
        }
        return render(request, "frontend/own.html", context)


class AddPart(View):
    """A new part of one's own."""

    def get(self, request: HttpRequest, kind: Kind) -> HttpResponse:
        if kind.path == "enclosures":
            return redirect("pages:own-enclosure")
        return _show(request, kind, OwnPartForm(kind.layout, is_new=True))

    def post(self, request: HttpRequest, kind: Kind) -> HttpResponse:
        form = OwnPartForm(kind.layout, request.POST, is_new=True)
        person = request.user
        try:
            row = add_own_block(
                kind=kind.file, block=form.block(), owner=person, tag=tag_of(person), most=settings.OWN_PARTS
            )
        except LoadRefused as refused:
            form.tell(refused.refusals)
        except TooManyOwn as most:
            form.add_error(None, TOO_MANY.format(most))
        else:
            messages.success(request, "It is yours now, and your next studies choose from it.")
            return redirect("pages:part", kind, row.code)
        return _show(request, kind, form)


class ChangePart(View):
    """A part of one's own, changed."""

    def get(self, request: HttpRequest, kind: Kind, code: str) -> HttpResponse:
        if kind.path == "enclosures":
            return redirect("pages:own-enclosure-again", code)
        row = own_row(request, kind, code)
        block = block_of(kind.layout, record_of(row, kind.layout, notes_on(row)), whole=True)
        initial = {**texts_of(kind.layout, block), VERSION: version_of(kind, row)}
        return _show(request, kind, OwnPartForm(kind.layout, initial=initial, is_new=False), row)

    def post(self, request: HttpRequest, kind: Kind, code: str) -> HttpResponse:
        row = own_row(request, kind, code)
        form = OwnPartForm(kind.layout, request.POST, initial={"source": row.source_id}, is_new=False)

        def revise(now: Any, before: dict[str, Any]) -> Any:
            require_version(request, kind, now)
            return revised(form, before)

        try:
            change_block(kind=kind.file, rows=_owned(request, kind), code=code, revise=revise)
        except LoadRefused as refused:
            form.tell(refused.refusals)
        except Stale:
            form.add_error(None, STALE)
        except ObjectDoesNotExist:
            raise Http404 from None
        else:
            messages.success(request, "It is changed. Studies that are done keep what they were made with.")
            return redirect("pages:part", kind, code)
        return _show(request, kind, form, row)


class DeletePart(View):
    """A part of one's own, deleted once that is confirmed."""

    def get(self, request: HttpRequest, kind: Kind, code: str) -> HttpResponse:
        row = own_row(request, kind, code)
        return render(request, "frontend/own_delete.html", {"kind": kind, "row": row})

    def post(self, request: HttpRequest, kind: Kind, code: str) -> HttpResponse:
        row = own_row(request, kind, code)
        try:
            remove_block(kind=kind.file, rows=_owned(request, kind), code=code, check=lambda now, block: block)
        except StillNeeded as needed:
            messages.error(request, f"It is needed by {needed.by}, and stays.")
            return redirect("pages:part", kind, code)
        except ObjectDoesNotExist:
            raise Http404 from None
        messages.success(request, f"{row.name} is deleted. Studies that are done keep what they were made with.")
        return redirect("pages:own")


def own_row(request: HttpRequest, kind: Kind, code: str) -> Any:
    """Return one of a person's own parts, or raise that it does not exist, as for anybody else's."""
    row = _owned(request, kind).prefetch_related("notes", *(entry.key for entry in kind.layout.children))
    found = row.coded(code).first()
    if found is None:
        raise Http404
    return found


def require_version(request: HttpRequest, kind: Kind, row: Any) -> None:
    """Raise where a part is not as it was when the form was opened."""
    if request.POST.get(VERSION) != version_of(kind, row):
        raise Stale


def _owned(request: HttpRequest, kind: Kind) -> Any:
    return parts_owned(kind.layout.model, request.user)


def _show(request: HttpRequest, kind: Kind, form: OwnPartForm, row: Any = None) -> HttpResponse:
    context = {"kind": kind, "noun": noun_of(kind), "form": form, "row": row}
    return render(request, "frontend/own_part.html", context)
