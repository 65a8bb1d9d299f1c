"""A season file as a hand-over asks for it, for a command that has it for itself."""

import asyncio
from collections.abc import Awaitable, Callable, Iterator
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import contextmanager, suppress
from contextvars import copy_context
from datetime import datetime
from functools import partial
from pathlib import Path
from uuid import UUID

from evaltrack.cli.working import opened, refuse_open_window
from evaltrack.device.backup_places import note_handed_over
from evaltrack.device.handover.addresses import own_addresses, parsed, shown
from evaltrack.device.handover.code import Code, Tries, is_code
from evaltrack.device.handover.course import Brought, Course, Stage
from evaltrack.device.handover.faults import HandoverError
from evaltrack.device.handover.tablets import PORT, Guest, Host, Tablet
from evaltrack.device.tablet import load_tablet
from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.store.packs.pack_file import read_pack
from evaltrack.store.season_file import SeasonFile
from evaltrack.words.handover import exchanged_words, outcome_lines, stage_words
from evaltrack.words.packs import joined_lines

_OTHERS = mark("what the other tablet gave")


class OpenSeason:
    """A season in hand of one thread alone, so that signs of life go out however long it is read or written.

    All but its plain values is done there.
    """

    def __init__(self, season: SeasonFile, pool: Executor):
        self._season, self._pool = season, pool
        self.season, self.made, self.tablet = season.ident.hex, season.created_at, load_tablet().id
        self._news = season.packs.news(self.tablet)
        self._seen: tuple | None = None
        self._backed_up = False

    async def _there(self, work: Callable, *given: object):
        loop = asyncio.get_running_loop()
        return await loop.run_in_executor(self._pool, copy_context().run, work, *given)

    async def met(self, tablet: str) -> None:
        """Remember that the tablet with this id gets all that is noted here."""
        note_handed_over(UUID(self.season), tablet, datetime.now())

    async def whole(self) -> bytes:
        """Return a pack of all there is."""
        return await self._there(self._season.packs.pack, self.tablet)

    async def told(self, pack: bytes) -> None:
        """Note that the other tablet has all that is in a pack of this one."""
        await self._there(lambda: self._news.note(read_pack(tr(_OTHERS), pack)))

    async def news(self) -> bytes:
        """Return a pack of what the other tablet has not heard yet, empty when there is nothing."""
        return await self._there(self._new)

    def _new(self) -> bytes:
        seen = self._season.seen_version
        if seen == self._seen:
            return b""
        self._seen = seen
        return self._news.pack()

    async def take_in(self, pack: bytes) -> Brought:
        """Take a pack in; a backup is kept before the first."""
        return await self._there(self._join, pack)

    def _join(self, pack: bytes) -> Brought:
        from evaltrack.device.backup_places import Why
        from evaltrack.store.backups.keeping import keep_backup

        read = read_pack(tr(_OTHERS), pack)
        if not (self._backed_up or self._season.invented):
            keep_backup(self._season, Why.JOIN)
        self._backed_up = True
        joined = self._season.packs.join([(tr(_OTHERS), read)])
        self._news.note(read)
        names = {player.id: f"{player.number} {player.name}" for player in self._season.people.everyone()}
        return Brought(joined.new["tally"] + joined.new["withdrawal"], tuple(joined_lines(joined, names)[1:]))

    async def digest(self) -> str:
        """Return the SHA-256 of all facts that tablets share."""
        self._seen = None
        return await self._there(self._season.packs.digest)


@contextmanager
def season_in_hand(path: Path) -> Iterator[OpenSeason]:
    """Have a season file open on a thread of its own; EvaltrackError while a window has it open."""
    with ThreadPoolExecutor(1) as pool:
        there = partial(pool.submit, copy_context().run)
        season = there(opened, path, of_children=True).result()
        try:
            with refuse_open_window(season):
                yield there(OpenSeason, season, pool).result()
        finally:
            there(season.close).result()


async def shown_code(
    season: OpenSeason,
    listen: str | None,
    port: int | None,
    live: int,
    say: Callable[[str], None],
    tell: Callable[[str], None],
) -> list[str]:
    """Show a code, hand over to whoever types it, and return what came of it.

    Parameters
    ----------
    listen, port : where; this machine's first address and the usual port when they are not given.
    live : how many seconds to stay together.
    say, tell : print progress, and what is asked for.
    """
    tries = Tries()
    if wait := tries.wait_left():
        say(tr("Wrong codes were typed here before. Waiting {seconds} s ...", seconds=wait))
        await asyncio.sleep(wait)
    address = listen or next(iter(own_addresses()), None)
    if address is None:
        raise HandoverError(
            tr("this machine is on no network; open a hotspot, or join that of the other tablet")
        )
    code = Code(tries)
    host = Host(season, code, address, PORT if port is None else port, live > 0, lambda: told(host.course))
    told = _stages(say)

    def listening(found: int) -> None:
        where = shown(address, found)
        tell(tr("Type on the other tablet: address {address}, code {code}", address=where, code=code.digits))

    return await _done(host, host.run(listening), live)


async def joined_host(
    season: OpenSeason, address: str, code: str, live: int, say: Callable[[str], None]
) -> list[str]:
    """Join the tablet that shows a code, and return what came of it."""
    where = parsed(address)
    if not is_code(code):
        raise HandoverError(tr("a code has six digits; look at it again on the other tablet"))
    guest = Guest(season, code, live > 0, lambda: told(guest.course))
    told = _stages(say)
    return await _done(guest, guest.run(*where), live)


async def _done(tablet: Tablet, run: Awaitable[Course], live: int) -> list[str]:
    leaving = asyncio.create_task(_leave_after(tablet, live))
    try:
        course = await run
    except EvaltrackError as error:
        if tablet.course.taken or tablet.course.given:
            raise HandoverError(f"{exchanged_words(tablet.course)}\n{error}") from error
        raise
    finally:
        leaving.cancel()
    return outcome_lines(course)


async def _leave_after(tablet: Tablet, live: int) -> None:
    with suppress(asyncio.CancelledError):
        while tablet.course.stage is not Stage.TOGETHER:
            await asyncio.sleep(0.1)
        await asyncio.sleep(live)
        tablet.leave()


def _stages(say: Callable[[str], None]) -> Callable[[Course], None]:
    """Return what tells each stage once."""
    last: list[Stage] = []

    def told(course: Course) -> None:
        if last[-1:] != [course.stage]:
            last.append(course.stage)
            say(stage_words(course))

    return told
