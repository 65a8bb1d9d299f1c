"""Identifiers: their layout by the standard, and the order that the log relies on.

Cases: version, variant and time field of both kinds; order within a millisecond, with the clock set back,
and across threads; after a restart; beside another; the same parts.
"""

import threading
import time
from uuid import RFC_4122, UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink import ident
from evaltrack.rink.ident import count_on_from, id_from, new_id

moments = st.integers(0, 2**48 - 1)


def fields(made: UUID) -> tuple[int, int, int]:
    """Take an identifier apart by RFC 9562: the first 48 bits, then version and 12 bits, then variant."""
    bits = f"{made.int:0128b}"
    return int(bits[:48], 2), int(bits[48:52], 2), int(bits[64:66], 2)


@pytest.fixture
def clock(monkeypatch):
    """Return a clock that the test sets, in milliseconds, after a start of the process."""
    now = [1_760_000_000_000]
    monkeypatch.setattr(ident, "now_ms", lambda: now[0])
    monkeypatch.setattr(ident, "_last", 0)
    return now


def test_the_published_example_is_read_as_published():
    """RFC 9562, appendix A.6: this version 7 value stands for 2022-02-22 14:22:22 -05:00."""
    example = UUID("017F22E2-79B0-7CC3-98C4-DC0C0C07398F")
    assert fields(example) == (1_645_557_742_000, 7, 0b10)
    assert ident._uuid(7, 1_645_557_742_000, 0xCC3, 0x18C4DC0C0C07398F) == example


def test_a_new_id_is_laid_out_as_version_7(clock):
    """RFC 9562, section 5.7: 48 bits of time, version 0111, variant 10 (section 4.1)."""
    made = new_id()
    assert fields(made) == (clock[0], 7, 0b10)
    assert (made.version, made.variant) == (7, RFC_4122)


@given(at=moments, parts=st.lists(st.text() | st.integers()))
def test_an_id_from_parts_is_laid_out_as_version_8(at, parts):
    """RFC 9562, section 5.8: version 1000, variant 10; the rest is ours, with the time in front."""
    made = id_from(at, *parts)
    assert fields(made) == (at, 8, 0b10)


@pytest.mark.parametrize("at", [-1, 2**48 + 5, 2**70])
def test_a_moment_that_no_clock_shows_spoils_no_layout(at):
    """A line with a date before 1970, or long after, has an identifier like any other."""
    assert fields(id_from(at, "a line")) == (at % 2**48, 8, 0b10)


@given(first=moments, second=moments)
def test_ids_sort_by_time(first, second):
    """Of two moments the earlier one's ids come first, also between the two kinds, as numbers and bytes."""
    if first == second:
        return
    kinds = (lambda at: ident._uuid(7, at, 0xFFF, 0), lambda at: id_from(at, "outlet_pass"))
    for one in kinds:
        for other in kinds:
            a, b = one(first), other(second)
            assert (a < b) == (a.bytes < b.bytes) == (first < second)


def test_ids_of_one_millisecond_keep_their_order(clock):
    """Twenty thousand in one millisecond sort as they were made (section 6.2, method 1 and its rollover)."""
    made = [new_id() for _ in range(20_000)]
    assert made == sorted(set(made))
    assert fields(made[0])[0] == clock[0]
    assert fields(made[-1])[0] - clock[0] == 20_000 // 4096


@given(steps=st.lists(st.integers(-10_000_000, 10_000_000), max_size=40))
def test_ids_keep_their_order_when_the_clock_goes_back(steps):
    """Wherever the clock is set to, forward or back, the next id comes after the last."""
    with pytest.MonkeyPatch.context() as patch:
        now = 1_760_000_000_000
        made = [new_id()]
        for step in steps:
            now += step
            patch.setattr(ident, "now_ms", lambda now=now: now)
            made += [new_id(), new_id()]
    assert made == sorted(set(made))


def test_ids_made_after_a_restart_sort_after_the_last_one(clock, monkeypatch):
    """The clock was set back before the process started again: it counts on from what the file knows."""
    before = [new_id() for _ in range(5000)]
    clock[0] -= 600_000
    monkeypatch.setattr(ident, "_last", 0)
    count_on_from(before[-1])
    after = [new_id() for _ in range(5000)]
    assert [*before, *after] == sorted({*before, *after})


