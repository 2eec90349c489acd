"""The one table of who may do what: route -> method -> the least role that may.

A route is the view name that Django resolves an address to. What is not in the table is refused for everybody. HEAD
goes with GET; OPTIONS, which only says what there is, goes with whatever needs the least. Whose part, study or token
an address names is asked of ``objects`` afterwards: a member may PUT to a fan, if the fan is that member's own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from advisor.access.roles import Role, role_of

if TYPE_CHECKING:
    from advisor.access.roles import Person

Rule = Mapping[str, Role]
GUEST, MEMBER, CURATOR, OPERATOR = Role.GUEST, Role.MEMBER, Role.CURATOR, Role.OPERATOR

# Kinds of parts as the REST interface names them, and as the admin pages do.
KINDS = (
    *("enclosure", "fan", "cooler", "power-supply", "drive", "adapter", "board", "processor", "graphics"),
    *("controller", "solid-state-drive", "card", "ups-unit"),
)
_PART_TABLES = (
    *("enclosure", "fan", "cooler", "supply", "drive", "adapter", "board", "processor", "graphics"),
    *("controller", "solidstatedrive", "card", "ups"),
)


def _table(routes: Iterable[str], rule: Rule) -> dict[str, Rule]:
    return dict.fromkeys(routes, rule)


def _changed_by(role: Role, read_by: Role = GUEST) -> Rule:
    return {"GET": read_by, "PUT": role, "PATCH": role, "DELETE": role}


def _parts() -> dict[str, Rule]:
    """Parts: everyone reads the public ones, members keep their own, curators the public ones."""
    actions: dict[str, Rule] = {
        "list": {"GET": GUEST, "POST": MEMBER},
        "detail": _changed_by(MEMBER),
        "figures": {"GET": GUEST},
        "offer": {"POST": MEMBER, "DELETE": MEMBER},
        "accept": {"POST": CURATOR},
        "decline": {"POST": CURATOR},
    }
    return {f"api:{kind}-{action}": rule for kind in KINDS for action, rule in actions.items()}


_API: dict[str, Rule] = {
    "api:root": {"GET": GUEST},
    "api:schema": {"GET": GUEST},
    "api:study-list": {"GET": MEMBER, "POST": GUEST},
    "api:study-detail": {"GET": GUEST},
    "api:study-front": {"GET": GUEST},
    "api:study-cancel": {"POST": GUEST},
    "api:own-enclosure-list": {"GET": MEMBER, "POST": MEMBER},
    "api:own-enclosure-preview": {"POST": MEMBER},
    "api:account-list": {"POST": GUEST},
    "api:account-me": {"GET": MEMBER},
    "api:token-list": {"GET": MEMBER, "POST": MEMBER},
    "api:token-detail": {"GET": MEMBER, "DELETE": MEMBER},
    "api:session": {"POST": GUEST, "DELETE": MEMBER},
    **_parts(),
    **_table(("api:maker-list", "api:source-list"), {"GET": GUEST, "POST": CURATOR}),
    **_table(("api:maker-detail", "api:source-detail"), _changed_by(CURATOR)),
}


_PAGES: dict[str, Rule] = {
    **_table(("pages:home", "pages:method", "pages:study", "pages:study-progress"), {"GET": GUEST}),
    "pages:build": {"GET": GUEST},
    **_table(("pages:brief", "pages:sign-in", "pages:sign-up"), {"GET": GUEST, "POST": GUEST}),
    **_table(("pages:study-cancel", "pages:sign-out"), {"POST": GUEST}),
    "pages:study-list": {"GET": MEMBER},
    "pages:account": {"GET": MEMBER, "POST": MEMBER},
    "pages:token-delete": {"POST": MEMBER},
    **_table(("pages:catalogue", "pages:kind", "pages:part"), {"GET": GUEST}),
    **_table(("pages:part-offer", "pages:part-withdraw"), {"POST": MEMBER}),
    **_table(("pages:part-accept", "pages:part-decline"), {"POST": CURATOR}),
    "pages:own": {"GET": MEMBER},
    **_table(
        (f"pages:own-{page}" for page in ("enclosure", "enclosure-again", "add", "change", "delete")),
        {"GET": MEMBER, "POST": MEMBER},
    ),
}


def _admin_pages(models: Iterable[str], role: Role) -> dict[str, Rule]:
    """All pages of models that can be changed there."""
    both: Rule = {"GET": role, "POST": role}
    pages: dict[str, Rule] = dict.fromkeys(("changelist", "add", "change", "delete"), both)
    pages["history"] = {"GET": role}
    return {f"admin:{model}_{page}": rule for model in models for page, rule in pages.items()}


def _looked_at(models: Iterable[str], role: Role) -> dict[str, Rule]:
    """The pages of models that are only looked at."""
    return _table(
        (f"admin:{model}_{page}" for model in models for page in ("changelist", "change", "history")), {"GET": role}
    )


_ADMIN: dict[str, Rule] = {
    "admin:login": {"GET": GUEST, "POST": GUEST},
    "admin:logout": {"POST": GUEST},
    **_table(
        ("admin:index", "admin:app_list", "admin:jsi18n", "admin:autocomplete", "admin:view_on_site"), {"GET": CURATOR}
    ),
    **_table(("admin:password_change",), {"GET": CURATOR, "POST": CURATOR}),
    **_table(("admin:password_change_done",), {"GET": CURATOR}),
    # Addresses without a page: an id alone leads to its page, everything else is not found.
    "admin:django.views.generic.base.RedirectView": {"GET": CURATOR},
    "admin:django.contrib.admin.sites.catch_all_view": {"GET": CURATOR},
    **_admin_pages((f"catalog_{table}" for table in (*_PART_TABLES, "maker", "source")), CURATOR),
    **_looked_at(("catalog_catalogload",), CURATOR),
    **_admin_pages(("auth_user", "auth_group"), OPERATOR),
    **_table(("admin:auth_user_password_change",), {"GET": OPERATOR, "POST": OPERATOR}),
    **_looked_at(("advisor_study", "advisor_outcome"), OPERATOR),
}

RULES: Mapping[str, Rule] = {**_API, **_PAGES, **_ADMIN}


def least_role(route: str, method: str) -> Role | None:
    """Return the least role that may use a method of a route, None where there is no such rule.

    >>> least_role("api:fan-list", "POST").name, least_role("api:fan-list", "HEAD").name
    ('MEMBER', 'GUEST')
    >>> least_role("api:fan-list", "DELETE"), least_role("api:nothing", "GET")
    (None, None)
    """
    rule = RULES.get(route, {})
    if method == "OPTIONS":
        return min(rule.values(), default=None)
    return rule.get("GET" if method == "HEAD" else method)


def allowed(route: str, method: str, person: Person) -> bool:
    """Return whether a person may use a method of a route; what is open to guests asks nothing of the database."""
    return permits(route, method, GUEST) or permits(route, method, role_of(person))


def permits(route: str, method: str, role: Role) -> bool:
    """Return whether a role may use a method of a route."""
    least = least_role(route, method)
    return least is not None and role >= least
