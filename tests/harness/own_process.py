"""A command as a process of its own, held to its bounds."""

import os
import resource
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryFile
from threading import Timer
from typing import BinaryIO

import evaltrack
from evaltrack.rink.plain_text import first_hidden

SECONDS, MEGABYTES = 2.0, 150  # of the processor and of memory, for the whole command
ENVIRONMENT = os.environ | {"PYTHONPATH": str(Path(evaltrack.__file__).parents[1])}


def process(*words: object, **streams) -> tuple[int, str, str]:
    """Run a command of its own and hold it to its bounds; return its exit code and what it printed."""
    line = [sys.executable, "-m", "evaltrack", *map(os.fsencode, map(str, words))]
    with TemporaryFile() as out, TemporaryFile() as err:
        code, usage = _ended(line, **({"stdout": out, "stderr": err} | streams))
        said = [_read(stream) for stream in (out, err)]
    assert usage.ru_utime + usage.ru_stime < SECONDS
    for text in said:
        assert "Traceback" not in text
        assert "ignored" not in text
        assert first_hidden(text.replace("\n", "").replace("\t", "")) is None
    return code, *said


def _ended(line: list, **how) -> tuple[int, resource.struct_rusage]:
    """Run a program to its end; return its exit code and what it alone has used, whoever else ends then."""
    started = subprocess.Popen(line, env=ENVIRONMENT, **how)
    hanging = Timer(60, started.kill)
    hanging.start()
    _, status, usage = os.wait4(started.pid, 0)
    hanging.cancel()
    started.returncode = os.waitstatus_to_exitcode(status)
    return started.returncode, usage


def _read(stream: BinaryIO) -> str:
    stream.seek(0)
    return stream.read().decode("utf-8")


def bounded(*words: object) -> tuple[int, str, str]:
    """Run a command whose memory is limited: where it takes more it fails with a traceback."""

    def limit():
        resource.setrlimit(resource.RLIMIT_DATA, (MEGABYTES << 20, MEGABYTES << 20))

    return process(*words, preexec_fn=limit)
