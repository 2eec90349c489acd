"""Catalogue files into the database; ``loading`` has the order: read, parse, check, compare, write."""
