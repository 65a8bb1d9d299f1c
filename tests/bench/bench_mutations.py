"""Change the code in small wrong ways, and count how many of the changes the tests notice.

python tests/bench/bench_mutations.py [--only rink,calls] [--modules days] [--each 30] [--seed 1] [--list]

A random sample of all changes is tried: as many as the time allows (--minutes 20), or so many of each room.
Each is run against the test files of its room (``mutant_rooms.py``) that call the changed function, those
named after the module first. What is known to change nothing is in ``equivalent_mutants.toml`` with its
reason and counted apart. The command ends with 1 when fewer than nine in ten of the others are noticed.
"""

import argparse
import random
import sys
import time
import tomllib
from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

import at_home  # noqa: F401
from mutant_rooms import ROOMS, ROOT, Room, files_of
from mutant_runs import PASSED, Ended, Run, load_first, run_all
from mutants import Mutant, enums_in, mutants_of

WANTED = 0.9
AT_ONCE = 2
BASE_LIMIT, TIMES_SLOWER = 10, 5  # seconds, and how often as long as unchanged, before a run counts as hung
EQUIVALENT = Path(__file__).with_name("equivalent_mutants.toml")
KILLED, BY_TIME, EQUAL, SURVIVED = "killed", "by time", "equivalent", "survived"


class Known(NamedTuple):
    """A test file on the code as it stands: how long it takes, and what it calls, by module."""

    seconds: float
    called: dict[str, list[str]]


def main() -> int:
    """Do what is asked for; return 1 when too few changes are noticed."""
    asked = _asked()
    rooms = {name: ROOMS[name] for name in asked.only}
    mutants = _mutants(rooms, asked.modules)
    if asked.list:
        for name, mutant in mutants:
            print(f"{name}: {_told(mutant)}")
        return 0
    until = time.monotonic() + 60 * asked.minutes
    load_first(ROOT)
    known = _as_it_stands(rooms)
    mutants = _sample(mutants, asked.seed, asked.each)
    equal = _equivalent()
    results = _tried([one for one in mutants if _key(one[1]) not in equal], rooms, known, until)
    results += _counted_apart(mutants, equal, len(results))
    return _report(results, len(mutants), asked)


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--minutes", type=float, default=20, help="after which no more is begun (20)")
    parser.add_argument("--seed", type=int, default=1, help="of the sample (1)")
    parser.add_argument("--only", default=",".join(ROOMS), help=f"some of {','.join(ROOMS)}")
    parser.add_argument("--modules", default="", help="only the modules of these names, such as short_names")
    parser.add_argument("--each", type=int, default=0, help="at most so many of each room (all)")
    parser.add_argument("--list", action="store_true", help="list every change and try none")
    asked = parser.parse_args()
    asked.only, asked.modules = asked.only.split(","), [name for name in asked.modules.split(",") if name]
    if unknown := set(asked.only) - set(ROOMS):
        parser.error(f"no such room: {', '.join(sorted(unknown))}")
    return asked


def _mutants(rooms: dict[str, Room], modules: Collection[str] = ()) -> list[tuple[str, Mutant]]:
    """Return the changes of rooms, of all their modules or of those with these names."""
    enums = enums_in(files_of(["evaltrack/**/*.py"]))
    return [
        (name, mutant)
        for name, room in rooms.items()
        for file in files_of(room.changed)
        for mutant in mutants_of(file, enums)
        if not modules or file.stem in modules
    ]


def _sample(mutants: list[tuple[str, Mutant]], seed: int, each: int) -> list[tuple[str, Mutant]]:
    """Return changes in an order of chance: all of them, or so many of each room where ``each`` is not 0."""
    random.Random(seed).shuffle(mutants)
    taken, kept = Counter(), []
    for name, mutant in mutants:
        taken[name] += 1
        if not each or taken[name] <= each:
            kept.append((name, mutant))
    return kept


def _module(file: Path) -> str:
    return ".".join(file.relative_to(ROOT).with_suffix("").parts)


