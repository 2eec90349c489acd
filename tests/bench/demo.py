"""The demo catalogue, loaded into a database of its own in a temporary data folder."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from advisor.project.kernel_cache import kernel_folder

ROOT = Path(__file__).resolve().parents[2]


@contextmanager
def demo_data() -> Iterator[dict[str, str]]:
    """Yield the environment in which commands find the demo catalogue; compiled kernels stay where they are."""
    with TemporaryDirectory(prefix="baywind-bench-") as folder:
        environment = os.environ | {"BAYWIND_DATA": folder, "NUMBA_CACHE_DIR": kernel_cache()}
        environment.pop("DATABASE_URL", None)
        for command in (("migrate", "--verbosity", "0"), ("load_catalog", "fixtures/catalog")):
            manage(environment, *command)
        yield environment


def kernel_cache() -> str:
    """Where compiled kernels are kept."""
    data = (ROOT / os.environ.get("BAYWIND_DATA", "var")).resolve()
    return os.environ.get("NUMBA_CACHE_DIR") or str(kernel_folder(data))


def manage(environment: dict[str, str], *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run a management command in a fresh process; one that fails is an error."""
    command = [sys.executable, "manage.py", *arguments]
    done = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True)
    if done.returncode:
        raise RuntimeError(f"manage.py {' '.join(arguments)} failed ({done.returncode}): {done.stderr.strip()[-2000:]}")
    return done


def set_up(environment: dict[str, str]) -> None:
    """Set Django up in this process with the demo catalogue's database."""
    os.environ.update(environment)
    os.environ["DJANGO_SETTINGS_MODULE"] = "advisor.project.settings"
    import django

    django.setup()
