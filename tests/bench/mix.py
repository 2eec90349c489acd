"""The million candidates: nine enclosures of the demo catalogue, of eight kinds, with all its parts that fit.

The brief is the sample one of ten drives, at a noise target and a drive limit that almost half of all candidates can
meet. What does not fit by size, socket, form or bays is left out of the count: it is turned down without being judged.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from advisor.engine.case.named import named_parts
from advisor.engine.inputs import Brief, Catalogue, Enclosure
from advisor.engine.search.fitting import fitted_cases, part_misfits
from advisor.engine.search.space import allowed, space_of

ROOT = Path(__file__).resolve().parents[2]
BRIEF = ROOT / "fixtures" / "briefs" / "ten_drive_archive_box.yaml"
NOISE_TARGET_DBA, LIMIT_DRIVE_C = 38.0, 55.0
ENCLOSURES = (
    "hallmere-granary-wide",
    "hallmere-tithe-barn",
    "quenfold-4u-plain",
    "quenfold-louvre",
    "quenfold-twelve",
    "quenfold-3u-deep",
    "rushgate-2u-12",
    "rushgate-3u-20",
    "rushgate-larder-12",
)


@dataclass(frozen=True)
class Mix:
    """A brief and the catalogue its candidates are made from."""

    brief: Brief
    catalogue: Catalogue

    @property
    def size(self) -> int:
        """Number of candidates whose parts fit together."""
        return sum(part.candidates for part in self.parts())

    def parts(self) -> tuple[Part, ...]:
        """Every enclosure's share, the largest first."""
        found = (part_of(self.brief, self.catalogue, enclosure) for enclosure in self.catalogue.enclosures)
        return tuple(sorted(found, key=lambda part: -part.candidates))


@dataclass(frozen=True)
class Part:
    """What one enclosure contributes: sets of fans, coolers, pairs of a drive and a supply that fit."""

    enclosure: str
    kind: str
    fan_sets: int
    coolers: int
    supplies: int
    drives: int
    pairs: int
    airs: int

    @property
    def candidates(self) -> int:
        """Number of its candidates."""
        return self.fan_sets * self.coolers * self.pairs


def part_of(brief: Brief, catalogue: Catalogue, enclosure: Enclosure) -> Part:
    """Count what fits one enclosure."""
    space, named = space_of(brief, catalogue, enclosure), named_parts(brief, catalogue)
    found = part_misfits(brief, catalogue, space, named)
    cases = fitted_cases(brief, catalogue, space, named, found)
    return Part(
        enclosure.code, enclosure.kind, len(space.fan_sets), sum(misfit is None for misfit in found.coolers),
        len({s for case in cases for s in case.supply}), len({d for case in cases for d in case.drive}),
        sum(len(case.drive) for case in cases), sum(len(case.airs) for case in cases),
    )  # fmt: skip


def demo_mix() -> Mix:
    """Return the million candidates; Django must be set up and the demo catalogue loaded."""
    from advisor.assembly import catalogue
    from advisor.brief import read_brief_file

    brief = read_brief_file(BRIEF).brief
    if brief is None:
        raise ValueError(f"the sample brief {BRIEF.name} was refused; make it one that is accepted")
    brief = replace(brief, noise_target_dba=NOISE_TARGET_DBA, limit_drive_c=LIMIT_DRIVE_C)
    return Mix(brief, _only(allowed(brief, catalogue()), ENCLOSURES))


def _only(catalogue: Catalogue, codes: Iterable[str]) -> Catalogue:
    wanted = set(codes)
    left = tuple(enclosure for enclosure in catalogue.enclosures if enclosure.code in wanted)
    missing = wanted - {enclosure.code for enclosure in left}
    if missing:
        raise ValueError(f"the demo catalogue has no enclosure {', '.join(sorted(missing))}; name others in {__name__}")
    return replace(catalogue, enclosures=left)
