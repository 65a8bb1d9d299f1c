"""The short code: what it looks like, how long it is good, and what wrong tries cost.

Cases: six digits; three tries; three minutes; counted on disk before it is used; spent; the wait grows with
each code that was tried to death, from the last try or the start, whatever the file says.
"""

import pytest

from evaltrack.device.handover.code import LONGEST_WAIT, SECONDS, TRIES, Code, Tries, is_code, wait_after
from evaltrack.device.handover.faults import HandoverError


class Clock:
    """Seconds that go forward when they are told to."""

    now = 1000.0

    def __call__(self) -> float:
        return self.now


def test_a_code_has_six_digits_and_is_another_one_each_time():
    """Drawn by chance: of a hundred hardly two are equal."""
    codes = {Code(Tries()).digits for _ in range(100)}
    assert all(map(is_code, codes))
    assert len(codes) > 95


@pytest.mark.parametrize("text", ["", "12345", "1234567", "12345a", "１２３４５６", "-12345"])
def test_nothing_else_is_a_code(text):
    """Too few, too many, letters, digits of other scripts."""
    assert not is_code(text)


def test_three_tries_and_each_is_on_disk_before_the_code_is_given_out():
    """Another look at the disk, as after a kill, finds it counted."""
    tries = Tries()
    code = Code(tries)
    for n in range(1, TRIES + 1):
        assert code.use() == code.digits.encode()
        assert Tries().wrong == n
    assert code.seconds_left() == 0
    with pytest.raises(HandoverError, match="show a new one"):
        code.use()


def test_three_minutes():
    """A second before it is good, and then it is not."""
    clock = Clock()
    code = Code(Tries(clock=clock), clock)
    clock.now += SECONDS - 1
    assert code.use()
    clock.now += 1
    with pytest.raises(HandoverError):
        code.use()


def test_a_code_that_fits_is_spent_and_wrong_tries_are_forgotten():
    """Nobody can use it a second time, and nobody waits for the slips before it."""
    tries = Tries()
    code = Code(tries)
    code.use()
    code.spend()
    assert (code.seconds_left(), tries.wrong, Tries().wrong) == (0, 0, 0)


def test_each_dead_code_makes_the_next_one_wait_longer():
    """None for slips of the finger, then half a minute, doubled each time up to a quarter of an hour."""
    waits = [wait_after(n) for n in range(0, 60, TRIES)]
    assert waits[:4] == [0, 30, 60, 120]
    assert waits == sorted(waits)
    assert waits[-1] == LONGEST_WAIT
    assert [wait_after(n) for n in (1, 2)] == [0, 0]


def test_neither_a_restart_nor_the_wall_clock_shortens_the_wait():
    """It counts anew from the start of the app."""
    clock = Clock()
    tries = Tries(clock=clock)
    for _ in range(TRIES):
        tries.count()
    clock.now += 29
    assert tries.wait_left() == 1
    assert Tries(clock=clock).wait_left() == 30
    clock.now += 1
    assert tries.wait_left() == 0


def test_tries_that_cannot_be_counted_are_not_answered(tablet_home):
    """A disk that takes nothing would give tries for free."""
    (tablet_home / "handover.json").mkdir()
    with pytest.raises(HandoverError, match="cannot be counted"):
        Code(Tries()).use()


def test_a_file_that_was_meddled_with_makes_the_wait_no_shorter(tablet_home):
    """What is no count is taken for the most."""
    (tablet_home / "handover.json").write_text('{"wrong_handover_codes": "none"}')
    assert Tries().wait_left() == LONGEST_WAIT
