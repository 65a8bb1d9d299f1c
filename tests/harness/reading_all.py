"""All that the app and the commands read of a season file, and a tap on each board."""

import traceback
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from datetime import date
from functools import lru_cache
from pathlib import Path
from types import NoneType, UnionType
from typing import get_args, get_origin, get_type_hints
from uuid import UUID

from evaltrack.errors import EvaltrackError
from evaltrack.rink.rotation.running import replay
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season

_TODAY = date(2026, 1, 15)


class Findings:
    """What came of one file: ``sentences`` for the user, and ``faults`` that he must never meet."""

    def __init__(self):
        self.sentences: list[str] = []
        self.faults: list[str] = []

    def of(self, what: str, read: Callable[[], object]) -> object:
        """Read something, and look at the shape of what comes."""
        try:
            found = read()
            if misshapen := next(_misshapen(found), None):
                self.faults.append(f"{what} gives {misshapen}")
            return found
        except EvaltrackError as error:
            self.tell(str(error))
        except Exception as error:
            ours = [f for f in traceback.extract_tb(error.__traceback__) if "evaltrack" in f.filename]
            place = f"{Path(ours[-1].filename).name}:{ours[-1].lineno}" if ours else "?"
            self.faults.append(f"{type(error).__name__} in {what} at {place}: {str(error)[:80]}")
        return None

    def tell(self, sentence: str) -> None:
        """Note a sentence, which must be one."""
        self.sentences.append(sentence)
        if not sentence.isprintable() or len(sentence) > 600:
            self.faults.append(f"no sentence: {ascii(sentence)[:120]}")


def read_all(path: Path, tablet: str, thoroughly: bool) -> Findings:
    """Read everything of a season file, make a tap in it, and look for the tap."""
    found = Findings()
    season = found.of("opening", lambda: open_season(path))
    if season is not None:
        with season:
            read_season(season, tablet, found)
            if thoroughly:
                _work_out(season, path, found)
    _use_app(path, found)
    return found


def read_season(season, tablet: str, found: Findings) -> None:
    """Read everything of an open season file."""
    catalogue, people, practices, log = season.catalogue, season.people, season.practices, season.log
    found.of("team", lambda: season.team)
    found.of("created_at", lambda: season.created_at)
    for read in (people.players, people.observers, catalogue.skills, practices.every, practices.running):
        found.of(read.__qualname__, read)
    for read in (
        season.turnout.there,
        season.turnout.by_observer,
        season.tally_sums.by_practice,
        season.tally_sums.of_season,
        log.count,
        log.counts,
        log.observers,
        season.corrections.all,
        season.comments.all,
        people.everyone,
        people.changes,
        season.catalogue_changes.all,
        season.catalogue_changes.texts,
        season.plans.last,
        season.calendar.all,
    ):
        found.of(read.__qualname__, read)
    found.of("corrections of tallies", lambda: len(season.tally_corrections.all()))
    found.of("cells", lambda: len(log.cells()))
    found.of("newest", lambda: log.newest(tablet))
    found.of("running_at", lambda: practices.running_at(tablet))
    for read in (catalogue.skills, catalogue.drills):
        found.of(f"{read.__qualname__}, retired", lambda read=read: read(retired=True))
    drills = found.of("drills", catalogue.drills)
    for practice in (found.of("practices", practices.all) or [])[-3:]:
        key = practice.key
        found.of("attendance", lambda key=key: practices.attendance(key))
        found.of("station", lambda key=key: practices.station(key, tablet))
        found.of("last moment", lambda key=key: practices.last_moment(key, tablet))
        found.of("reps", lambda key=key: season.reps.all(key))
        found.of("moved", lambda key=key: season.reps.moved(key, tablet))
        found.of("tallies", lambda key=key: log.tallies(practice=key))
        found.of("stands", lambda key=key: len(log.stands(key)))
        facts = found.of("facts", lambda key=key: season.reps.facts(key, tablet))
        if drills and facts:
            found.of("replay", lambda facts=facts: bool(replay(drills, facts)))


