"""Work that takes long, on a thread of its own, its result handed back to the screens' thread."""

import logging
from collections.abc import Callable
from functools import partial
from threading import Thread

from kivy.clock import Clock

from evaltrack.errors import EvaltrackError
from evaltrack.touch.worker.process import fault_words

_log = logging.getLogger("evaltrack")


def in_background(work: Callable[[], object], done: Callable[[object], None], failed: Callable[[str], None]):
    """Run ``work`` on its own thread, and then one of the other two on the screens' thread.

    Parameters
    ----------
    work : opens what it needs itself: a season file belongs to the thread that opened it.
    done : is given what ``work`` returned.
    failed : is given a sentence for the user.
    """
    Thread(target=run_and_hand_back, args=(work, done, failed), daemon=True).start()


def run_and_hand_back(work, done, failed) -> None:
    """Run ``work`` here, and then one of the other two on the screens' thread."""
    try:
        result = work()
    except EvaltrackError as error:
        hand_back(failed, str(error))
    except Exception as error:
        _log.exception("work in the background failed")
        hand_back(failed, fault_words(error))
    else:
        hand_back(done, result)


def hand_back(take: Callable[[object], None], what: object) -> None:
    """Give something to a function on the screens' thread, from any other."""
    Clock.schedule_once(partial(_give, take, what))


def _give(take, what, _) -> None:
    take(what)
