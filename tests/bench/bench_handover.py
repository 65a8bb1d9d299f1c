"""Two tablets that hand over while both are tapped: what is lost, what a tap waits, the wire, kills.

Run it from the top of the checkout: ``python tests/bench/bench_handover.py [--tallies 6000] [--seconds 20]
[--kills 50] [--hostile 10000]``. Both tablets are processes of their own, as the app is without its screens.
"""

import argparse
import asyncio
import os
import random
import resource
import shutil
import tempfile
import time
from collections import Counter
from pathlib import Path
from statistics import median
from threading import Thread

import at_home  # noqa: F401
from bench_packs import template, with_tallies
from hostile_peers import meet_many
from lanterns_season import PLAYERS
from two_ends import Relay
from two_tablets import TabletProcess, meet

from evaltrack.store.opening import open_season

_EVERY = 0.05  # seconds between two taps on each tablet: far quicker than any observer
_ENCODINGS = ("utf-8", "utf-16-le", "utf-16-be")


def two_seasons(folder: Path, count: int) -> tuple[Path, Path]:
    """Make two copies of a season, each with so many tallies of its own."""
    base = template(folder)
    one, two = (Path(shutil.copy(base, folder / f"{name}.db")) for name in ("one", "two"))
    return with_tallies(one, count), with_tallies(two, count)


class RecordingRelay:
    """A relay on a thread of its own, for processes."""

    def __init__(self, port: int):
        self._loop = asyncio.new_event_loop()
        self.relay = Relay(port)
        Thread(target=self._loop.run_forever, daemon=True).start()
        asyncio.run_coroutine_threadsafe(self.relay.__aenter__(), self._loop).result()

    def close(self) -> bytes:
        """End it, and return all that went through."""
        self._loop.call_soon_threadsafe(self._loop.stop)
        return bytes(self.relay.seen)


def exchange(folder: Path, count: int, seconds: float) -> None:
    """Print what two tablets come to that exchange so many tallies each while both are tapped."""
    paths = two_seasons(folder, count)
    host, guest = (TabletProcess(path, folder / f"home-{path.stem}") for path in paths)
    both = (host, guest)
    for tablet in both:
        tablet.hear("ready")
        tablet.say("tap", _EVERY)
    time.sleep(seconds / 2)
    host.say("give")
    shown = host.hear("shown")
    began = time.monotonic()
    relay = RecordingRelay(int(shown["address"].split(":")[1]))
    guest.say("join", f"127.0.0.1:{relay.relay.port}", shown["code"])
    for tablet in both:
        tablet.stage("together")
    together = time.monotonic()
    time.sleep(seconds)
    ended = time.monotonic()
    for tablet in both:
        tablet.say("tap", 0)
    guest.say("leave")
    outcomes = [tablet.hear("ended") for tablet in both]
    for tablet in both:
        tablet.say("tap", _EVERY)
    time.sleep(seconds / 2)
    for tablet in both:
        tablet.say("tap", 0)
    _print_taps(both, (began, together, ended))
    _print_latency(host, guest, together)
    _print_outcome(both, paths, count, outcomes, together - began)
    _print_wire(relay.close(), paths[0])


def _print_taps(both, spans: tuple[float, float, float]) -> None:
    began, together, ended = spans
    taps = [tap for tablet in both for tap in tablet.of("tap")]
    alone = [tap for tap in taps if tap["at"] < began or tap["at"] > ended + 2]
    for name, chosen in (
        ("while the packs go over", [tap for tap in taps if began <= tap["at"] < together]),
        ("while together", [tap for tap in taps if together <= tap["at"] < ended]),
    ):
        for what, words in (("took", "tap to commit"), ("late", "due to commit")):
            mine, base = (sorted(tap[what] for tap in found) for found in (chosen, alone))
            ratio = median(mine) / median(base)
            print(
                f"  {words} {name}: median {1e3 * median(mine):.2f} ms, {ratio:.2f} of"
                f" {1e3 * median(base):.2f} alone; 99 of 100 within {1e3 * _p99(mine):.1f} ms"
                f" ({1e3 * _p99(base):.1f} alone), worst {1e3 * mine[-1]:.0f} ms"
                f" ({1e3 * base[-1]:.0f} alone); {len(mine)} taps"
            )
    news = [came for tablet in both for came in tablet.of("came") if came["new"] < 1000]
    joins = sorted(came["took"] for came in news)
    held = f"median {1e3 * median(joins):.1f} ms, worst {1e3 * joins[-1]:.1f} ms"
    print(f"  joining news holds taps up for: {held}")
    large = [came["took"] for tablet in both for came in tablet.of("came") if came["new"] >= 1000]
    print(f"  joining the whole pack, once on each: {', '.join(f'{1e3 * one:.0f} ms' for one in large)}")


