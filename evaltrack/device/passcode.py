"""The code that keeps a bench tablet on its boards: a few digits, kept as a salted slow hash.

It is a latch and not encryption: it keeps curious hands out of the review, and nobody who can read the files.
"""

import hashlib
import re
import secrets
import time
from collections.abc import Callable
from math import ceil

FEWEST, MOST = 4, 8  # digits
FREE_TRIES = 3  # wrong codes in a row before the next one has to wait
FIRST_WAIT, LONGEST_WAIT = 30, 15 * 60  # seconds

# scrypt's cost (RFC 7914). N stays where it takes 32 MB, which every tablet has to spare; p multiplies the
# time and hardly the memory. So p is what the device that seals a code raises until one check takes TARGET.
_LOG_N, _R = 15, 8
_MEMORY = 64 * 2**20  # bytes that scrypt may take at most
TARGET = 0.35  # seconds for one code: a quarter of a second is left when a round was measured too long
# A round (p = 1) takes some 0.06 s on the core of a laptop. That no tablet's core is faster is our guess:
# four take a quarter of a second there, whatever a busy device has measured, and one second on a core four
# times slower.
FEWEST_ROUNDS, MOST_ROUNDS = 4, 32
_SEAL = re.compile(rf"scrypt:{_LOG_N}:{_R}:([1-9]|[12]\d|3[0-2]):([0-9a-f]{{32}}):([0-9a-f]{{64}})", re.ASCII)
_OLD_SEAL = re.compile(r"scrypt14:([0-9a-f]{32}):([0-9a-f]{64})")  # N 2**14, r 8, p 1: a tenth of the time


def is_code(text: str) -> bool:
    """Say whether a text can be a code: 4 to 8 of the digits 0 to 9."""
    return FEWEST <= len(text) <= MOST and text.isascii() and text.isdigit()


def is_seal(text: str) -> bool:
    """Say whether a text is what ``seal`` makes or has made, at a cost that no device breaks down under."""
    return bool(_SEAL.fullmatch(text) or _OLD_SEAL.fullmatch(text))


def is_old(sealed: str) -> bool:
    """Say whether a seal is of the time when a code cost less: the next right code is sealed again."""
    return _OLD_SEAL.fullmatch(sealed) is not None


def seal(code: str, rounds: int | None = None) -> str:
    """Return the salted slow hash of a code, another one each time.

    Parameters
    ----------
    rounds : what one check of the code costs, 1 to 32; measured on this device when it is not given, which
        takes as long as two or three checks.

    Raises
    ------
    ValueError : the code is not 4 to 8 digits.
    """
    if not is_code(code):
        raise ValueError(f"a code has {FEWEST} to {MOST} digits")
    p = rounds or rounds_here()
    salt = secrets.token_bytes(16)
    return f"scrypt:{_LOG_N}:{_R}:{p}:{salt.hex()}:{_stretch(code, salt, 32, _LOG_N, p).hex()}"


def fits(code: str, sealed: str) -> bool:
    """Say whether a code is the one that was sealed. Takes as long for a wrong code as for the right one."""
    if old := _OLD_SEAL.fullmatch(sealed):
        log_n, p, (salt, digest) = 14, 1, map(bytes.fromhex, old.groups())
    else:
        rounds, *both = _SEAL.fullmatch(sealed).groups()
        log_n, p, (salt, digest) = _LOG_N, int(rounds), map(bytes.fromhex, both)
    return secrets.compare_digest(_stretch(code, salt, len(digest), log_n, p), digest)


def rounds_here(
    one_round: Callable[[], object] | None = None, clock: Callable[[], float] = time.thread_time
) -> int:
    """Return how many rounds take about ``TARGET`` seconds on this device, within the bounds for all devices.

    Parameters
    ----------
    one_round : does the work of one round; the real one when it is not given.
    clock : seconds of computing, so that another program that keeps the device busy makes no code cheap.
    """
    one_round = one_round or (lambda: _stretch("0000", bytes(16), 32, _LOG_N, 1))
    times = []
    for _ in range(3):  # the first one also fetches the memory
        start = clock()
        one_round()
        times.append(clock() - start)
    rounds = ceil(TARGET / min(times)) if min(times) > 0 else FEWEST_ROUNDS
    return max(FEWEST_ROUNDS, min(rounds, MOST_ROUNDS))


def wait_after(wrong: int) -> int:
    """Return how many seconds to wait after a number of wrong codes in a row.

    The first ones are slips of the finger and cost nothing; from then on each doubles the wait, so that half
    of all codes of four digits take more than 50 days. That a wait grows with each failed try is common
    practice; the figures are ours.
    """
    if wrong < FREE_TRIES:
        return 0
    return min(FIRST_WAIT << min(wrong - FREE_TRIES, 10), LONGEST_WAIT)


def _stretch(code: str, salt: bytes, length: int, log_n: int, p: int) -> bytes:
    cost = {"n": 1 << log_n, "r": _R, "p": p, "maxmem": _MEMORY}
    return hashlib.scrypt(code.encode("ascii"), salt=salt, dklen=length, **cost)
