"""Where the broker of one machine listens; only the standard library is used here, since the settings ask.

It is a socket in a folder that only this user may enter, or, where the socket's path would be too long for the system,
a loopback port with a password that is kept in a file of that folder.
"""

from __future__ import annotations

import os
import secrets
import socket
from pathlib import Path
from urllib.parse import quote

from advisor.project.kept import kept_text, private_folder

LONGEST_SOCKET_PATH = 100  # bytes; systems end between 104 and 108


def broker_folder(data: Path) -> Path:
    """Return the broker's folder within a data folder."""
    return data / "broker"


def socket_file(data: Path) -> Path:
    return broker_folder(data) / "broker.sock"


def address_file(data: Path) -> Path:
    """Return the file that keeps the port and the password, where there is no socket."""
    return broker_folder(data) / "address"


def address(data: Path) -> str:
    """Return the address that Celery uses, whether the broker runs or not."""
    file = socket_file(data)
    if len(os.fsencode(file)) <= LONGEST_SOCKET_PATH:
        return f"redis+socket://{quote(str(file))}?virtual_host=0"
    private_folder(broker_folder(data))
    return kept_text(address_file(data), _new_address)


def _new_address() -> str:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    return f"redis://:{secrets.token_urlsafe(32)}@127.0.0.1:{port}/0"


def is_free(host: str, port: int) -> bool:
    """Return whether a program could listen on a port."""
    with socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError:
            return False
    return True
