"""What a tablet believes of what the other one says: each message that cannot be is refused as strange.

The peer here knows the code. Cases: who it is and its clock; the size of a pack, its pieces and its digest;
answers to what was never given; how much is kept of packs on their way, and for how long; addresses.
"""

import asyncio
import json
import os
import time
from hashlib import sha256

import pytest
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305
from hostile_peers import Sink, fed
from two_ends import Facts

from evaltrack.device.handover import addresses
from evaltrack.device.handover.channel import _NONCE as NONCE
from evaltrack.device.handover.channel import Channel, Kind
from evaltrack.device.handover.conversation import Conversation
from evaltrack.device.handover.course import Course, Stage
from evaltrack.device.handover.faults import HandoverError
from evaltrack.device.handover.offers import LAST_MOMENT, MOST_NEWS, now_here, parts_in
from evaltrack.device.handover.parts import MOST, Parts, parts_of
from evaltrack.device.handover.wire import LENGTH, framed, read_frame

KEY = bytes(32)
SEAL = ChaCha20Poly1305(KEY)
PACK = b"[1, 2, 3]"
STRANGE = "what came is not what evaltrack sends"


class Talk:
    """A tablet that hears all messages of another one at once: what it says, and how far it says it is."""

    def __init__(self, *messages, hosting: bool = False):
        self.facts, self.course, self.far, self.told = Facts("a", [4]), Course(), [], []
        asyncio.run(self._run(messages, hosting))

    async def _run(self, messages, hosting: bool) -> None:
        sent = b"".join(framed(SEAL.encrypt(NONCE.pack(n), raw(*m), None)) for n, m in enumerate(messages))
        sink = Told()
        channel = Channel(fed(sent), sink, KEY, KEY, 2)
        try:
            await Conversation(channel, self.facts, hosting, False, self.course, self._note).run()
        finally:
            self.told = sink.messages()

    def _note(self) -> None:
        self.far.append((self.course.stage, round(self.course.share, 2)))

    def words(self, kind: Kind) -> list[dict]:
        """Return what was said in messages of a kind."""
        return [json.loads(body) for one, body in self.told if one is kind]


class Told(Sink):
    """A writer that keeps everything."""

    def __init__(self):
        super().__init__()
        self._kept = b""

    def write(self, data: bytes) -> None:
        self._kept += data

    def messages(self) -> list[tuple[Kind, bytes]]:
        """Return all messages, opened."""
        found, rest = [], self._kept
        while rest:
            (size,) = LENGTH.unpack(rest[: LENGTH.size])
            opened = SEAL.decrypt(NONCE.pack(len(found)), rest[LENGTH.size : LENGTH.size + size], None)
            found.append((Kind(opened[0]), opened[1:]))
            rest = rest[LENGTH.size + size :]
        return found


def raw(kind: Kind, body: bytes | dict) -> bytes:
    return bytes([kind]) + (body if isinstance(body, bytes) else json.dumps(body).encode())


def hello(**other) -> tuple:
    """Return who the other tablet says it is."""
    usual = {"season": Facts.season, "made": Facts.made, "tablet": "b", "at": 5, "live": False, "parts": {}}
    return Kind.HELLO, usual | other


def offer(content: bytes = PACK, **other) -> tuple:
    """Return what announces a pack."""
    return Kind.OFFER, {"size": len(content), "sha256": sha256(content).hexdigest()} | other


def piece(content: bytes) -> tuple:
    return Kind.PIECE, content


def want(start) -> tuple:
    return Kind.WANT, {"start": start}


def taken(tallies) -> tuple:
    return Kind.TAKEN, {"tallies": tallies}


def digest(*facts: int) -> tuple:
    return Kind.DIGEST, {"sha256": sha256(json.dumps(facts).encode()).hexdigest()}


RIGHT = hello(), offer(), piece(PACK), want(0), taken(1), digest(1, 2, 3, 4)


def instead(place: int, *others: tuple) -> list[tuple]:
    """Return what is right, with other messages from a place on."""
    return [*RIGHT[:place], *others]


def test_all_that_is_right_is_taken_in_and_counted():
    """The whole of it, and how far it is at each step."""
    talk = Talk(hello(at=now_here() - 3_600_000), offer(), piece(PACK), *RIGHT[3:])
    course = talk.course
    assert (course.taken, course.given, course.equal, course.stage) == (3, 1, True, Stage.ENDED)
    assert 3_500_000 < course.behind < 3_700_000
    assert talk.facts.facts == {1, 2, 3, 4}
    assert talk.far == [
        (Stage.GREETING, 0), (Stage.TAKING, 0), (Stage.TAKING, 1),
        (Stage.GIVING, 0), (Stage.GIVING, 1), (Stage.COMPARING, 0), (Stage.COMPARING, 0), (Stage.ENDED, 1),
    ]  # fmt: skip
    assert [body for kind, body in talk.told if kind is Kind.PIECE] == [b"[1, 2, 3, 4]"]
    assert talk.words(Kind.WANT) == [{"start": 0}]
    assert talk.words(Kind.BYE) == [{"why": "left"}]
    assert parts_of(Facts.season) == []


