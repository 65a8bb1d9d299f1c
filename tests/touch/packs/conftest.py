"""The app with its long work on a thread, and a folder to write into."""

import pytest
from pressing import press

from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.worker.worker import Worker


def _settle(*_) -> None:
    """Do nothing."""


@pytest.fixture
def shared_worker(monkeypatch):
    """Work on a thread: the process that all tests share has the home folder of another one."""
    worker = Worker()
    worker._none_to_be_had = True
    monkeypatch.setattr(EvaltrackApp, "_settle", _settle)  # a start makes a backup of its own
    yield worker
    worker.close()


@pytest.fixture
def stick(tmp_path):
    """Return an empty folder, as of a stick."""
    (tmp_path / "stick").mkdir()
    return tmp_path / "stick"


@pytest.fixture
def write_to(stick):
    """Return what chooses the stick as the folder to write into, by touch, and waits until it is done."""

    def write(driver):
        screen = driver.app.screens.current_screen
        assert screen.name == "file"
        screen.look_in(stick)
        press(driver, "Write it into this folder")
        front = driver.app.screens.current_screen
        driver.wait(lambda: not front.busy, timeout=60)
        driver.settle()
        return front

    return write
