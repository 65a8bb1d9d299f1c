"""The code that keeps a bench tablet on its boards: a few digits, kept as a salted slow hash.

It is a latch and not encryption: it keeps curious hands out of the review, and nobody who can read the files.
"""

import hashlib
import re
import secrets

FEWEST, MOST = 4, 8  # digits
FREE_TRIES = 3  # wrong codes in a row before the next one has to wait
FIRST_WAIT, LONGEST_WAIT = 30, 15 * 60  # seconds

# scrypt's cost (RFC 7914): 16 MB and some 50 ms on a laptop, so that a copied settings file resists a little
_COST = {"n": 2**14, "r": 8, "p": 1}
_KIND = "scrypt14"  # the cost above by name; a seal of another kind is none of ours
_SEAL = re.compile(rf"{_KIND}:([0-9a-f]{{32}}):([0-9a-f]{{64}})")


def is_code(text: str) -> bool:
    """Say whether a text can be a code: 4 to 8 of the digits 0 to 9."""
    return FEWEST <= len(text) <= MOST and text.isascii() and text.isdigit()


def is_seal(text: str) -> bool:
    """Say whether a text is what ``seal`` makes."""
    return _SEAL.fullmatch(text) is not None


def seal(code: str) -> str:
    """Return the salted slow hash of a code, another one each time. Takes about as long as a blink.

    Raises
    ------
    ValueError : the code is not 4 to 8 digits.
    """
    if not is_code(code):
        raise ValueError(f"a code has {FEWEST} to {MOST} digits")
    salt = secrets.token_bytes(16)
    return f"{_KIND}:{salt.hex()}:{_stretch(code, salt, 32).hex()}"


def fits(code: str, sealed: str) -> bool:
    """Say whether a code is the one that was sealed. Takes as long for a wrong code as for the right one."""
    salt, digest = map(bytes.fromhex, _SEAL.fullmatch(sealed).groups())
    return secrets.compare_digest(_stretch(code, salt, len(digest)), digest)


def wait_after(wrong: int) -> int:
    """Return how many seconds to wait after a number of wrong codes in a row.

    The first ones are slips of the finger and cost nothing; from then on each doubles the wait, so that half
    of all codes of four digits take more than 50 days. That a wait grows with each failed try is common
    practice; the figures are ours.
    """
    if wrong < FREE_TRIES:
        return 0
    return min(FIRST_WAIT << min(wrong - FREE_TRIES, 10), LONGEST_WAIT)


def _stretch(code: str, salt: bytes, length: int) -> bytes:
    return hashlib.scrypt(code.encode("ascii"), salt=salt, dklen=length, **_COST)
