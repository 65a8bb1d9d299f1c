"""Two tablets that hand over to each other: each a process of its own, with settings of its own."""

import json
import subprocess
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from queue import Empty, SimpleQueue
from threading import Thread

from child import PROCESSES, environment

_PATIENCE = 60.0  # seconds for any answer


class TabletProcess:
    """One of them; ``events`` are all that it has told so far.

    Parameters
    ----------
    ahead : by how many seconds its clock is ahead.
    """

    def __init__(self, path: Path, home: Path, ahead: int = 0):
        self.path, self.events, self._lines = path, [], SimpleQueue()
        self.child = subprocess.Popen(
            [sys.executable, str(PROCESSES / "handing_over.py"), str(path), str(ahead)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env=environment(KIVY_LOG_MODE="PYTHON", EVALTRACK_HOME=str(home)),
        )
        Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        for line in self.child.stdout:
            self._lines.put(json.loads(line))
        self._lines.put({"event": "gone"})

    def say(self, *words: object) -> None:
        """Tell it to do something."""
        self.child.stdin.write(" ".join(map(str, words)) + "\n")
        self.child.stdin.flush()

    def hear(
        self, event: str, fits: Callable[[dict], bool] = lambda _: True, patience: float = _PATIENCE
    ) -> dict:
        """Wait until it tells this, and return it."""
        while True:
            try:
                told = self._lines.get(timeout=patience)
            except Empty:
                raise AssertionError(f"nothing heard of {event}; last: {self.events[-5:]}") from None
            self.events.append(told)
            if told["event"] == event and fits(told):
                return told
            assert told["event"] != "gone" or event == "gone", self.child.stderr.read()[-3000:]

    def stage(self, stage: str) -> dict:
        """Wait until it is there."""
        return self.hear("stage", lambda told: told["stage"] == stage)

    def so_far(self) -> list[dict]:
        """Return all that it has told."""
        while not self._lines.empty():
            self.events.append(self._lines.get())
        return self.events

    def of(self, event: str) -> list[dict]:
        """Return what it has told of one kind."""
        return [told for told in self.so_far() if told["event"] == event]

    def end(self) -> None:
        """Let it end, and wait for that."""
        if self.child.poll() is None:
            with suppress(OSError):
                self.say("end")
            self.child.communicate(timeout=_PATIENCE)

    def kill(self) -> None:
        """Kill it."""
        self.child.kill()
        self.child.communicate()


def meet(host: TabletProcess, guest: TabletProcess) -> tuple[str, str]:
    """Let one show a code and the other join by it; return address and code."""
    host.say("give")
    shown = host.hear("shown")
    guest.say("join", shown["address"], shown["code"])
    return shown["address"], shown["code"]
