"""A window without a display for every test of the suite, set up before anything imports Kivy."""

import gc
import os
import shutil
import subprocess
import sys
import tempfile
from contextlib import contextmanager
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

# the settings of this tablet must never be touched by a test
os.environ["EVALTRACK_HOME"] = tempfile.mkdtemp(prefix="evaltrack-test-")
os.environ["EVALTRACK_LANGUAGE"] = "en"  # and never that of the machine
os.environ["KIVY_LOG_MODE"] = "PYTHON"

import headless

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "assets" / "languages"))

from compile_po import compile_all, is_stale

from evaltrack.language import Language, speak

if is_stale():  # a translation was changed since evaltrack was installed
    compile_all()

_MEMORY = Path("/dev/shm")
if _MEMORY.is_dir() and os.access(_MEMORY, os.W_OK) and shutil.disk_usage(_MEMORY).free > 4 * 2**30:
    # each season waits for the disk dozens of times, and no test is about what a disk does
    os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(_MEMORY))

headless.install(size=(1280, 800))
gc.collect()
gc.freeze()
gc.set_threshold(2_000_000, 20, 50)  # nearly all that lives long is the widgets of an app, let go of together


# a third of what is usual, so that the suite stays short; --hypothesis-profile thorough for a long night
# no example is judged by the clock: a machine with much else to do is slow, and says nothing of the house
_UNTIMED = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("suite", max_examples=30, stateful_step_count=30, **_UNTIMED)
settings.register_profile("thorough", max_examples=1000, **_UNTIMED)
settings.load_profile("suite")

_NOBODY = 65534


@pytest.fixture(autouse=True)
def english():
    """Begin and end each test in English, whatever language an app of it spoke."""
    speak(Language.ENGLISH)
    yield
    speak(Language.ENGLISH)


@pytest.fixture(autouse=True)
def tablet_home(tmp_path_factory, monkeypatch):
    """Give each test a tablet of its own."""
    folder = tmp_path_factory.mktemp("tablet")
    monkeypatch.setenv("EVALTRACK_HOME", str(folder))
    return folder


@pytest.fixture
def read_only_folder():
    """Return a context that makes a folder which this process cannot write to, even when root runs it."""
    if os.name == "nt":
        pytest.skip("a folder's permission bits do not bind on Windows")
    made = Path(tempfile.mkdtemp(prefix="rink-"))

    @contextmanager
    def closed_folder(*files: Path):
        copies = [Path(shutil.copy(file, made)) for file in files]
        if root := os.geteuid() == 0:
            for path in (made, *copies):
                os.chown(path, _NOBODY, _NOBODY)
        made.chmod(0o555)
        try:
            if root:
                os.seteuid(_NOBODY)
            yield made
        finally:
            if root:
                os.seteuid(0)
            made.chmod(0o755)

    yield closed_folder
    shutil.rmtree(made)


@pytest.fixture
def small_disk(tmp_path):
    """Return a folder on a disk of its own that holds little, where this process may mount one."""
    place = tmp_path / "disk"
    place.mkdir()
    if shutil.which("mount") is None or os.name != "posix" or os.geteuid() != 0:
        pytest.skip("only root may mount a small disk")
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=700k", "tmpfs", place], check=False).returncode:
        pytest.skip("no disk may be mounted here")
    yield place
    subprocess.run(["umount", "-l", place], check=True)
