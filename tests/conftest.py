"""What all tests share: how hypothesis draws."""

import os

from hypothesis import settings

# The same examples on each run, so that a failure is a change's own; FRESH_EXAMPLES=1 looks for new ones.
settings.register_profile("baywind", deadline=None, derandomize="FRESH_EXAMPLES" not in os.environ, print_blob=True)
settings.load_profile("baywind")
