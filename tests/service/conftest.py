"""Real processes for the tests of this folder."""

from tests.service.machine import prepared, service

__all__ = ["prepared", "service"]
