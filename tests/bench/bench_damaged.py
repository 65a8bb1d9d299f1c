"""Open damaged and hostile season files, and count how many end in a whole season and how many in a sentence.

Run it from the top of the checkout: ``python tests/bench/bench_damaged.py [--damaged 10000] [--crafted 500]
[--seed 1]``. A small season with rotations and corrections, and the demo team's, are damaged by
chance: flipped bits, lost ends, pages exchanged, journals with flipped bits beside sound files. Others
are crafted. Each is read by a process of its own, with all that the app and the commands read, a tap on a
board, and every twentieth time the standings; the tap is looked for afterwards.
"""

import argparse
import gc
import json
import os
import re
import resource
import select
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from math import ceil
from pathlib import Path
from random import Random

os.environ |= {
    name: "1" for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "KIVY_NO_ARGS", "KIVY_NO_CONFIG")
}
os.environ |= {"KIVY_NO_FILELOG": "1", "KIVY_NO_CONSOLELOG": "1"}
ROOT = Path(__file__).resolve().parents[2]
import at_home  # noqa: F401

LONGEST, LARGEST = 5.0, 500  # seconds of the processor, and MB, of one file
_HANGING = 60.0  # seconds of a clock: on a busy machine a read waits for others
_THOROUGHLY = 20  # every so many files the standings are worked out
_OTHER = 9  # every so many damaged files it is a journal beside a sound file


class Tally:
    """What came of all files of one kind."""

    def __init__(self):
        self.count = self.whole = self.told = self.hangs = 0
        self.slowest = self.largest = 0.0
        self.faults: Counter[str] = Counter()
        self.sentences: Counter[str] = Counter()
        self.examples: dict[str, str] = {}

    def add(self, name: str, outcome: dict, seconds: float, megabytes: float) -> None:
        """Count one file."""
        self.count += 1
        self.slowest, self.largest = max(self.slowest, seconds), max(self.largest, megabytes)
        faults = list(outcome["faults"])
        self.hangs += seconds >= LONGEST
        if seconds >= LONGEST:
            faults.append(f"more than {LONGEST:.0f} s")
        for fault in set(faults):
            self.faults[fault] += 1
            self.examples.setdefault(fault, name)
        self.told += bool(outcome["sentences"])
        self.whole += not outcome["sentences"] and not faults
        self.sentences.update({_without_names(sentence) for sentence in outcome["sentences"]})

    def show(self, what: str) -> None:
        """Print what came of them."""
        print(
            f"{self.count:,} {what}: {self.whole:,} read whole, {self.told:,} ended in a sentence, ", end=""
        )
        print(f"{self.faulty:,} faults, {self.hangs} over {LONGEST:.0f} s; ", end="")
        print(f"slowest {self.slowest:.1f} s, largest {self.largest:.0f} MB (goal {LARGEST})")
        for fault, count in self.faults.most_common(20):
            print(f"  FAULT {count:5}  {fault}   ({self.examples[fault]})")
        for sentence, count in self.sentences.most_common(12):
            print(f"  {count:7}  {sentence[:150]}")

    @property
    def faulty(self) -> int:
        """Return how many faults there were: tracebacks, lost taps, values of a wrong kind, no sentences."""
        return sum(self.faults.values())


def _without_names(sentence: str) -> str:
    return re.sub(r'"[^"]*"', '"..."', sentence)


def in_a_process_of_its_own(path: Path, tablet: str, thoroughly: bool) -> tuple[dict, float, float]:
    """Read a file in a child of this process; return what came of it, seconds of the processor, peak MB."""
    answers, answer = os.pipe()
    start = time.perf_counter()
    child = os.fork()
    if child == 0:
        _answer(answer, path, tablet, thoroughly)
    os.close(answer)
    heard = b""
    while (left := _HANGING - (time.perf_counter() - start)) > 0 and select.select([answers], [], [], left)[
        0
    ]:
        if not (part := os.read(answers, 1 << 16)):
            break
        heard += part
    clock = time.perf_counter() - start
    os.kill(child, signal.SIGKILL)
    usage = os.wait4(child, 0)[2]
    os.close(answers)
    seconds = clock if clock >= _HANGING else usage.ru_utime + usage.ru_stime
    ended = {"sentences": [], "faults": [] if seconds >= LONGEST else ["the process ended by itself"]}
    return json.loads(heard) if heard else ended, seconds, usage.ru_maxrss / 1024


