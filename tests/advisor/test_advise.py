"""``manage.py advise``: what it prints where, and with which code it leaves."""

import json
import multiprocessing
import os
import signal
import subprocess
import sys
import time
from concurrent.futures.process import BrokenProcessPool
from io import StringIO

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command

from advisor.engine.errors import SolverError
from advisor.management import scoring
from advisor.management.commands import advise
from advisor.study import Plan

# Threads of the test runner itself, of which Python 3.12 warns where a process is copied.
pytestmark = pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning")

GOOD = """
processor_watts: 65
board_form: micro_atx
drive_count: 3
layout: single_parity
noise_target_dba: 40
limit_drive_c: 60
"""


@pytest.fixture
def brief_file(tmp_path):
    file = tmp_path / "brief.yaml"
    file.write_text(GOOD)
    return file


def run(path, *options):
    """Run the command; return its exit code and what it wrote."""
    out, err = StringIO(), StringIO()
    try:
        call_command("advise", str(path), *options, stdout=out, stderr=err)
    except SystemExit as left:
        return left.code, out.getvalue(), err.getvalue()
    return 0, out.getvalue(), err.getvalue()


def refused(tmp_path, text):
    file = tmp_path / "bad.yaml"
    file.write_text(text)
    code, out, err = run(file)
    assert (code, out) == (2, "")
    return err.splitlines()


def test_answer_is_a_table(small_catalogue, brief_file):
    code, out, err = run(brief_file, "--jobs", "1")
    assert code == 0
    assert "builds considered in 1 enclosure:" in out
    assert "Before you build" in out
    assert any(line.startswith("Scoring ") for line in err.splitlines())


def test_answer_is_json_on_demand(small_catalogue, brief_file):
    code, out, _ = run(brief_file, "--json", "--jobs", "2")
    record = json.loads(out)
    assert code == 0
    assert record["counts"]["accepted"] > 0
    assert record["shortlist"][0]["enclosure"] == "tower"


def test_unmeetable_brief_is_answered(small_catalogue, brief_file):
    brief_file.write_text(GOOD.replace("drive_count: 3", "drive_count: 30"))
    code, out, _ = run(brief_file)
    assert code == 0
    assert "No build keeps every limit." in out
    assert "too few drive bays" in out and "Nearest misses" in out


def test_caution_on_a_brief_is_a_note(small_catalogue, brief_file):
    brief_file.write_text(GOOD + "room_background_dba: 45\n")
    code, out, err = run(brief_file)
    assert code == 0
    assert ("Note: noise_target_dba (40 dBA, the machine alone) is below room_background_dba") in err


def test_each_problem_is_a_line_with_field_value_and_what_is_accepted(small_catalogue, tmp_path):
    lines = refused(tmp_path, "processor_watts: -3\nboard_form: round\ndrive_count: 2\nnoise_target_dba: 30\nfoo: 1\n")
    assert len(lines) == 3
    assert "processor_watts: -3 is out of range; accepted: a number from 1 to 1000 W." in lines
    assert any(line.startswith("board_form: 'round' is not known") and "micro_atx" in line for line in lines)
    assert "foo is not a field; accepted: the fields of a brief." in lines


def test_unknown_part_is_refused_with_the_nearest_one(small_catalogue, tmp_path):
    (line,) = refused(tmp_path, GOOD + "excluded_parts: [drive-9]\n")
    assert "excluded_parts: 'drive-9' is not in the catalogue (did you mean 'drive-8'?)" in line


@pytest.mark.parametrize("text", ["", "- 1\n", "a: [", "a: &x 1\nb: *x\n", "\x00", "processor_watts: " + "9" * 5000])
def test_no_text_makes_it_fall_over(small_catalogue, tmp_path, text):
    for line in refused(tmp_path, text):
        assert "accepted:" in line


def test_missing_file_is_one_line(small_catalogue, tmp_path):
    code, out, err = run(tmp_path / "none.yaml")
    assert (code, out) == (2, "")
    assert err.startswith("'none.yaml' cannot be read (No such file or directory)")


def test_empty_catalogue_says_how_to_load_one(db, brief_file):
    code, _, err = run(brief_file)
    assert (code, err) == (
        2, "The catalogue is empty; load one first: python manage.py load_catalog fixtures/catalog\n",
    )  # fmt: skip


@pytest.mark.parametrize("jobs", ["0", "65", "two", "-1"])
def test_impossible_number_of_jobs_is_refused(brief_file, jobs):
    with pytest.raises(CommandError, match=f"'{jobs}' is not a whole number from 1 to 64"):
        call_command("advise", str(brief_file), f"--jobs={jobs}")


def test_interrupt_is_one_line(small_catalogue, brief_file, monkeypatch):
    def interrupted(*args, **options):
        raise KeyboardInterrupt

    monkeypatch.setattr(advise, "answer", interrupted)
    code, out, err = run(brief_file)
    assert (code, out) == (130, "")
    assert err.splitlines()[-1] == "Stopped before the study was done."


