"""A study's record as text for a terminal, 100 columns wide."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from typing import Any

from advisor.engine.record.spot import CODES, GROUPS

WIDTH = 100
MISSES_SHOWN = 8
TIES_SHOWN = 6
REASONS = {
    "too_wide": "enclosure too wide",
    "too_high": "enclosure too high",
    "too_deep": "enclosure too deep",
    "orientation": "may not stand that way",
    "board_form": "board does not fit",
    "card_length": "graphics board too long",
    "card_slots": "too few card slots",
    "drive_bays": "too few drive bays",
    "hot_swap": "too few hot-swap bays",
    "layout_capacity": "capacity out of reach",
    "drives_per_box": "too many drives for their model",
    "controller_ports": "too few drive ports",
    "cooler_socket": "cooler for another socket",
    "cooler_height": "cooler too high",
    "supply_form": "supply of another form",
    "supply_length": "supply too long",
    "supply_rating": "supply too weak",
    "supply_surge": "drives cannot start",
    "over_budget": "over the budget",
    "noise": "too loud",
    "processor_limit": "processor too hot",
    "graphics_limit": "graphics board too hot",
    "drive_limit": "drives too hot",
    "ssd_limit": "solid-state drive too hot",
    "card_limit": "card too hot",
    "controller_limit": "controller too hot",
    "no_common_setting": "quiet or cool enough, never both",
}
_COLUMNS = "{:>5} {:<25.24}{:>11}  {:^25}  {:<24}{:>5}"
_HEAD = _COLUMNS.format("rank", "enclosure", "price", "noise idle / working, dBA", "least headroom", "worth")


def study_text(record: dict[str, Any]) -> str:
    """Return a study's record as people read it in a terminal."""
    return "\n".join(_study(record)) + "\n"


def _study(record: dict[str, Any]) -> Iterator[str]:
    if record["title"]:
        yield from (record["title"], "")
    yield from _counts(record)
    entries = record["shortlist"]
    if entries:
        yield from ("", _HEAD, "-" * WIDTH)
        for entry in entries:
            yield from _entry(entry, record)
        yield ""
        yield from _wrapped(
            f"Speeds are in rpm for {', '.join(CODES)}. = marks builds of one rank: the measurements cannot tell them "
            "from the first of it."
        )
        yield from _first(entries[0], record["brief"]["currency"])
    for note in record["notes"]:
        yield from ("", *_wrapped(note))
    yield from _misses(record["nearest_misses"])
    yield from ("", "Before you build")
    for caution in record["cautions"]:
        yield from _bullet(caution)


