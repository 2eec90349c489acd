"""How gunicorn serves: one process with threads suits two cores that also score studies.

The application is loaded in the process that answers, never before the fork: compiled kernels and the chart renderer do
not survive one.
"""

from django.conf import settings

bind = [f"127.0.0.1:{settings.PORT}"]