def test_brief_that_cannot_be_computed_is_refused(small_catalogue, tmp_path):
    heat = GOOD.replace("processor_watts: 65", "processor_watts: 900")
    lines = refused(tmp_path, heat + "placement: cupboard\nlimit_processor_c: 125\nhot_day_c: 58\n")
    assert lines[-1].startswith("The brief cannot be computed: placement 'cupboard' would warm the machine's air to")


def test_engine_failure_is_one_line(small_catalogue, brief_file, monkeypatch):
    def failing(*args):
        raise SolverError("the airflow network did not settle")

    monkeypatch.setattr(scoring.study, "score_chunk", failing)
    code, out, err = run(brief_file)
    assert (code, out) == (1, "")
    assert err.splitlines()[-1] == "The study failed: the airflow network did not settle"


@pytest.fixture
def plan():
    return Plan(None, None, ("endless", "fails"), "0", "")


def score_together(plan):
    with scoring._crew(plan, 2) as crew:
        crew.scored({"endless": 2, "fails": 1}, lambda count: None)


def test_failure_stops_the_other_processes(plan, monkeypatch, tmp_path):
    """A chunk that goes on for ever ends once another one has failed."""
    started = tmp_path / "started"

    def score(plan, code, progress):
        if code == "fails":
            while not started.exists():
                time.sleep(0.01)
            raise SolverError("broken")
        started.touch()
        while True:
            time.sleep(0.01)

    monkeypatch.setattr(scoring.study, "score_chunk", score)
    with pytest.raises(SolverError, match="broken"):
        score_together(plan)
    assert multiprocessing.active_children() == []


def test_process_that_is_ended_from_outside_ends_the_study(plan, monkeypatch):
    def score(plan, code, progress):
        if code == "fails":
            os.kill(os.getpid(), signal.SIGKILL)
        while True:
            time.sleep(0.01)

    monkeypatch.setattr(scoring.study, "score_chunk", score)
    with pytest.raises(BrokenProcessPool):
        score_together(plan)
    assert multiprocessing.active_children() == []


def test_number_of_processes_changes_nothing(transactional_db, small_catalogue, brief_file):
    # Committed, since the command ends its connections before it copies itself.
    answers = [json.loads(run(brief_file, "--json", "--jobs", jobs)[1]) for jobs in ("1", "2", "3")]
    assert answers[0]["shortlist"] and answers[0] == answers[1] == answers[2]


def test_processes_tell_how_far_they_are(monkeypatch):
    def score(plan, code, progress):
        progress(5)
        return code

    monkeypatch.setattr(scoring.study, "score_chunk", score)
    told = []
    with scoring._crew(Plan(None, None, ("a", "b"), "0", ""), 2) as crew:
        assert sorted(crew.scored({"a": 7, "b": 4}, told.append)) == ["a", "b"]
    assert sum(told) == 11


class Terminal(StringIO):
    def isatty(self):
        return True


def test_progress_is_a_bar_on_a_terminal():
    stream = Terminal()
    with scoring._progress(10, 2, stream) as report:
        report(10)
    assert "100%" in stream.getvalue() and "Scoring" in stream.getvalue()


def test_progress_is_two_lines_elsewhere():
    stream = StringIO()
    with scoring._progress(10, 2, stream) as report:
        report(10)
    first, last = stream.getvalue().splitlines()
    assert first == "Scoring 10 builds in 2 enclosures ..."
    assert last.startswith("Done in ")


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Start a real process over the demo catalogue."""
    environment = os.environ | {"BAYWIND_DATA": str(tmp_path_factory.mktemp("data"))}
    manage = [sys.executable, "manage.py"]
    for command in (["migrate", "--verbosity", "0"], ["load_catalog", "fixtures/catalog"]):
        subprocess.run(manage + command, cwd=settings.BASE_DIR, env=environment, check=True, capture_output=True)

    def start(brief, stdout):
        command = [*manage, "advise", f"fixtures/briefs/{brief}.yaml"]
        where = {"cwd": settings.BASE_DIR, "env": environment, "text": True}
        return subprocess.Popen(command, stdout=stdout, stderr=subprocess.PIPE, preexec_fn=heed_interrupts, **where)

    return start


def heed_interrupts():
    """A program started in the background of a shell inherits that it ignores them; a person's terminal does not."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


@pytest.mark.slow
def test_interrupt_from_the_keyboard_leaves_at_once(demo):
    process = demo("ten_drive_archive_box", subprocess.PIPE)
    while not process.stderr.readline().startswith("Scoring "):
        assert process.poll() is None
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=60)
    assert (process.returncode, out) == (130, "")
    assert err.splitlines()[-1] == "Stopped before the study was done."
    assert "Traceback" not in err


@pytest.mark.slow
def test_reader_that_leaves_early_causes_no_trace(demo):
    read, write = os.pipe()
    os.close(read)
    process = demo("impossible", write)
    os.close(write)
    _, err = process.communicate(timeout=120)
    assert process.returncode == 1
    assert "Traceback" not in err and "Exception" not in err
