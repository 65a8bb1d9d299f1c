"""The process beside the app: what it answers, that it ends with the app, and what happens when it dies."""

import os
import signal
import subprocess
import sys
import time
from functools import partial
from threading import get_ident

import pytest
from child import environment
from driver import Driver
from kivy.clock import Clock

from evaltrack.store.opening import open_season
from evaltrack.touch import app as app_module
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.worker import worker as worker_module
from evaltrack.touch.worker.problems import with_problems
from evaltrack.touch.worker.worker import Worker


@pytest.fixture(scope="module")
def shared():
    """Return a worker for the tests that leave it as it was."""
    worker = Worker()
    yield worker
    worker.close()


def asked(worker, work, timeout=30.0):
    """Have the work done and return what came back: ``done`` or ``failed``, and the result or sentence."""
    came = []
    worker.ask(
        work, lambda result: came.append(("done", result)), lambda words: came.append(("failed", words))
    )
    end = time.monotonic() + timeout
    while not came:
        assert time.monotonic() < end, "timed out"
        Clock.tick()
    return came[0]


def test_work_is_done_in_one_other_process(shared):
    """All work goes to the same process, which is not the app's."""
    first, again = (asked(shared, os.getpid) for _ in range(2))
    assert first == again
    assert first[0] == "done"
    assert first[1] != os.getpid()


def test_no_kivy_in_it(shared):
    """The process beside the app opens no window and loads nothing of Kivy, even after the standings."""
    asked(shared, partial(__import__, "evaltrack.analysis.standings.live"))
    loaded = asked(shared, partial(eval, "[name for name in __import__('sys').modules if 'kivy' in name]"))
    assert loaded == ("done", [])


def test_an_iterator_comes_piece_by_piece(shared):
    """What work yields comes back as a list, in order."""
    assert asked(shared, partial(map, abs, [-3, 1, -2])) == ("done", [3, 1, 2])


@pytest.mark.parametrize("process", [True, False], ids=["in a process", "on a thread"])
def test_pieces_are_heard_as_they_come(shared, monkeypatch, process):
    """Whoever listens gets each piece on the screens' thread before the whole, in order."""
    monkeypatch.setattr(worker_module, "_started", worker_module._started if process else lambda: None)
    worker, heard = shared if process else Worker(), []
    pieces = partial(map, abs, [-3, 1, -2])
    worker.ask(pieces, heard.append, heard.append, lambda piece: heard.append((piece, get_ident())))
    end = time.monotonic() + 30
    while [3, 1, 2] not in heard:
        assert time.monotonic() < end, "timed out"
        Clock.tick()
    assert heard == [(3, get_ident()), (1, get_ident()), (2, get_ident()), [3, 1, 2]]
    if not process:
        worker.close()


def test_refusal_is_its_own_sentence(shared, tmp_path):
    """A sentence for the user comes back as it is."""
    kind, sentence = asked(shared, partial(open_season, tmp_path / "gone.db"))
    assert kind == "failed"
    assert sentence.startswith("there is no file")


@pytest.mark.parametrize("work", [partial(int, "x"), partial(eval, "lambda: 1"), partial(map, int, "1x")])
def test_fault_is_told_and_logged_with_its_trace(shared, faults, work):
    """A fault there, or an answer that cannot be sent, is a sentence here; the log has the trace."""
    kind, sentence = asked(shared, work)
    assert kind == "failed"
    assert "what is saved is safe" in sentence
    assert "Traceback" in faults[0].getMessage()
    assert asked(shared, partial(abs, -1)) == ("done", 1)


def test_what_work_prints_does_no_harm(shared):
    """Words on the standard output do not come between the messages."""
    assert asked(shared, partial(print, "words")) == ("done", None)


def test_it_is_meek_and_uses_one_thread(shared):
    """Taps come first: the process is nicer than the app, and its linear algebra keeps to one core."""
    if hasattr(os, "nice"):
        assert asked(shared, partial(os.nice, 0)) == ("done", min(os.nice(0) + 5, 19))
    assert asked(shared, partial(os.getenv, "OPENBLAS_NUM_THREADS")) == ("done", "1")


