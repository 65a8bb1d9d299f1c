"""Run test files in a forked process, with one module read from another text, and see whether they fail.

Forked of a process that has the heavy libraries loaded and nothing of this project: a run imports the project
anew, so that names taken over with ``from ... import`` are those of the changed module too.
"""

import importlib.abc
import importlib.machinery
import importlib.util
import json
import os
import resource
import shutil
import signal
import sys
import tempfile
import threading
import time
import traceback
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

MOST_MEMORY = 6 << 30  # bytes, of one run: a loop without an end may collect without an end
LOADED_BEFORE = (
    "pytest",
    "hypothesis.strategies",
    "numpy",
    "pandas",
    "scipy.stats",
    "scipy.optimize",
    "sqlite3",
)
PASSED, FAILED = 0, (1, 2)  # how pytest ends; 2 when a file could not even be imported
BROKEN = 99  # how a run ends that did not get as far as pytest
OPTIONS = ("-x", "-q", "-p", "no:randomly", "-p", "no:cacheprovider", "-p", "no:faulthandler", "--no-header")


class Run(NamedTuple):
    """What to run. ``module`` is read from ``source`` where there is one; ``limit`` is in seconds."""

    tests: Sequence[Path]
    limit: float
    module: str = ""
    source: str = ""
    traced: frozenset[str] = frozenset()  # modules whose called functions are wanted


@dataclass(slots=True)
class Ended:
    """How a run ended: pytest's exit code, the negative of a signal, or None when its time was up."""

    code: int | None
    seconds: float
    output: str
    called: dict[str, list[str]] = field(default_factory=dict)

    @property
    def failed(self) -> bool:
        """Whether the tests noticed."""
        return self.code is None or self.code < 0 or self.code in FAILED


def load_first(root: Path) -> None:
    """Load the libraries, and let tests, and what they start, read this checkout."""
    os.environ["PYTHONPATH"] = str(root)
    os.environ |= {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
    for name in LOADED_BEFORE:
        importlib.import_module(name)
    _have_a_window(root)


def _have_a_window(root: Path) -> None:
    """Make once the window without a display that the suite makes at its start; it loads half of Kivy."""
    os.environ["KIVY_LOG_MODE"] = "PYTHON"
    import headless

    headless.install(size=(1280, 800))
    headless.install = lambda **_: None  # every run has it already


def run_all(runs: Iterable[Run], at_once: int, until: float) -> Iterator[tuple[Run, Ended]]:
    """Run one after the other, some at once, and return how each ended; none is begun after ``until``.

    ``until`` is a moment of ``time.monotonic``. The order of the answers is that in which they ended.
    """
    waiting, going = iter(runs), []
    try:
        while True:
            while len(going) < at_once and time.monotonic() < until and (run := next(waiting, None)):
                going.append(_Going(run))
            if not going:
                return
            time.sleep(0.02)
            for one in [one for one in going if one.is_over()]:
                going.remove(one)
                yield one.run, one.ended()
    finally:
        for one in going:
            one.stop()


class _Going:
    """A run that goes on, in a process group of its own."""

    def __init__(self, run: Run):
        self.run, self._began, self._code = run, time.monotonic(), None
        self._folder = Path(tempfile.mkdtemp(prefix="mutant-"))
        self._folder.chmod(0o711)  # tests that act as nobody go through it
        self._pid = os.fork()
        if not self._pid:
            _be_the_run(run, self._folder)

    def is_over(self) -> bool:
        """Say whether it has ended, or its time is up."""
        found, status = os.waitpid(self._pid, os.WNOHANG)
        if found:
            self._code = os.waitstatus_to_exitcode(status)
            return True
        return time.monotonic() - self._began > self.run.limit

    def ended(self) -> Ended:
        """Return how it ended; whatever is left of it is stopped."""
        seconds = time.monotonic() - self._began
        called = self._folder / "called.json"
        ended = Ended(self._code, seconds, (self._folder / "output").read_text("utf-8", "replace"))
        if called.exists():
            ended.called = json.loads(called.read_text("utf-8"))
        self.stop()
        return ended

    def stop(self) -> None:
        """Stop it and all that it started."""
        try:
            os.killpg(self._pid, signal.SIGKILL)
        except ProcessLookupError:
            pass  # nothing of it is left
        if self._code is None:
            os.waitpid(self._pid, 0)
        shutil.rmtree(self._folder, ignore_errors=True)


def _be_the_run(run: Run, folder: Path) -> None:
    """Be the forked process: run the tests, and end it."""
    code = BROKEN
    try:
        os.setpgid(0, 0)
        output = os.open(folder / "output", os.O_WRONLY | os.O_CREAT)
        for stream in (1, 2):
            os.dup2(output, stream)
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
        tempfile.tempdir = str(folder)
        os.environ["TMPDIR"] = str(folder)
        code = _tested(run, folder)
        sys.stdout.flush()
    except BaseException:
        traceback.print_exc()  # read by whoever runs the bench, which stops at a code that is not pytest's
    finally:
        os._exit(code)


def _tested(run: Run, folder: Path) -> int:
    import pytest
    from hypothesis import HealthCheck, Phase, settings

    # a busy machine must not look like a change that was noticed, and no failure need be made small
    slow = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
    settings.register_profile("quick", database=None, phases=[Phase.explicit, Phase.generate], **slow)
    settings.load_profile("quick")
    if run.module:
        sys.meta_path.insert(0, _Instead(run.module, run.source))
    calls = _Calls(run.traced)
    with calls:
        code = pytest.main(
            [*OPTIONS, "--hypothesis-seed=0", f"--basetemp={folder / 'tests'}", *map(str, run.tests)]
        )
    if run.traced:
        (folder / "called.json").write_text(json.dumps(calls.found()), "utf-8")
    return int(code)


class _Instead(importlib.abc.MetaPathFinder):
    """Finds one module, and reads it from another text than the one in its file."""

    def __init__(self, module: str, source: str):
        self._module, self._source = module, source

    def find_spec(self, name, path=None, target=None):
        """Return the module's own place, with a loader that reads the other text."""
        if name != self._module:
            return None
        file = importlib.machinery.PathFinder.find_spec(name, path).origin
        return importlib.util.spec_from_file_location(name, file, loader=_Loader(name, file, self._source))


class _Loader(importlib.machinery.SourceFileLoader):
    def __init__(self, name: str, file: str, source: str):
        super().__init__(name, file)
        self._source = source

    def get_code(self, name):
        return compile(self._source, self.path, "exec")


class _Calls:
    """Notes which functions of some modules are called, and which of the modules are imported at all."""

    def __init__(self, modules: frozenset[str]):
        self._modules = modules
        self._seen: set[tuple[str, str]] = set()

    def __enter__(self):
        self._start(sys.settrace, threading.settrace)

    def __exit__(self, *_):
        for stop in (sys.settrace, threading.settrace):
            stop(None)

    def _start(self, *starts: Callable) -> None:
        if self._modules:
            for start in starts:
                start(self._call)

    def _call(self, frame, event, _):
        module = frame.f_globals.get("__name__")
        if module in self._modules:
            self._seen.add((module, frame.f_code.co_qualname))

    def found(self) -> dict[str, list[str]]:
        """Return the outermost functions that were called, by module; empty for what runs at import."""
        found: dict[str, set[str]] = {module: {""} for module in self._modules if module in sys.modules}
        for module, name in self._seen:
            found.setdefault(module, set()).add(name.split(".<locals>")[0])
        return {module: sorted(names) for module, names in found.items()}
