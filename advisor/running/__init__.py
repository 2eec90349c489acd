"""Outcomes on their way: chunks handed out, held under a lease, scored, merged once, and recovered when a worker died.

The database knows all of it; the broker only carries word of what may be begun, and may lose it at any time.
"""
