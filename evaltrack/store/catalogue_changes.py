"""The catalogue changed as a whole: what is not named any more is retired, and keeps its history."""

import sqlite3
from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import astuple, replace

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.catalogue_change import (
    IN_USE,
    RETIRED,
    CatalogueChange,
    Kind,
    differences,
    drill_texts,
    skill_texts,
)
from evaltrack.rink.drill import Drill
from evaltrack.rink.ident import now_ms
from evaltrack.rink.skill import Skill
from evaltrack.store import sound
from evaltrack.store.catalogue import CatalogueTable
from evaltrack.store.clock import next_number
from evaltrack.store.connection import reading, transaction
from evaltrack.store.edits import noting
from evaltrack.store.log import CELL_COLUMNS, Log
from evaltrack.store.practices import Practices
from evaltrack.store.room import refuse_overfull

_COLUMNS = "kind, key, field, was, becomes, tablet, at"
_NOTE = f"INSERT INTO catalogue_change (nth, {_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?)"
_CHANGED = ("skill", "definition", "drill", "step", "catalogue_text")


class _TakenBack(Exception):  # noqa: N818  nothing is wrong
    """Ends a rehearsal."""


class CatalogueChanges:
    """Changes of the skills and drills of a season. They only grow; the catalogue has what is in force."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection
        self._table = CatalogueTable(connection)

    def set_to(
        self,
        skills: Sequence[Skill] | None,
        drills: Sequence[Drill] | None,
        same: Collection[str],
        tablet: str,
        texts: dict[str, str] | None = None,
        rehearse: bool = False,
    ) -> list[CatalogueChange]:
        """Let the catalogue have just these skills and drills, in their order; all or nothing.

        Parameters
        ----------
        skills, drills : None leaves them as they are.
        same : the skills of which a changed definition says the same in better words. With any other skill a
            changed definition starts a new series.
        texts : the files they came from, by ``skills`` and ``drills``, whose comments are kept.
        rehearse : take all of it back at the end, and only say what would change.

        Returns
        -------
        What changed, as it was noted.

        Raises
        ------
        EvaltrackError : a practice runs, and a drill changes or a skill is retired: no bench may lose what
            it watches.
        """
        try:
            with transaction(self._connection):
                before = self._state()
                with noting(self._connection, tablet, now_ms(), *_CHANGED):
                    if skills is not None:
                        self._table.put_skills(skills, same, tablet)
                    if drills is not None:
                        self._table.put_drills(drills)
                    self._keep(texts or {})
                made = _changes(before, self._state(), tablet)
                self._refuse_while_it_runs(made)
                self._note(made)
                if rehearse:
                    raise _TakenBack
        except _TakenBack:
            pass
        return made

    def _note(self, made: Iterable[CatalogueChange]) -> None:
        for c in made:
            row = astuple(replace(c, was=_short(c.was), becomes=_short(c.becomes)))
            same = "kind = ? AND key = ?", row[:2]
            nth = next_number(self._connection, "catalogue_change", c.at, *same)
            self._connection.execute(_NOTE, (nth, *row))
        refuse_overfull(self._connection, "catalogue_change", sound.MOST_CHANGES, "changes of the catalogue")

    def _refuse_while_it_runs(self, changes: Iterable[CatalogueChange]) -> None:
        taken = any(change.kind is Kind.DRILL or change.becomes == RETIRED for change in changes)
        if taken and (running := Practices(self._connection).running()):
            raise EvaltrackError(
                tr(
                    "the practice {key} is not ended; end it first, and change drills or take skills "
                    "out then",
                    key=running.key,
                )
            )

    def tries(self) -> Counter[str]:
        """Return how many tries each skill has under the definition in force."""
        skill, count = CELL_COLUMNS.index("skill"), CELL_COLUMNS.index("tries")
        found: Counter[str] = Counter()
        for cell in Log(self._connection).cells():
            found[cell[skill]] += cell[count]
        return found

    @reading()
    def all(self) -> list[CatalogueChange]:
        """Return every change, as they came."""
        rows = self._connection.execute(f"SELECT {_COLUMNS} FROM catalogue_change ORDER BY nth, tablet")
        return [_change(row) for row in sound.no_more_than(sound.MOST_CHANGES, rows, "changes")]

    @reading()
    def texts(self) -> dict[str, str]:
        """Return the files from which skills and drills came, by ``skills`` and ``drills``, where known."""
        rows = self._connection.execute("SELECT kind, text FROM catalogue_text").fetchmany(3)
        return {str(kind): text for kind, text in rows if type(text) is str}

    def keep_texts(self, texts: dict[str, str]) -> None:
        """Keep the files from which skills and drills came."""
        with transaction(self._connection):
            self._keep(texts)

    def _keep(self, texts: dict[str, str]) -> None:
        self._connection.executemany(
            "INSERT INTO catalogue_text VALUES (?, ?) ON CONFLICT (kind) DO UPDATE SET text = excluded.text",
            list(texts.items()),
        )

    def _state(self) -> dict[tuple[Kind, str], dict[str, str]]:
        """Return every skill and drill as texts, with whether it is in use."""
        table = self._table
        skills, drills = table.skills(), table.drills()
        use = {skill.key for skill in skills}, {drill.key for drill in drills}
        state = {}
        for skill in table.skills(retired=True):
            more = {"series": str(skill.version), "use": IN_USE if skill.key in use[0] else RETIRED}
            state[Kind.SKILL, skill.key] = skill_texts(skill) | more
        for drill in {one.key: one for one in (*table.drills(retired=True), *drills)}.values():
            state[Kind.DRILL, drill.key] = drill_texts(drill) | {
                "use": IN_USE if drill.key in use[1] else RETIRED
            }
        order = (skills, drills)
        for kind, found in zip(Kind, order, strict=True):
            state[kind, ""] = {"order": " ".join(one.key for one in found)}
        return state


def _changes(before: dict, after: dict, tablet: str) -> list[CatalogueChange]:
    found: list[CatalogueChange] = []
    for kind, key in after:
        was, becomes = before.get((kind, key)), after[kind, key]
        if was is None:
            found.append(CatalogueChange(kind, key, "use", "", becomes["use"], tablet))
        elif key or _rest(was["order"], becomes) != _rest(becomes["order"], was):
            found += differences(kind, key, was, becomes, tablet)
    return found


def _short(words: str) -> str:
    """Return no more of a text than is read: of a step with very many slots its beginning will do."""
    return words if len(words) <= sound.LONGEST_LIST else f"{words[: sound.LONGEST_LIST - 1]}…"


def _rest(order: str, other: dict) -> list[str]:
    """Return an order without what the other one does not have: who comes or goes does not change it."""
    known: Iterable[str] = other["order"].split()
    return [key for key in order.split() if key in known]


def _value(part: object, text: object) -> str:
    """Return what was or became in a field of a skill or drill; a target is a share."""
    what = "a change of the catalogue"
    text = "\n".join(sound.lines(text, what))
    if text and part == "target":
        try:
            sound.share(float(text), what)
        except ValueError:
            raise sound.unlike(what) from None
    return text


def _change(row) -> CatalogueChange:
    kind, key, part, was, becomes, tablet, at = row
    what = "a change of the catalogue"
    return CatalogueChange(
        sound.word(Kind, kind, what),
        sound.name(key, what),
        sound.name(part, what),
        _value(part, was),
        _value(part, becomes),
        sound.tablet(tablet),
        sound.moment(at, "the moment of a change of the catalogue"),
    )
