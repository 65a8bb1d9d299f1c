"""A command as a process of its own, held to its bounds."""

import os
import resource
import subprocess
import sys
from pathlib import Path

import evaltrack
from evaltrack.rink.plain_text import first_hidden

SECONDS, MEGABYTES = 2.0, 150  # of the processor and of memory, for the whole command
ENVIRONMENT = os.environ | {"PYTHONPATH": str(Path(evaltrack.__file__).parents[1])}


def process(*words: object, **streams) -> tuple[int, str, str]:
    """Run a command of its own and hold it to its bounds; return its exit code and what it printed."""
    line = [sys.executable, "-m", "evaltrack", *map(os.fsencode, map(str, words))]
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(line, env=ENVIRONMENT, timeout=60, **({"capture_output": True} | streams))
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime < SECONDS
    said = [(stream or b"").decode("utf-8") for stream in (done.stdout, done.stderr)]
    for text in said:
        assert "Traceback" not in text
        assert "ignored" not in text
        assert first_hidden(text.replace("\n", "").replace("\t", "")) is None
    return done.returncode, *said


def bounded(*words: object) -> tuple[int, str, str]:
    """Run a command whose memory is limited: where it takes more it fails with a traceback."""

    def limit():
        resource.setrlimit(resource.RLIMIT_DATA, (MEGABYTES << 20, MEGABYTES << 20))

    return process(*words, preexec_fn=limit)
