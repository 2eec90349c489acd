"""Numbers as people read them: the only place where a number becomes text.

A value goes with its standard uncertainty to two significant digits of the latter at most, and to no finer place than
its unit is worth. Thousands are parted by narrow spaces, which also part a value from its unit; both never break.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from django import template

from advisor.engine.units import from_si

register = template.Library()

SPACE = "\u202f"
MINUS = "\u2212"
NOTHING = "–"
SMALL = 1e-3  # below, a power of ten is easier to read than zeros
MONTHS_FROM = 2 * 365.25  # days from which on a time is said in years

# The finest place worth saying of a unit: 1 is a tenth.
FINEST = {"°C": 1, "K": 1, "dBA": 1, "dB": 1, "rpm": 0, "W": 1, "m³/h": 1, "l/s": 2, "Pa": 1, "g/s": 2, "mm": 0}
_LARGE = ((1e9, "billion"), (1e6, "million"))
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
_FLOWS = {"m3/h": "m³/h", "l/s": "l/s"}


def number(value: float, places: int = 0) -> str:
    """Return a number with a fixed number of decimals; negative ``places`` round to tens, hundreds and so on.

    >>> number(28424000), number(-0.04, 1), number(-3.25, 1), number(1234, -2)
    ('28\u202f424\u202f000', '0.0', '\u22123.2', '1\u202f200')
    """
    if not math.isfinite(value):
        raise ValueError(f"{value} has no text; every number shown must be finite")
    text = f"{abs(round(value, places)):,.{max(places, 0)}f}".replace(",", SPACE)
    negative = value < 0 and any(digit in text for digit in "123456789")
    return MINUS + text if negative else text


def significant(value: float, digits: int = 3) -> str:
    """Return a number to so many significant digits, without zeros that say nothing.

    >>> significant(21681.9), significant(0.0314159), significant(48.0), significant(0)
    ('21\u202f700', '0.0314', '48', '0')
    """
    if value == 0:
        return "0"
    places = digits - 1 - _exponent(value)
    text = number(value, places)
    return text.rstrip("0").rstrip(".") if "." in text else text


def _exponent(value: float) -> int:
    return math.floor(math.log10(abs(value)))


def with_unit(text: str, unit: str = "") -> str:
    """Return a number's text with its unit.

    >>> with_unit("40", "°C"), with_unit("5", "")
    ('40\u202f°C', '5')
    """
    return f"{text}{SPACE}{unit}" if unit else text


def places_of(uncertainty: float, unit: str = "") -> int:
    """Return the decimals of a value with such a standard uncertainty.

    >>> places_of(1.43), places_of(0.96, "°C"), places_of(0.043), places_of(123.0), places_of(9.97)
    (1, 1, 3, -1, 0)
    """
    places = 1 - _exponent(uncertainty)
    if _exponent(round(uncertainty, places) or uncertainty) > _exponent(uncertainty):
        places -= 1  # rounding up made it longer by a digit, as 9.97 becomes 10
    return min(places, FINEST.get(unit, places))


def measured(value: float, uncertainty: float, unit: str = "") -> str:
    """Return a value with one standard uncertainty.

    >>> measured(26.4869, 1.429, "dBA"), measured(28.82776, 0.959778, "°C"), measured(1570.0, 123.0, "h")
    ('26.5 ± 1.4\u202fdBA', '28.8 ± 1.0\u202f°C', '1\u202f570 ± 120\u202fh')
    """
    if uncertainty <= 0:
        return quantity(value, unit)
    places = places_of(uncertainty, unit)
    return with_unit(f"{number(value, places)} ± {number(uncertainty, places)}", unit)


@register.filter
def figure(found: Mapping[str, float] | None, unit: str = "") -> str:
    """Return a figure of a record, ``{value, standard_uncertainty}``; a dash where the build has no such part.

    >>> figure({"value": 39.57311, "standard_uncertainty": 2.007676}, "°C"), figure(None, "°C")
    ('39.6 ± 2.0\u202f°C', '–')
    """
    return NOTHING if found is None else measured(found["value"], found["standard_uncertainty"], unit)


@register.filter
def value_of(found: Mapping[str, float] | None, unit: str = "") -> str:
    """Return a figure's value alone, where its uncertainty stands beside it.

    >>> value_of({"value": 39.57311, "standard_uncertainty": 2.007676}, "°C")
    '39.6\u202f°C'
    """
    return NOTHING if found is None else fixed(found["value"], unit)


@register.filter
def quantity(value: float | None, unit: str = "") -> str:
    """Return a value that is exact or whose uncertainty nobody states: to its unit's place, without idle zeros.

    >>> quantity(48.0, "°C"), quantity(5.853946, "K"), quantity(-0.5, "dB"), quantity(1162.5, "rpm"), quantity(None)
    ('48\u202f°C', '5.9\u202fK', '\u22120.5\u202fdB', '1\u202f162\u202frpm', '–')
    """
    if value is None:
        return NOTHING
    text = number(value, FINEST.get(unit, 2))
    return with_unit(text.rstrip("0").rstrip(".") if "." in text else text, unit)


@register.filter
def fixed(value: float | None, unit: str = "") -> str:
    """Return a value to its unit's place, idle zeros kept: for columns, and for figures that are predicted.

    >>> fixed(9.0, "K"), fixed(26.96, "dBA"), fixed(None, "K")
    ('9.0\u202fK', '27.0\u202fdBA', '–')
    """
    return NOTHING if value is None else with_unit(number(value, FINEST.get(unit, 1)), unit)


@register.filter
def signed(value: float, unit: str = "") -> str:
    """Return a difference with its sign.

    >>> signed(2.04, "dB"), signed(-2.04, "dB"), signed(0.0, "K")
    ('+2.0\u202fdB', '\u22122.0\u202fdB', '0.0\u202fK')
    """
    text = number(value, FINEST.get(unit, 1))
    return with_unit(f"+{text}" if value > 0 and text.strip("0.") else text, unit)


@register.filter
def exact(value: float | None, unit: str = "") -> str:
    """Return a value as a data sheet has it: up to six digits, very small ones by a power of ten.

    >>> exact(0.0314159), exact(5053.0, "rpm"), exact(1e-15, "1/bit"), exact(None)
    ('0.0314159', '5\u202f053\u202frpm', '1\u202f×\u202f10⁻¹⁵\u202f1/bit', '–')
    """
    if value is None:
        return NOTHING
    if 0 < abs(value) < SMALL:
        power = _exponent(value)
        return with_unit(f"{significant(value / 10**power)}{SPACE}×{SPACE}10{str(power).translate(_RAISED)}", unit)
    return with_unit(significant(value, 6), unit)


def stated(value: float, uncertainty: float, unit: str = "") -> str:
    """Return a figure of a data sheet with one standard uncertainty, to as many places as the latter is worth.

    A second digit of the uncertainty is said where the first is a 1 or a 2.

    >>> stated(140.0, 0.5, "mm"), stated(26.4869, 1.429, "dBA"), stated(0.04512, 0.00226), stated(1350, 67.5, "rpm")
    ('140.0 ± 0.5\u202fmm', '26.5 ± 1.4\u202fdBA', '0.0451 ± 0.0023', '1\u202f350 ± 70\u202frpm')
    >>> stated(1e-15, 5e-16, "1/bit"), stated(3.5, 0.0)
    ('(1.0 ± 0.5)\u202f×\u202f10⁻¹⁵\u202f1/bit', '3.5')
    """
    if uncertainty <= 0:
        return exact(value, unit)
    if 0 < abs(value) < SMALL and uncertainty < SMALL:
        power = _exponent(value)
        small = stated(value / 10**power, uncertainty / 10**power)
        return with_unit(f"({small}){SPACE}×{SPACE}10{str(power).translate(_RAISED)}", unit)
    first = _exponent(uncertainty)
    places = (1 if uncertainty / 10**first < 3 else 0) - first
    return with_unit(f"{number(value, places)} ± {number(uncertainty, places)}", unit)


def span(low: float, high: float, unit: str = "") -> str:
    """Return a range; its unit is said once.

    >>> span(400, 1350, "rpm"), span(-3, 2, "dB"), span(5, 5, "K")
    ('400–1\u202f350\u202frpm', '\u22123 to 2\u202fdB', '5\u202fK')
    """
    ends = quantity(low, ""), quantity(high, "")
    if ends[0] == ends[1]:
        return with_unit(ends[0], unit)
    return with_unit((" to " if low < 0 or high < 0 else "–").join(ends), unit)


@register.filter
def interval(found: Mapping[str, float], unit: str = "") -> str:
    """Return the range of two standard uncertainties about a figure.

    >>> interval({"value": 39.57311, "standard_uncertainty": 2.007676}, "°C")
    '35.6 to 43.6\u202f°C'
    """
    places = FINEST.get(unit, 1)
    half = 2 * found["standard_uncertainty"]
    return with_unit(f"{number(found['value'] - half, places)} to {number(found['value'] + half, places)}", unit)


@register.filter
def money(amount: float | None, currency: str = "") -> str:
    """Return an amount of money, cents only where there are some in a small sum.

    >>> money(3165.0, "EUR"), money(0.32, "EUR"), money(343.7476, "EUR")
    ('3\u202f165\u202fEUR', '0.32\u202fEUR', '344\u202fEUR')
    """
    return NOTHING if amount is None else with_unit(number(amount, 2 if 0 < abs(amount) < 10 else 0), currency)


@register.filter
def count(value: int) -> str:
    """Return a number of things.

    >>> count(14730), count(28424000), count(1e9), count(999_999)
    ('14\u202f730', '28.4 million', '1 billion', '999\u202f999')
    """
    for size, word in _LARGE:
        if value >= size:
            return f"{significant(value / size)} {word}"
    return number(value)


@register.filter
def counted(value: int, words: str) -> str:
    """Return how many of something; a plural that needs more than an s follows a slash.

    >>> counted(28424000, "build"), counted(1, "enclosure"), counted(2, "switch/switches")
    ('28.4 million builds', '1 enclosure', '2 switches')
    """
    one, _, many = words.partition("/")
    return f"{count(value)} {one if value == 1 else many or one + 's'}"


@register.filter
def share(value: float) -> str:
    """Return a share in percent, never quite all or nothing unless it is.

    >>> share(0.4574945), share(0.004), share(0.9999), share(1.0), share(0.0)
    ('46\u202f%', 'under 1\u202f%', 'over 99\u202f%', '100\u202f%', '0\u202f%')
    """
    if 0 < value < 0.01 or 0.99 < value < 1:
        return f"under 1{SPACE}%" if value < 0.5 else f"over 99{SPACE}%"
    return with_unit(number(from_si(value, "%")), "%")


@register.filter
def odds(probability: float) -> str:
    """Return a small probability as one in so many.

    >>> odds(0.0002305801), odds(0.4), odds(0.0)
    ('1 in 4\u202f300', '40\u202f%', 'none')
    """
    if probability <= 0:
        return "none"
    return f"1 in {significant(1 / probability, 2)}" if probability < 0.1 else share(probability)


@register.filter
def flow(flow_m3s: float, unit: str = "m3/h") -> str:
    """Return a flow without regard to its direction, in m3/h or l/s.

    >>> flow(-0.0129), flow(0.0129, "l/s"), flow(0.0001), flow(0.0)
    ('46\u202fm³/h', '12.9\u202fl/s', '0.36\u202fm³/h', '0\u202fm³/h')
    """
    return with_unit(flow_number(flow_m3s, unit), _FLOWS[unit])


def flow_number(flow_m3s: float, unit: str = "m3/h") -> str:
    """Return a flow's number alone, for labels that say the unit elsewhere."""
    value = abs(from_si(flow_m3s, unit))
    return number(value) if value >= 20 else significant(value, 3 if value >= 10 else 2)


