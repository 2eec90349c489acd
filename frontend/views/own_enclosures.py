"""An enclosure of one's own by tape measure: fill in, look at what is derived, store it; enter it again later."""

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
from advisor.models import TapeRecord
from advisor.tape.block import enclosure_of
from advisor.tape.entering import derive, enter_again, enter_enclosure
from advisor.tape.entry import TapeEntry
from advisor.tape.reading import read_tape
from catalog.importing.refusals import LoadRefused
from catalog.importing.single import TooManyOwn
from catalog.kinds import KIND_OF
from catalog.models import Enclosure
from frontend.contexts.tape_form import tape_page
from frontend.contexts.tape_preview import tape_preview
from frontend.forms.own_enclosure import TapeForm
from frontend.views.own import STALE, TOO_MANY, Stale, own_row, require_version
from frontend.views.versions import version_of

KIND = KIND_OF["enclosures"]
_MORE = {"more-fans": "fans", "more-bays": "bays"}


class Enter(View):
    """A new enclosure."""

    is_new = True
    row: Any = None

    def get(self, request: HttpRequest) -> HttpResponse:
        return self.show(request, TapeForm(is_new=True))

    def post(self, request: HttpRequest) -> HttpResponse:
        form = TapeForm(request.POST, is_new=self.is_new)
        wanted = request.POST.get("do", "preview")
        if wanted in _MORE:
            return self.show(request, form.with_row(_MORE[wanted]))
        given = form.given()
        reading = read_tape(given)
        if reading.entry is None:
            form.tell(reading.problems)
            return self.show(request, form)
        if wanted != "store":
            return self.show(request, form, reading.entry)
        try:
            row = self.store(request, reading.entry, given)
        except LoadRefused as refused:
            form.tell_refused(refused.refusals)
        except TooManyOwn as most:
            form.add_error(None, TOO_MANY.format(most))
        except Stale:
            form.add_error(None, STALE)
        else:
            messages.success(request, "It is stored, and your next studies choose from it.")
            return redirect("pages:part", KIND, row.code)
        return self.show(request, form)

    def store(self, request: HttpRequest, entry: TapeEntry, given: dict[str, Any]) -> Any:
        person = request.user
        return enter_enclosure(entry=entry, given=given, owner=person, tag=tag_of(person), most=settings.OWN_PARTS)[0]

    def show(self, request: HttpRequest, form: TapeForm, entry: TapeEntry | None = None) -> HttpResponse:
        """Answer with the form; with an entry, above it what would be derived."""
        preview = None
        if entry is not None:
            preview = tape_preview(derive(entry) if self.is_new else enclosure_of(entry, self.row.code))
        context = {"form": form, "page": tape_page(form), "preview": preview, "row": self.row}
        return render(request, "frontend/own_enclosure.html", context)


class EnterAgain(Enter):
    """An own enclosure, entered again: what was entered stands in the form, what is derived replaces what is stored."""

    is_new = False

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.row = own_row(request, KIND, kwargs.pop("code"))
        return super().dispatch(request, *args, **kwargs)

    def get(self, request: HttpRequest) -> HttpResponse:
        try:
            given = self.row.tape_record.given
        except TapeRecord.DoesNotExist:  # its block was sent as a whole
            given = _outside(self.row)
        return self.show(request, TapeForm.filled(given, version_of(KIND, self.row)))

    def store(self, request: HttpRequest, entry: TapeEntry, given: dict[str, Any]) -> Any:
        rows = parts_owned(Enclosure, request.user)
        try:
            return enter_again(
                entry=entry,
                given=given,
                rows=rows,
                code=self.row.code,
                check=lambda now: require_version(request, KIND, now),
            )
        except ObjectDoesNotExist:
            raise Http404 from None


def _outside(row: Any) -> dict[str, Any]:
    """Return what a tape measure would say again of an enclosure that was not entered by one."""
    kept = ("name", "width_mm", "height_mm", "depth_mm", "mass_kg", "price", "board_forms", "cooler_height_mm")
    return {name: getattr(row, name) for name in (*kept, "card_length_mm", "card_slots", "front_ports")} | {
        "supply": {"forms": row.supply_forms, "length_mm": row.supply_length_mm}
    }
