"""The code of a tablet: which ones there are, how they are kept, and how the wait grows.

Cases: digits and nothing else; the seal opens to its own code only; scrypt as published; the growing wait.
"""

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evaltrack.store import passcode
from evaltrack.store.passcode import FREE_TRIES, LONGEST_WAIT, fits, is_code, is_seal, seal, wait_after

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
    """A code with a nought before it is another code; two seals of one code differ by their salt."""
    sealed = seal(code)
    assert is_seal(sealed)
    assert code not in sealed.split(":")
    assert fits(code, sealed)
    assert fits(other, sealed) == (other == code)
    assert seal(code) != sealed


def test_the_slow_hash_is_scrypt_as_published():
    """RFC 7914, section 12: the vector with the cost that is used here (N 16384, r 8, p 1)."""
    digest = (
        "7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2"
        "d5432955613f0fcf62d49705242a9af9e61e85dc0d651e40dfcf017b45575887"
    )
    assert passcode._stretch("pleaseletmein", b"SodiumChloride", 64).hex() == digest


def test_one_guess_is_slow_and_one_check_is_not():
    """A check takes its time (a plain hash takes a microsecond), and yet no longer than a blink."""
    sealed, times = seal("2468"), []
    for _ in range(3):
        start = time.perf_counter()
        fits("1357", sealed)
        times.append(time.perf_counter() - start)
    assert 0.005 < min(times) < 1


@given(wrong=st.integers(0, 10_000))
def test_the_wait_never_shrinks_and_ends(wrong):
    """Each wrong code makes the wait at least as long, never longer than the longest."""
    assert 0 <= wait_after(wrong) <= wait_after(wrong + 1) <= LONGEST_WAIT
    assert (wait_after(wrong) == 0) == (wrong < FREE_TRIES)


def test_all_short_codes_take_longer_than_a_season_to_try():
    """Half of the 10,000 codes of four digits cost more than 50 days of waiting."""
    assert sum(map(wait_after, range(5_000))) > 50 * 24 * 3600
