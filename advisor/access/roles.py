"""Who is who: the five roles, and which one a person has."""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING, Any, TypeAlias

from django.apps import apps as installed
from django.db import DEFAULT_DB_ALIAS

if TYPE_CHECKING:
    from django.contrib.auth.models import AnonymousUser, User

    Person: TypeAlias = User | AnonymousUser


class Role(IntEnum):
    """What a person may at most do: each role may do all that the ones before it may."""

    GUEST = 0
    MEMBER = 1
    REVIEWER = 2
    CURATOR = 3
    OPERATOR = 4


# Roles that are given by a group of this name; an operator is a superuser, anyone else who signed in a member.
GROUPS = {"reviewer": Role.REVIEWER, "curator": Role.CURATOR}


def role_of(person: Person) -> Role:
    """Return a person's role: the highest that the person's groups give."""
    if not person.is_authenticated or not person.is_active:
        return Role.GUEST
    if person.is_superuser:
        return Role.OPERATOR
    names = person.groups.values_list("name", flat=True)
    return max((GROUPS[name] for name in names if name in GROUPS), default=Role.MEMBER)


def make_groups(using: str = DEFAULT_DB_ALIAS, apps: Any = installed, **signal: Any) -> None:
    """Make the groups that give roles, after every migration: an emptied database gets them again."""
    try:
        group = apps.get_model("auth", "Group")
    except LookupError:
        return  # migrated back to before there were groups
    for name in GROUPS:
        group._default_manager.using(using).get_or_create(name=name)
