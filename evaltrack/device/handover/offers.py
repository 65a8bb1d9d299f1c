"""What the other tablet says of packs: nothing of it is believed before it was looked at."""

import re
from time import time_ns

from evaltrack.device.handover.channel import number_of, text_of, words_of
from evaltrack.device.handover.faults import strange
from evaltrack.device.handover.parts import MOST

MOST_NEWS = 4 << 20  # bytes of a pack of news: a whole practice has fifty thousand
LAST_MOMENT = 1 << 53
_DIGEST = re.compile("[0-9a-f]{64}")


def now_here() -> int:
    """Return the moment by this tablet's clock, in milliseconds since 1970 in UTC."""
    return time_ns() // 1_000_000


def offer_in(body: bytes, most: int) -> tuple[int, str]:
    """Return size and SHA-256 of the pack that a message offers; HandoverError for a larger one, or none."""
    words = words_of(body)
    digest = text_of(words, "sha256")
    if not _DIGEST.fullmatch(digest):
        raise strange()
    return number_of(words, "size", most), digest


def parts_in(words: dict) -> dict[str, int]:
    """Return how many bytes the other tablet has of which packs; HandoverError when that cannot be."""
    found = words.get("parts")
    if type(found) is not dict or len(found) > 10:
        raise strange()
    return {digest: number_of(found, digest, MOST) for digest in found if _DIGEST.fullmatch(digest)}
