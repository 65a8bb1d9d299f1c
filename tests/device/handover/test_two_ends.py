"""Two tablets that hand over, end to end on loopback.

Cases: both have all, both ways, equal; a wrong code, three of them, a code used twice; one at a time; nobody
comes; who sends no greeting; going on after a break; changed on the way; another season; one tablet with
itself; a pack that is refused there; together and apart again; no answer; nobody there; who may read it.
"""

import asyncio
import json
from contextlib import closing

import pytest
from two_ends import Facts, Meeting, Relay, hand_over

from evaltrack.device.handover import code, tablets
from evaltrack.device.handover.channel import Channel
from evaltrack.device.handover.code import Tries
from evaltrack.device.handover.course import Course, Stage
from evaltrack.device.handover.faults import HandoverError
from evaltrack.device.handover.parts import Parts, handover_folder, parts_of
from evaltrack.device.handover.wire import framed

MANY = 60_000  # facts, some packs' pieces


def test_both_have_all_of_both():
    """And say how many were new, and that they are equal."""
    one, other = Facts("a", range(MANY)), Facts("b", range(MANY - 10, MANY + 50))
    host, guest = hand_over(one, other)
    assert one.facts == other.facts == set(range(MANY + 50))
    assert (host.given, host.taken, host.equal, host.stage) == (MANY - 10, 50, True, Stage.ENDED)
    assert (guest.given, guest.taken, guest.equal, guest.stage) == (50, MANY - 10, True, Stage.ENDED)
    assert parts_of(Facts.season) == []


def test_a_wrong_code_gets_nothing_and_three_lock_out():
    """Each is told; after the third even the right one is not taken, and a new code has to wait."""

    async def run():
        one, other = Facts("a", range(10)), Facts("b")
        meeting = Meeting(one, other)
        await meeting.listen()
        right = meeting.code.digits
        wrong = f"{(int(right) + 1) % 10**6:06d}"
        told = []
        for n in range(3):
            with pytest.raises(HandoverError) as caught:
                await meeting.join(wrong)
            told.append(str(caught.value))
            assert meeting.host.course.missed == n + 1
        with pytest.raises(HandoverError, match="typed wrongly three times"):
            await meeting.hosted
        with pytest.raises(HandoverError, match="no tablet at"):
            await meeting.join(right)
        return told, other.facts

    told, got = asyncio.run(run())
    assert ["did not fit:" in words for words in told] == [True, True, False]
    assert "so it is dead" in told[2]
    assert got == set()
    assert Tries().wait_left() > 25


def test_a_right_code_after_a_wrong_one_is_taken_once():
    """Nobody listens any more while the two talk, and not after that."""

    async def run():
        meeting = Meeting(Facts("a"), Facts("b"))
        await meeting.listen()
        with pytest.raises(HandoverError):
            await meeting.join("000000" if meeting.code.digits != "000000" else "000001")
        ends = await meeting.both(meeting.join())
        with pytest.raises(HandoverError, match="no tablet at"):
            await meeting.join()
        return ends

    assert all(isinstance(end, Course) for end in asyncio.run(run()))
    assert Tries().wrong == 0


def test_one_tablet_at_a_time():
    """Whoever comes while another one is greeting is turned away, and costs it nothing."""

    async def run():
        meeting = Meeting(Facts("a", [1]), Facts("b"))
        await meeting.listen()
        _, slow = await asyncio.open_connection("127.0.0.1", meeting.port)
        await asyncio.sleep(0.05)
        with closing(slow), pytest.raises(HandoverError, match="did not answer"):
            await meeting.join()
        await asyncio.sleep(0.05)
        return await meeting.both(meeting.join())

    assert all(isinstance(end, Course) for end in asyncio.run(run()))


