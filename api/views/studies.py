"""Studies: putting a brief, listing one's own, looking at one, losing interest."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from uuid import UUID

from django.conf import settings
from django.http import Http404
from django.utils import timezone
from rest_framework.request import Request
from rest_framework.response import Response

from advisor.access.objects import studies_listed, studies_open
from advisor.allowance import TooManyUnfinished
from advisor.models import Study
from advisor.rates import guest_digest
from advisor.sending import BriefRefused, send_brief
from advisor.states import UNFINISHED
from advisor.submit import cancel_study, front_of, status_of
from api import examples
from api.endpoint import Endpoint, ListEndpoint
from api.errors import Invalid, TooMany
from api.schema.operation import HEADER, PATH, Answer, Operation, Parameter
from api.schema.shapes import named, page_of, text
from api.senders import idempotency_key
from api.serializers.studies import front_body, study_address, study_body, summary_body

_STUDY = named("Study")
_SOON = {"Retry-After": "Seconds after which it is worth asking again, while the study is unfinished."}
_KEY = Parameter(
    "Idempotency-Key",
    text(
        "A word of yours for this brief: sent again, as after a lost connection, it returns the same study.",
        pattern="^[!-~]+$",
        minLength=1,
        maxLength=200,
    ),
    HEADER,
)


class Studies(ListEndpoint):
    """Briefs that people put."""

    scopes = {"POST": "study"}
    operations = {
        "GET": Operation(
            "list_studies",
            {200: Answer("A page of them.", page_of(named("StudySummary"), "studies"), examples.STUDIES)},
        ),
        "POST": Operation(
            "submit_study",
            {202: Answer("The study.", _STUDY, examples.QUEUED, {"Location": "Address of the study.", **_SOON})},
            named("Brief"),
            examples.BRIEFS,
            headers=(_KEY,),
        ),
    }

    def order(self, request: Request) -> Sequence[str]:
        return ("-created_at", "-id")

    def get(self, request: Request) -> Response:
        """List your studies, newest first."""
        rows = studies_listed(request.user).with_outcome()
        return self.page(rows, lambda study: summary_body(study, request))

    def post(self, request: Request) -> Response:
        """Put a brief.

        The answer is always 202, also where the question was answered before: read the study at its `Location`.
        A guest's study is open to whoever holds its address, a member's to that member alone.
        """
        study = _submitted(request)
        response = _shown(study, request, status=202)
        response["Location"] = study_address(study, request)
        return response


class OneStudy(Endpoint):
    """One study."""

    path_parameters = (Parameter("id", text("What names the study.", format="uuid"), PATH),)
    operations = {"GET": Operation("read_study", {200: Answer("The study.", _STUDY, examples.DONE, _SOON)})}

    def get(self, request: Request, id: UUID) -> Response:
        """See how far a study has come and, once it is done, what was found."""
        return _shown(_open(request, id), request)


class StudyFront(Endpoint):
    """What a study has to choose from."""

    path_parameters = OneStudy.path_parameters
    operations = {"GET": Operation("read_front", {200: Answer("The front.", named("Front"), examples.FRONT)})}

    def get(self, request: Request, id: UUID) -> Response:
        """Read the builds that no other judged one of the study beats or equals in all they are compared by.

        These are noise, headroom, spare places for drives, and price. The answer has columns of one length: the first
        value of each is that of the first build, the quietest one.
        """
        study = _open(request, id)
        return Response(front_body(study, front_of(study), request))


class StudyCancel(Endpoint):
    """Losing interest in a study."""

    path_parameters = OneStudy.path_parameters
    operations = {"POST": Operation("cancel_study", {200: Answer("The study.", _STUDY, examples.CANCELLED)})}

    def post(self, request: Request, id: UUID) -> Response:
        """Cancel a study.

        A study that is finished stays as it is, so this may be sent twice. Others who asked the same still get their
        answer.
        """
        study = _open(request, id)
        cancel_study(study, timezone.now())
        return _shown(study, request)


def _submitted(request: Request) -> Study:
    """Return the study of the brief in the body, or raise with everything that is wrong with it."""
    owner = request.user if request.user.is_authenticated else None
    sender = {"owner": owner, "guest": guest_digest(request), "idempotency_key": idempotency_key(request)}
    try:
        return send_brief(request.data, **sender, now=timezone.now())
    except TooManyUnfinished as most:
        detail = f"You have {most} unfinished studies, and that is how many one may have. Wait for one, or cancel it."
        raise TooMany(detail, headers={"Retry-After": str(settings.STUDY_POLL_SECONDS)}) from None
    except BriefRefused as refused:
        raise Invalid(refused.problems) from None


def _open(request: Request, identity: UUID) -> Study:
    study = studies_open(request.user).with_id(identity).with_outcome().first()
    if study is None:
        raise Http404
    return study


def _shown(study: Study, request: Request, **more: Any) -> Response:
    standing = status_of(study, timezone.now())
    response = Response(study_body(study, standing, request), **more)
    if standing.status in UNFINISHED:
        response["Retry-After"] = str(settings.STUDY_POLL_SECONDS)
    return response
