"""The search: every candidate of every enclosure is accounted for, the best are ranked."""
