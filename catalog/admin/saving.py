"""Saving a part obeys the same checks as loading it from a file, and what was typed stays on the page."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.contrib import admin
from django.core.exceptions import ValidationError
from django.db import IntegrityError, models
from django.forms import ModelForm
from django.http import HttpRequest, HttpResponse

from catalog.importing.known import hold_codes, known_now
from catalog.importing.stored import refusals_of
from catalog.ownership import PREFIX, is_own_code


class _Refused(Exception):
    """What was saved does not hold; raised inside the page's transaction, so that nothing of it stays."""

    def __init__(self, reasons: Iterable[str]) -> None:
        self.reasons = list(reasons)


class PublicForm(ModelForm):
    """A row of the public catalogue; ``refused`` holds what the checks of the saved whole said."""

    refused: tuple[str, ...] = ()

    def clean_code(self) -> str:
        code = self.cleaned_data["code"]
        if is_own_code(code):
            raise ValidationError(f"'{code}' begins with {PREFIX}, as only own parts do; accepted: another beginning")
        return code

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        if self.refused:
            raise ValidationError(list(self.refused))
        return cleaned


class CheckedAdmin(admin.ModelAdmin):
    """A part with what hangs below it: saved, looked at as a whole, and undone where it does not hold."""

    form = PublicForm

    def get_form(
        self, request: HttpRequest, obj: models.Model | None = None, change: bool = False, **kwargs: Any
    ) -> Any:
        form = super().get_form(request, obj, change, **kwargs)
        return type(form.__name__, (form,), {"refused": tuple(getattr(request, "refused", ()))})

    def changeform_view(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        try:
            return super().changeform_view(request, *args, **kwargs)
        except _Refused as error:
            request.refused = error.reasons  # type: ignore[attr-defined]
        except IntegrityError as error:
            request.refused = [f"This breaks a rule of the database: {error}"]  # type: ignore[attr-defined]
        return super().changeform_view(request, *args, **kwargs)

    def save_model(self, request: HttpRequest, obj: models.Model, form: ModelForm, change: bool) -> None:
        hold_codes()
        super().save_model(request, obj, form, change)

    def save_related(self, request: HttpRequest, form: ModelForm, formsets: Any, change: bool) -> None:
        super().save_related(request, form, formsets, change)
        part = type(form.instance)._default_manager.get(pk=form.instance.pk)
        refusals = refusals_of(part, known_now(), own=False)
        if refusals:
            raise _Refused(refusal.sentence for refusal in refusals)
