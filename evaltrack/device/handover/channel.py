"""The sealed way between two tablets, once both know that they have the same code.

Every frame is sealed by ChaCha20-Poly1305 under a key for its direction, with a counter as its nonce: a frame
that was changed, left out, repeated or moved does not open. The first byte of a message is its kind.
"""

import asyncio
import json
import struct
from contextlib import suppress
from enum import IntEnum
from time import monotonic

from evaltrack.device.handover.faults import HandoverError, broken, silent, strange
from evaltrack.device.handover.wire import framed, read_frame, write
from evaltrack.language import mark, tr

PIECE = 64 << 10  # bytes of a pack in one message
_TAG, _MOST_WORDS = 16, 16 << 10
SILENCE = 10.0  # seconds without a sign after which the other tablet is taken for gone
PATIENCE = 600.0  # seconds for an answer of one that gives signs: a large pack takes a slow tablet minutes
_NONCE = struct.Struct(">4xQ")


class Kind(IntEnum):
    """What a message says."""

    HELLO = 1  # who and what: season, tablet, its clock, parts that it has of earlier packs
    OFFER = 2  # a pack is coming: its size and SHA-256
    WANT = 3  # from which byte on
    PIECE = 4  # bytes of it
    TAKEN = 5  # it was taken in
    DIGEST = 6  # of all facts
    ALIVE = 7  # nothing new
    ENDING = 8  # no more packs after this
    BYE = 9  # why nothing follows


class Channel:
    """Messages to and from the other tablet; ``heard`` is when the last one came, by `monotonic`.

    Parameters
    ----------
    out, into : keys of 32 bytes, for what goes and for what comes.
    silence : seconds without any message after which the other tablet is taken for gone.
    """

    def __init__(
        self,
        reader: asyncio.StreamReader,
        writer: asyncio.StreamWriter,
        out: bytes,
        into: bytes,
        silence: float = SILENCE,
    ):
        from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305

        self._reader, self._writer, self._silence = reader, writer, silence
        self._out, self._into = ChaCha20Poly1305(out), ChaCha20Poly1305(into)
        self._sent = self._received = 0
        self.heard = monotonic()

    async def send(self, kind: Kind, body: bytes = b"") -> None:
        """Send a message."""
        sealed = self._out.encrypt(_NONCE.pack(self._sent), bytes([kind]) + body, None)
        self._sent += 1
        await write(self._writer, framed(sealed), self._silence)

    async def tell(self, kind: Kind, **words: object) -> None:
        """Send a message of named values."""
        await self.send(kind, json.dumps(words).encode())

    async def hear_out(self) -> None:
        """Read on for a while until the other tablet leaves: what it was told last would be lost."""
        with suppress(HandoverError, TimeoutError):
            async with asyncio.timeout(self._silence):
                while True:
                    await self.receive()

    async def receive(self, patience: float | None = PATIENCE) -> tuple[Kind, bytes]:
        """Return the next message that says something.

        Parameters
        ----------
        patience : seconds to wait for it while nothing but signs of life comes; None for ever.

        Raises
        ------
        HandoverError : there is none in time, it was changed on the way, or the other tablet has left.
        """
        try:
            async with asyncio.timeout(patience):
                kind, body = await self._any()
                while kind is Kind.ALIVE:
                    kind, body = await self._any()
        except TimeoutError:
            raise silent(patience) from None
        if kind is Kind.BYE:
            raise HandoverError(why_left(body))
        return kind, body

    async def _any(self) -> tuple[Kind, bytes]:
        from cryptography.exceptions import InvalidTag

        sealed = await read_frame(self._reader, 1 + PIECE + _TAG, self._silence)
        try:
            opened = self._into.decrypt(_NONCE.pack(self._received), sealed, None)
            kind = Kind(opened[0])
        except (InvalidTag, ValueError, IndexError):
            raise strange() from None
        self._received += 1
        self.heard = monotonic()
        return kind, opened[1:]

    def close(self) -> None:
        """End it; what was sent still goes out."""
        self._writer.close()


def words_of(body: bytes) -> dict:
    """Return the named values of a message; HandoverError for what is none, too long or nested too deep."""
    if len(body) > _MOST_WORDS:
        raise strange()
    try:
        found = json.loads(body)
    except (ValueError, RecursionError):
        raise strange() from None
    if type(found) is not dict:
        raise strange()
    return found


def number_of(words: dict, name: str, most: int) -> int:
    """Return a whole number from 0 on; HandoverError when it is none, or more than it may be."""
    found = words.get(name)
    if type(found) is not int or not 0 <= found <= most:
        raise strange()
    return found


def text_of(words: dict, name: str, longest: int = 100) -> str:
    """Return a text without anything in it that could garble a screen; HandoverError when it is none."""
    found = words.get(name)
    if type(found) is not str or len(found) > longest or not (found.isascii() and found.isprintable()):
        raise strange()
    return found


def why_left(body: bytes) -> str:
    """Return in a sentence why the other tablet has ended the hand-over."""
    why = words_of(body).get("why") if body else None
    return tr(_WHY[why]) if type(why) is str and why in _WHY else str(broken())


_WHY = {
    "left": mark("the other tablet has left the hand-over"),
    "season": mark(
        "the other tablet has another season; open the same one on both, or give it a copy of this one"
    ),
    "tablet": mark(
        "both tablets have the same settings, so their tallies cannot be told apart; delete tablet.json "
        "on the one that got a copy of them"
    ),
    "refused": mark("the other tablet could not take the pack in: what is wrong stands on its screen"),
}