@register.filter
def flow_with(flow_m3s: float, uncertainty: float) -> str:
    """Return a flow in m3/h with its standard uncertainty.

    >>> flow_with(0.0129, 0.0021)
    '46.4 ± 7.6\u202fm³/h'
    """
    return measured(abs(from_si(flow_m3s, "m3/h")), from_si(uncertainty, "m3/h"), _FLOWS["m3/h"])


@register.filter
def duration(seconds: float) -> str:
    """Return a time in the unit that suits it.

    >>> duration(23), duration(16.3 * 60), duration(31 * 3600), duration(40 * 86400), duration(21682 * 31557600)
    ('23\u202fs', '16\u202fmin', '31\u202fh', '40\u202fdays', '21\u202f700\u202fyears')
    """
    for size, most, unit in ((1, 90, "s"), (60, 90, "min"), (3600, 48, "h"), (86400, MONTHS_FROM, "days")):
        if seconds / size < most:
            return with_unit(significant(seconds / size, 2), unit)
    return with_unit(significant(seconds / (365.25 * 86400)), "years")


@register.filter
def minutes(value: float | None) -> str:
    """Return a time given in minutes."""
    return NOTHING if value is None else duration(60 * value)


@register.filter
def hours(value: float | None) -> str:
    """Return a time given in hours."""
    return NOTHING if value is None else duration(3600 * value)


@register.filter
def years(value: float | None) -> str:
    """Return a time given in years."""
    return NOTHING if value is None else duration(365.25 * 86400 * value)


@register.filter
def millimetres(metres: float | None) -> str:
    """Return a length in millimetres.

    >>> millimetres(0.345), millimetres(None)
    ('345\u202fmm', '–')
    """
    return NOTHING if metres is None else with_unit(number(from_si(metres, "mm")), "mm")


@register.filter
def dimensions(metres: Sequence[float]) -> str:
    """Return lengths side by side, as width, height and depth of an enclosure.

    >>> dimensions((0.235, 0.56, 0.3))
    '235 × 560 × 300\u202fmm'
    """
    return with_unit(" × ".join(number(from_si(one, "mm")) for one in metres), "mm")