def _answer(answer: int, path: Path, tablet: str, thoroughly: bool) -> None:
    from reading_all import read_all

    try:
        resource.setrlimit(resource.RLIMIT_AS, (8 << 30, 8 << 30))
        resource.setrlimit(resource.RLIMIT_CPU, (ceil(LONGEST), ceil(LONGEST) + 1))
        found = read_all(path, tablet, thoroughly)
        os.write(answer, json.dumps({"sentences": found.sentences, "faults": found.faults}).encode())
    finally:
        os._exit(0)


def make_seasons(folder: Path) -> tuple[dict[str, Path], str]:
    """Make the seasons, each with a practice that runs and a rotation; return them and the tablet."""
    from seasons_for_touch import demo_season, new_season

    from evaltrack.device.tablet import load_tablet

    seasons = {"small": new_season(folder / "small.db", 12), "demo": demo_season(folder / "demo.db")}
    for path in seasons.values():
        play(path)
    return seasons, load_tablet().id


def load_all(path: str, tablet: str) -> None:
    """Load in this process, once, what each child would load by itself: all that reads a season."""
    from reading_all import read_all

    found = read_all(Path(path), tablet, thoroughly=True)
    assert not found.faults, found.faults
    gc.collect()
    gc.freeze()  # so that no child goes through it all, page by page


def play(path: Path, left_in_journal: Path | None = None) -> None:
    """Play some reps with corrections; copy the file and its journal to a place before the journal goes."""
    from datetime import date

    from evaltrack.rink.practice import Amendment, Correction
    from evaltrack.rink.tally import Outcome
    from evaltrack.touch.desk.bench_rotation import BenchRotation
    from evaltrack.touch.desk.desk import Desk

    desk = Desk()
    assert desk.open(path), desk.message
    if left_in_journal is None:
        desk.begin(date(2026, 1, 12), desk.players, desk.drills[0].key, desk.drills[0].steps[0].key, "Tuomo")
        desk.tally(desk.players[0].id, Outcome.MISSED)
        desk.end()
        day = date(2026, 1, 12)
        moved = Correction("2026-01-12", Amendment.TO_DATE, day, date(2026, 1, 11), desk.tablet.id)
        desk.season.corrections.add(moved)
        change_in_season(desk)
        desk.close()
        assert desk.open(path), desk.message
        desk.begin(date(2026, 1, 13), desk.players, desk.drills[0].key, desk.drills[0].steps[-1].key, "Ines")
    line = BenchRotation(desk)
    line.take_up()
    for turn in range(12):
        for slot in line.slots():
            player = line.rotation.slots.get(slot.key)
            if player and slot.skills:
                desk.tally(player, list(Outcome)[turn % 3], slot.skills[0], line.rep, slot=slot.key)
        slot = line.slots()[0]
        if turn % 3 == 0 and (could_be := line.could_be(slot)):
            line.swap(slot.key, could_be[0].id)
        line.next_rep()
    desk.undo()
    if left_in_journal:
        for ending in ("", "-wal"):
            shutil.copy(f"{path}{ending}", f"{left_in_journal}{ending}")
    desk.close()


def change_in_season(desk) -> None:
    """Put a row in each table of what changes in mid-season: a player, a skill, tallies, a comment."""
    from dataclasses import replace
    from datetime import date

    from evaltrack.rink.player import Status
    from evaltrack.rink.tally_correction import Change, correction_of

    season, first, tablet = desk.season, desk.players[0], desk.tablet.id
    away = replace(first, status=Status.AWAY, away_until=date(2026, 1, 20))
    season.people.change([away], date(2026, 1, 12), tablet)
    season.people.change([replace(desk.players[1], number="98")], date(2026, 1, 12), tablet)
    skills = season.catalogue.skills()
    season.catalogue_changes.set_to([replace(skills[0], target=0.7), *skills[1:]], None, (), tablet)
    season.catalogue_changes.keep_texts({"skills": "# ours"})
    for change, value in ((Change.PLAYER, desk.players[2].id), (Change.ASIDE, True)):
        season.tally_corrections.add(
            correction_of(season.log.stands("2026-01-12"), change, value, "2026-01-12", tablet)
        )
    season.tally_corrections.put_in_force(season.tally_corrections.all()[0], False, tablet)
    season.comments.write("2026-01-12", "Soft ice.", tablet)


