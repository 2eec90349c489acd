"""Django's own permissions, read off the table of rules: the admin pages offer what the rules let a role do."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.backends import ModelBackend
from django.contrib.auth.models import AbstractBaseUser, AnonymousUser

from advisor.access.roles import Role, role_of
from advisor.access.rules import RULES, permits

# By the first word of a permission: the admin page and the method that it stands for.
_PAGES = {
    "view": ("change", "GET"),
    "change": ("change", "POST"),
    "add": ("add", "POST"),
    "delete": ("delete", "POST"),
}


class RoleBackend(ModelBackend):
    """Names and passwords as usual; permissions by role, and none that are given to single accounts or groups."""

    def has_perm(self, user_obj: AbstractBaseUser | AnonymousUser, perm: str, obj: Any = None) -> bool:
        app, _, word = perm.partition(".")
        action, _, model = word.partition("_")
        page, method = _PAGES.get(action, ("", ""))
        return permits(f"admin:{app}_{model}_{page}", method, _role(user_obj))

    def has_module_perms(self, user_obj: AbstractBaseUser | AnonymousUser, app_label: str) -> bool:
        role = _role(user_obj)
        return any(permits(route, "GET", role) for route in RULES if route.startswith(f"admin:{app_label}_"))


def _role(person: Any) -> Role:
    """Return a person's role, asked once a request as Django's own permissions are: a page asks for hundreds."""
    if not hasattr(person, "_role_cache"):
        person._role_cache = role_of(person)
    return person._role_cache
