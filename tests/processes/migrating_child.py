"""Open older season files, telling on stdout what is being done, so that it can be killed in the middle.

python migrating_child.py SEASON.db              open one, and be killed from outside
python migrating_child.py N SEASON.db [...]      open each in a process of its own, which kills itself when
                                                 the N-th statement of the migration that is more than a
                                                 question is about to run

What the migration needs is imported first, so that nothing but work on the files lies between the first line
and the last one.
"""

import os
import signal
import sys
from pathlib import Path

from evaltrack.store import migrations, opening

_keep_copy, _migrate = opening._keep_copy, migrations.migrate


def tell(what: str) -> None:
    """Write a line at once."""
    os.write(1, f"{what}\n".encode())


def open_telling(path: Path, deadly: int = 0) -> None:
    """Open the file and tell of each stage and statement; the deadly statement is the last thing told."""
    count = 0

    def stated(statement: str) -> None:
        nonlocal count
        if statement.lower().startswith("select"):
            return
        count += 1
        tell(f"statement {' '.join(statement.split())}")
        if count == deadly:
            os.kill(os.getpid(), signal.SIGKILL)

    def copying(connection, copy) -> None:
        tell("copying")
        _keep_copy(connection, copy)
        tell("copied")

    def migrating(connection) -> None:
        connection.set_trace_callback(stated)
        _migrate(connection)
        connection.set_trace_callback(None)
        tell("migrated")

    opening._keep_copy, migrations.migrate = copying, migrating
    opening.open_season(path).close()
    tell("opened")


def each_in_its_own_process(path: str, deadly: int) -> None:
    """Fork, so that the imports are paid once, and tell how it ended."""
    if (child := os.fork()) == 0:
        open_telling(Path(path), deadly)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    tell(f"ended {os.waitstatus_to_exitcode(status)}")


if __name__ == "__main__":
    if len(sys.argv) == 2:
        open_telling(Path(sys.argv[1]))
    for number, name in zip(sys.argv[1::2], sys.argv[2::2], strict=False):
        each_in_its_own_process(name, int(number))
