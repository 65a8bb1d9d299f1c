"""A window without a display for every test of the suite, set up before anything imports Kivy."""

import gc
import os
import sys
import tempfile
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent / "window"))
# the settings of this tablet must never be touched by a test
os.environ["EVALTRACK_HOME"] = tempfile.mkdtemp(prefix="evaltrack-test-")
os.environ["KIVY_LOG_MODE"] = "PYTHON"

import headless

headless.install(size=(1280, 800))
gc.collect()
gc.freeze()
gc.set_threshold(50_000, 20, 50)  # widget trees are cyclic: collecting them is most of a touch test's time


@pytest.fixture(autouse=True)
def tablet_home(tmp_path_factory, monkeypatch):
    """Give each test a tablet of its own."""
    folder = tmp_path_factory.mktemp("tablet")
    monkeypatch.setenv("EVALTRACK_HOME", str(folder))
    return folder
