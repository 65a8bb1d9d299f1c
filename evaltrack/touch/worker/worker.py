"""Long work in a process beside the app, so that it shares neither the interpreter nor a core with the taps.

The process is started for the first piece of work, once more when it dies, and ends with the app. Where no
process can be had, the work is done on a thread of the app.
"""

import logging
import os
import pickle
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import partial
from queue import SimpleQueue
from threading import Lock, Thread

from evaltrack.errors import EvaltrackError
from evaltrack.language import language, tr
from evaltrack.touch.worker.process import Kind, Work, in_language, message, receive, send
from evaltrack.touch.worker.thread import hand_back, run_and_hand_back

_log = logging.getLogger("evaltrack")

# not -m, which would put the current folder before all others
_START = "import sys; sys.path[:] = sys.argv[1:]; from evaltrack.touch.worker.process import main; main()"
# more threads of linear algebra than this one would take the core that draws
_ONE_THREAD = dict.fromkeys(
    ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS"), "1"
)
_TRIES = 2


class Worker:
    """Does one piece of work after the other, in the order in which it is asked, until it is closed."""

    def __init__(self):
        self._tasks: SimpleQueue = SimpleQueue()
        self._thread: Thread | None = None
        self._starting = Lock()
        self._process = None
        self._none_to_be_had = False

    def ask(
        self,
        work: Work,
        done: Callable[[object], None],
        failed: Callable[[str], None],
        heard: Callable[[object], None] | None = None,
    ) -> None:
        """Do ``work`` beside the app, and then run one of the other two on the screens' thread.

        Parameters
        ----------
        work : a function that can be pickled, or a partial of one, from a module that imports no Kivy. It
            opens what it needs itself.
        done : is given what ``work`` returned. When that is an iterator, its pieces come over one by one,
            so that the screens get their turn in between, and ``done`` is given the list of them.
        failed : is given a sentence for the user.
        heard : is given each piece of an iterator on the screens' thread, as it comes.
        """
        with self._starting:
            if self._thread is None:
                self._thread = Thread(target=self._serve, daemon=True)
                self._thread.start()
        self._tasks.put((work, done, failed, partial(hand_back, heard) if heard else _nobody))

    def close(self) -> None:
        """Let the process end once what was asked is done; nothing is asked after that."""
        self._tasks.put(None)

    def _serve(self) -> None:
        while self._serve_next():  # a step of its own: what is done must not be held until there is more
            pass
        if self._process:
            self._drop()

    def _serve_next(self) -> bool:
        task = self._tasks.get()
        if task is None:
            return False
        work, done, failed, heard = task
        run_and_hand_back(partial(self._do, work, heard), done, failed)
        return True

    def _do(self, work: Work, heard: Callable[[object], None]) -> object:
        task = message(partial(in_language, language(), work))
        for _ in range(_TRIES):
            if not self._is_ready():
                return _in_one(work(), heard)
            try:
                send(self._process.stdin, task)
                return _whole(_answers(self._process.stdout), heard)
            except EvaltrackError:
                raise
            except (EOFError, OSError):
                _log.warning("the process beside the app ended in the midst of work")
                self._drop()
            except Exception:  # what is left of the answer must not be taken for the next one
                self._drop()
                raise
        raise EvaltrackError(tr("the work was cut short, perhaps for want of memory; what is saved is safe"))

    def _is_ready(self) -> bool:
        if self._process is None and not self._none_to_be_had:
            self._process = _started()
            self._none_to_be_had = self._process is None
        return self._process is not None

    def _drop(self) -> None:
        process, self._process = self._process, None
        process.kill()
        process.wait()
        for stream in (process.stdin, process.stdout):
            with suppress(OSError):
                stream.close()


def _started():
    """Return a process that is ready for work, or None where none can be had."""
    # a frozen program would open its own window once more
    if not sys.executable or getattr(sys, "frozen", False) or hasattr(sys, "getandroidapilevel"):
        return None
    try:
        process = _popen([sys.executable, "-c", _START, *sys.path])
    except OSError as error:
        _log.warning("no process beside the app: %s", error)
        return None
    with suppress(EOFError, OSError):
        if pickle.loads(receive(process.stdout))[0] == Kind.READY:
            return process
    process.kill()
    process.communicate()
    _log.warning("the process beside the app did not come up")
    return None


def _popen(line: list[str]):
    import subprocess  # not before the first frame

    if sys.platform == "win32":
        apart = {"creationflags": subprocess.CREATE_NO_WINDOW | subprocess.BELOW_NORMAL_PRIORITY_CLASS}
    else:
        apart = {"start_new_session": True}  # the keys of the terminal are not for it
    pipe = subprocess.PIPE
    # without a buffer each piece is a read of its own, at which the screens' thread gets its turn
    return subprocess.Popen(line, stdin=pipe, stdout=pipe, bufsize=0, env=os.environ | _ONE_THREAD, **apart)


def _answers(stream) -> Iterator[tuple[str, object]]:
    while True:
        yield pickle.loads(receive(stream))


def _whole(answers: Iterator[tuple[str, object]], heard: Callable[[object], None]) -> object:
    """Return the answer, put together from its pieces; EvaltrackError with a sentence after a failure."""
    pieces = []
    for kind, content in answers:
        match kind:
            case Kind.PIECE:
                pieces.append(content)
                heard(content)
            case Kind.END:
                return pieces
            case Kind.WHOLE:
                return content
            case Kind.REFUSED:
                raise EvaltrackError(content)
            case Kind.FAULT:
                sentence, trace = content
                _log.error("work beside the app failed\n%s", trace)
                raise EvaltrackError(sentence)
    raise EOFError


def _in_one(result: object, heard: Callable[[object], None]) -> object:
    if not isinstance(result, Iterator):
        return result
    pieces = []
    for piece in result:
        pieces.append(piece)
        heard(piece)
    return pieces


def _nobody(_: object) -> None:
    pass