def test_it_is_started_anew_after_a_death():
    """When the process is killed between two pieces of work, or in the first attempt, another takes over."""
    worker = Worker()
    first = asked(worker, os.getpid)[1]
    os.kill(first, signal.SIGTERM)
    kind, second = asked(worker, os.getpid)
    assert kind == "done"
    assert second not in (first, os.getpid())


def has_ended(pid):
    """Say whether a process is gone, and taken note of by its parent."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return True
    return False


@pytest.mark.skipif(sys.platform == "win32", reason="a signal of 0 is not to be had there")
def test_it_ends_when_it_is_closed_and_not_before_its_work_is_done():
    """What was asked before the end is answered, and then the process is gone while the app lives on."""
    worker, came = Worker(), []
    pid = asked(worker, os.getpid)[1]
    assert not has_ended(pid)
    worker.ask(partial(abs, -1), came.append, came.append)
    worker.close()
    end = time.monotonic() + 30
    while not (came and has_ended(pid)):
        assert time.monotonic() < end, "timed out"
        Clock.tick()
    assert came == [1]


def test_the_app_closes_its_own(season_path):
    """The app owns one worker, passes it to the screens, and closes it when it stops."""
    app = EvaltrackApp(season_path)
    driver, closed = Driver(app), []
    app.worker.close = lambda: closed.append(app.worker)
    assert app.screen("player")._worker is app.worker
    driver.close()
    assert closed == [app.worker]


def test_an_app_that_asked_for_nothing_has_no_worker_to_close(season_path, monkeypatch):
    """A start makes no worker, however long it takes, and neither does the end."""
    monkeypatch.setattr(app_module, "_SETTLED", 3600)
    app = EvaltrackApp(season_path)
    Driver(app).close()
    assert "worker" not in vars(app)


def test_work_that_kills_it_twice_is_given_up():
    """Work that ends the process each time is told as a sentence, and what comes next is done."""
    worker = Worker()
    kind, sentence = asked(worker, partial(os._exit, 3))
    assert kind == "failed"
    assert "cut short" in sentence
    assert asked(worker, partial(abs, -1)) == ("done", 1)


@pytest.mark.parametrize("program", ["", "no-such-program", "mute"])
def test_without_a_process_a_thread_does_the_work(monkeypatch, tmp_path, program):
    """Where no process can be started, or none answers, the work is done all the same."""
    if program == "mute":
        monkeypatch.setattr(worker_module, "_START", "")
    else:
        monkeypatch.setattr(sys, "executable", program and str(tmp_path / program))
    worker = Worker()
    assert asked(worker, os.getpid) == ("done", os.getpid())
    assert asked(worker, partial(map, abs, [-1, 2])) == ("done", [1, 2])


_APP = """
import sys, time
import headless; headless.install()
from functools import partial
import os
from kivy.clock import Clock
from evaltrack.touch.worker.worker import Worker
worker, came = Worker(), []
worker.ask(os.getpid, came.append, came.append)
while not came:
    Clock.tick()
if sys.argv[1] == "busy":
    worker.ask(partial(time.sleep, 600), came.append, came.append)
print("ready", came[0], flush=True)
sys.stdin.read()
"""


@pytest.mark.skipif(sys.platform == "win32", reason="SIGKILL is not to be had there")
@pytest.mark.parametrize("state", ["idle", "busy"])
def test_it_ends_with_the_app_however_that_ends(state):
    """After SIGKILL the app's error stream closes: not even the process beside it holds it any more."""
    app = subprocess.Popen(
        [sys.executable, "-c", _APP, state],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=environment(),
    )
    words, pid = app.stdout.readline().split()
    assert words == "ready"
    assert int(pid) != app.pid
    app.kill()
    app.communicate(timeout=30)  # comes back only when every process that holds the streams has ended


def test_what_is_to_be_looked_at_ends_with_one_full_stop():
    """Some of it are whole sentences, some are not; an empty one is none."""
    said = with_problems("Printed.", ["does it name a child? (Bo)", None, "Pick a skill from the list."])
    assert said.endswith("child? (Bo). Look at this first: Pick a skill from the list.")
