"""The two ends of a hand-over: the host, which shows a code and listens, and the guest, which types it.

Both run on an event loop of whoever calls them. The host listens on one address, to one tablet at a time, and
only until its code is spent, dead or too old.
"""

import asyncio
from collections.abc import Callable
from contextlib import suppress

from evaltrack.device.handover.channel import SILENCE, Channel
from evaltrack.device.handover.code import Code, NotCountedError
from evaltrack.device.handover.conversation import Conversation
from evaltrack.device.handover.course import Course, Side, Stage
from evaltrack.device.handover.faults import HandoverError
from evaltrack.device.handover.greeting import as_guest, as_host
from evaltrack.language import mark, tr

PORT = 4545  # where nothing else listens there; any other one else
_UNREACHED = mark(
    "there is no tablet at {address}: look at its address again, and whether both are on one network; some "
    "guest networks keep their devices apart, a hotspot of one of the tablets does not"
)
_TOO_OLD = mark("nobody typed the code within its time; show a new one")
_DEAD = mark("the code was typed wrongly three times, so it is good for nothing any more; show a new one")


class Tablet:
    """One end. ``course`` says how far it is; ``shown`` is called whenever that has changed."""

    def __init__(self, side: Side, live: bool, shown: Callable[[], None]):
        self.course = Course()
        self._side, self._live, self._shown = side, live, shown
        self._conversation: Conversation | None = None

    def leave(self) -> None:
        """End being together as soon as both have what is new."""
        if self._conversation:
            self._conversation.leave()

    async def _converse(self, channel: Channel, hosting: bool) -> None:
        self._conversation = Conversation(channel, self._side, hosting, self._live, self.course, self._shown)
        await self._conversation.run()


class Host(Tablet):
    """The end that shows a code.

    Parameters
    ----------
    code : the one that is shown.
    address : the one on which to listen, and no other.
    port : where to listen; 0 for any.
    """

    def __init__(
        self,
        side: Side,
        code: Code,
        address: str,
        port: int = PORT,
        live: bool = True,
        shown: Callable[[], None] = lambda: None,
    ):
        super().__init__(side, live, shown)
        self._code, self._address = code, address
        self.port = port
        self._busy = False
        self._met: asyncio.Future[Channel] | None = None

    async def run(self, listening: Callable[[int], None] = lambda _: None) -> Course:
        """Listen, hand over, and return what came of it; ``listening`` is told the port.

        Raises
        ------
        HandoverError : nobody came in time, the code is dead, or it ended before its time.
        """
        self._met = asyncio.get_running_loop().create_future()
        server = await self._server()
        try:
            self.port = server.sockets[0].getsockname()[1]
            listening(self.port)
            await asyncio.wait([self._met], timeout=self._code.seconds_left())
        finally:
            server.close()
        if self._busy:  # whoever came in time may end the greeting
            await asyncio.wait([self._met], timeout=SILENCE)
        if not self._met.done():
            raise HandoverError(tr(_TOO_OLD))
        channel = self._met.result()
        await self._converse(channel, hosting=True)
        return self.course

    async def _server(self) -> asyncio.Server:
        for port in dict.fromkeys((self.port, 0)):
            with suppress(OSError):
                return await asyncio.start_server(self._come, self._address, port, limit=1 << 17)
        raise HandoverError(
            tr(
                "this tablet cannot listen on {address}: look whether it is on a network still",
                address=self._address,
            )
        )

    async def _come(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        """Greet whoever comes, one at a time; only who knows the code is let in."""
        channel = None
        if not self._busy and not self._met.done():
            self._busy = True
            try:
                channel = await self._greeted(reader, writer)
            finally:
                self._busy = False
        if channel is None:
            writer.close()
        elif not self._met.done():
            self._met.set_result(channel)

    async def _greeted(self, reader, writer) -> Channel | None:
        channel = None
        try:
            channel = await as_host(reader, writer, self._code)
        except NotCountedError as error:  # nobody can join: who waits here must know why
            self._end(error)
        except HandoverError:
            pass  # no evaltrack, or one that left: the code is as good as its tries
        if channel is None:
            self.course.missed = self._code.missed
            self._shown()
            if not self._code.seconds_left():
                self._end(HandoverError(tr(_TOO_OLD if self._code.left else _DEAD)))
        return channel

    def _end(self, why: HandoverError) -> None:
        if not self._met.done():
            self._met.set_exception(why)


class Guest(Tablet):
    """The end that types the code."""

    def __init__(self, side: Side, code: str, live: bool = True, shown: Callable[[], None] = lambda: None):
        super().__init__(side, live, shown)
        self._code = code

    async def run(self, address: str, port: int = PORT) -> Course:
        """Reach the host, hand over, and return what came of it.

        Raises
        ------
        HandoverError : there is nobody, the code is not the one, or it ended before its time.
        """
        self.course.stage = Stage.GREETING
        self._shown()
        try:
            async with asyncio.timeout(SILENCE):
                reader, writer = await asyncio.open_connection(address, port, limit=1 << 17)
        except (OSError, TimeoutError, UnicodeError):
            raise HandoverError(tr(_UNREACHED, address=address)) from None
        try:
            channel = await as_guest(reader, writer, self._code)
        except BaseException:
            writer.close()
            raise
        await self._converse(channel, hosting=False)
        return self.course