def _p99(found: list[float]) -> float:
    return found[min(len(found) - 1, int(0.99 * len(found)))]


def _print_latency(host, guest, since: float) -> None:
    waits = []
    for here, there in ((host, guest), (guest, host)):
        made = {tap["id"]: tap["at"] for tap in here.of("tap") if tap["at"] > since}
        waits += [c["at"] - made[ident] for c in there.of("came") for ident in c["ids"] if ident in made]
    print(
        f"  from a tap here to the file there: median {median(waits):.2f} s, worst {max(waits):.2f} s,"
        f" {len(waits)} tallies"
    )


def _print_outcome(both, paths, count: int, outcomes, seconds: float) -> None:
    made = {tap["id"] for tablet in both for tap in tablet.of("tap")}
    for tablet in both:
        tablet.end()
    again = [TabletProcess(path, path.parent / f"home-{path.stem}") for path in paths]
    for tablet in again:
        tablet.hear("ready")
    meet(*again)
    again[1].stage("together")
    again[1].say("leave")
    equal = [tablet.hear("ended")["equal"] for tablet in again]
    for tablet in again:
        tablet.end()
    lost, doubled, findings, digests = 0, 0, [], set()
    for path in paths:
        with open_season(path) as season:
            ids = [row[0].hex() for row in season._connection.execute("SELECT id FROM tally")]
            lost += len(made - set(ids))
            doubled += len(ids) - len(made) - 2 * count
            findings += season.checks.findings()
            digests.add(season.packs.digest())
    print(
        f"  {2 * count:,} tallies there and {len(made):,} tapped meanwhile: {lost} lost, {doubled} doubled;"
        f" equal at the parting {[one['equal'] for one in outcomes]}, after taps apart and once more {equal},"
        f" {len(digests)} digest of both; check finds {findings}; together after {seconds:.1f} s"
    )


def _print_wire(seen: bytes, path: Path) -> None:
    with open_season(path) as season:
        names = {player.name for player in season.people.everyone()}
    assert {player.name for player in PLAYERS} == names
    words = {part for name in names for part in (name, *name.split()) if len(part) > 3}
    found = [word for word in words for encoding in _ENCODINGS if word.encode(encoding) in seen]
    print(f"  {len(seen):,} bytes on the wire; of {len(words)} names and parts of them: {found or 'none'}")


def wrong_codes(folder: Path) -> None:
    """Print what a third tablet gets that does not know the code."""
    one, _ = two_seasons(folder, 200)
    three = Path(shutil.copy(template(folder / "made"), folder / "three.db"))
    host, third = (TabletProcess(path, folder / f"home-{path.stem}") for path in (one, three))
    host.hear("ready"), third.hear("ready")
    host.say("give")
    shown = host.hear("shown")
    told = []
    for n in range(1, 5):
        code = (int(shown["code"]) + n) % 10**6 if n < 4 else int(shown["code"])
        third.say("join", shown["address"], f"{code:06d}")
        told.append(third.hear("ended")["trouble"])
    host.hear("ended")
    host.say("give")
    wait = host.hear("wait")["seconds"]
    for tablet in (host, third):
        tablet.end()
    with open_season(three) as season:
        print(f"  a third with three wrong codes and then the right one got {season.log.count()} tallies:")
    for words in told:
        print(f"    {words}")
    print(f"    the next code may be shown in {wait} s")


