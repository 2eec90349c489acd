"""Every operation with drawn and boundary values, right and wrong: no fault of ours, no answer outside the description.

A few values on each run, always the same; ``make fuzz`` sets FUZZ_EXAMPLES to try many, each time others.
"""

import itertools
import os
from contextlib import contextmanager
from datetime import timedelta

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.core.wsgi import get_wsgi_application
from django.db import close_old_connections, transaction
from django.utils import timezone
from hypothesis import HealthCheck, Phase, given
from hypothesis import settings as drawing
from hypothesis.errors import Unsatisfiable
from schemathesis import GenerationMode
from schemathesis.checks import load_all_checks
from schemathesis.config import SchemathesisConfig
from schemathesis.core.failures import FailureGroup

from advisor.accounts import issue_token
from api.etags import TAGS
from api.kinds import KINDS
from api.schema.document import document
from api.schema.routes import ROOM
from tests.api.studying import submit

EXAMPLES = int(os.environ.get("FUZZ_EXAMPLES", "1"))
# Cases at the limits: so many, or each tenth of them, since those of one parameter stand together.
BOUNDARIES, STEP = 40 * EXAMPLES, 10 if EXAMPLES == 1 else 1
# What contradicts itself has the right shape and is refused all the same, as is what names a version that is gone.
REFUSED = ["2xx", "304", "401", "403", "404", "409", "412", "413", "422", "429"]
CONFIG = {
    "checks": {
        "positive_data_acceptance": {"expected-statuses": REFUSED},
        "negative_data_rejection": {"expected-statuses": ["4xx"]},
        "missing_required_header": {"expected-statuses": ["400", "404", "428"]},
        # Who may do what is walked address by address elsewhere; here one token asks for everything.
        "ignored_auth": {"enabled": False},
    }
}


@pytest.fixture
def token(small_catalogue, django_user_model, settings):
    """The token of one who may do everything."""
    settings.RATES = {name: dict.fromkeys(rates, "1000000/minute") for name, rates in settings.RATES.items()}
    now, owner = timezone.now(), django_user_model.objects.create_superuser("olga", password="tall-copper-door")
    return issue_token(owner=owner, name="fuzzing", expires_at=now + timedelta(days=1), now=now)[1]


@pytest.fixture
def described(token):
    load_all_checks()
    config = SchemathesisConfig.from_dict(CONFIG)
    found = schemathesis.openapi.from_dict(with_tags(without_tuples(document())), config=config)
    found.app = get_wsgi_application()
    return found


def without_tuples(node):
    """Return a schema with lists of any of the items instead of those with an item a place.

    The fuzzer (4.32) turns `prefixItems` of answers into a form that OpenAPI 3.1 does not know, and refuses that.
    """
    if isinstance(node, list):
        return [without_tuples(one) for one in node]
    if not isinstance(node, dict):
        return node
    plain = {key: without_tuples(one) for key, one in node.items() if key != "prefixItems"}
    return plain | {"items": {"anyOf": without_tuples(node["prefixItems"])}} if "prefixItems" in node else plain


def with_tags(description):
    """Return the description with a few tags to choose from: the fuzzer does not go by a pattern of such headers."""
    for item in description["paths"].values():
        for operation in item.values():
            for parameter in operation.get("parameters", []):
                if parameter["schema"].get("pattern") == TAGS:
                    parameter["schema"] = {"type": "string", "enum": ["*", '"0"', 'W/"0", "1"']}
    return description


@pytest.mark.slow
def test_every_operation_keeps_its_word(described, token, guest):
    there = {"id": submit(guest).json()["id"], "prefix": token[:8]}
    faults = []
    for operation in (result.ok() for result in described.get_all_operations()):
        names = {parameter.name for parameter in operation.path_parameters}
        known = {name: there.get(name) or a_code(operation.path) for name in names}
        for case in itertools.chain(boundaries(described, operation), drawn(operation, known)):
            faults += tried(case, token)
    assert not faults, f"{len(faults)} faults:\n\n" + "\n\n".join(faults)[:20_000]


def a_code(path):
    """Return the code of something in the catalogue that a path leads to."""
    kind = next(kind for kind in KINDS if path.startswith(f"{ROOM}{kind.path}/"))
    return kind.layout.model._default_manager.order_by("code").first().code


def boundaries(described, operation):
    """Return cases at and beyond the limits in the description."""
    modes = list(GenerationMode)
    cases = described.iter_coverage_cases(
        operation, generation_modes=modes, generation_config=described.config.generation
    )
    return itertools.islice(cases, 0, BOUNDARIES, STEP)


def drawn(operation, there):
    """Return drawn cases: right ones, wrong ones, and right ones for something that exists."""
    found = []
    for mode, more in ((GenerationMode.POSITIVE, {}), (GenerationMode.NEGATIVE, {}), (GenerationMode.POSITIVE, there)):
        strategy = operation.as_strategy(generation_mode=mode, path_parameters=more or None)

        @drawing(
            max_examples=EXAMPLES,
            phases=[Phase.generate],
            derandomize="FUZZ_EXAMPLES" not in os.environ,
            database=None,
            suppress_health_check=list(HealthCheck),
        )
        @given(case=strategy)
        def collect(case):
            found.append(case)

        try:
            collect()
        except Unsatisfiable:
            assert mode is GenerationMode.NEGATIVE, operation.label  # nothing in it can be wrong
    return found


@contextmanager
def one_connection():
    """Keep the connection, in whose transaction the test is, over a request, as Django's own client does."""
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    try:
        yield
    finally:
        for signal in (request_started, request_finished):
            signal.connect(close_old_connections)


def tried(case, token):
    """Send a case, undo what it did, and return what is wrong with the answer."""
    with transaction.atomic(), one_connection():
        try:
            case.call_and_validate(headers={"Authorization": f"Bearer {token}"})
        except FailureGroup as group:
            return [f"{one}\n{case.as_curl_command()[:2000]}" for one in group.exceptions]
        finally:
            transaction.set_rollback(True)
    return []
