"""Judging settings of fans: how far every limit is met, and which setting is best."""
