"""`manage.py check --deploy` on a machine that is set up as the README says."""

import pytest

pytestmark = pytest.mark.slow


def test_it_finds_nothing_with_production_settings(service):
    service.env["BEHIND_TLS"] = "yes"
    shown = service.manage("check", "--deploy", "--fail-level", "WARNING")
    assert "no issues (0 silenced)" in shown.stdout


def test_it_finds_what_is_missing(service):
    (service.data / "static").unlink()
    service.env["REDIS_URL"] = "redis://127.0.0.1:1/0"
    shown = service.manage("check", "--deploy").stderr
    assert all(f"(advisor.{name})" in shown for name in ("W001", "W004"))
