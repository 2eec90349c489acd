"""Measurements of speed: ``python -m tests.bench [name]``, or ``make bench ONLY=name``.

Each runs in a fresh process with kernels compiled beforehand. ``listing`` names them and what is asked of each.
"""
