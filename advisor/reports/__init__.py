"""What a study found, in the shape that pages, the REST interface and the terminal all show."""

from advisor.reports.entries import build_entry, miss_entry, shortlist_entry
from advisor.reports.front import front_record
from advisor.reports.study import study_record

__all__ = ["build_entry", "front_record", "miss_entry", "shortlist_entry", "study_record"]
