"""How gunicorn serves: one process with threads suits a machine of two cores that scores studies besides.

Rates of requests are counted within the process, so that a second one would let through twice as many. The application
is loaded after the fork (``preload_app``): compiled kernels and the chart renderer do not survive one.
"""

import os
from pathlib import Path
from typing import Any

from django.conf import settings

from advisor.project import processes, programs

bind = [f"[{settings.LISTEN}]:{settings.PORT}" if ":" in settings.LISTEN else f"{settings.LISTEN}:{settings.PORT}"]
worker_class = "gthread"
workers = 1
threads = 8
preload_app = False
timeout = 60
graceful_timeout = 3
keepalive = 5
control_socket_disable = True
logconfig_dict = settings.LOGGING
worker_tmp_dir = "/dev/shm" if Path("/dev/shm").is_dir() else None  # a disk that stalls would look like a dead worker

_master = os.getpid()


def post_fork(server: Any, worker: Any) -> None:
    """End each process with its group, even if the group's first process is killed."""
    processes.tie_to(_master)


def post_worker_init(worker: Any) -> None:
    """Tell the supervisor once the application is loaded."""
    worker.log.info("%s %s", programs.READY["web"], bind[0])