def test_nobody_listens_after_the_time_of_the_code(monkeypatch):
    """The port is closed then."""
    monkeypatch.setattr(code, "SECONDS", 0.2)

    async def run():
        meeting = Meeting(Facts("a"), Facts("b"))
        await meeting.listen()
        with pytest.raises(HandoverError, match="within its time"):
            await meeting.hosted
        with pytest.raises(HandoverError, match="no tablet at"):
            await meeting.join()

    asyncio.run(run())


@pytest.mark.parametrize(
    "words",
    [b"", b"GET / HTTP/1.1\r\n\r\n", framed(b"x" * 30), framed(b"evaltrack hand-over "), b"\xff" * 8,
     framed(b"evaltrack hand-over \x01" + b"A" + b"\xff" * 32)],
)  # fmt: skip
def test_what_is_no_greeting_costs_no_more_than_its_try(words):
    """A browser, a scanner, a cut greeting: only what looks like a real one is counted, and none answered."""

    async def run():
        meeting = Meeting(Facts("a"), Facts("b"))
        await meeting.listen()
        reader, writer = await asyncio.open_connection("127.0.0.1", meeting.port)
        writer.write(words)
        writer.write_eof()
        assert await reader.read() == b""
        writer.close()
        wrong = Tries().wrong
        return wrong, await meeting.both(meeting.join())

    wrong, ends = asyncio.run(run())
    assert wrong == (b"\x01" in words)
    assert all(isinstance(end, Course) for end in ends)


def test_it_goes_on_where_it_broke_off_with_a_new_code():
    """Less than the whole goes over the second time, also what was noted meanwhile, and nothing twice."""

    async def run():
        one, other = Facts("a", range(MANY)), Facts("b", [MANY])
        meeting = Meeting(one, other)
        await meeting.listen()
        async with Relay(meeting.port, most=220_000) as cut:
            ends = await meeting.both(meeting.join(through=cut.port))
        assert all("has broken" in str(end) for end in ends)
        assert other.facts == {MANY}
        (half,) = [path for path in parts_of(Facts.season) if path.suffix == ".part"]
        begun = half.stat().st_size
        one.facts.add(MANY + 1)
        again = Meeting(one, other)
        await again.listen()
        async with Relay(again.port) as whole:
            ends = await again.both(again.join(through=whole.port))
        return begun, len(whole.seen), ends, one.facts, other.facts

    begun, bytes_after, ends, *facts = asyncio.run(run())
    size = len(json.dumps([*range(MANY)]))
    assert begun > 100_000
    assert bytes_after < 2 * size - begun + 20_000  # the rest one way, all the other way, and some words
    assert facts[0] == facts[1] == set(range(MANY + 2))
    assert [end.equal for end in ends] == [True, True]
    assert parts_of(Facts.season) == []


def test_a_partial_file_that_is_not_the_beginning_is_found_out():
    """The pack is not taken in, and the next hand-over begins anew."""
    one, other = Facts("a", range(MANY)), Facts("b")
    parts = Parts(Facts.season)
    parts.ready()
    content = asyncio.run(one.whole())
    parts.keep(content)
    (given,) = parts_of(Facts.season)
    digest = given.name[33:97]
    parts.add(digest, b"x" * 1000)
    _, guest = hand_over(one, other)
    assert "not what evaltrack sends" in str(guest)
    assert other.facts == set()
    assert all(isinstance(end, Course) for end in hand_over(one, other))
    assert other.facts == one.facts


def test_bytes_changed_on_the_way_are_found_out():
    """By whoever stands between: the hand-over ends, and nothing of it is taken in."""

    async def run():
        one, other = Facts("a", range(MANY)), Facts("b")
        meeting = Meeting(one, other)
        await meeting.listen()
        passed = 0

        def flip(data: bytes) -> bytes:
            nonlocal passed
            passed += len(data)
            return data if passed < 50_000 else bytes([data[0] ^ 1]) + data[1:]

        async with Relay(meeting.port, change=flip) as between:
            ends = await meeting.both(meeting.join(through=between.port))
        return ends, other.facts

    ends, got = asyncio.run(run())
    assert all(isinstance(end, HandoverError) for end in ends)
    assert got == set()


