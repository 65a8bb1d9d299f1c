"""Both ends of a hand-over in one process, of seasons that are but sets of numbers."""

import asyncio
import hashlib
import json
from collections.abc import Callable
from contextlib import suppress

from evaltrack.device.handover.code import Code, Tries
from evaltrack.device.handover.course import Brought, Course, Stage
from evaltrack.device.handover.tablets import Guest, Host
from evaltrack.errors import EvaltrackError


class Facts:
    """A season that is a set of whole numbers."""

    season, made = "ab" * 16, 5

    def __init__(self, tablet: str, facts=()):
        self.tablet, self.facts, self.heard = tablet, set(facts), set()
        self.refuses = ""

    async def met(self, tablet: str) -> None:
        self.met_with = tablet

    async def whole(self) -> bytes:
        return json.dumps(sorted(self.facts)).encode()

    async def told(self, pack: bytes) -> None:
        self.heard |= set(json.loads(pack))

    async def news(self) -> bytes:
        new = self.facts - self.heard
        self.heard |= new
        return json.dumps(sorted(new)).encode() if new else b""

    async def take_in(self, pack: bytes) -> Brought:
        if self.refuses:
            raise EvaltrackError(self.refuses)
        came = set(json.loads(pack))
        new = came - self.facts
        self.facts |= came
        self.heard |= came
        return Brought(len(new))

    async def digest(self) -> str:
        return hashlib.sha256(json.dumps(sorted(self.facts)).encode()).hexdigest()


class Meeting:
    """Two ends that meet on loopback; each ends with its course, or with the error that ended it."""

    def __init__(self, one, other, live: bool = False, tries: Tries | None = None):
        self.tries = tries or Tries()
        self.code = Code(self.tries)
        self.host = Host(one, self.code, "127.0.0.1", 0, live)
        self._other, self._live = other, live
        self.guest: Guest | None = None

    async def listen(self) -> None:
        port = asyncio.get_running_loop().create_future()
        self.hosted = asyncio.create_task(self.host.run(port.set_result))
        await asyncio.wait([port, self.hosted], return_when=asyncio.FIRST_COMPLETED)
        self.port = port.result()

    def join(self, code: str = "", through: int | None = None) -> asyncio.Task:
        """Join by the right code or another one, and perhaps through another port."""
        self.guest = Guest(self._other, code or self.code.digits, self._live)
        return asyncio.create_task(self.guest.run("127.0.0.1", through or self.port))

    async def both(self, joined: asyncio.Task) -> tuple[Course | Exception, Course | Exception]:
        return tuple(await asyncio.gather(self.hosted, joined, return_exceptions=True))

    async def together(self) -> None:
        """Wait until both are together."""
        while Stage.TOGETHER not in (self.host.course.stage, self.guest.course.stage):
            await asyncio.sleep(0.01)

    async def end(self) -> None:
        """Let nothing run on."""
        self.hosted.cancel()
        with suppress(asyncio.CancelledError, EvaltrackError):
            await self.hosted


def hand_over(one, other, live: bool = False):
    """Let both hand over, and return what came of it on both ends."""

    async def run():
        meeting = Meeting(one, other, live)
        await meeting.listen()
        return await meeting.both(meeting.join())

    return asyncio.run(run())


class Relay:
    """What stands between two ends: it keeps all bytes, and may cut the way after so many."""

    def __init__(
        self, port: int, most: int | None = None, change: Callable[[bytes], bytes] = lambda data: data
    ):
        self._port, self._most, self._change = port, most, change
        self.seen = bytearray()

    async def __aenter__(self):
        self._server = await asyncio.start_server(self._between, "127.0.0.1", 0)
        self.port = self._server.sockets[0].getsockname()[1]
        return self

    async def __aexit__(self, *_):
        self._server.close()

    async def _between(self, reader, writer) -> None:
        there_reader, there_writer = await asyncio.open_connection("127.0.0.1", self._port)
        both = (writer, there_writer)
        await asyncio.gather(self._pass(reader, there_writer, both), self._pass(there_reader, writer, both))

    async def _pass(self, reader, writer, both) -> None:
        with suppress(OSError):
            while data := await reader.read(4096):
                self.seen += data
                if self._most is not None and len(self.seen) > self._most:
                    break
                writer.write(self._change(data))
                await writer.drain()
        for one in both:
            one.close()
