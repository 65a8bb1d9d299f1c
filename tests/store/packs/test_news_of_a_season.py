"""Small packs of what another tablet has not heard yet, and the quick way in which they are joined.

Cases: nothing new; tallies and withdrawals; a practice begun, a field changed; what came from the other one
is no news; equal digests; the quick way does what a join does, and leaves all else to it.
"""

import random
import shutil
from contextlib import contextmanager
from dataclasses import replace

import pytest
from lanterns_season import PRACTICES, tally
from three_tablets import ACTS, NOON, ThreeTablets, clock_of, shared

from evaltrack.rink.ident import new_id
from evaltrack.rink.tally import Withdrawal
from evaltrack.store.opening import open_season
from evaltrack.store.packs import joining
from evaltrack.store.packs.pack_file import read_pack

FIRST = PRACTICES[0].key


class Side:
    """A season and what the other one has heard of it."""

    def __init__(self, season, name: str):
        self.season, self.name, self.news = season, name, season.packs.news(name)

    def hear(self, other: "Side") -> dict:
        """Take in what is new there, and return how many facts of each kind the pack had."""
        content = other.news.pack()
        if not content:
            return {}
        pack = read_pack("news", content)
        self.season.packs.join([("news", pack)], now=NOON)
        self.news.note(pack)
        return {kind: count for kind, count in pack.counts().items() if count}


@pytest.fixture
def sides(pair):
    """Return two tablets that have given each other all they have."""
    found = Side(pair.one, "one"), Side(pair.two, "two")
    packs = [read_pack(one.name, one.season.packs.pack(one.name, at=NOON)) for one in found]
    for one in found:
        one.season.packs.join([(pack.header.tablet, pack) for pack in packs], now=NOON)
        for pack in packs:
            one.news.note(pack)
    for one, other in (found, found[::-1]):  # what the joins made of it
        one.hear(other)
    return found


def equal(one: Side, other: Side) -> bool:
    same = shared(one.season._connection) == shared(other.season._connection)
    assert same == (one.season.packs.digest() == other.season.packs.digest())
    return same


def test_who_has_heard_all_is_told_nothing(sides):
    """Not even what came from the other one."""
    one, other = sides
    assert (one.news.pack(), other.news.pack()) == (b"", b"")
    assert equal(*sides)


def test_tallies_and_withdrawals_go_in_packs_of_some_hundred_bytes(sides):
    """Each once, with what they are read by and nothing else, and without the names of the players."""
    one, other = sides
    made = [tally(n, practice=FIRST, tablet="one", id=new_id()) for n in range(3)]
    for each in made:
        one.season.log.add(each)
    one.season.log.withdraw(Withdrawal(made[0].id, "one", NOON))
    pack = one.news.pack()
    assert len(pack) < 1500
    told = read_pack("news", pack)
    assert {kind for kind, facts in told.facts.items() if facts} <= {
        "begun",
        "definition",
        "tally",
        "withdrawal",
    }
    assert one.news.pack() == b""
    assert other.season.packs.join([("news", told)], now=NOON).new == {"tally": 3, "withdrawal": 1}
    other.news.note(told)
    assert other.news.pack() == b""
    assert equal(*sides)


def test_a_change_goes_with_all_that_its_field_ever_had(sides):
    """So what both know does not look like two tablets that contradict each other."""
    one, other = sides
    for n in range(3):
        with clock_of(NOON + n):
            player = replace(one.season.people.everyone()[0], name=f"Wren {n}")
            one.season.people.change([player], PRACTICES[0].held_on, "one")
        assert other.hear(one)["edit"] == n + 1
        assert other.season.packs.lost() == []
    assert equal(*sides)


def test_a_practice_that_is_begun_comes_with_who_is_there(sides):
    """Through the whole join, which knows what becomes of it; told once, it is no news any more."""
    from test_joining import begin

    one, other = sides
    begin(one.season, "one", NOON)
    assert other.hear(one)["begun"] == len(one.season.practices.every())
    assert one.news.pack() == b""
    begin(other.season, "two", NOON + 60_000)
    one.hear(other)
    other.hear(one)
    assert equal(*sides)


def test_the_quick_way_does_what_a_join_does(pair, tmp_path, monkeypatch):
    """Packs of three tablets that do as they like are joined by both ways, where the quick one takes them."""
    pair.close()
    world = ThreeTablets(pair.paths[0], tmp_path, random.Random(5))
    for _ in range(60):
        world.act(world.chance.randrange(3), world.chance.choice(ACTS))
    taken = 0
    for n in range(8):
        world.settle()
        giver, taker = world.tablets[n % 3], world.tablets[(n + 1) % 3]
        side = Side(giver.season, giver.name)
        side.news.note(read_pack("all", giver.season.packs.pack(giver.name)))
        for _ in range(3):
            world.act(n % 3, world.chance.choice(("tally", "undo", "rep", "tally", "begin", "mark")))
        content = side.news.pack()
        if not content:
            continue
        taker.season.write_back(empty=True)
        whole, quick = (shutil.copy(taker.path, tmp_path / f"{n}-{way}.db") for way in ("whole", "quick"))
        with open_season(quick) as season:
            taken += joining.join_plain(season._connection, read_pack("news", content)) is not None
            season.packs.join([("news", read_pack("news", content))], now=NOON)
            by_quick = shared(season._connection)
        with without_quick_way(monkeypatch), open_season(whole) as season:
            season.packs.join([("news", read_pack("news", content))], now=NOON)
            assert shared(season._connection) == by_quick
    world.settle()
    assert len({str(dump) for dump in world.dumps()}) == 1
    world.close()
    assert 1 < taken < 8


@contextmanager
def without_quick_way(monkeypatch):
    with monkeypatch.context() as patch:
        patch.setattr(joining, "join_plain", lambda *_: None)
        yield


@pytest.mark.parametrize("what", ["another player", "another skill", "one key, two facts"])
def test_what_is_wrong_with_a_pack_is_left_to_the_join(sides, what):
    """It is refused or told there; the quick way has changed nothing."""
    one, other = sides
    made = tally(1, practice=FIRST, tablet="one", id=new_id())
    one.season.log.add(made)
    pack = read_pack("news", one.news.pack())
    row = pack.facts["tally"][0]
    if what == "one key, two facts":
        other.season.packs.join([("news", pack)], now=NOON)
        row[5] = "missed"
    else:
        row[2 if what == "another player" else 3] = "00" * 16 if what == "another player" else "no_such_skill"
    before = shared(other.season._connection)
    assert joining.join_plain(other.season._connection, pack) is None
    assert shared(other.season._connection) == before