def _counts(record: dict[str, Any]) -> Iterator[str]:
    counts = record["counts"]
    rejected = sum(counts["rejected"].values())
    yield from _wrapped(
        f"{_grouped(counts['considered'])} builds considered in {_counted(record['progress']['total'])}: "
        f"{_grouped(counts['accepted'])} accepted, {_grouped(rejected)} rejected, {_grouped(counts['pruned'])} left "
        "out, proven unable to make the list."
    )
    if not record["shortlist"]:
        yield "No build keeps every limit."
    if rejected:
        yield from ("", "Rejected, by the first requirement missed:")
    by_count = sorted(counts["rejected"].items(), key=lambda pair: -pair[1])
    cells = [f"  {_grouped(count):>13}  {REASONS.get(code, code):<33}" for code, count in by_count]
    half = -(-len(cells) // 2)
    for row in range(half):
        yield "".join(cells[row::half]).rstrip()


def _entry(entry: dict[str, Any], record: dict[str, Any]) -> Iterator[str]:
    same = [other for other in record["shortlist"] if other["rank"] == entry["rank"]]
    rank = f"{entry['rank']}{'=' if len(same) > 1 else ' '}"
    price = f"{entry['price']:.0f} {record['brief']['currency']}"
    noise = " / ".join(_figure(entry["predictions"][code]["noise_dba"]) for code in ("idle", "working"))
    yield _COLUMNS.format(rank, entry["enclosure"], price, noise, _warmest(entry), f"{entry['desirability']:.2f}")
    yield from _indented("fans", ", ".join(_fans(entry)) or "none")
    yield from _indented("parts", ", ".join(_others(entry)))
    yield from _indented("speeds", ", ".join(_speeds(entry)))
    names = {other["id"]: other["enclosure"] for other in record["shortlist"]}
    apart = [names[one] for one in entry["tied_with"] if one in names]
    if apart:
        more = len(apart) - TIES_SHOWN
        said = ", ".join(apart[:TIES_SHOWN]) + (f" and {more} more" if more > 0 else "")
        yield from _indented("ties", f"not told apart from {said}")


def _warmest(entry: dict[str, Any]) -> str:
    """The part nearest its limit in any scenario."""
    parts = [part for code in CODES for part in entry["predictions"][code]["temperatures"]]
    part = min(parts, key=lambda one: one["headroom_k"])
    return f"{part['role']} {part['temperature_c']['value']:.0f} °C, {part['headroom_k']:.1f} K"


def _figure(figure: dict[str, float]) -> str:
    return f"{figure['value']:.1f} ± {figure['standard_uncertainty']:.1f}"


def _fans(entry: dict[str, Any]) -> list[str]:
    return _totals(line for line in entry["parts"] if line["role"].endswith("_fan"))


def _others(entry: dict[str, Any]) -> list[str]:
    bought = (line for line in entry["parts"] if line["price"] is not None and line["role"] != "enclosure")
    return _totals(line for line in bought if not line["role"].endswith("_fan"))


def _totals(lines: Iterable[dict[str, Any]]) -> list[str]:
    """Parts of one role together, whatever their places."""
    totals: dict[tuple[str, str], int] = {}
    for line in lines:
        key = line["role"].removesuffix("_fan"), line["part"]
        totals[key] = totals.get(key, 0) + line["quantity"]
    return [f"{role} {count} × {part}" if count > 1 else f"{role} {part}" for (role, part), count in totals.items()]


def _speeds(entry: dict[str, Any]) -> Iterator[str]:
    settings = entry["settings"]
    for group in GROUPS:
        models = list(settings[CODES[0]][group]["fans"])
        for model in models:
            listed = "/".join(f"{settings[code][group]['fans'][model]:.0f}" for code in CODES)
            yield f"{group} {listed}" if len(models) == 1 else f"{group} {model} {listed}"


def _first(entry: dict[str, Any], currency: str) -> Iterator[str]:
    yield from ("", f"About {entry['enclosure']}, the first")
    for sentence in (*entry["reasons"], *entry["warnings"], *entry["cautions"][:1]):
        yield from _bullet(sentence)
    for name, one in entry["ends"].items():
        said = f"At its {name} within the limits: {one['noise_dba']:.1f} dBA, headroom {one['headroom_k']:.1f} K."
        yield from _bullet(said)
    power = entry["power"]
    yield from _bullet(
        f"It takes {power['yearly_kwh']:.0f} kWh a year, which cost {power['yearly_cost']:.0f} {currency}."
    )
    if power["ups"]:
        yield from _bullet(f"UPS: {power['ups']['reason']}")


def _misses(misses: list[dict[str, Any]]) -> Iterator[str]:
    if not misses:
        return
    yield from ("", "Nearest misses: enclosures without an accepted build, and what would let one in")
    for miss in misses[:MISSES_SHOWN]:
        yield from _bullet(f"{miss['enclosure']} ({REASONS.get(miss['code'], miss['code'])}): {miss['text']}")
    left = len(misses) - MISSES_SHOWN
    if left > 0:
        yield f"  and {left} more; --json lists all."


def _counted(enclosures: int) -> str:
    return f"{enclosures} enclosure{'' if enclosures == 1 else 's'}"


def _grouped(count: int) -> str:
    return f"{count:,}".replace(",", " ")


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, break_on_hyphens=False)


def _bullet(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent="  - ", subsequent_indent="    ", break_on_hyphens=False)


def _indented(label: str, text: str) -> list[str]:
    first = f"      {label:<8}"
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=" " * len(first), break_on_hyphens=False)
