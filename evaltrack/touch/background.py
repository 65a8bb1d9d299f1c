"""Work that takes long, on a thread of its own, its result handed back to the screens' thread."""

import logging
from collections.abc import Callable
from functools import partial
from threading import Thread

from kivy.clock import Clock

from evaltrack.errors import EvaltrackError

_log = logging.getLogger("evaltrack")


def in_background(work: Callable[[], object], done: Callable[[object], None], failed: Callable[[str], None]):
    """Run ``work`` on its own thread, and then one of the other two on the screens' thread.

    Parameters
    ----------
    work : opens what it needs itself: a season file belongs to the thread that opened it.
    done : is given what ``work`` returned.
    failed : is given a sentence for the user.
    """
    Thread(target=_run, args=(work, done, failed), daemon=True).start()


def _run(work, done, failed) -> None:
    try:
        result = work()
    except EvaltrackError as error:
        _hand_back(failed, str(error))
    except Exception as error:
        _log.exception("work in the background failed")
        _hand_back(failed, f"something went wrong ({type(error).__name__}); what is saved is safe")
    else:
        _hand_back(done, result)


def _hand_back(take, what) -> None:
    Clock.schedule_once(partial(_give, take, what))


def _give(take, what, _) -> None:
    take(what)
