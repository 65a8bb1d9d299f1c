"""The process beside the app: it does the long work, so that the screens' process loads nothing heavy.

Work comes over its standard input and answers go over its standard output: pickled messages, each led by
its length. It ends when its input ends, which it does with the app, however that ends. It is the app's own
child and nobody else's: what it is given to unpickle comes from there. No Kivy here.
"""

import os
import pickle
import struct
import traceback
from collections.abc import Callable, Iterator
from contextlib import suppress
from enum import StrEnum
from queue import SimpleQueue
from threading import Thread
from typing import BinaryIO

from evaltrack.errors import EvaltrackError
from evaltrack.language import Language, speak, tr

_LENGTH = struct.Struct("<Q")
_MEEK = 5  # steps of niceness: taps come first

Work = Callable[[], object]


class Kind(StrEnum):
    """What a message says: that the process is ready, or an answer, whole, in pieces or as a failure."""

    READY = "ready"
    PIECE = "piece"
    WHOLE = "whole"
    END = "end"
    REFUSED = "refused"
    FAULT = "fault"


def fault_words(error: Exception) -> str:
    """Return the sentence for a fault that the user cannot put right."""
    return tr("something went wrong ({kind}); what is saved is safe", kind=type(error).__name__)


def in_language(wanted: Language, work: Work) -> object:
    """Do the work in the language that the app speaks, here in a process that does nothing else meanwhile."""
    speak(wanted)
    return work()


def message(content: object) -> bytes:
    """Return something as a message. What is sent back is a pair of its kind and its content."""
    return pickle.dumps(content, pickle.HIGHEST_PROTOCOL)


def send(stream: BinaryIO, body: bytes) -> None:
    """Write one message and flush it."""
    stream.write(_LENGTH.pack(len(body)))
    stream.write(body)
    stream.flush()


def receive(stream: BinaryIO) -> bytes:
    """Read one message, still pickled; EOFError when there is none any more."""
    return _exactly(stream, *_LENGTH.unpack(_exactly(stream, _LENGTH.size)))


def _exactly(stream: BinaryIO, size: int) -> bytes:
    body = bytearray()
    while len(body) < size:
        part = stream.read(size - len(body))
        if not part:
            raise EOFError
        body += part
    return bytes(body)


def main() -> None:
    """Do what comes over the standard input, one piece of work after the other, until it ends."""
    with suppress(AttributeError, OSError):  # Windows is told when the process is started
        os.nice(_MEEK)
    tasks, answers = _take_streams()
    queue: SimpleQueue[bytes] = SimpleQueue()
    Thread(target=_listen, args=(tasks, queue), daemon=True).start()
    with suppress(OSError):  # nobody is there to read the answer
        send(answers, message((Kind.READY, None)))
        while True:
            for body in _answer(queue.get()):
                send(answers, body)


def _take_streams() -> tuple[BinaryIO, BinaryIO]:
    """Keep the standard streams for messages, and let whatever a library prints go nowhere."""
    tasks = os.fdopen(os.dup(0), "rb", buffering=0)
    answers = os.fdopen(os.dup(1), "wb")
    nowhere = os.open(os.devnull, os.O_RDWR)
    for standard in (0, 1):
        os.dup2(nowhere, standard)
    return tasks, answers


def _listen(tasks: BinaryIO, queue: SimpleQueue) -> None:
    # on a thread of its own, so that the end of the app is noticed in the midst of work too
    with suppress(EOFError, OSError):
        while True:
            queue.put(receive(tasks))
    os._exit(0)


def _answer(task: bytes) -> Iterator[bytes]:
    """Do the work and yield its answer in messages: the whole, or piece by piece what it yields itself."""
    try:
        result = pickle.loads(task)()
        if not isinstance(result, Iterator):
            yield message((Kind.WHOLE, result))
            return
        for piece in result:
            yield message((Kind.PIECE, piece))
        yield message((Kind.END, None))
    except EvaltrackError as error:
        yield message((Kind.REFUSED, str(error)))
    except Exception as error:
        yield message((Kind.FAULT, (fault_words(error), traceback.format_exc())))
