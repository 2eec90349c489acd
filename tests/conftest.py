"""What all tests share: how hypothesis draws."""

import os

from hypothesis import settings

# The same examples on each run where a run must mean something; new ones on a developer's machine.
settings.register_profile("baywind", deadline=None, derandomize="CI" in os.environ, print_blob=True)
settings.load_profile("baywind")
