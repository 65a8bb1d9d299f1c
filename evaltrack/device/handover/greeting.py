"""How two tablets find out that they have the same short code, without telling it to anybody who listens.

SPAKE2 makes a strong key of a short code: whoever listens, changes messages, or answers for one of them,
learns for each try only whether one guess was right. The key is drawn out by HKDF into four: each side
proves with one that it has it, and seals what it sends with another. Nothing else is of our own making.
"""

import asyncio
import hmac
from dataclasses import dataclass

from evaltrack.device.handover.channel import SILENCE, Channel
from evaltrack.device.handover.code import Code
from evaltrack.device.handover.faults import BrokenError, HandoverError, strange
from evaltrack.device.handover.wire import framed, read_frame, write
from evaltrack.language import mark, tr

_MAGIC, VERSION = b"evaltrack hand-over ", 1
_MESSAGE, _PROOF = 33, 32  # bytes
_AT_ONCE = (
    4.0  # seconds for the first word of a guest, which waits for nothing: who is silent keeps others out
)
_GUEST, _HOST = b"evaltrack guest", b"evaltrack host"
_OTHER_VERSION = mark("the tablets have different versions of evaltrack; update it on both")
_TURNED_AWAY = mark(
    "the other tablet did not answer: perhaps somebody else joins it just now, or its code is not good any "
    "more; look at its screen, and type the code that it shows"
)
_WRONG = mark("the code did not fit: look at it again on the other tablet, and type it once more")
_DEAD = mark("the code did not fit three times, so it is dead: let the other tablet show a new one")


@dataclass(frozen=True, slots=True)
class _Keys:
    guest_proof: bytes
    host_proof: bytes
    from_guest: bytes
    from_host: bytes


async def as_guest(
    reader: asyncio.StreamReader, writer: asyncio.StreamWriter, code: str, seconds: float = SILENCE
) -> Channel:
    """Greet the tablet that shows the code, and return the sealed way to it.

    Raises
    ------
    HandoverError : the code is not the one, the host is of another version, or it does not answer.
    """
    from spake2 import SPAKE2_A

    side = SPAKE2_A(code.encode(), idA=_GUEST, idB=_HOST)
    mine = side.start()
    try:
        await write(writer, framed(_MAGIC + bytes([VERSION]) + mine), seconds)
        theirs = await read_frame(reader, _MESSAGE, seconds)
    except BrokenError:
        raise HandoverError(tr(_TURNED_AWAY)) from None
    if len(theirs) == 1:
        raise HandoverError(tr(_OTHER_VERSION))
    keys = _keys(side, mine, theirs, mine + theirs)
    await write(writer, framed(keys.guest_proof), seconds)
    answer = await read_frame(reader, _PROOF, seconds)
    if len(answer) == 1:
        raise HandoverError(tr(_WRONG if answer[0] else _DEAD))
    if not hmac.compare_digest(answer, keys.host_proof):
        raise HandoverError(tr(_WRONG))
    return Channel(reader, writer, keys.from_guest, keys.from_host)


async def as_host(
    reader: asyncio.StreamReader, writer: asyncio.StreamWriter, code: Code, seconds: float = SILENCE
) -> Channel | None:
    """Answer a tablet that greets, and return the sealed way to it; None when its code is not this one.

    The try is counted on disk before it is answered. A code that fits is spent.

    Raises
    ------
    HandoverError : what came is no greeting, which costs no try; or the code is good for none any more.
    """
    first = await read_frame(reader, len(_MAGIC) + 1 + _MESSAGE, min(seconds, _AT_ONCE))
    if not first.startswith(_MAGIC) or len(first) <= len(_MAGIC):
        raise strange()
    if first[len(_MAGIC)] != VERSION:
        await write(writer, framed(bytes([VERSION])), seconds)
        raise HandoverError(tr(_OTHER_VERSION))
    keys, mine = _answered(code, first[len(_MAGIC) + 1 :])
    await write(writer, framed(mine), seconds)
    proof = await read_frame(reader, _PROOF, seconds)
    if not hmac.compare_digest(proof, keys.guest_proof):
        await write(writer, framed(bytes([code.left])), seconds)
        return None
    code.spend()
    await write(writer, framed(keys.host_proof), seconds)
    return Channel(reader, writer, keys.from_host, keys.from_guest)


def _answered(code: Code, theirs: bytes) -> tuple[_Keys, bytes]:
    from spake2 import SPAKE2_B

    side = SPAKE2_B(code.use(), idA=_GUEST, idB=_HOST)
    mine = side.start()
    return _keys(side, mine, theirs, theirs + mine), mine


def _keys(side, mine: bytes, theirs: bytes, both: bytes) -> _Keys:
    from cryptography.hazmat.primitives.hashes import SHA256
    from cryptography.hazmat.primitives.kdf.hkdf import HKDF

    if len(theirs) != _MESSAGE:
        raise strange()
    try:
        strong = side.finish(theirs)
    except Exception:  # no point of the curve, or our own message back: the library has no one class for them
        raise strange() from None
    drawn = HKDF(SHA256(), 128, salt=None, info=b"evaltrack hand-over keys " + both).derive(strong)
    return _Keys(*(drawn[at : at + 32] for at in range(0, 128, 32)))
