"""Peers that mean harm: what they send to a tablet that hands over, made by chance."""

import asyncio
import json
import random
from collections import Counter

from two_ends import Facts

from evaltrack.device.handover import greeting
from evaltrack.device.handover.channel import PIECE, Channel, Kind
from evaltrack.device.handover.code import Code, Tries
from evaltrack.device.handover.conversation import Conversation
from evaltrack.device.handover.course import Course
from evaltrack.device.handover.wire import framed
from evaltrack.errors import EvaltrackError

_SECONDS = 0.2  # in which such a peer has to come to an end: all that it sends is there at once
_KEY = bytes(32)
_GREETING = greeting._MAGIC + bytes([greeting.VERSION]) + b"A" + bytes(32)
_NASTY = ("", "x" * 200, "\x00", "../../x", -1, 1 << 70, 1.5, None, True, [], {}, "0" * 64, "ab" * 16)


class Sink:
    """A writer that takes everything and sends nothing."""

    def __init__(self):
        self.taken = 0

    def write(self, data: bytes) -> None:
        self.taken += len(data)

    async def drain(self) -> None:
        pass

    def close(self) -> None:
        pass


def fed(data: bytes) -> asyncio.StreamReader:
    """Return a stream of which all is there."""
    reader = asyncio.StreamReader()
    reader.feed_data(data)
    reader.feed_eof()
    return reader


def mutated(data: bytes, chance: random.Random) -> bytes:
    """Return bytes with a few changed, cut out, put in, or repeated."""
    made = bytearray(data)
    for _ in range(chance.randrange(1, 4)):
        at = chance.randrange(len(made) + 1)
        match chance.randrange(4):
            case 0:
                del made[at : at + chance.randrange(1, 9)]
            case 1:
                made[at:at] = chance.randbytes(chance.randrange(1, 9))
            case 2:
                made[at:at] = made[: chance.randrange(60)]
            case _ if made:
                made[at % len(made)] ^= 1 << chance.randrange(8)
    return bytes(made)


def _greeted(chance: random.Random) -> bytes:
    """Return what a stranger may send who does not know the code."""
    if chance.random() < 0.3:
        return chance.randbytes(chance.randrange(200))
    proof = framed(chance.randbytes(chance.choice((0, 1, 32, 33))))
    return mutated(framed(_GREETING) + proof, chance)


def _message(chance: random.Random) -> bytes:
    """Return a message that a guest who knows the code may send, right or not."""
    kind = chance.choice([*map(int, Kind), 0, 77])
    words = {
        "season": Facts.season, "made": Facts.made, "tablet": "b", "at": 5, "live": True, "parts": {},
        "size": chance.choice((0, 10, PIECE, 1 << 40)), "sha256": "0" * 64, "start": 0, "tallies": 3,
    }  # fmt: skip
    for _ in range(chance.randrange(3)):
        words[chance.choice([*words])] = chance.choice(_NASTY)
    body = json.dumps(words).encode()
    match chance.randrange(6):
        case 0:
            body = chance.randbytes(chance.randrange(300))
        case 1:
            body = b"[" * chance.randrange(20_000)
        case 2:
            body = mutated(body, chance)
    return bytes([kind]) + body


def _conversation(chance: random.Random) -> bytes:
    from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305

    from evaltrack.device.handover.channel import _NONCE

    seal, sent = ChaCha20Poly1305(_KEY), b""
    hello = (
        bytes([Kind.HELLO])
        + json.dumps(
            {"season": Facts.season, "made": 5, "tablet": "b", "at": 5, "live": True, "parts": {}}
        ).encode()
    )
    want = bytes([Kind.WANT]) + b'{"start": 0}'
    right = [hello, want, bytes([Kind.TAKEN]) + b'{"tallies": 1}'][: chance.choice((0, 1, 1, 2, 2, 3))]
    for n, message in enumerate([*right, *(_message(chance) for _ in range(chance.randrange(1, 6)))]):
        sent += framed(seal.encrypt(_NONCE.pack(n), message, None))
    return mutated(sent, chance) if chance.random() < 0.2 else sent


async def meet_one(chance: random.Random) -> str:
    """Let one such peer come, and return the sentence to which it came, or ``through``."""
    try:
        async with asyncio.timeout(10):
            if chance.random() < 0.5:
                code = Code(Tries())
                channel = await greeting.as_host(fed(_greeted(chance)), Sink(), code, _SECONDS)
                assert channel is None, "let in without the code"
            else:
                channel = Channel(fed(_conversation(chance)), Sink(), _KEY, _KEY, _SECONDS)
                talk = Conversation(channel, Numbers(), True, True, Course(), lambda: None)
                await talk.run()
    except EvaltrackError as error:
        return str(error)
    return "through"


class Numbers(Facts):
    """A season that takes only packs of its own kind in."""

    def __init__(self):
        super().__init__("a", range(50))

    async def take_in(self, pack: bytes):
        try:
            return await super().take_in(pack)
        except (ValueError, TypeError, RecursionError):
            raise EvaltrackError("it is no pack") from None


async def meet_many(count: int, seed: int) -> Counter:
    """Let so many such peers come, and count to which sentences they came."""
    chance, came = random.Random(seed), Counter()
    for _ in range(count):
        came[await meet_one(chance)] += 1
    return came
