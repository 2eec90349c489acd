"""What the search finds: candidates, counts and nearest misses, of one enclosure and of a whole study."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields
from typing import Any

from advisor.engine.case.fans import FanSet
from advisor.engine.inputs import Cooler, Drive, Enclosure, Supply

ALTERNATIVES = 5
ENTRIES = 20
DIGITS = 10  # figures that agree to this many digits are equal in rank


@dataclass(frozen=True)
class Candidate:
    """One complete build; ``price`` is that of all its parts."""

    enclosure: Enclosure
    fans: FanSet
    cooler: Cooler
    supply: Supply
    drive: Drive | None
    drive_count: int
    price: float

    @property
    def codes(self) -> tuple[str, ...]:
        """Codes of the parts that tell candidates apart: enclosure, intake and exhaust fans, cooler, supply, drive."""
        sides = [
            "+".join(dict.fromkeys(fan.code for _, fan in side)) or "none"
            for side in (self.fans.intake, self.fans.exhaust)
        ]
        drive = self.drive.code if self.drive else "none"
        return self.enclosure.code, *sides, self.cooler.code, self.supply.code, drive

    @property
    def id(self) -> str:
        """The codes as one."""
        return "~".join(self.codes)


@dataclass(frozen=True)
class Scored:
    """An accepted candidate: chosen row and cooler step per scenario (5,), worst-scenario figures, desirabilities."""

    candidate: Candidate
    rows: tuple[int, ...]
    steps: tuple[int, ...]
    noise_margin_db: float
    headroom_k: float
    airflow: float
    criteria: Mapping[str, float]
    desirability: float

    @property
    def order(self) -> tuple[float, float, str]:
        """Sort key: best desirability first, then the cheaper, then the id."""
        return -round(self.desirability, DIGITS), round(self.candidate.price, 6), self.candidate.id


@dataclass(frozen=True)
class NearMiss:
    """The candidate of an enclosure that misses by least: under which code it is counted, and by how much.

    ``tier`` 0 holds parts that fit and miss a figure, 1 parts that do not fit. ``miss`` is in the scales of
    ``fit.SCALES``.
    ``rows`` and ``steps`` say at which setting; empty in tier 1.
    """

    candidate: Candidate
    code: str
    tier: int
    miss: float
    text: str
    rows: tuple[int, ...] = ()
    steps: tuple[int, ...] = ()

    @property
    def order(self) -> tuple[int, float, float, str]:
        """Sort key: least miss first, then the cheaper, then the id."""
        return self.tier, round(self.miss, DIGITS), round(self.candidate.price, 6), self.candidate.id


@dataclass(frozen=True)
class Front:
    """Columns, a row a build: its parts' codes as ``Candidate.codes`` has them, its figures and its desirability.

    ``noise_dba`` is the level of the machine alone in the loudest scenario that is judged, ``headroom_k`` the least
    distance of any part from its limit at the brief's confidence, ``spare_places`` how many more drives it takes,
    beyond the bays that the brief keeps free.
    """

    enclosure: tuple[str, ...] = ()
    intake: tuple[str, ...] = ()
    exhaust: tuple[str, ...] = ()
    cooler: tuple[str, ...] = ()
    supply: tuple[str, ...] = ()
    drive: tuple[str, ...] = ()
    drive_count: tuple[int, ...] = ()
    noise_dba: tuple[float, ...] = ()
    headroom_k: tuple[float, ...] = ()
    spare_places: tuple[int, ...] = ()
    price: tuple[float, ...] = ()
    desirability: tuple[float, ...] = ()

    def __len__(self) -> int:
        return len(self.enclosure)

    def rows(self) -> Iterator[tuple[Any, ...]]:
        """Iterate over the builds, each as a tuple in the order of the columns."""
        return zip(*(getattr(self, one.name) for one in fields(self)), strict=True)


@dataclass(frozen=True)
class EnclosureOutcome:
    """All candidates of one enclosure accounted for; ``best`` holds at most six, best first.

    ``front`` is that of the builds that were judged and accepted; see ``search.front``.
    """

    enclosure: str
    considered: int
    accepted: int
    pruned: int
    rejected: Mapping[str, int]
    best: tuple[Scored, ...]
    nearest_miss: NearMiss | None
    flow_solves: int = 0
    warnings: tuple[str, ...] = field(default=())
    front: Front = field(default=Front())
