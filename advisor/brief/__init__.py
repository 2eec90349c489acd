"""The brief as people write it, checked and turned into what the engine takes."""

from advisor.brief.canonical import canonical
from advisor.brief.fields import CRITERIA, DEFAULT_WEIGHTS, FIELDS, Field
from advisor.brief.files import read_brief_file
from advisor.brief.reading import BriefReading, read_brief
from advisor.brief.values import Caution, Problem

__all__ = [
    "CRITERIA",
    "DEFAULT_WEIGHTS",
    "FIELDS",
    "BriefReading",
    "Caution",
    "Field",
    "Problem",
    "canonical",
    "read_brief",
    "read_brief_file",
]
