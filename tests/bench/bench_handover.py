"""Two tablets that hand over while both are tapped: what is lost, what a tap waits, the wire, kills.

Run it from the top of the checkout: ``python tests/bench/bench_handover.py [--tallies 6000] [--seconds 20]
[--kills 50] [--tapped-kills 50] [--clocks] [--hostile 10000]``. Both tablets are processes of their own, as
the app is without its screens.
"""

import argparse
import asyncio
import os
import resource
import shutil
import tempfile
import time
from pathlib import Path
from statistics import median
from threading import Thread
from unicodedata import normalize

import at_home  # noqa: F401
from bench_packs import template
from hostile_peers import meet_many
from hurt_handovers import clocks, kills, two_seasons
from lanterns_season import PLAYERS
from two_ends import Relay
from two_tablets import TabletProcess, meet

from evaltrack.store.opening import open_season

_EVERY = 0.05  # seconds between two taps on each tablet: far quicker than any observer
_ENCODINGS = ("utf-8", "utf-16-le", "utf-16-be")


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
    _print_wire(relay.close(), paths[0], shown["code"])


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


def _print_wire(seen: bytes, path: Path, code: str) -> None:
    with open_season(path) as season:
        names = {player.name for player in season.people.everyone()}
    assert {player.name for player in PLAYERS} == names
    words = {part for name in names for part in (name, *name.split()) if len(part) > 3}
    secret = [*words, code, f"{code[:3]} {code[3:]}"]
    forms = {
        normalize(form, word).encode(encoding)
        for word in secret
        for form in ("NFC", "NFD")
        for encoding in _ENCODINGS
    }
    found = [form for form in forms if form in seen]
    print(
        f"  {len(seen):,} bytes on the wire; of {len(words)} names and parts of them, and of the code, in"
        f" {len(forms)} forms (composed, decomposed, UTF-8, UTF-16): {found or 'none'}"
    )


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


def main() -> None:
    """Do what was asked for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--tallies", type=int, default=6_000)
    parser.add_argument("--seconds", type=float, default=20)
    parser.add_argument("--kills", type=int, default=50, help="while nobody taps")
    parser.add_argument("--tapped-kills", type=int, default=50, help="while both are tapped")
    parser.add_argument("--clocks", action=argparse.BooleanOptionalAction, default=True)
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
        if asked.clocks:
            clocks(_folder(place, "clocks"))
        for name, count, tapping in (("kills", asked.kills, False), ("tapped", asked.tapped_kills, True)):
            if count:
                kills(_folder(place, name), count, tapping)


def _folder(place: str, name: str) -> Path:
    folder = Path(place, name)
    (folder / "made").mkdir(parents=True)
    return folder


if __name__ == "__main__":
    main()
