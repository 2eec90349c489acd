"""A machine of its own for each test, as in the tests of the service."""

from tests.service.machine import prepared, service

__all__ = ["prepared", "service"]
