"""Whoever speaks the exchange wrongly on a real connection comes to a sentence, and gets nothing.

Cases: an earlier session played again, one's own words back, two of one role, another version on the way,
byte by byte, silence before the greeting and after it, more connections than anybody needs, two with the
right code; tries that cannot be counted, and no room for what comes.
"""

import asyncio
import json
from contextlib import closing, suppress

import pytest
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305
from hostile_peers import Sink, fed
from two_ends import Facts, Meeting, Relay

from evaltrack.device.handover import greeting
from evaltrack.device.handover.channel import _NONCE, PIECE, Channel, Kind
from evaltrack.device.handover.code import Code, Tries
from evaltrack.device.handover.conversation import Conversation
from evaltrack.device.handover.course import Course, Stage
from evaltrack.device.handover.faults import HandoverError
from evaltrack.device.handover.parts import parts_of
from evaltrack.device.handover.tablets import Guest
from evaltrack.device.handover.wire import framed
from evaltrack.errors import EvaltrackError

DIGITS = "471120"


def meeting(one=None, other=None, digits: str = DIGITS, live: bool = False) -> Meeting:
    found = Meeting(one or Facts("a", range(20)), other or Facts("b", [99]), live)
    found.code.digits = digits
    return found


async def served(serve) -> tuple[asyncio.Server, int]:
    """Let something else than a host listen."""
    server = await asyncio.start_server(serve, "127.0.0.1", 0)
    return server, server.sockets[0].getsockname()[1]


def test_an_earlier_session_played_again_opens_nothing():
    """All that a guest sent when it was let in, to a host with the same code: one try, and nothing else."""

    async def run():
        first = meeting()
        await first.listen()
        sent = bytearray()

        async def record(reader, writer):
            there, back = await asyncio.open_connection("127.0.0.1", first.port)

            async def pass_on(source, target, kept):
                while data := await source.read(4096):
                    kept += data
                    target.write(data)
                target.close()

            await asyncio.gather(pass_on(reader, back, sent), pass_on(there, writer, bytearray()))

        server, port = await served(record)
        ends = await first.both(first.join(through=port))
        server.close()
        assert all(isinstance(end, Course) for end in ends)
        second = meeting()
        await second.listen()
        reader, writer = await asyncio.open_connection("127.0.0.1", second.port)
        with closing(writer):
            writer.write(sent)
            answer = await reader.read()
        missed = second.host.course.missed
        await second.end()
        return len(sent), answer, missed

    sent, answer, missed = asyncio.run(run())
    assert sent > 500
    assert answer[4 + 33 :] == framed(b"\x02")  # its own greeting, and that two tries are left
    assert missed == 1


def test_ones_own_words_back_are_no_answer():
    """A mirror gets a sentence out of a guest, and no proof."""

    async def mirror(reader, writer):
        with suppress(OSError):
            while data := await reader.read(4096):
                writer.write(data)
        writer.close()

    async def run():
        server, port = await served(mirror)
        with pytest.raises(HandoverError) as caught:
            await Guest(Facts("b"), DIGITS).run("127.0.0.1", port)
        server.close()
        return str(caught.value)

    assert "not what evaltrack sends" in asyncio.run(run())


def test_two_that_both_typed_a_code_are_not_let_in():
    """Each takes the other for the tablet that shows it, and comes to a sentence."""

    async def run():
        told = []

        async def another(reader, writer):
            with pytest.raises(HandoverError) as caught:
                await greeting.as_guest(reader, writer, DIGITS, 1.0)
            told.append(str(caught.value))
            writer.close()

        server, port = await served(another)
        with pytest.raises(HandoverError) as caught:
            await Guest(Facts("b"), DIGITS).run("127.0.0.1", port)
        await asyncio.sleep(0.05)
        server.close()
        return [*told, str(caught.value)]

    assert len(asyncio.run(run())) == 2


@pytest.mark.parametrize("version", [0, 2, 255])
def test_another_version_on_the_way_is_told_and_costs_no_try(version):
    """Whoever changes the version between the two makes both end, and neither goes on with less."""

    async def run():
        found = meeting()
        await found.listen()
        mark = greeting._MAGIC + bytes([greeting.VERSION])
        async with Relay(
            found.port, change=lambda data: data.replace(mark, greeting._MAGIC + bytes([version]))
        ) as changed:
            with pytest.raises(HandoverError, match="different versions"):
                await found.join(through=changed.port)
        missed = found.code.missed
        await found.end()
        return missed

    assert asyncio.run(run()) == 0


def test_byte_by_byte_and_silence_hold_the_next_one_up_for_seconds_only(monkeypatch):
    """Who does not greet at once makes room, and the tablet with the right code is let in then."""
    monkeypatch.setattr(greeting, "_AT_ONCE", 0.3)

    async def drip(writer):
        with suppress(OSError):
            for byte in framed(greeting._MAGIC + b"\x01" + bytes(33)):
                writer.write(bytes([byte]))
                await asyncio.sleep(0.1)

    async def run():
        found = meeting()
        await found.listen()
        _, silent = await asyncio.open_connection("127.0.0.1", found.port)
        await asyncio.sleep(0.45)
        _, slow = await asyncio.open_connection("127.0.0.1", found.port)
        dripping = asyncio.create_task(drip(slow))
        await asyncio.sleep(0.45)
        ends = await found.both(found.join())
        dripping.cancel()
        silent.close(), slow.close()
        return ends, found.code.missed

    ends, _ = asyncio.run(run())
    assert all(isinstance(end, Course) for end in ends)


