"""What `manage.py check` says, and that it says nothing of a service that is set up well."""

import pytest
from django.core.checks import run_checks

from advisor import checks


def ids(messages):
    return [message.id for message in messages]


def test_settings_as_they_are_pass():
    assert run_checks() == []


@pytest.mark.parametrize(("soft", "hard", "again"), [(600, 600, 3600), (540, 600, 600), (700, 600, 3600)])
def test_time_limits_out_of_order_are_an_error(settings, soft, hard, again):
    settings.CELERY_TASK_SOFT_TIME_LIMIT, settings.CELERY_TASK_TIME_LIMIT = soft, hard
    settings.CELERY_BROKER_TRANSPORT_OPTIONS = {"visibility_timeout": again}
    (error,) = checks.time_limits_in_order(None)
    assert error.id == "advisor.E001"
    assert f"CELERY_TASK_TIME_LIMIT {hard} s, visibility_timeout {again} s" in error.msg


@pytest.mark.parametrize("key", ["short", "x" * 64])
def test_key_that_can_be_guessed_is_an_error_that_does_not_show_it(settings, key):
    settings.SECRET_KEY = key
    (error,) = checks.secret_key_is_random(None)
    assert error.id == "advisor.E002"
    assert key not in error.msg


def test_broker_that_is_away_is_a_warning_without_its_password(monkeypatch):
    from advisor.project.celery import app

    monkeypatch.setattr(app.conf, "broker_write_url", "redis://:opensesame@127.0.0.1:1/0")
    (warning,) = checks.broker_answers(None)
    assert warning.id == "advisor.W001"
    assert "127.0.0.1:1" in warning.msg and "opensesame" not in warning.msg


def test_empty_catalogue_is_a_warning(db):
    assert ids(checks.catalogue_is_loaded(None)) == ["advisor.W003"]


def test_loaded_catalogue_is_none(small_catalogue):
    assert checks.catalogue_is_loaded(None) == []


def test_static_files_that_were_not_collected_are_a_warning(settings, tmp_path, monkeypatch):
    from whitenoise.storage import CompressedManifestStaticFilesStorage

    settings.STATIC_ROOT = tmp_path
    monkeypatch.setattr(checks, "staticfiles_storage", CompressedManifestStaticFilesStorage())
    assert ids(checks.static_files_are_collected(None)) == ["advisor.W004"]
