"""The catalogue of a study is that of one moment, whoever writes meanwhile."""

import threading
from importlib import import_module

import pytest
from django.db import connection

from advisor.assembly import catalogue
from catalog.models import Fan

pytestmark = pytest.mark.slow


def test_what_is_committed_between_two_queries_is_not_in_it(service, monkeypatch):
    module = import_module("advisor.assembly.catalogue")
    notes_by_part, before = module.notes_by_part, catalogue()
    written = threading.Event()

    def write():
        Fan.objects.update(price=123.0)
        connection.close()
        written.set()

    writer = threading.Thread(target=write)

    def read_notes():
        writer.start()
        written.wait(1.0)  # PostgreSQL lets the other write; on SQLite it has to wait for this reader
        return notes_by_part()

    monkeypatch.setattr(module, "notes_by_part", read_notes)
    assert catalogue() == before
    writer.join()
    monkeypatch.undo()
    assert {fan.price for fan in catalogue().fans} == {123.0}
