"""The code of a tablet: which ones there are, how they are kept, and how the wait grows.

Cases: digits and nothing else; the seal opens to its own code only; scrypt as published; what a look costs
and how that is measured; seals of earlier versions; hand-made seals; the growing wait.
"""

import hashlib
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evaltrack.device import passcode
from evaltrack.device.passcode import (
    FEWEST_ROUNDS,
    FREE_TRIES,
    LONGEST_WAIT,
    MOST_ROUNDS,
    fits,
    is_code,
    is_old,
    is_seal,
    rounds_here,
    seal,
    wait_after,
)

codes = st.text("0123456789", min_size=4, max_size=8)


@pytest.mark.parametrize("text", ["", "123", "123456789", "12a4", "12 4", "-123", "１２３４", "²³¹²", "12.4"])
def test_a_code_is_four_to_eight_digits(text):
    """Too few, too many, letters, and digits of other scripts are refused, on the pad and by the seal."""
    assert not is_code(text)
    with pytest.raises(ValueError, match="4 to 8 digits"):
        seal(text)


@settings(max_examples=3, deadline=None)
@given(code=codes, other=codes)
def test_a_seal_opens_to_its_own_code_only(code, other):
    """A code with a zero before it is another code; two seals of one code differ by their salt."""
    sealed = seal(code, rounds=1)
    assert is_seal(sealed)
    assert code not in sealed.split(":")
    assert fits(code, sealed)
    assert fits(other, sealed) == (other == code)
    assert seal(code, rounds=1) != sealed


def test_the_slow_hash_is_scrypt_as_published():
    """RFC 7914, section 12: vectors of several rounds (N 1024, p 16) and of more memory (N 16384, p 1)."""
    digest = (
        "fdbabe1c9d3472007856e7190d01e9fe7c6ad7cbc8237830e77376634b373162"
        "2eaf30d92e22a3886ff109279d9830dac727afb94a83ee6d8360cbdfa2cc0640"
    )
    assert passcode._stretch("password", b"NaCl", 64, 10, 16).hex() == digest
    digest = (
        "7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2"
        "d5432955613f0fcf62d49705242a9af9e61e85dc0d651e40dfcf017b45575887"
    )
    assert passcode._stretch("pleaseletmein", b"SodiumChloride", 64, 14, 1).hex() == digest


def old_seal(code: str) -> str:
    """Return the seal of a code as the first version made it."""
    salt = bytes(range(16))
    digest = hashlib.scrypt(code.encode(), salt=salt, n=2**14, r=8, p=1, dklen=32)
    return f"scrypt14:{salt.hex()}:{digest.hex()}"


def looking(code: str, sealed: str) -> float:
    """Return the seconds of computing that one look takes, the least of three."""
    times = []
    for _ in range(3):
        start = time.thread_time()
        fits(code, sealed)
        times.append(time.thread_time() - start)
    return min(times)


def test_one_guess_is_slow_and_one_check_is_not():
    """A look costs several times what it did in the first version, and no device sits over it for long."""
    sealed = seal("2468")
    assert looking("1357", sealed) > 4 * looking("1357", old_seal("2468"))
    assert looking("1357", sealed) < 3


def test_a_wrong_code_takes_as_long_as_the_right_one():
    """The time tells nothing about the code, nor how much of it is right."""
    sealed = seal("2468", rounds=1)
    in_turn = [[looking(code, sealed) for code in ("2468", "2469", "13579135")] for _ in range(2)]
    quickest = [min(times) for times in zip(*in_turn, strict=True)]
    assert max(quickest) < 2 * min(quickest)


def test_a_seal_of_the_first_version_still_opens_and_is_known_as_old():
    """Nobody is locked out by an update; what is made today is not old."""
    sealed = old_seal("2468")
    assert (is_seal(sealed), is_old(sealed)) == (True, True)
    assert fits("2468", sealed)
    assert not fits("2469", sealed)
    assert not is_old(seal("2468", rounds=1))


@pytest.mark.parametrize("salted", ["0a" * 16 + ":" + "0b" * 32])
@pytest.mark.parametrize(
    "cost", ["15:8:0", "15:8:33", "15:8:99", "15:8:01", "15:8:-1", "15:8:٣", "15:8:", "20:8:1", "15:9:1",
             "14:8:1", "30:8:1", "15:8:1:1", "15:8:1.0", " 15:8:1"]
)  # fmt: skip
def test_a_seal_that_would_cost_too_much_is_none(cost, salted):
    """Whoever writes the settings by hand makes no tablet hang and takes no gigabytes."""
    assert is_seal(f"scrypt:15:8:32:{salted}")
    assert not is_seal(f"scrypt:{cost}:{salted}")


class Slow:
    """A device whose rounds take the seconds given, and the clock that says so."""

    def __init__(self, *seconds):
        self.now, self._seconds = 0.0, iter(seconds)

    def round(self):
        """Compute one round."""
        self.now += next(self._seconds)

    def clock(self):
        """Return the seconds computed so far."""
        return self.now


@pytest.mark.parametrize(
    ("seconds", "rounds"),
    [
        ((0.05, 0.05, 0.05), 7), ((0.02, 0.02, 0.02), 18), ((0.06, 0.058, 0.3), 7), ((0.5, 0.02, 0.02), 18),
        ((0.001, 0.001, 0.001), MOST_ROUNDS), ((0.3, 0.3, 0.3), FEWEST_ROUNDS), ((9, 9, 9), FEWEST_ROUNDS),
        ((0, 0, 0), FEWEST_ROUNDS), ((-1, -1, -1), FEWEST_ROUNDS),
    ],
)  # fmt: skip
def test_a_device_takes_as_many_rounds_as_fit_into_the_time(seconds, rounds):
    """The quickest of three rounds counts; an odd device or a clock that stands gets a bound."""
    device = Slow(*seconds)
    assert rounds_here(device.round, device.clock) == rounds


@given(second=st.floats(0.0001, 100))
def test_a_look_takes_at_least_the_time_meant_for_it(second):
    """Whatever the speed: the time, or the most rounds; never fewer than a quick tablet needs."""
    device = Slow(second, second, second)
    rounds = rounds_here(device.round, device.clock)
    assert FEWEST_ROUNDS <= rounds <= MOST_ROUNDS
    assert rounds * second >= passcode.TARGET * 0.999 or rounds == MOST_ROUNDS


def test_what_a_look_costs_is_kept_in_the_seal():
    """A seal opens on another device at the cost that it was made with."""
    assert seal("2468").split(":")[:3] == ["scrypt", "15", "8"]
    sealed = seal("2468", rounds=3)
    assert sealed.split(":")[3] == "3"
    assert fits("2468", sealed)
    assert not fits("2468", sealed.replace(":8:3:", ":8:2:"))


@given(wrong=st.integers(0, 10_000))
def test_the_wait_never_shrinks_and_ends(wrong):
    """Each wrong code makes the wait at least as long, never longer than the longest."""
    assert 0 <= wait_after(wrong) <= wait_after(wrong + 1) <= LONGEST_WAIT
    assert (wait_after(wrong) == 0) == (wrong < FREE_TRIES)


def test_all_short_codes_take_longer_than_a_season_to_try():
    """Half of the 10,000 codes of four digits cost more than 50 days of waiting."""
    assert sum(map(wait_after, range(5_000))) > 50 * 24 * 3600
