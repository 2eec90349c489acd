"""Where compiled kernels are kept: a folder for each state of the engine's sources.

Numba looks at the file that holds a kernel, not at the modules the kernel calls; a folder that changes with any of
them leaves no stale machine code. Only the standard library is used here: the Makefile runs this before anything is
installed.
"""

import hashlib
import sys
from pathlib import Path

ENGINE = Path(__file__).resolve().parents[1] / "engine"


def kernel_folder(data: Path) -> Path:
    """Return the folder for the engine as it stands, below the data folder."""
    state = hashlib.sha256()
    for file in sorted(ENGINE.rglob("*.py")):
        state.update(str(file.relative_to(ENGINE)).encode() + b"\0" + file.read_bytes() + b"\0")
    return data / "numba" / state.hexdigest()[:16]


if __name__ == "__main__":
    print(kernel_folder(Path(sys.argv[1])))
