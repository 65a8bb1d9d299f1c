"""Text files damaged by chance, or written to do harm: each is read or refused in sentences, soon.

Run it from the top of the checkout: ``python tests/bench/bench_readers.py [--inputs 10000] [--seed 1]
[--only calendar ...]``. The rosters, pasted tables, tallies and wishes (CSV), skills and drills (TOML) and
calendars (iCalendar) go through the readers that the commands and screens use; what was taken in is written
and read again where there is a writer. Exit 1 if anything but sentences came out, or one input took too long
or too much.
"""

import argparse
import os
import resource
import signal
import tempfile
import time
import traceback
from collections import Counter
from multiprocessing import get_context
from pathlib import Path
from random import Random

os.environ |= {name: "1" for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS")}
import at_home  # noqa: F401
from text_damage import damaged_text
from text_readers import text_readers

BATCH = 500  # inputs of one process, which has the peak of its memory for itself
MOST_SECONDS, MOST_MB = 5.0, 500  # of the processor, and of the whole process, for one input
HANGING = 60  # seconds of the processor after which an input is given up
LONGEST = 1000  # characters of a sentence


class Hanging(BaseException):
    """An input takes far too long; no ``except Exception`` on the way stops it."""


def batch(name: str, seed: int, count: int, keep: str) -> dict:
    """Read so many inputs in this process, and return what came of them."""
    from evaltrack.errors import EvaltrackError, IntakeError

    resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
    signal.signal(signal.SIGPROF, _give_up)
    reader, chance = text_readers()[name], Random(f"{name} {seed}")
    told, faults, times = Counter(), Counter(), []
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / reader.file
        for nth in range(count):
            how, content = damaged_text(reader.sound(chance), chance)
            path.write_bytes(content)
            signal.setitimer(signal.ITIMER_PROF, HANGING)
            began, fault = time.process_time(), ""
            try:
                reader.read(path)
                told["read"] += 1
            except EvaltrackError as error:
                told["sentences"] += 1
                parts = error.complaints if isinstance(error, IntakeError) else [str(error)]
                if not parts or not all(map(_is_sentence, parts)):
                    fault = f"no sentence: {str(error)[:80]!r}"
            except (Exception, Hanging) as error:
                where = traceback.extract_tb(error.__traceback__)[-1]
                fault = f"{type(error).__name__} in {where.name}, {Path(where.filename).name}:{where.lineno}"
                fault += f": {str(error)[:80]!r}"
            signal.setitimer(signal.ITIMER_PROF, 0)
            times.append((time.process_time() - began, how))
            if times[-1][0] > MOST_SECONDS:
                fault = fault or f"{times[-1][0]:.1f} s of the processor for an input {how}"
            if fault:
                faults[fault] += 1
                if keep:
                    Path(keep, f"{reader.file}-{seed}-{nth}").write_bytes(content)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return {
        "told": told,
        "faults": faults,
        "slowest": max(times),
        "seconds": sum(t for t, _ in times),
        "peak": peak,
    }


def _is_sentence(text: str) -> bool:
    from evaltrack.rink.plain_text import first_hidden

    return 0 < len(text) <= LONGEST and first_hidden(text) is None and "Traceback" not in text


def _give_up(*_) -> None:
    raise Hanging(f"not done after {HANGING} s of the processor")


def inputs_of(name: str, options: argparse.Namespace, pool) -> bool:
    """Read all inputs of one reader, print what came of them, and say whether it was all right."""
    sizes = [min(BATCH, options.inputs - at) for at in range(0, options.inputs, BATCH)]
    jobs = [(name, options.seed * 10_000 + nth, size, options.keep) for nth, size in enumerate(sizes)]
    found = pool.starmap(batch, jobs, chunksize=1)
    told, faults = (sum((one[part] for one in found), Counter()) for part in ("told", "faults"))
    (slowest, how), peak = max(one["slowest"] for one in found), max(one["peak"] for one in found)
    mean = 1000 * sum(one["seconds"] for one in found) / max(1, options.inputs)
    came = f"{told['read']:7,} read {told['sentences']:7,} in sentences {sum(faults.values()):5,} faults"
    print(
        f"{name:<23}{came}; mean {mean:5.1f} ms, slowest {slowest:.2f} s ({how}); peak {peak:.0f} MB",
        flush=True,
    )
    for fault, count in faults.most_common(20):
        print(f"  {count:,} times {fault}", flush=True)
    return not faults and slowest <= MOST_SECONDS and peak <= MOST_MB


def main() -> None:
    """Read the command line, read the inputs, and print what came of them."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--inputs", type=int, default=10_000, help="of each reader")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", nargs="*", metavar="READER", help="these readers alone")
    parser.add_argument("--keep", default="", metavar="FOLDER", help="where to put inputs with a fault")
    options = parser.parse_args()
    names = [name for name in text_readers() if not options.only or name in options.only]
    if not names:
        parser.error(f"the readers are: {', '.join(text_readers())}")
    with tempfile.TemporaryDirectory() as home, get_context("spawn").Pool(1, maxtasksperchild=1) as pool:
        os.environ["EVALTRACK_HOME"] = home
        right = [inputs_of(name, options, pool) for name in names]
    print(f"goals: no fault, {MOST_SECONDS:.0f} s of the processor and {MOST_MB} MB for each input")
    raise SystemExit(not all(right))


if __name__ == "__main__":
    main()
