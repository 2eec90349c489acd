"""The machine a measurement is of."""

from __future__ import annotations

import os
import platform
from pathlib import Path
from typing import Any


def machine() -> dict[str, Any]:
    """Return processor model, cores, Python, and how busy the machine has been for a minute."""
    return {
        "processor": _processor(),
        "cores": os.cpu_count(),
        "python": platform.python_version(),
        "system": platform.system(),
        "load_before": round(os.getloadavg()[0], 2),
    }


def _processor() -> str:
    known = Path("/proc/cpuinfo")
    if known.exists():
        for line in known.read_text().splitlines():
            if line.startswith("model name"):
                return line.partition(":")[2].strip()
    return platform.processor() or platform.machine()