STRANGE_ONES = {
    "a clock after the last moment": [hello(at=LAST_MOMENT + 1)],
    "a clock before 1970": [hello(at=-1)],
    "no clock": [hello(at="5")],
    "a tablet without end": [hello(tablet="b" * 101)],
    "a season that garbles a screen": [hello(season="\x1b")],
    "words that are none": [(Kind.HELLO, b"[]")],
    "words without end": [hello(more="x" * (16 << 10))],
    "too many parts": [hello(parts={f"{n:064x}": 1 for n in range(11)})],
    "a part larger than any pack": [hello(parts={"0" * 64: MOST + 1})],
    "no parts": [hello(parts=[])],
    "a pack of nothing": instead(1, offer(b"")),
    "a pack that is too large": instead(1, offer(size=MOST + 1)),
    "a digest that is none": instead(1, offer(sha256="0" * 63 + "G")),
    "a digest that is a path": instead(1, offer(sha256="../" * 20 + "0000")),
    "a piece of nothing": instead(2, piece(b"")),
    "a piece beyond the end": instead(2, piece(PACK + b" ")),
    "another pack than was offered": instead(2, piece(b"[1, 2, 9]")),
    "a message out of turn": instead(2, want(0)),
    "from behind the end": instead(3, want(len("[1, 2, 3, 4]") + 1)),
    "from before the beginning": instead(3, want(-1)),
    "from yes on": instead(3, want(True)),
    "taken before anything was given": instead(1, taken(1)),
    "taken twice": instead(5, taken(1)),
    "more taken than can be": instead(4, taken((1 << 40) + 1)),
    "a digest of nothing": instead(5, (Kind.DIGEST, {})),
    "news that are too many": instead(5, digest(9), offer(size=MOST_NEWS + 1)),
    "news beyond the end": instead(5, digest(9), offer(b"[5]"), piece(b"[5] ")),
    "other news than were offered": instead(5, digest(9), offer(b"[5]"), piece(b"[6]")),
}


@pytest.mark.parametrize("case", STRANGE_ONES)
def test_what_cannot_be_is_refused(case):
    """In that sentence, and by none of the other ones."""
    with pytest.raises(HandoverError, match=STRANGE):
        Talk(*STRANGE_ONES[case])


def test_the_most_that_can_be_is_taken():
    """At each bound: the last moment, the longest name, as many and as large parts as may be told."""
    parts = {f"{n:064x}": MOST for n in range(10)}
    talk = Talk(hello(at=LAST_MOMENT, tablet="b" * 100, parts=parts), *RIGHT[1:])
    assert talk.course.equal
    assert talk.facts.met_with == "b" * 100


def test_names_of_parts_that_are_no_digests_lead_to_no_file():
    """They are left out before anything is looked up by them."""
    assert parts_in({"parts": {"../../other": 1, "0" * 64: 2, "0" * 65: 3, "": 4}}) == {"0" * 64: 2}


def test_a_broken_pack_goes_on_from_what_is_there():
    """The rest alone is asked for; the part goes when the pack is there, and when it was another one."""
    for begun, ends in ((PACK[:4], {1, 2, 3, 4}), (b"[7, ", {4})):
        parts = Parts(Facts.season)
        parts.ready()
        parts.add(sha256(PACK).hexdigest(), begun)
        messages = hello(), offer(), piece(PACK[4:]), *RIGHT[3:]
        if ends == {4}:
            with pytest.raises(HandoverError, match=STRANGE):
                Talk(*messages)
        else:
            talk = Talk(*messages)
            assert talk.words(Kind.WANT) == [{"start": 4}]
            assert talk.words(Kind.HELLO)[0]["parts"] == {sha256(PACK).hexdigest(): 4}
            assert talk.facts.facts == ends
        assert parts_of(Facts.season) == []


def test_a_host_goes_on_with_the_pack_of_which_the_other_has_most():
    """Of those on their way, and from where it broke off; one that was changed meanwhile is not given."""
    parts = Parts(Facts.season)
    parts.ready()
    known = {content: sha256(content).hexdigest() for content in (b"[4]", b"[4, 5]", b"[4, 6]")}
    for content in known:
        parts.keep(content)
    (changed,) = [path for path in parts_of(Facts.season) if known[b"[4, 6]"] in path.name]
    changed.write_bytes(b"[4, 7]")
    has = {known[b"[4]"]: 1, known[b"[4, 5]"]: 3, known[b"[4, 6]"]: 5}
    talk = Talk(hello(parts=has), want(3), taken(2), offer(b"[1]"), piece(b"[1]"), digest(1, 4), hosting=True)
    assert talk.words(Kind.OFFER)[0]["sha256"] == known[b"[4, 5]"]
    assert [body for kind, body in talk.told if kind is Kind.PIECE] == [b" 5]"]
    assert (talk.course.given, talk.course.taken) == (2, 1)


