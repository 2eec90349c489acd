"""One build at its settings, described in full: what people read about it. ``describe.describe`` is the way in."""
