"""Kill a process while it brings an older season file up to date, and look at what is left."""

import os
import random
import re
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from child import PROCESSES
from season_v1 import facts_of, make_v1

from evaltrack.errors import EvaltrackError
from evaltrack.store.opening import open_season
from evaltrack.store.schema import SCHEMA_VERSION

_CHILD = PROCESSES / "migrating_child.py"
_OLD = 1


@dataclass(frozen=True)
class Left:
    """What one kill left.

    ``stage`` is how far the process had come: ``before``, ``copying``, ``copied``, ``changing`` (in the
    middle of the transaction), ``committing`` or ``migrated``. ``wrong`` says what is broken, and is empty
    when the file is the old one or the new one, whole, with every fact, and opens.
    """

    stage: str
    version: int
    wrong: tuple[str, ...]


def statements_of(path: Path) -> list[str]:
    """Let a process do the whole work, and return the statements at which it could have been killed."""
    told = subprocess.run(
        [sys.executable, str(_CHILD), str(path)], capture_output=True, text=True, check=True
    )
    return [line for line in told.stdout.splitlines() if line.startswith("statement ")]


def kill_at_statements(folder: Path, numbers: Sequence[int]) -> list[Left]:
    """Let a process kill itself when the nth statement of a file's migration is about to run, and look.

    There is a file in the folder for each number; one with a number that is too high is migrated whole.
    """
    paths = [make_v1(folder / f"{nth}.db") for nth in numbers]
    facts = [facts_of(path) for path in paths]
    command = [sys.executable, str(_CHILD)]
    for nth, path in zip(numbers, paths, strict=True):
        command += [str(nth), str(path)]
    told = subprocess.run(command, stdout=subprocess.PIPE, text=True, check=True).stdout
    runs = re.split(r"^ended .*\n", told, flags=re.MULTILINE)[:-1]
    return [
        _look(path, before, _stage(run.splitlines()))
        for path, before, run in zip(paths, facts, runs, strict=True)
    ]


def kill_at_random(path: Path, line: str, within: float, chance: random.Random) -> Left:
    """Kill a process within some seconds of a line that it tells, such as ``copying``, and look."""
    facts = facts_of(path)
    with subprocess.Popen(
        [sys.executable, str(_CHILD), str(path)], stdout=subprocess.PIPE, text=True
    ) as child:
        lines = []
        while not lines or not lines[-1].startswith(line):
            lines.append(child.stdout.readline())
            if not lines[-1]:
                raise EOFError(f"the process ended before it told {line!r}")
        moment = time.perf_counter() + chance.uniform(0, within)
        while time.perf_counter() < moment:
            pass
        child.send_signal(signal.SIGKILL)
        lines += child.stdout.readlines()
    return _look(path, facts, _stage(lines))


def seconds(path: Path) -> dict[str, float]:
    """Let a process do the whole work; return when it came to each line, in seconds from the first one on."""
    told = {}
    with subprocess.Popen(
        [sys.executable, str(_CHILD), str(path)], stdout=subprocess.PIPE, text=True
    ) as child:
        for line in child.stdout:
            told.setdefault(line.strip(), time.perf_counter())
    return {line: moment - told["copying"] for line, moment in told.items()}


def _stage(lines: list[str]) -> str:
    last = lines[-1].strip() if lines else "before"
    if last.startswith("statement"):
        return "committing" if last.startswith("statement COMMIT") else "changing"
    return last


def _look(path: Path, facts: dict[str, str], stage: str) -> Left:
    version, wrong = _raw(path, facts)
    copy = path.with_name(f"{path.name}.before-version-{SCHEMA_VERSION}")
    if stage not in ("before", "copying") and not os.path.exists(copy):
        wrong.append("no copy")
    if os.path.exists(copy):
        old, wrong_copy = _raw(copy, facts)
        wrong += [f"copy: {text}" for text in wrong_copy + ["not the old version"] * (old != _OLD)]
    try:
        open_season(path).close()
    except EvaltrackError as error:
        wrong.append(str(error))
    after, wrong_after = _raw(path, facts)
    wrong += [f"opened: {text}" for text in wrong_after + ["not the new version"] * (after != SCHEMA_VERSION)]
    return Left(stage, version, tuple(wrong))


def _raw(path: Path, facts: dict[str, str]) -> tuple[int, list[str]]:
    """Return the version of a file, and what is wrong with it as an old or a new one, by SQLite alone."""
    try:
        with closing(sqlite3.connect(path)) as file:
            (version,) = file.execute("PRAGMA user_version").fetchone()
            wrong = _unsound(file) + ["neither the old nor the new version"] * (not _is_whole(file, version))
        return version, wrong + ["a fact is lost or changed"] * (facts_of(path) != facts)
    except sqlite3.Error as error:
        return 0, [f"half a file: {error}"]


def _unsound(file: sqlite3.Connection) -> list[str]:
    sound = file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    stray = file.execute("PRAGMA foreign_key_check").fetchall()
    return ["not sound"] * (not sound) + ["a fact names what is not there"] * bool(stray)


def _is_whole(file: sqlite3.Connection, version: int) -> bool:
    """Say whether the file has all that its version has, and nothing of the other one."""
    new = {"line_fact", "line_start", "rep_practice"}
    found = new & {name for (name,) in file.execute("SELECT name FROM sqlite_schema")}
    tablet = any(row[1] == "tablet" for row in file.execute("PRAGMA table_info(rep)"))
    (steps,) = file.execute("SELECT count(*) FROM _sqlite_migrations").fetchone()
    return (steps, found, tablet) == ((1, set(), False) if version == _OLD else (SCHEMA_VERSION, new, True))