def kills(folder: Path, count: int) -> None:
    """Print what is left after either side was killed at a random moment of a hand-over."""
    chance, left = random.Random(11), Counter()
    paths = two_seasons(folder, 3000)
    whole = _one_hand_over(folder, paths)
    for n in range(2 * count):
        place = folder / str(n)
        place.mkdir()
        mine = [Path(shutil.copy(path, place / path.name)) for path in paths]
        tablets = [TabletProcess(path, place / f"home-{path.stem}") for path in mine]
        for tablet in tablets:
            tablet.hear("ready")
        meet(*tablets)
        time.sleep(chance.uniform(0, 1.2) * whole)
        victim, other = tablets[n % 2], tablets[1 - n % 2]
        victim.kill()
        left[_told_by(other)] += 1
        for path in mine:
            left[_state(path)] += 1
        fresh = TabletProcess(victim.path, place / f"home-{victim.path.stem}")
        fresh.hear("ready")
        pair = (fresh, other) if n % 2 == 0 else (other, fresh)
        meet(*pair)
        pair[1].stage("together")
        pair[1].say("leave")
        left[f"equal when repeated: {all([one.hear('ended')['equal'] for one in pair])}"] += 1
        for tablet in pair:
            tablet.end()
        left[f"whole and one digest: {len({_digest(path) for path in mine}) == 1}"] += 1
        shutil.rmtree(place)
    print(f"  {2 * count} kills within 1.2 times of {whole:.1f} s: {dict(left)}")


def _told_by(other: TabletProcess) -> str:
    """Say how the other tablet came to its end."""
    try:
        return "a sentence on the other" if other.hear("ended", patience=5)["trouble"] else "had parted"
    except AssertionError:  # it waits for somebody, or is together with nobody
        other.say("leave")
        trouble = other.hear("ended")["trouble"]
        return "a sentence on the other" if trouble else "had not met, or was together"


def _one_hand_over(folder: Path, paths) -> float:
    mine = [Path(shutil.copy(path, folder / f"first-{path.name}")) for path in paths]
    tablets = [TabletProcess(path, folder / f"home-{path.stem}") for path in mine]
    for tablet in tablets:
        tablet.hear("ready")
    began = time.monotonic()
    meet(*tablets)
    tablets[1].stage("together")
    taken = time.monotonic() - began
    for tablet in tablets:
        tablet.end()
    return taken


def _digest(path: Path) -> str:
    with open_season(path) as season:
        assert season.checks.findings() == []
        return season.packs.digest()


def _state(path: Path) -> str:
    """Say in which state a file is: as before, or with all of the other one."""
    with open_season(path) as season:
        count, findings = season.log.count(), season.checks.findings()
    states = {3000: "as before", 6000: "all of both"}
    return f"not whole: {findings}" if findings else states.get(count, f"neither: {count} tallies")


def main() -> None:
    """Do what was asked for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--tallies", type=int, default=6_000)
    parser.add_argument("--seconds", type=float, default=20)
    parser.add_argument("--kills", type=int, default=50)
    parser.add_argument("--hostile", type=int, default=10_000)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as place:
        os.environ["EVALTRACK_HOME"] = place
        if asked.tallies:
            exchange(_folder(place, "exchange"), asked.tallies, asked.seconds)
            wrong_codes(_folder(place, "wrong"))
        if asked.hostile:
            began, came = time.process_time(), asyncio.run(meet_many(asked.hostile, 7))
            memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000
            print(
                f"  {asked.hostile:,} hostile peers in {time.process_time() - began:.0f} s of the processor,"
            )
            print(f"  most memory {memory:,.0f} MB; they came to these sentences:")
            for words, count in came.most_common():
                print(f"    {count:>6,}  {words}")
        if asked.kills:
            kills(_folder(place, "kills"), asked.kills)


def _folder(place: str, name: str) -> Path:
    folder = Path(place, name)
    (folder / "made").mkdir(parents=True)
    return folder


if __name__ == "__main__":
    main()
