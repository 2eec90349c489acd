"""The test's own machine: the test, its commands and its workers meet in one database and one broker."""

import pytest
from celery import current_app
from django.contrib.auth.models import User

from catalog.models import Fan

pytestmark = pytest.mark.slow


def test_test_and_commands_share_a_database(service):
    User.objects.create_user("from-the-test")
    shown = service.manage(
        "shell", "--no-imports", "-c", "from django.contrib.auth.models import User; print(User.objects.get())"
    )
    assert shown.stdout.strip() == "from-the-test"
    assert Fan.objects.exists()


def test_workers_answer_the_tests_broker(service):
    workers = service.start_workers(2)
    assert len(workers.children()) == 2
    assert list(current_app.control.inspect(timeout=5, limit=1).ping().values()) == [{"ok": "pong"}]
