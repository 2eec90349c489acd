"""The shell lines of the README's minute of REST do what they say, sent by curl to a server."""

import json
import re
import shutil
import subprocess

import pytest
from django.conf import settings

SECTION = (settings.BASE_DIR / "README.md").read_text().split("## REST in a minute\n", 1)[1].split("\n## ", 1)[0]
LINES = re.search(r"```sh\n(.*?)```", SECTION, re.DOTALL)[1]


@pytest.mark.slow
@pytest.mark.django_db(transaction=True)
@pytest.mark.skipif(shutil.which("curl") is None, reason="needs curl, as the README does")
def test_a_minute_of_rest(live_server, small_catalogue, tmp_path):
    script = LINES.replace("http://127.0.0.1:8000", live_server.url)
    # A line of its own between answers, which end without one.
    script = re.sub(r"^(curl .*)$", r"\1; echo", script, flags=re.MULTILINE)
    done = subprocess.run(["bash", "-euo", "pipefail", "-c", script], cwd=tmp_path, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    study, fans, opened, signed_in, me, cancelled = (json.loads(line) for line in done.stdout.splitlines())
    assert study["status"] == "queued" and study["brief"]["processor_watts"] == 65
    prices = [fan["price"] for fan in fans["results"]]
    assert prices == sorted(prices) and len(prices) == 2
    assert opened == signed_in == me and me["username"] == "mara.field"
    assert cancelled["status"] == "cancelled"
