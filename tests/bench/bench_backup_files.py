"""Read files that are no backups, or damaged: each ends in a season or a sentence, soon and in little memory.

Run it from the top of the checkout: ``python tests/bench/bench_backup_files.py [--count 10000] [--seed 1]``.
Damaged backups, sealed ones that were changed, their headers, text and noise go through the reader of
backups, and every eighth of the damaged ones through the salvage. Of what is salvaged each tally is held
against those that were there; rows of other tables in which a changed byte is not to be seen are counted.
"""

import argparse
import os
import re
import resource
import sqlite3
import tempfile
import time
from collections import Counter
from contextlib import closing
from multiprocessing import get_context
from pathlib import Path
from random import Random

import at_home  # noqa: F401
from damaging import damaged, flipped
from season_to_damage import season_to_damage

BATCH, MOST_SECONDS, MOST_MB = 250, 10.0, 700
WORDS = "kettle lantern slush"
KNOWN = "id, practice, player, skill, skill_version, outcome, pressure, drill, step, observer, tablet"


def rows_of(path: Path) -> dict[str, set[tuple]]:
    """Return the rows by table, and the tallies in the columns that an index holds a second time."""
    with closing(sqlite3.connect(path)) as file:
        names = [n for (n,) in file.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        found = {n: set(file.execute(f"SELECT * FROM {n}")) for n in names if n[0] != "_" and n != "epoch"}
        return found | {"known": set(file.execute(f"SELECT {KNOWN} FROM tally"))}


def changed(kind: int, whole: bytes, hidden: bytes, chance: Random) -> tuple[str, bytes]:
    """Return the name of an input, and the input."""
    if kind < 5:
        return damaged(whole, whole, chance)
    if kind == 5:
        return "sealed, changed", bytes(flipped(bytearray(hidden), chance, hidden))
    if kind == 6:
        return "sealed, cut", hidden[: chance.randrange(len(hidden))]
    if kind == 7:
        head = bytearray(hidden[:200])
        for _ in range(chance.choice((1, 2, 8))):
            head[chance.randrange(180)] = chance.choice(b"\n 0123456789->abcXYZ+/=\r\x00\xff")
        return "header of a sealed one", bytes(head) + hidden[200:]
    text = chance.choice((b"", b"SQLite format 3\x00", b"age-encryption.org/v1\n", b"number,name,position\n"))
    return "noise", text + chance.randbytes(chance.randrange(20_000))


def batch(seed: int, count: int, folder: str) -> dict:
    """Read so many inputs in this process, and return what came of them."""
    from evaltrack.device import sealing
    from evaltrack.errors import EvaltrackError
    from evaltrack.store.backups.restoring import opened_backup
    from evaltrack.store.salvage.salvaging import salvage

    resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
    sealing._WORK = 4
    chance, place = Random(seed), Path(folder)
    whole = (place / "whole.db").read_bytes()
    hidden, before = sealing.sealed(whole, WORDS), rows_of(place / "whole.db")
    told, faults, slowest, silent = Counter(), Counter(), 0.0, Counter()
    path, target = place / f"input-{seed}", place / f"saved-{seed}.db"
    for nth in range(count):
        name, content = changed(chance.randrange(9), whole, hidden, chance)
        path.write_bytes(content)
        began = time.process_time()
        try:
            with opened_backup(path, WORDS) as season:
                season.copies.facts()
            told[name, "a season"] += 1
        except EvaltrackError as error:
            told[name, "a sentence"] += 1
            if not str(error).isprintable() or len(str(error)) > 600:
                faults[f"no sentence: {str(error)[:80]!r}"] += 1
        except Exception as error:
            faults[f"{type(error).__name__} at {name}: {str(error)[:80]}"] += 1
        if nth % 8 == 0 and content[:4] == b"SQLi":
            try:
                saved = salvage(path, target)
                rows = rows_of(target)
                told["salvaged", "a season"] += 1
                told["salvaged", "whole by the check"] += not saved.findings
                if not rows["known"] <= before["known"]:
                    faults[f"a tally that was not there: {name}"] += 1
                stood_in = sum(saved.stood_in.values())
                strange = sum(len(rows[t] - before[t]) for t in rows if t != "known")
                silent[min(max(0, strange - stood_in), 5)] += 1
            except EvaltrackError:
                told["salvaged", "a sentence"] += 1
            except Exception as error:
                faults[f"{type(error).__name__} in salvage at {name}: {str(error)[:80]}"] += 1
            target.unlink(missing_ok=True)
        slowest = max(slowest, time.process_time() - began)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return {"told": told, "faults": faults, "slowest": slowest, "peak": peak, "silent": silent}


def main() -> None:
    """Read the command line, read the inputs, and print what came of them."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    told, faults, silent, slowest, peak = Counter(), Counter(), Counter(), 0.0, 0.0
    with tempfile.TemporaryDirectory() as folder:
        os.environ["EVALTRACK_HOME"] = str(Path(folder) / "home")
        season_to_damage(Path(folder) / "whole.db")
        sizes = [min(BATCH, options.count - at) for at in range(0, options.count, BATCH)]
        jobs = [(options.seed * 1000 + nth, size, folder) for nth, size in enumerate(sizes)]
        with get_context("spawn").Pool(1, maxtasksperchild=1) as pool:
            for one in pool.starmap(batch, jobs, chunksize=1):
                told.update(one["told"])
                faults.update(one["faults"])
                silent.update(one["silent"])
                slowest, peak = max(slowest, one["slowest"]), max(peak, one["peak"])
    show(told, faults, silent, slowest, peak)
    raise SystemExit(bool(faults) or slowest > MOST_SECONDS or peak > MOST_MB)


def show(told: Counter, faults: Counter, silent: Counter, slowest: float, peak: float) -> None:
    """Print what came of all inputs."""
    for (name, what), count in sorted(told.items()):
        print(f"{count:7,} {re.sub('_', ' ', name)}: {what}")
    changed_rows = ", ".join(f"{n}{'+' if n == 5 else ''}: {count:,}" for n, count in sorted(silent.items()))
    print(f"rows of other tables that nobody can see were changed, by file: {changed_rows}")
    print(
        f"slowest input {slowest:.2f} s of the processor, peak {peak:.0f} MB, {sum(faults.values())} faults"
    )
    for fault, count in faults.most_common(20):
        print(f"  {count:,} times {fault}")


if __name__ == "__main__":
    main()
