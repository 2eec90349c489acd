"""The supervisor on small programs of its own: what they print, how they start again, how they end."""

import os
import signal
import subprocess
import sys
import time

import pytest

from advisor.project import processes, supervisor
from advisor.project.supervisor import Program, Supervisor, launcher

HELLO = "import time; print('hello', flush=True); time.sleep(60)"
STUBBORN = "import signal; signal.signal(signal.SIGTERM, signal.SIG_IGN); " + HELLO
PARENT = (
    "import subprocess, sys; child = subprocess.Popen([sys.executable, '-c', 'import time; time.sleep(60)']); "
    "print('child', child.pid, flush=True); "
)


@pytest.fixture
def run(tmp_path, monkeypatch):
    """Run programs, each a name and Python source, until a line is as wanted; return all lines."""
    monkeypatch.setattr(supervisor, "FIRST_DELAY_S", 0.02)
    monkeypatch.setattr(supervisor, "PATIENCE_S", 0.5)

    def run_until(wanted, **sources):
        lines = []

        def say(name, line):
            lines.append(f"{name}: {line}")
            if wanted(lines):
                os.kill(os.getpid(), signal.SIGTERM)

        programs = [
            Program(name, launcher([sys.executable, "-c", source], tmp_path, dict(os.environ)), delay_s=0.02)
            for name, source in sources.items()
        ]
        Supervisor(programs, tmp_path, say).run()
        return lines

    return run_until


def groups_of(lines):
    return [int(line.split()[-1]) for line in lines if " child " in line]


def test_lines_come_with_the_name_of_their_program(run):
    lines = run(lambda lines: len(lines) == 2, web=HELLO, sweep=HELLO)
    assert sorted(lines) == ["sweep: hello", "web: hello"]


def test_line_without_an_end_is_passed_on_when_the_program_ends(run):
    lines = run(lambda lines: len(lines) == 2, web="import sys; sys.stdout.write('cut off'); sys.exit(3)")
    assert sorted(lines) == ["web: cut off", "web: ended with code 3; starting again in 0.02 s"]


def test_program_that_ends_starts_again_later_each_time(run):
    lines = run(lambda lines: len(lines) == 4, sweep="raise SystemExit(1)")
    assert [line.split()[-2] for line in lines] == ["0.02", "0.04", "0.08", "0.16"]


def test_program_that_cannot_start_is_told_and_tried_again(tmp_path):
    lines = []

    def say(name, line):
        lines.append(line)
        runner.stop()

    runner = Supervisor([Program("web", launcher(["/nowhere/at-all"], tmp_path, {}))], tmp_path, say)
    runner.run()
    assert lines == [
        "could not be started: [Errno 2] No such file or directory: '/nowhere/at-all'; starting again in 0.5 s"
    ]


def test_what_a_dead_program_left_behind_is_ended_before_it_starts_again(run):
    lines = run(lambda lines: len(groups_of(lines)) == 2, web=PARENT + "raise SystemExit(1)")
    assert [pid for pid in groups_of(lines) if alive(pid)] == []


def test_children_of_programs_end_with_all(run):
    lines = run(groups_of, web=PARENT + "import time; time.sleep(60)")
    assert [pid for pid in groups_of(lines) if alive(pid)] == []


def test_program_that_does_not_listen_is_made_to_end(run):
    begun = time.monotonic()
    run(lambda lines: len(lines) == 1, web=STUBBORN)
    assert 0.5 <= time.monotonic() - begun < 5


def test_program_that_prints_much_while_it_ends_is_not_held_up(run):
    chatty = "import signal, sys; signal.signal(signal.SIGTERM, lambda *_: (print('x' * 10**6), sys.exit(0))); " + HELLO
    lines = run(lambda lines: lines == ["web: hello"], web=chatty)
    assert lines[1] == "web: " + "x" * 10**6


def test_orderly_end_leaves_no_notes(run, tmp_path):
    run(lambda lines: len(lines) == 1, web=HELLO)
    assert list(tmp_path.iterdir()) == []


def test_note_of_another_process_with_the_same_number_ends_nobody(tmp_path):
    bystander = subprocess.Popen([sys.executable, "-c", HELLO], start_new_session=True, stdout=subprocess.PIPE)
    bystander.stdout.readline()
    note = tmp_path / "web"
    processes.note(note, bystander.pid)
    started = next(row.started for row in processes.rows() if row.pid == bystander.pid)
    note.write_text(note.read_text().replace(started, "1"))
    assert processes.end_noted(note) == []
    assert bystander.poll() is None
    bystander.kill()
    bystander.communicate()


def alive(pid):
    return any(row.pid == pid and not row.ended for row in processes.rows())