def _as_it_stands(rooms: dict[str, Room]) -> dict[Path, Known]:
    """Return what each test file takes and calls; end the bench when one fails on the code as it stands."""
    traced = frozenset(_module(file) for room in rooms.values() for file in files_of(room.changed))
    files = {file for room in rooms.values() for file in room.test_files()}
    runs = [Run([file], 300, traced=traced) for file in sorted(files)]
    known = {}
    for run, ended in run_all(runs, AT_ONCE, float("inf")):
        [file] = run.tests
        if ended.code != PASSED:
            print(ended.output[-3000:])
            sys.exit(f"{file.relative_to(ROOT)} does not pass on the code as it stands")
        known[file] = Known(ended.seconds, ended.called)
    return known


def _tried(
    mutants: list[tuple[str, Mutant]], rooms: dict[str, Room], known: dict[Path, Known], until: float
) -> list[tuple[str, Mutant, str]]:
    """Run one change after the other until the time is up, and print each that nobody noticed."""
    going, results = {}, []
    files = {name: room.test_files() for name, room in rooms.items()}

    def note(name: str, mutant: Mutant, result: str) -> None:
        results.append((name, mutant, result))
        if result == SURVIVED:
            print(f"survived: {name}: {_told(mutant)}", flush=True)
        if len(results) % 100 == 0:
            print(f"... {len(results)} tried", flush=True)

    def runs() -> Iterator[Run]:
        for name, mutant in mutants:
            tests = _noticing(mutant, files[name], known)
            if not tests:
                note(name, mutant, SURVIVED)
                continue
            limit = BASE_LIMIT + TIMES_SLOWER * sum(known[file].seconds for file in tests)
            run = Run(tests, limit, _module(mutant.file), mutant.source())
            going[id(run)] = name, mutant
            yield run

    for run, ended in run_all(runs(), AT_ONCE, until):
        name, mutant = going[id(run)]
        note(name, mutant, _result(mutant, ended))
    return results


def _noticing(mutant: Mutant, files: Sequence[Path], known: dict[Path, Known]) -> list[Path]:
    """Return the test files that call what was changed: those named after it first, then the quick ones."""
    module = _module(mutant.file)
    calling = [file for file in files if mutant.scope in known[file].called.get(module, ())]
    return sorted(calling, key=lambda file: (mutant.file.stem not in file.stem, known[file].seconds))


def _result(mutant: Mutant, ended: Ended) -> str:
    if ended.code == PASSED:
        return SURVIVED
    if not ended.failed:
        print(ended.output[-3000:])
        sys.exit(f"the run of {_told(mutant)} broke with {ended.code}")
    return BY_TIME if ended.code is None else KILLED


def _equivalent() -> dict[tuple[str, str, str], str]:
    entries = tomllib.loads(EQUIVALENT.read_text("utf-8")).get("equivalent", [])
    return {(one["module"], one["was"], one["becomes"]): one["why"] for one in entries}


def _key(mutant: Mutant) -> tuple[str, str, str]:
    return mutant.file.stem, mutant.was, mutant.becomes


def _counted_apart(mutants, equal, tried: int) -> list[tuple[str, Mutant, str]]:
    """Return the known equivalent ones among as much of the sample as was tried."""
    found, others = [], 0
    for name, mutant in mutants:
        if _key(mutant) in equal:
            found.append((name, mutant, EQUAL))
        else:
            others += 1
        if others >= tried:
            break
    return found


def _report(results: list[tuple[str, Mutant, str]], possible: int, asked: argparse.Namespace) -> int:
    """Print the figures by room; return 1 when too few were noticed."""
    print(f"{len(results)} of {possible} changes tried, seed {asked.seed}")
    for name in asked.only:
        print(_figures(name, Counter(result for room, _, result in results if room == name)))
    counts = Counter(result for _, _, result in results)
    print(_figures("all", counts))
    return int(_share(counts) < WANTED)


def _share(counts: Counter) -> float:
    noticed = counts[KILLED] + counts[BY_TIME]
    return noticed / max(noticed + counts[SURVIVED], 1)


def _figures(name: str, counts: Counter) -> str:
    noticed = counts[KILLED] + counts[BY_TIME]
    return (
        f"{name:>10}: {sum(counts.values())} tried, {noticed} killed ({counts[BY_TIME]} by time), "
        f"{counts[SURVIVED]} survived, {counts[EQUAL]} equivalent: {100 * _share(counts):.1f} % killed"
    )


def _told(mutant: Mutant) -> str:
    return f"{mutant.file.relative_to(ROOT)}:{mutant.line}\n    - {mutant.was}\n    + {mutant.becomes}"


if __name__ == "__main__":
    sys.exit(main())