def _work_out(season, path: Path, found: Findings) -> None:
    from evaltrack.analysis.agreement.agreement import read_agreement
    from evaltrack.analysis.planning.planner import read_plan
    from evaltrack.analysis.standings.coverage import read_coverage
    from evaltrack.analysis.standings.standings import read_standings
    from evaltrack.analysis.team.season_view import read_season_view
    from evaltrack.paper.guide.guide import read_guide
    from evaltrack.paper.note.page import read_ground
    from evaltrack.paper.tables.practices import read_held
    from evaltrack.paper.tables.season import as_json
    from evaltrack.rink.plan import Asked

    found.of("standings", lambda: read_standings(season))
    found.of("coverage", lambda: read_coverage(season))
    found.of("agreement", lambda: len(read_agreement(season).rows))
    found.of("ground", lambda: bool(read_ground(season)))
    found.of("season view", lambda: bool(as_json(read_season_view(season))))
    found.of("plan", lambda: bool(read_plan(season, Asked())))
    found.of("practices", lambda: len(read_held(season)))
    found.of("guide", lambda: bool(read_guide(season)))
    _swap_packs(season, found)


def _swap_packs(season, found: Findings) -> None:
    from evaltrack.store.packs.pack_file import read_pack
    from evaltrack.words.packs import lost_lines

    found.of("lost changes", lambda: lost_lines(season.packs.lost(), {}))
    pack = found.of("pack", lambda: season.packs.pack("bench"))
    if pack:
        found.of(
            "join", lambda: season.packs.join([("own", read_pack("own", pack))], rehearse=True).practices
        )


def _use_app(path: Path, found: Findings) -> None:
    """Open the file in the app, take its boards up, and tap once."""
    from evaltrack.touch.desk.desk import Desk

    desk = Desk()
    if not found.of("desk", lambda: desk.open(path)):
        if desk.message:
            found.tell(desk.message)
        if desk.season or desk.practice or desk.players:
            found.faults.append("something of a file that was refused stays in hand")
        return
    made = found.of("boards", lambda: _tap(desk, found))
    found.of("closing", desk.close)
    if made:
        _look_for(path, made, found)


def _tap(desk, found: Findings) -> UUID | None:
    from evaltrack.touch.board.group_board import GroupBoard
    from evaltrack.touch.board.player_board import PlayerBoard
    from evaltrack.touch.board.rep_board import RepBoard
    from evaltrack.touch.practice.earlier import earlier_on

    found.of("earlier", lambda: bool(earlier_on(desk, _TODAY)))
    if not desk.practice:
        first = desk.drills[0]
        if not desk.begin(_TODAY, desk.players, first.key, first.steps[0].key, "Ines"):
            found.tell(desk.message)
            return None
    boards = [kind(desk) for kind in (GroupBoard, PlayerBoard, RepBoard)]
    for board in boards:
        if board.take_up():
            board.faces(), board.buttons(), board.words
        else:
            found.tell(desk.message)
    tally, _ = boards[0].tally(0, Outcome.DONE)
    if tally is None:
        found.tell(desk.message)
    return tally and tally.id


def _look_for(path: Path, made: UUID, found: Findings) -> None:
    """Look for a tap that was shown as saved; a file that tells of its damage then is told of."""
    seen = Findings()
    season = seen.of("opening again", lambda: open_season(path))
    if season is not None:
        with season:
            ids = seen.of("looking", lambda: {tally.id for tally in season.log.tallies()})
            if ids is not None and made not in ids:
                found.faults.append("a tap that was shown as saved is not there")
    found.faults += seen.faults
    if seen.sentences:
        found.sentences += [f"after a tap: {sentence}" for sentence in seen.sentences]


def _misshapen(value: object) -> Iterator[str]:
    """Yield each field of our values that is not of its kind."""
    if is_dataclass(value) and not isinstance(value, type):
        hints = _hints(type(value))
        for field in fields(value):
            inner = getattr(value, field.name)
            if not _fits(inner, hints[field.name]):
                yield f"{type(value).__name__}.{field.name} {ascii(inner)[:40]}"
            yield from _misshapen(inner)
    elif isinstance(value, dict):
        yield from _misshapen([*value, *value.values()])
    elif isinstance(value, list | tuple | set | frozenset):
        for inner in value:
            yield from _misshapen(inner)


@lru_cache
def _hints(kind: type) -> dict:
    return get_type_hints(kind)


def _fits(value: object, hint: object) -> bool:
    if isinstance(hint, UnionType):
        return any(_fits(value, one) for one in get_args(hint))
    kind = get_origin(hint) or hint
    return value is None if kind is NoneType else isinstance(value, kind)
