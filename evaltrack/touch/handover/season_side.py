"""The season in hand as a hand-over asks for it: read beside the app, written between two taps."""

import asyncio
import logging
from collections.abc import Callable
from datetime import datetime
from functools import partial
from uuid import UUID

from evaltrack.device.backup_places import note_handed_over
from evaltrack.device.handover.course import Brought
from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.store.packs.joined import Joined
from evaltrack.store.packs.pack_file import Pack, read_pack
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.worker import handover_tasks as tasks
from evaltrack.touch.worker.process import fault_words
from evaltrack.touch.worker.thread import hand_back
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.packs import joined_lines
from evaltrack.words.wording import as_sentence

_log = logging.getLogger("evaltrack")
_OTHERS = mark("what the other tablet gave")
_ANYWAY = 10  # looks for news after which it looks although nothing was written here


class SeasonSide:
    """A season for one hand-over. Made on the screens' thread, and then used on the hand-over's own.

    Parameters
    ----------
    worker : a process beside the app that has nothing else to do.
    """

    def __init__(self, desk: Desk, worker: Worker):
        self.season, self.made = desk.season.ident.hex, desk.season.created_at
        self.tablet = desk.tablet.id
        self._desk, self._worker, self._path = desk, worker, desk.season.path.resolve()
        self._seen, self._looks, self._backed_up = -1, 0, False
        worker.ask(partial(tasks.begin, self._path, self.tablet), lambda _: None, lambda _: None)

    async def met(self, tablet: str) -> None:
        """Remember that the tablet with this id gets all that is noted here."""
        note_handed_over(UUID(self.season), tablet, datetime.now())

    async def whole(self) -> bytes:
        """Return a pack of all there is."""
        return await self._beside(tasks.whole)

    async def told(self, pack: bytes) -> None:
        """Note that the other tablet has all that is in a pack of this one."""
        await self._beside(tasks.told, pack)

    async def news(self) -> bytes:
        """Return a pack of what the other tablet has not heard yet, empty when there is nothing."""
        self._looks += 1
        changed = self._desk.changed
        if changed == self._seen and self._looks % _ANYWAY:
            return b""
        self._seen = changed
        return await self._beside(tasks.news)

    async def take_in(self, pack: bytes) -> Brought:
        """Take a pack in on the screens' thread, between two taps."""
        read = await asyncio.to_thread(read_pack, tr(_OTHERS), pack)  # signs of life go out meanwhile
        if not self._backed_up:
            await self._beside(tasks.back_up)
            self._backed_up = True
        joined: Joined = await self._between_taps(partial(self._join, read))
        await self.told(pack)
        names = {player.id: f"{player.number} {player.name}" for player in self._desk.everyone}
        return Brought(
            joined.new["tally"] + joined.new["withdrawal"],
            tuple(map(as_sentence, joined_lines(joined, names)[1:])),
        )

    async def digest(self) -> str:
        """Return the SHA-256 of all facts that tablets share."""
        self._seen = -1
        return await self._beside(tasks.digest)

    def _join(self, pack: Pack) -> Joined:
        season = self._desk.season
        if season is None or season.path.resolve() != self._path:
            raise EvaltrackError(tr("another season is open by now; nothing more was taken in"))
        return self._desk.take_in(tr(_OTHERS), pack)

    async def _beside(self, task: Callable, *given: object):
        """Do a task in the process beside the app."""
        answer, done, failed = _answer()
        self._worker.ask(partial(task, self._path, *given), done, lambda why: failed(EvaltrackError(why)))
        return await answer

    async def _between_taps(self, work: Callable[[], Joined]) -> Joined:
        answer, done, failed = _answer()

        def do(_) -> None:
            try:
                done(work())
            except EvaltrackError as error:
                failed(error)
            except Exception as error:  # the other thread must hear of it, or it waits for ever
                _log.exception("a pack could not be joined")
                failed(EvaltrackError(fault_words(error)))

        hand_back(do, None)
        return await answer


def _answer() -> tuple[asyncio.Future, Callable, Callable]:
    """Return a future of this thread, and how to answer it from any other."""
    loop = asyncio.get_running_loop()
    answer = loop.create_future()

    def unless_done(give: Callable, what: object) -> None:
        if not answer.done():  # nobody waits any more
            give(what)

    def from_there(give: Callable) -> Callable:
        def tell(what: object) -> None:
            if not loop.is_closed():
                loop.call_soon_threadsafe(unless_done, give, what)

        return tell

    return answer, from_there(answer.set_result), from_there(answer.set_exception)
