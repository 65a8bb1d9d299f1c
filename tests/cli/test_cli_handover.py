"""Handing over from the command line: two processes, each its own tablet.

Cases: both end with the same, one says the code and the other types it; no name is on the wire; signs of life
while a large season is read; words that do not go together; a window that is open.
"""

import asyncio
import os
import shutil
import subprocess
import sys
from pathlib import Path
from threading import Event

import pytest
from child import environment
from two_ends import Relay

from evaltrack.cli.handing_over import season_in_hand
from evaltrack.device.season_claim import SeasonClaim
from evaltrack.store.opening import open_season
from evaltrack.store.packs.season_packs import SeasonPacks


def started(home: Path, *words: object) -> subprocess.Popen:
    """Start the command as a tablet of its own."""
    return subprocess.Popen(
        [sys.executable, "-m", "evaltrack", "handover", *map(str, words)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=environment(EVALTRACK_HOME=str(home), EVALTRACK_LANGUAGE="en"),
    )


@pytest.fixture
def tablets(season, tmp_path):
    """Return two copies of a season; the second one has a comment more."""
    one, two = (Path(shutil.copy(season, tmp_path / f"{name}.db")) for name in ("one", "two"))
    with open_season(two) as there:
        key = there.practices.every()[0].key
        there.comments.write(key, "Soft ice.", "two", 1_762_945_200_000)
    return one, two


def test_both_have_the_same_after_it_and_the_wire_shows_no_name(tablets, tmp_path, command, monkeypatch):
    """What stands between sees no name, in any usual encoding; an erasure tells of the other tablet."""
    one, two = tablets
    host = started(tmp_path / "home-one", one, "--listen", "127.0.0.1", "--port", 0)
    told = host.stdout.readline()
    address, code = told.strip().removeprefix("Type on the other tablet: address ").split(", code ")

    async def through_a_relay():
        async with Relay(int(address.split(":")[1])) as relay:
            joining = started(tmp_path / "home-two", two, f"127.0.0.1:{relay.port}", "--code", code)
            return await asyncio.to_thread(joining.communicate, timeout=60), joining.returncode, relay.seen

    (out, err), left, seen = asyncio.run(through_a_relay())
    assert (left, err) == (0, "")
    assert out.splitlines()[-1] == "Both tablets have the same season now."
    rest, err = host.communicate(timeout=60)
    assert (host.returncode, err) == (0, "")
    assert "Both tablets have the same season now." in rest.splitlines()
    assert len(seen) > 5_000
    with open_season(one) as here, open_season(two) as there:
        names = [player.name for player in here.people.everyone()]
        assert len(names) > 3
        for word in [*names, "Soft ice", "tally", "evaltrack pack", code]:
            for encoding in ("utf-8", "utf-16-le", "utf-16-be"):
                assert word.encode(encoding) not in seen
        assert here.packs.digest() == there.packs.digest()
        assert set(here.comments.all().values()) == {"Soft ice."}
        assert here.checks.findings() == there.checks.findings() == []
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / "home-one"))
    assert "the season on the tablet" in command("erase", one, "--player", "2").stdout


def test_signs_of_life_go_out_while_a_large_season_is_read(season, monkeypatch):
    """Or the other tablet takes this one for gone, each time anew."""
    alive = Event()
    monkeypatch.setattr(SeasonPacks, "digest", lambda _: f"{alive.wait(5)}")

    async def run(found):
        asyncio.get_running_loop().call_later(0.05, alive.set)
        return await found.digest()

    with season_in_hand(season) as found:
        assert asyncio.run(run(found)) == "True"


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["--code", "123456"], 2, "name the address"),
        (["1.2.3.4", "--port", "4"], 2, "are for the tablet that shows the code"),
        (["1.2.3", "--code", "123456"], 1, "an address looks like"),
        (["127.0.0.1:9", "--code", "12345"], 1, "a code has six digits"),
        (["127.0.0.1:9", "--code", "123456"], 1, "there is no tablet at 127.0.0.1"),
    ],
)
def test_words_that_cannot_be_are_told(command, season, words, code, said):
    """In a sentence, before anything is sent."""
    done = command("handover", season, *words)
    assert done.exit_code == code
    assert said in done.stderr


def test_not_while_a_window_has_the_season_open(season, tmp_path):
    """The window hands over itself."""
    before, os.environ["EVALTRACK_HOME"] = os.environ["EVALTRACK_HOME"], str(tmp_path / "home")
    claim = SeasonClaim()
    assert claim.take(season)
    child = started(tmp_path / "home", season, "127.0.0.1:9", "--code", "123456")
    _, err = child.communicate(timeout=60)
    claim.leave()
    os.environ["EVALTRACK_HOME"] = before
    assert child.returncode == 1
    assert "open in a window" in err
