"""The test's own machine: the test, its commands and its workers meet in one database and one broker."""

from urllib.request import urlopen

import pytest
from celery import current_app
from django.contrib.auth.models import User

from advisor.project import processes
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


def test_processes_of_a_group_end_with_its_first_one(service, free_port):
    for group in (service.start_workers(2), service.start_web(free_port)):
        assert group.children()
        group.process.kill()
        assert processes.wait_until(lambda: not processes.members(group.process.pid), 3), group.name  # noqa: B023


def test_web_answers_while_the_broker_is_away(service, free_port):
    if service.broker:
        service.broker.stop()
    service.start_web(free_port)
    with urlopen(f"http://127.0.0.1:{free_port}/", timeout=20) as answer:
        assert answer.status == 200
