"""What two tablets say to each other once they have greeted: first all they have, then what is new.

The host gives first. Each pack is offered with its size and SHA-256, and goes on from where an earlier
hand-over broke off. Then both compare digests of all facts, and give what came meanwhile.
Where both want it they stay together: each tells the other what is new as soon as it is there.
"""

import asyncio
import hashlib
import json
from collections.abc import Callable
from contextlib import suppress

from evaltrack.device.handover.channel import PIECE, Channel, Kind, number_of, text_of, why_left, words_of
from evaltrack.device.handover.course import Brought, Course, Side, Stage
from evaltrack.device.handover.faults import HandoverError, strange
from evaltrack.device.handover.offers import LAST_MOMENT, MOST_NEWS, now_here, offer_in, parts_in
from evaltrack.device.handover.parts import MOST, Parts
from evaltrack.errors import EvaltrackError

_ROUNDS = 6  # of news, until both are equal
_ALIVE = 1.0  # seconds between two signs of life
_LOOK = 0.3  # seconds between two looks for news
_MOST_TALLIES = 1 << 40


class Conversation:
    """One hand-over, from the first word after the greeting to the last.

    Parameters
    ----------
    side : the season of this tablet.
    hosting : whether this tablet showed the code; it gives first.
    live : whether this tablet wants to stay together.
    shown : called whenever the course has changed.
    """

    def __init__(
        self,
        channel: Channel,
        side: Side,
        hosting: bool,
        live: bool,
        course: Course,
        shown: Callable[[], None],
    ):
        self._channel, self._side, self._hosting = channel, side, hosting
        self._live, self._course, self._shown = live, course, shown
        self._parts = Parts(side.season)
        self._theirs: dict[str, int] = {}  # what the other tablet has of packs on their way
        self._unanswered = 0  # packs that were given and not yet taken
        self._leaving = asyncio.Event()

    def leave(self) -> None:
        """End being together, once the other tablet has what is new."""
        self._leaving.set()

    async def run(self) -> None:
        """Hand over. HandoverError when it ends before its time; the course says how far it came."""
        alive = asyncio.create_task(self._stay_alive())
        try:
            await self._meet()
            for turn in (self._give, self._take) if self._hosting else (self._take, self._give):
                await turn()
            await self._equalise()
            if self._live:
                await self._together()
                await self._equalise()
            self._show(Stage.ENDED, 1.0)
            with suppress(HandoverError):
                await self._channel.tell(Kind.BYE, why="left")
        except EvaltrackError as error:
            if not isinstance(error, HandoverError):  # our own refusal: the other one cannot know
                await self._say_why("refused")
            raise
        finally:
            alive.cancel()
            self._channel.close()

    def _show(self, stage: Stage, share: float = 0.0) -> None:
        self._course.stage, self._course.share, self._course.heard = stage, share, self._channel.heard
        self._shown()

    async def _stay_alive(self) -> None:
        with suppress(HandoverError):  # whoever reads finds out
            while True:
                await asyncio.sleep(_ALIVE)
                await self._channel.send(Kind.ALIVE)

    async def _say_why(self, why: str) -> None:
        with suppress(HandoverError):
            await self._channel.tell(Kind.BYE, why=why)
            await self._channel.hear_out()

    async def _meet(self) -> None:
        """Tell each other who it is; another season, or this very tablet once more, is refused."""
        self._show(Stage.GREETING)
        self._parts.ready()
        mine = {"season": self._side.season, "made": self._side.made, "tablet": self._side.tablet}
        await self._channel.tell(Kind.HELLO, **mine, at=now_here(), live=self._live, parts=self._parts.have())
        theirs = words_of(await self._expect(Kind.HELLO))
        at = number_of(theirs, "at", LAST_MOMENT)
        self._course.behind = now_here() - at
        season, tablet = text_of(theirs, "season"), text_of(theirs, "tablet")
        if (season, theirs.get("made")) != (mine["season"], mine["made"]):
            await self._refuse("season")
        if tablet == mine["tablet"]:
            await self._refuse("tablet")
        self._live = self._live and theirs.get("live") is True
        self._theirs = parts_in(theirs)
        await self._side.met(tablet)

    async def _refuse(self, why: str) -> None:
        await self._say_why(why)
        raise HandoverError(why_left(json.dumps({"why": why}).encode()))

    async def _give(self) -> None:
        """Give all there is, from where the other tablet has it."""
        self._show(Stage.GIVING)
        content = self._parts.given(self._theirs)
        if content is None:
            content = await self._side.whole()
            self._parts.keep(content)
        digest = hashlib.sha256(content).hexdigest()
        await self._channel.tell(Kind.OFFER, size=len(content), sha256=digest)
        start = number_of(words_of(await self._expect(Kind.WANT)), "start", len(content))
        for at in range(start, len(content), PIECE):
            await self._channel.send(Kind.PIECE, content[at : at + PIECE])
            self._show(Stage.GIVING, min(1.0, (at + PIECE) / len(content)))
        self._unanswered += 1
        await self._answered()
        await self._side.told(content)
        self._parts.drop(digest)

    async def _take(self) -> None:
        """Take all the other tablet has."""
        self._show(Stage.TAKING)
        size, digest = offer_in(await self._expect(Kind.OFFER), MOST)
        if not size:
            raise strange()
        come = self._parts.begin(digest, size)
        await self._channel.tell(Kind.WANT, start=come)
        while come < size:
            piece = await self._piece(size - come)
            self._parts.add(digest, piece)
            come += len(piece)
            self._show(Stage.TAKING, come / size)
        content = self._parts.whole(digest)
        if content is None:
            raise strange()
        try:
            await self._take_in(content)
        finally:
            self._parts.drop(digest)

    async def _piece(self, most: int) -> bytes:
        piece = await self._expect(Kind.PIECE)
        if len(piece) != min(PIECE, most):  # in bytes of one each it would never come to an end
            raise strange()
        return piece

    async def _take_in(self, content: bytes) -> None:
        brought: Brought = await self._side.take_in(content)
        self._course.taken += brought.tallies
        self._course.told += [line for line in brought.told if line not in self._course.told]
        await self._channel.tell(Kind.TAKEN, tallies=brought.tallies)

    async def _expect(self, wanted: Kind) -> bytes:
        """Return the next message, which must be of this kind; that a pack was taken may come in between."""
        while True:
            kind, body = await self._channel.receive()
            if kind is wanted:
                return body
            self._note_taken(kind, body)

    def _note_taken(self, kind: Kind, body: bytes) -> None:
        if kind is not Kind.TAKEN or not self._unanswered:
            raise strange()
        self._unanswered -= 1
        self._course.given += number_of(words_of(body), "tallies", _MOST_TALLIES)

    async def _answered(self) -> None:
        while self._unanswered:
            self._note_taken(*await self._channel.receive())

    async def _equalise(self) -> None:
        """Compare digests, and give each other what is new until they are the same or nobody has anything."""
        for _ in range(_ROUNDS):
            self._show(Stage.COMPARING)
            mine = await self._side.digest()
            await self._channel.tell(Kind.DIGEST, sha256=mine)
            self._course.equal = text_of(words_of(await self._expect(Kind.DIGEST)), "sha256") == mine
            if self._course.equal:
                break
            first, second = (self._tell_news, self._hear_news)[:: 1 if self._hosting else -1]
            if not (await first() | await second()):
                break
        self._shown()

    async def _tell_news(self, always: bool = True) -> bool:
        """Give what is new, and say whether there was any; ``always`` say so when there is none, too."""
        content = await self._side.news()
        if not (content or always):
            return False
        digest = hashlib.sha256(content).hexdigest()
        await self._channel.tell(Kind.OFFER, size=len(content), sha256=digest)
        for at in range(0, len(content), PIECE):
            await self._channel.send(Kind.PIECE, content[at : at + PIECE])
        self._unanswered += bool(content)
        return bool(content)

    async def _hear_news(self, offer: bytes | None = None) -> bool:
        """Take what is new there, and say whether there was any."""
        size, digest = offer_in(offer or await self._expect(Kind.OFFER), MOST_NEWS)
        content = bytearray()
        while len(content) < size:
            content += await self._piece(size - len(content))
        if hashlib.sha256(content).hexdigest() != digest:
            raise strange()
        if content:
            await self._take_in(bytes(content))
        return bool(content)

    async def _together(self) -> None:
        """Tell and hear what is new until one of the two leaves."""
        both = [asyncio.create_task(self._go_on_telling()), asyncio.create_task(self._go_on_hearing())]
        try:
            ended, _ = await asyncio.wait(both, return_when=asyncio.FIRST_EXCEPTION)
            for task in ended:
                task.result()
        finally:
            for task in both:
                task.cancel()

    async def _go_on_telling(self) -> None:
        while not self._leaving.is_set():
            await self._tell_news(always=False)
            self._show(Stage.TOGETHER, 1.0)
            with suppress(TimeoutError):
                await asyncio.wait_for(self._leaving.wait(), _LOOK)
        await self._tell_news(always=False)
        await self._channel.send(Kind.ENDING)

    async def _go_on_hearing(self) -> None:
        while True:
            kind, body = await self._channel.receive(patience=None)
            if kind is Kind.ENDING:
                self._leaving.set()
                return
            if kind is Kind.OFFER:
                await self._hear_news(body)
            else:
                self._note_taken(kind, body)