def test_news_are_told_and_heard_until_both_are_equal():
    """What came meanwhile counts; where nobody has any more it ends, and is not called equal."""
    talk = Talk(*RIGHT[:5], digest(9), offer(b"[5]"), piece(b"[5]"), digest(1, 2, 3, 4, 5))
    assert (talk.course.taken, talk.course.equal) == (4, True)
    assert [one["size"] for one in talk.words(Kind.OFFER)] == [len("[1, 2, 3, 4]"), 0]
    talk = Talk(*RIGHT[:5], digest(9), offer(b""))
    assert (talk.course.equal, talk.course.stage) == (False, Stage.ENDED)


@pytest.mark.parametrize(
    ("other", "why"),
    [
        ({"season": "cd" * 16}, "season"),
        ({"made": 6}, "season"),
        ({"made": None}, "season"),
        ({"tablet": "a"}, "tablet"),
    ],
)
def test_another_season_and_this_very_tablet_are_told_why(other, why):
    """Before anything of the season is said."""
    talk = Talk.__new__(Talk)
    with pytest.raises(HandoverError):
        talk.__init__(hello(**other))
    assert talk.words(Kind.BYE) == [{"why": why}]
    assert [kind for kind, _ in talk.told] == [Kind.HELLO, Kind.BYE]


def aged(parts: Parts, content: bytes, hours: float) -> str:
    """Keep a pack since so many hours ago, less than 0 for the future, and return its digest."""
    parts.keep(content)
    name = sha256(content).hexdigest()
    (path,) = [one for one in parts_of(Facts.season) if name in one.name]
    os.utime(path, (time.time() - 3600 * hours,) * 2)
    return name


def test_packs_on_their_way_are_few_and_not_kept_for_long():
    """The three newest of a day at most; a clock that was set back makes none of them young."""
    parts = Parts(Facts.season)
    parts.ready()
    for n, hours in enumerate((1, 2, 3, 4)):
        parts.add(f"{n:064x}", b"part")
        aged(parts, str(n).encode(), hours)
    parts.ready()
    kept = {path.name[33:97] for path in parts_of(Facts.season) if path.suffix == ".given"}
    assert kept == {sha256(str(n).encode()).hexdigest() for n in range(3)}
    assert len(parts.have()) == 3
    names = [aged(parts, content, hours) for content, hours in ((b"0", 25), (b"1", 23), (b"2", -25))]
    parts.ready()
    kept = {path.name[33:97] for path in parts_of(Facts.season) if path.suffix == ".given"}
    assert kept == {names[1]}


@pytest.mark.parametrize("there", [9, 10])
def test_a_part_as_large_as_the_pack_is_not_its_beginning(there):
    """It is thrown away, and all of the pack asked for."""
    parts = Parts(Facts.season)
    parts.ready()
    parts.add("0" * 64, b"x" * there)
    assert parts.begin("0" * 64, 9) == 0
    assert parts.have() == {}


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("192.168.43.1", ("192.168.43.1", 4545)), (" 10.0.0.255:4546 ", ("10.0.0.255", 4546)),
        ("0.0.0.0:1", ("0.0.0.0", 1)), ("1.2.3.4:65535", ("1.2.3.4", 65535)),
        *((wrong, None) for wrong in ("", "1.2.3", "256.1.1.1", "1.1.1.256", "1.2.3.4:65536", "1.2.3.4:0",
                                      "1.2.3.4:", "1.2.3.4.5", "a.b.c.d", "1.2.3.4444", "１.2.3.4")),
    ],
)  # fmt: skip
def test_an_address_is_read_as_it_is_shown(typed, found):
    """The usual port goes without saying; whatever is no address is refused, with what was typed."""
    if found is None:
        with pytest.raises(HandoverError, match="an address looks like"):
            addresses.parsed(typed)
    else:
        assert addresses.parsed(typed) == found
        assert addresses.parsed(addresses.shown(*found)) == found
    assert addresses.shown("1.2.3.4", 4545) == "1.2.3.4"


def test_own_addresses_are_those_that_others_reach(monkeypatch):
    """Hotspots first, each once, and none of this machine alone; its name is asked for where no way is."""
    ways = {"192.168.43.254": "192.168.43.7", "172.20.10.14": "127.0.0.1", "10.255.255.254": "10.1.1.1"}
    monkeypatch.setattr(addresses, "_towards", lambda nearby: ways.get(nearby, ""))
    named = [(0, 0, 0, "", (one, 0)) for one in ("127.0.1.1", "10.1.1.1", "0.0.0.0", "192.0.2.9")]
    monkeypatch.setattr(addresses.socket, "getaddrinfo", lambda *_: named)
    assert addresses.own_addresses() == ["192.168.43.7", "10.1.1.1"]
    ways.clear()
    assert addresses.own_addresses() == ["10.1.1.1", "192.0.2.9"]


@pytest.mark.parametrize(("size", "read"), [(0, False), (1, True), (5, True), (6, False)])
def test_no_frame_is_longer_than_was_asked_for(size, read):
    """A longer one is refused before any of it is read."""

    async def one() -> bytes:
        return await read_frame(fed(framed(b"x" * size)), 5, 1)

    if read:
        assert asyncio.run(one()) == b"x" * size
    else:
        with pytest.raises(HandoverError, match=STRANGE):
            asyncio.run(one())