def test_hundreds_of_connections_are_turned_away_and_then_it_goes_on():
    """Only one is greeted at a time: the others cost nothing, and the right one is let in after them."""

    async def run():
        found = meeting()
        await found.listen()
        opened = [await asyncio.open_connection("127.0.0.1", found.port) for _ in range(300)]
        turned_away = await asyncio.gather(*(reader.read() for reader, _ in opened[1:]))
        for _, writer in opened:
            writer.close()
        await asyncio.sleep(0.1)
        return turned_away, await found.both(found.join())

    turned_away, ends = asyncio.run(run())
    assert set(turned_away) == {b""}
    assert all(isinstance(end, Course) for end in ends)
    assert Tries().wrong == 0


def test_of_two_with_the_right_code_one_is_let_in():
    """The other one is told to look at the screen again, not that its network is gone."""

    async def run():
        found = meeting()
        await found.listen()
        late = Guest(Facts("c", [7]), DIGITS)
        both = (found.join(), asyncio.create_task(late.run("127.0.0.1", found.port)))
        ends = await asyncio.gather(*both, return_exceptions=True)
        host = await found.hosted
        return ends, host

    ends, host = asyncio.run(run())
    assert sum(isinstance(end, Course) for end in ends) == 1
    (refused,) = [str(end) for end in ends if not isinstance(end, Course)]
    assert "did not answer" in refused or "there is no tablet" in refused
    assert host.stage is Stage.ENDED


def test_who_gives_signs_of_life_and_no_answer_is_not_waited_for_without_end():
    """Somebody who knows the code and only ever says that he is there."""

    class Only:
        def __init__(self, channel):
            self.channel = channel

        async def run(self):
            with suppress(HandoverError):
                while True:
                    await self.channel.send(Kind.ALIVE)
                    await asyncio.sleep(0.02)

    async def run():
        tries, ends = Tries(), []
        code = Code(tries)

        async def host(reader, writer):
            channel = await greeting.as_host(reader, writer, code)
            with pytest.raises(HandoverError) as caught:
                await channel.receive(patience=0.3)
            ends.append(str(caught.value))
            channel.close()

        server, port = await served(host)
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        await Only(await greeting.as_guest(reader, writer, code.digits)).run()
        writer.close()
        server.close()
        return ends

    (told,) = asyncio.run(run())
    assert "nothing has come" in told


def test_tries_that_cannot_be_counted_are_told_on_the_tablet_that_shows_the_code(tablet_home):
    """A full disk there: nobody can join, so whoever waits at that screen must know."""
    (tablet_home / "handover.json").mkdir()

    async def run():
        found = meeting()
        await found.listen()
        with pytest.raises(HandoverError, match="did not answer"):
            await found.join()
        with pytest.raises(HandoverError, match="cannot be counted"):
            await found.hosted

    asyncio.run(run())


def test_no_room_for_what_comes_is_told_on_both(monkeypatch):
    """Here with what to do; there, that it was not taken in, also while more of it is on its way."""
    from evaltrack.device.handover import parts

    real, opened = parts.os.open, []

    def full(path, flags, mode=0o777):
        opened.extend([path] if str(path).endswith(".part") else [])
        if len(opened) > 3:
            raise OSError(28, "No space left on device")
        return real(path, flags, mode)

    monkeypatch.setattr(parts.os, "open", full)
    one, other = Facts("a", range(120_000)), Facts("b", [1])
    found = meeting(one, other)

    async def run():
        await found.listen()
        return await found.both(found.join())

    host, guest = asyncio.run(run())
    assert isinstance(guest, EvaltrackError)
    assert "no room on this tablet" in str(guest)
    assert "could not take the pack in" in str(host)
    assert other.facts == {1}


@pytest.mark.parametrize("size", [1, PIECE - 1])
def test_a_pack_in_crumbs_is_not_taken(size):
    """Somebody who knows the code and sends millions of messages for one pack."""
    seal, words = ChaCha20Poly1305(bytes(32)), {"season": Facts.season, "made": Facts.made, "tablet": "a"}
    hello = json.dumps(words | {"at": 5, "live": False, "parts": {}}).encode()
    offer = json.dumps({"size": 2 * PIECE, "sha256": "0" * 64}).encode()
    said = [(Kind.HELLO, hello), (Kind.OFFER, offer), *[(Kind.PIECE, bytes(size))] * 9]
    sent = [
        framed(seal.encrypt(_NONCE.pack(nth), bytes([kind]) + body, None))
        for nth, (kind, body) in enumerate(said)
    ]

    async def run():
        channel = Channel(fed(b"".join(sent)), Sink(), bytes(32), bytes(32), 0.2)
        with pytest.raises(HandoverError, match="not what evaltrack sends"):
            await Conversation(channel, Facts("b"), False, False, Course(), lambda: None).run()

    asyncio.run(run())
    assert all(path.suffix != ".part" for path in parts_of(Facts.season))


def test_a_silent_channel_reads_no_more_than_it_may():
    """A length of four gigabytes is refused before any of it is read."""

    async def run():
        reader = asyncio.StreamReader()
        reader.feed_data(b"\xff\xff\xff\xff" + bytes(1000))
        channel = Channel(reader, None, bytes(32), bytes(32))
        with pytest.raises(HandoverError, match="not what evaltrack sends"):
            await channel.receive()

    asyncio.run(run())
