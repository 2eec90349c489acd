"""One build of a study's answer."""

from __future__ import annotations

from uuid import UUID

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.views import View

from advisor.states import State
from frontend.views import answers
from frontend.views.studies import open_study


class BuildDetail(View):
    """A build of the shortlist, an alternative or a near miss; a study that is not done has none yet."""

    def get(self, request: HttpRequest, id: UUID, build: str) -> HttpResponse:
        study = open_study(request, id)
        if study.status != State.DONE:
            return HttpResponseRedirect(reverse("pages:study", args=[study.pk]))
        return answers.build_page(request, study, build)