def damaged_files(
    seasons: dict[str, Path], folder: Path, count: int, chance: Random
) -> Iterator[tuple[str, Path]]:
    """Yield so many damaged files, one after the other in one place."""
    from damaging import damaged

    contents = {name: path.read_bytes() for name, path in seasons.items()}
    journal = folder / "journal.db"
    play(Path(shutil.copy(seasons["small"], folder / "played.db")), journal)
    for number in range(count):
        path = _fresh(folder)
        if number % _OTHER == _OTHER - 1:
            log = bytearray(Path(f"{journal}-wal").read_bytes())
            for _ in range(chance.choice((1, 3, 20))):
                log[chance.randrange(len(log))] ^= 1 << chance.randrange(8)
            path.write_bytes(journal.read_bytes())
            Path(f"{path}-wal").write_bytes(log)
            yield f"{number} journal", path
            continue
        name = "small" if chance.random() < 0.7 else "demo"
        other = contents["demo" if name == "small" else "small"]
        kind, content = damaged(contents[name], other, chance)
        path.write_bytes(content)
        yield f"{number} {name} {kind}", path


def crafted_files(
    seasons: dict[str, Path], folder: Path, count: int, chance: Random
) -> Iterator[tuple[str, Path]]:
    """Yield so many crafted files: those made by hand, of both seasons, and values that are forbidden."""
    from hostile import crafts, values

    # those of the small season first, so that a short run has made each kind once
    every = [
        (f"{season}: {name}", path, craft)
        for season, path in seasons.items()
        for name, craft in crafts().items()
    ]
    more = values(seasons["small"], chance)
    made = (
        every[:count]
        + [(name, seasons["small"], craft) for name, craft in more][: max(0, count - len(every))]
    )
    for name, season, craft in made:
        path = _fresh(folder)
        shutil.copy(season, path)
        craft(path)
        yield name, path


def _fresh(folder: Path) -> Path:
    folder = folder / "one"
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    return folder / "season.db"


def measure(files: Iterator[tuple[str, Path]], tablet: str, keep: Path | None = None) -> Tally:
    """Read every file, and return what came of them; those with a fault are kept, where a folder is given."""
    came = Tally()
    for number, (name, path) in enumerate(files):
        if keep:
            shutil.copy(path, keep / "last.db")
        outcome, seconds, megabytes = in_a_process_of_its_own(path, tablet, number % _THOROUGHLY == 0)
        came.add(name, outcome, seconds, megabytes)
        if keep and (outcome["faults"] or seconds >= LONGEST):
            shutil.copy(keep / "last.db", keep / f"{re.sub('[^a-z0-9]+', '-', name[:60])}.db")
    return came


def main(arguments: list[str] | None = None) -> bool:
    """Print what came of damaged and of crafted files; return whether no fault is among them."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--damaged", type=int, default=10_000)
    parser.add_argument("--crafted", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path, help="a folder for the files that ended in a fault")
    asked = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.environ["EVALTRACK_HOME"] = str(folder / "tablet")
        seasons, tablet = make_seasons(folder)
        load_all(shutil.copy(seasons["small"], folder / "sound.db"), tablet)
        chance = Random(asked.seed)
        kinds = {
            "damaged files": damaged_files(seasons, folder, asked.damaged, chance),
            "crafted files": crafted_files(seasons, folder, asked.crafted, chance),
        }
        sound = True
        for what, files in kinds.items():
            came = measure(files, tablet, asked.keep)
            came.show(what)
            sound &= not came.faulty and came.largest < LARGEST
    return sound


if __name__ == "__main__":
    sys.exit(not main())
