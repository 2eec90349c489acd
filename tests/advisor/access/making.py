"""How tests make studies and tokens, straight in the database."""

import uuid
from datetime import UTC, datetime, timedelta

from advisor.models import ApiToken, Outcome, Snapshot, Study

NOW = datetime(2031, 6, 1, tzinfo=UTC)


def make_study(owner=None, **columns):
    snapshot, _ = Snapshot.objects.get_or_create(digest="0" * 64, defaults={"content": b"", "created_at": NOW})
    outcome = Outcome.objects.create(
        key=uuid.uuid4().hex * 2,
        brief="{}",
        snapshot=snapshot,
        model_version="1",
        chunk_total=1,
        candidate_total=10,
        created_at=NOW,
        **columns,
    )
    return Study.objects.create(id=uuid.uuid4(), owner=owner, outcome=outcome, brief_given={}, created_at=NOW)


def make_token(owner):
    prefix = uuid.uuid4().hex[:8]
    later = NOW + timedelta(days=1)
    return ApiToken.objects.create(
        owner=owner, name="t", digest=prefix * 8, prefix=prefix, created_at=NOW, expires_at=later
    )