def test_another_season_and_ones_own_settings_are_refused_on_both():
    """With the same sentence there and here."""
    one, other = Facts("a", [1]), Facts("b", [2])
    other.season = "cd" * 16
    assert ["another season" in str(end) for end in hand_over(one, other)] == [True, True]
    other.season, other.made = one.season, 6
    assert ["another season" in str(end) for end in hand_over(one, other)] == [True, True]
    assert ["the same settings" in str(end) for end in hand_over(one, Facts("a", [2]))] == [True, True]
    assert (one.facts, other.facts) == ({1}, {2})


def test_a_pack_that_is_refused_here_is_told_there():
    """The one says why, the other that it was not taken in."""
    one, other = Facts("a", [1]), Facts("b", [2])
    other.refuses = "the disk is full"
    host, guest = hand_over(one, other)
    assert str(guest) == "the disk is full"
    assert "could not take the pack in" in str(host)


def test_together_each_hears_what_is_new_until_one_leaves():
    """Both ways, each once, within a second here; at the end both are equal."""

    async def run():
        one, other = Facts("a", range(10)), Facts("b", range(5, 15))
        meeting = Meeting(one, other, live=True)
        await meeting.listen()
        joined = meeting.join()
        await meeting.together()
        for n in range(3):
            one.facts.add(100 + n)
            other.facts.add(200 + n)
            async with asyncio.timeout(2):
                while one.facts != other.facts:
                    await asyncio.sleep(0.01)
        one.facts.add(300)
        meeting.guest.leave()
        return await meeting.both(joined), one.facts, other.facts

    (host, guest), *facts = asyncio.run(run())
    assert facts[0] == facts[1] >= {100, 202, 300}
    assert (host.given, guest.taken) == (9, 9)
    assert (host.taken, guest.given) == (8, 8)
    assert host.equal
    assert guest.equal


def test_who_is_silent_is_taken_for_gone(monkeypatch):
    """A tablet that was carried away: the other one says so, and does not wait for ever."""
    monkeypatch.setattr(Channel.__init__, "__defaults__", (1.3,))

    async def run():
        meeting = Meeting(Facts("a"), Facts("b"), live=True)
        await meeting.listen()
        joined = meeting.join()
        await meeting.together()
        meeting.guest._conversation._channel.send = _nothing
        with pytest.raises(HandoverError, match="nothing has come"):
            await meeting.hosted
        with pytest.raises(HandoverError, match="has broken"):
            await joined

    asyncio.run(run())


async def _nothing(*_) -> None:
    pass


def test_nobody_there_is_said(monkeypatch):
    """Also where the name is no address at all."""
    monkeypatch.setattr(tablets, "SILENCE", 0.5)
    for address in ("127.0.0.1", "no such place"):
        guest = tablets.Guest(Facts("a"), "123456")
        with pytest.raises(HandoverError, match="there is no tablet at"):
            asyncio.run(guest.run(address, 9))
        assert (guest.course.stage, guest.course.share) == (Stage.GREETING, 0)


def test_an_address_that_this_tablet_has_not_is_told():
    """It listens nowhere else instead: the address is one of the documentation's (RFC 5737)."""
    with pytest.raises(HandoverError, match=r"cannot listen on 192\.0\.2\.1: look whether"):
        asyncio.run(tablets.Host(Facts("a"), code.Code(Tries()), "192.0.2.1", 0).run())


def test_packs_on_their_way_are_for_the_owner_alone(tablet_home):
    """Whoever shares the machine cannot read them."""
    parts = Parts(Facts.season)
    parts.ready()
    parts.keep(b"given")
    parts.add("0" * 64, b"part")
    assert {path.stat().st_mode & 0o077 for path in [handover_folder(), *parts_of(Facts.season)]} == {0}
