"""Hand-overs that are killed at a random moment, and between tablets whose clocks are wrong: what is left."""

import random
import shutil
import time
from collections import Counter
from pathlib import Path

from bench_packs import template, with_tallies
from two_tablets import TabletProcess, meet

from evaltrack.store.opening import open_season

_EVERY = 0.05  # seconds between two taps on each tablet
_THERE = 3000  # tallies on each before a hand-over that is killed
_HOUR, _DAY = 3600, 86_400
_CLOCKS = (  # by how many seconds the two clocks are wrong, and what becomes of the first in the midst
    ("three hours apart", 0, 3 * _HOUR, 0),
    ("three days apart", 0, -3 * _DAY, -3 * _DAY),
    ("in 2010 and two years ahead", -16 * 365 * _DAY, 2 * 365 * _DAY, 5 * 365 * _DAY),
)


def two_seasons(folder: Path, count: int) -> tuple[Path, Path]:
    """Make two copies of a season, each with so many tallies of its own."""
    base = template(folder)
    one, two = (Path(shutil.copy(base, folder / f"{name}.db")) for name in ("one", "two"))
    return with_tallies(one, count), with_tallies(two, count)


def kills(folder: Path, count: int, tapping: bool) -> None:
    """Print what is left after hand-overs of which one side was killed at a random moment.

    Parameters
    ----------
    tapping : whether both sides are tapped meanwhile.
    """
    chance, left = random.Random(11), Counter()
    paths = two_seasons(folder, _THERE)
    before = [_ids(path) for path in paths]
    whole = _one_hand_over(folder, paths)
    for n in range(count):
        place = folder / str(n)
        place.mkdir()
        mine = [Path(shutil.copy(path, place / path.name)) for path in paths]
        left.update(_killed(mine, before, n % 2, chance.uniform(0, 1.2) * whole, tapping))
        shutil.rmtree(place)
    how = "while both are tapped" if tapping else "while nobody taps"
    print(f"  {count} kills {how}, within 1.2 times of {whole:.1f} s:")
    for what, often in sorted(left.items()):
        print(f"    {often:>4}  {what}")


def _killed(mine: list[Path], before: list[set], victim: int, after: float, tapping: bool) -> list[str]:
    """Kill one side, look at both files, hand over once more, and return what there is to say of each."""
    tablets = [_started(path) for path in mine]
    if tapping:
        for tablet in tablets:
            tablet.say("tap", _EVERY)
    meet(*tablets)
    time.sleep(after)
    tablets[victim].kill()
    other = tablets[1 - victim]
    other.say("tap", 0)
    said = [_told_by(other)]
    taps = [{tap["id"] for tap in tablet.of("tap")} for tablet in tablets]
    said += [_state(mine[at], before[at], before[1 - at], taps[at]) for at in (0, 1)]
    fresh = _started(mine[victim])
    pair = (fresh, other) if victim == 0 else (other, fresh)
    meet(*pair)
    pair[1].stage("together")
    pair[1].say("leave")
    equal = all([one.hear("ended")["equal"] for one in pair])
    for tablet in pair:
        tablet.end()
    expected = set().union(*before, *taps)
    found = [_ids(path) for path in mine]
    lost, doubled = max(len(expected - ids) for ids in found), len({_digest(path) for path in mine}) - 1
    return [*said, f"once more: equal {equal}, {lost} lost, {doubled} differ"]


def _started(path: Path, *words: object) -> TabletProcess:
    tablet = TabletProcess(path, path.parent / f"home-{path.stem}", *words)
    tablet.hear("ready")
    return tablet


def _told_by(other: TabletProcess) -> str:
    """Say how the other tablet came to its end."""
    try:
        return "a sentence on the other" if other.hear("ended", patience=5)["trouble"] else "had parted"
    except AssertionError:  # it waits for somebody, or is together with nobody
        other.say("leave")
        trouble = other.hear("ended")["trouble"]
        return "a sentence on the other" if trouble else "had not met, or was together"


def _one_hand_over(folder: Path, paths) -> float:
    tablets = [_started(Path(shutil.copy(path, folder / f"first-{path.name}"))) for path in paths]
    began = time.monotonic()
    meet(*tablets)
    tablets[1].stage("together")
    taken = time.monotonic() - began
    for tablet in tablets:
        tablet.end()
    return taken


def _ids(path: Path) -> set[str]:
    with open_season(path) as season:
        rows = season._connection.execute("SELECT id FROM tally").fetchall()
    found = {row[0].hex() for row in rows}
    assert len(found) == len(rows), "a tally stands there twice"
    return found


def _digest(path: Path) -> str:
    with open_season(path) as season:
        assert season.checks.findings() == []
        return season.packs.digest()


def _state(path: Path, own: set, theirs: set, taps: set) -> str:
    """Say in which state a file is: as before, or with all that the other one had when both met."""
    with open_season(path) as season:
        findings = season.checks.findings()
    found = _ids(path)
    lost, came = len((own | taps) - found), len(theirs & found)
    if findings or lost:
        return f"file: not whole: {findings}, {lost} of its own lost"
    return {0: "file: as before", len(theirs): "file: all of both"}.get(came, f"file: neither, {came} came")


def clocks(folder: Path) -> None:
    """Print what two tablets come to whose clocks are wrong, one of which is set in the midst."""
    for nth, (name, one, other, moved) in enumerate(_CLOCKS):
        place = folder / str(nth)
        place.mkdir()
        paths = two_seasons(place, 300)
        before = [_ids(path) for path in paths]
        host, guest = (_started(path, ahead) for path, ahead in zip(paths, (one, other), strict=True))
        both = (host, guest)
        for tablet in both:
            tablet.say("tap", _EVERY)
        meet(host, guest)
        guest.stage("together")
        time.sleep(2)
        host.say("clock", moved)
        time.sleep(2)
        for tablet in both:
            tablet.say("tap", 0)
        guest.say("leave")
        outcomes = [tablet.hear("ended") for tablet in both]
        _print_clocks(name, both, paths, before, outcomes)


def _print_clocks(name: str, both, paths, before, outcomes) -> None:
    taps = [{tap["id"] for tap in tablet.of("tap")} for tablet in both]
    for tablet in both:
        tablet.end()
    expected = set().union(*before, *taps)
    found = [_ids(path) for path in paths]
    lost = max(len(expected - ids) for ids in found)
    equal, digests = [one["equal"] for one in outcomes], {_digest(path) for path in paths}
    print(
        f"  clocks {name}: {len(expected)} tallies, {lost} lost, {len(found[0] - expected)} too many, equal"
        f" {equal}, {len(digests)} digest of both, trouble {[one['trouble'] for one in outcomes]}"
    )
    for line in dict.fromkeys(line for one in outcomes for line in one["told"]):
        print(f"    told: {line}")
