"""What was derived, as lines for a terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.tape.ledger import Derived


def derived_lines(derived: Iterable[Derived]) -> Iterator[str]:
    """Yield a line a figure, under a heading for each relation that follows another.

    >>> line = Derived("seats.processor.preheat", 0.85, "", 0.255, "by what feeds the part", "practice", (("by", "x"),))
    >>> print("\\n".join(derived_lines([line])))
    by what feeds the part (practice)
      seats.processor.preheat = 0.85 +- 0.255  from by x
    """
    told = None
    for line in derived:
        if (line.relation, line.source) != told:
            told = (line.relation, line.source)
            yield f"{line.relation} ({line.source})"
        unit = f" {line.unit}" if line.unit else ""
        inputs = ", ".join(
            f"{name} {value:g}" if isinstance(value, float) else f"{name} {value}" for name, value in line.inputs
        )
        yield f"  {line.figure} = {line.value:g} +- {line.uncertainty:g}{unit}  from {inputs}"