@pytest.mark.parametrize(
    "odd", [None, id_from(2**46, "a line"), id_from(2**47, "a line"), UUID(int=2**128 - 1), UUID(int=7)]
)
def test_ids_do_not_count_on_from_what_no_clock_made(clock, odd):
    """Nothing, an id of a loaded line, or one far beyond any clock carries the next ones nowhere."""
    count_on_from(odd)
    assert fields(new_id())[0] == clock[0]


def test_ids_count_on_from_any_year_to_6429_and_from_none_after_it(clock):
    """Half of what the number holds is believed of a clock that is set forward; beyond it nothing is."""
    count_on_from(ident._uuid(7, 2**47, 0, 0))
    assert fields(new_id())[0] == clock[0]
    count_on_from(ident._uuid(7, 2**47 - 1, 0xFFF, 0))
    assert fields(new_id())[0] == 2**47


@pytest.mark.parametrize("counter", [0, 1, 0x155, 0x7FF, 0xFFE])
def test_the_counter_goes_on_by_one_after_a_restart(clock, counter):
    """Neither more, which would wear the counter out, nor less, which would give one number twice."""
    last = ident._uuid(7, clock[0] + 1000, counter, (1 << 62) - 1)
    count_on_from(last)
    assert new_id().int >> 64 == (last.int >> 64) + 1


def test_the_62_bits_of_chance_are_all_used(clock):
    """Of a thousand ids each bit is set in some and clear in others, so that two tablets hardly ever meet."""
    first = new_id()
    for made in ([new_id() for _ in range(1000)], [new_id(first) for _ in range(1000)]):
        low = [one.int & (1 << 62) - 1 for one in made]
        assert all(0 < sum(number >> bit & 1 for number in low) < 1000 for bit in range(62))
        assert {fields(one)[2] for one in made} == {0b10}


def test_the_present_moment_is_in_milliseconds():
    """It is the time of the system's clock, since 1970."""
    before = time.time()
    assert 1000 * before - 1 <= ident.now_ms() <= 1000 * time.time() + 1


@given(beside=st.integers(0, 4))
def test_an_id_beside_another_sorts_as_that_one(beside):
    """What stands for an earlier fact comes where that one came, and is another id."""
    made = [new_id() for _ in range(5)]
    other = new_id(made[beside])
    assert other != made[beside]
    assert (other.version, other.variant) == (7, RFC_4122)
    replaced = [*made[:beside], other, *made[beside + 1 :]]
    assert replaced == sorted(replaced)


def test_ids_from_several_threads_differ_and_each_thread_keeps_its_order():
    """Threads that make ids at once never get one twice, and each sees its own in order."""
    made = [[] for _ in range(4)]

    def make(into):
        into.extend(new_id() for _ in range(3000))

    threads = [threading.Thread(target=make, args=(into,)) for into in made]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert all(into == sorted(into) for into in made)
    assert len({one for into in made for one in into}) == 4 * 3000


@given(at=moments, parts=st.lists(st.text() | st.integers() | st.none()))
def test_the_same_parts_give_the_same_id(at, parts):
    """An id made from parts depends on nothing but the moment and the parts."""
    assert id_from(at, *parts) == id_from(at, *parts)


@pytest.mark.parametrize(
    ("number", "digest", "told"),
    [
        (7, 0x6E22434264E86CE326A6, "0199c82c-c000-86a6-a224-34264e86ce32"),
        (10, 0xAEB47C2D2E3C00760DA5, "0199c82c-c000-8da5-ab47-c2d2e3c00760"),
    ],
)
def test_an_id_from_parts_stays_what_it_is(number, digest, told):
    r"""A file that was loaded by an earlier version names the same tallies today.

    ``printf '2025-10-04\x1ftwo_on_one\x1foutlet_pass\x1f7' | sha256sum`` begins with 6e22434264e86ce326a6.
    """
    made = id_from(1_760_000_000_000, "2025-10-04", "two_on_one", "outlet_pass", number)
    assert made.int & 0xFFF << 64 == (digest & 0xFFF) << 64
    assert made.int & (1 << 62) - 1 == digest >> 12 & (1 << 62) - 1
    assert str(made) == told


def test_other_parts_give_another_id():
    """Another part, another order or another cut between parts is another id."""
    parts = [("a", "b"), ("b", "a"), ("ab",), ("a", "b", ""), ("a", 1), ("a", 2), ()]
    assert len({id_from(0, *some) for some in parts}) == len(parts)
