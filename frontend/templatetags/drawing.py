"""Places in drawings as SVG writes them."""

from __future__ import annotations

from django import template

register = template.Library()


@register.filter
def at(value: float) -> str:
    """Return a coordinate to a tenth of a unit.

    >>> at(12.3456), at(12.0), at(-0.01)
    ('12.3', '12', '0')
    """
    return f"{round(value, 1) + 0.0:g}"


@register.filter
def part(number: int) -> int:
    """Return which of the six looks of parts of a bar the part with this number has.

    >>> part(2), part(7)
    (2, 1)
    """
    return number % 6


@register.filter
def plus(value: float, more: float) -> str:
    """Return a coordinate moved by so much.

    >>> plus(12.3456, 4), plus(1.0, -4)
    ('16.3', '-3')
    """
    return at(value + float(more))
