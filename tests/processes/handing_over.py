"""An app without its screens that hands over while it is tapped, and does what it is told line by line.

python handing_over.py SEASON.db [AHEAD]

AHEAD is by how many seconds the clock of this tablet is ahead. It reads commands from its standard input:
``give``, ``join ADDRESS CODE``, ``tap SECONDS`` (one tally each so often; 0 for none), ``clock AHEAD``,
``leave``, ``end``. What becomes of them goes out as lines of JSON.
"""

import json
import sys
import time
from datetime import date
from pathlib import Path
from queue import Empty, SimpleQueue
from threading import Thread
from time import monotonic, perf_counter, sleep

import headless

_right, _ahead = time.time_ns, [0]  # seconds


def set_clock(ahead: str) -> None:
    """Let the clock of this tablet be so many seconds ahead of the right one."""
    _ahead[0] = int(ahead)


time.time_ns = lambda: _right() + _ahead[0] * 10**9
set_clock(sys.argv[2] if len(sys.argv) > 2 else "0")
headless.install()

from kivy.clock import Clock

from evaltrack.rink.tally import Outcome
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.handover.handover_in_hand import HandoverInHand

_FRAME = 1 / 60


def tell(event: str, **words) -> None:
    """Print one line."""
    print(json.dumps({"event": event, "at": monotonic(), **words}), flush=True)


class Bench:
    """A desk that is tapped, and its hand-over."""

    def __init__(self, path: Path):
        self.desk = Desk()
        assert self.desk.open(path), self.desk.message
        if not self.desk.practice:
            here = self.desk.players
            assert self.desk.begin(date(2026, 1, 20), here, "breakout_attack", "two_on_one", "Ines")
        self.hand = HandoverInHand(self.desk)
        self.hand.bind(code=self._shown, running=self._turned, beat=self._went_on)
        self._join, self.desk.take_in = self.desk.take_in, self._timed
        self._every, self._next, self._count = 0.0, 0.0, 0

    def _shown(self, hand, code: str) -> None:
        if code:
            tell("shown", address=hand.address, code=code)

    def _turned(self, hand, running: bool) -> None:
        if not running and hand.course:
            course = hand.course
            words = {name: getattr(course, name) for name in ("given", "taken", "equal", "told", "missed")}
            Clock.schedule_once(lambda _: tell("ended", **words, trouble=hand.trouble))

    def _went_on(self, hand, _) -> None:
        if hand.course:
            tell("stage", stage=hand.course.stage, share=hand.course.share, missed=hand.course.missed)

    def _timed(self, name: str, pack):
        began = perf_counter()
        joined = self._join(name, pack)
        ids = [row[0] for row in pack.facts.get("tally", [])]
        tell("came", ids=ids[:500], new=joined.new["tally"], took=perf_counter() - began)
        return joined

    def tap(self, due: float) -> None:
        """Commit one tally; tell how long that took, and how long after it was ``due`` it was on disk."""
        self._count += 1
        player = self.desk.here()[self._count % len(self.desk.here())]
        began = perf_counter()
        tally = self.desk.tally(player.id, Outcome.DONE if self._count % 3 else Outcome.MISSED)
        took = perf_counter() - began
        assert tally, self.desk.message
        tell("tap", id=tally.id.hex, took=took, late=monotonic() - due)
        if self._count % 20 == 0:
            undone = self.desk.undo()
            tell("undone", id=undone.id.hex)

    def obey(self, line: str) -> bool:
        """Do one command; False at the end."""
        word, *rest = line.split()
        if word == "give":
            if not self.hand.give("127.0.0.1", 0):
                tell("wait", seconds=self.hand.wait_left())
        elif word == "join":
            if not self.hand.join(*rest):
                tell("ended", trouble=self.hand.trouble)
        elif word == "tap":
            self._every, self._next = float(rest[0]), monotonic()
        elif word == "clock":
            set_clock(*rest)
        elif word == "leave":
            self.hand.leave()
        return word != "end"

    def run(self) -> None:
        """Go on until told to end, or nobody is there to tell."""
        lines: SimpleQueue = SimpleQueue()
        Thread(target=_read, args=(lines,), daemon=True).start()
        tell("ready", tablet=self.desk.tablet.id)
        while True:
            try:
                if not self.obey(lines.get_nowait()):
                    break
            except Empty:
                pass
            Clock.tick()
            if self._every and monotonic() >= self._next:
                due, self._next = self._next, self._next + self._every
                self.tap(due)
            sleep(0.001 if self._every else _FRAME / 2)
        self.hand.stop()
        self.desk.close()


def _read(lines: SimpleQueue) -> None:
    for line in sys.stdin:
        if line.strip():
            lines.put(line)
    lines.put("end")


if __name__ == "__main__":
    Bench(Path(sys.argv[1])).run()
