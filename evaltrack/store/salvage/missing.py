"""Rows that name others which are lost: something stands in for those where that is honest, or they go."""

import sqlite3
from collections import Counter
from collections.abc import Callable, Container

from evaltrack.errors import SeasonFileError
from evaltrack.rink.ident import now_ms
from evaltrack.store import sound
from evaltrack.store.plans import Plans

NOT_READABLE = "not readable"
_FIRST_NUMBER = 901  # of a player whose number is lost: worn by nobody


class Missing:
    """Mends what names something that is lost.

    ``stood_in`` counts what stands in for something, ``gone`` the rows of each table that had to go.
    """

    def __init__(self, connection: sqlite3.Connection, damaged: Container[str]):
        self._connection, self._damaged = connection, damaged
        self.stood_in: Counter[str] = Counter()
        self.gone: Counter[str] = Counter()

    def mend(self, tables: list[str]) -> None:
        """Mend the rows of all tables, which come in the order in which they name one another."""
        for kind, select, stand_in in self._stand_ins():
            if kind in self._damaged:
                for (value,) in self._connection.execute(select).fetchall():
                    self.stood_in[kind] += stand_in(value)
        self._forget_reps()
        self._note_presence()
        while any([self._drop_unnamed(table) for table in tables]):
            pass
        self._cut_rotations()
        self._cut_plans()
        self._mend_slots()
        while any([self._drop_unnamed(table) for table in tables]):
            pass

    def _stand_ins(self) -> list[tuple[str, str, Callable[[object], int]]]:
        tallied = "SELECT DISTINCT {0} FROM tally WHERE {0} NOT IN (SELECT {1} FROM {2})"
        pairs = (
            "SELECT DISTINCT t.drill || ' ' || t.step FROM tally t WHERE NOT EXISTS"
            " (SELECT 1 FROM step s WHERE s.drill = t.drill AND s.key = t.step)"
        )
        definitions = (
            "SELECT DISTINCT t.skill || ' ' || t.skill_version FROM tally t WHERE NOT EXISTS"
            " (SELECT 1 FROM definition d WHERE d.skill = t.skill AND d.version = t.skill_version)"
        )
        return [
            ("observer", tallied.format("observer", "name", "observer"), self._observer),
            ("practice", tallied.format("practice", "key", "practice"), self._practice),
            ("player", tallied.format("player", "id", "player"), self._player),
            ("skill", tallied.format("skill", "key", "skill"), self._skill),
            ("definition", definitions, self._definition),
            ("drill", tallied.format("drill", "key", "drill"), self._drill),
            ("step", pairs, self._step),
        ]

    def _put(self, table: str, **values: object) -> int:
        columns = ", ".join(values)
        marks = ", ".join("?" * len(values))
        insert = f"INSERT OR IGNORE INTO {table} ({columns}) VALUES ({marks})"
        return self._connection.execute(insert, tuple(values.values())).rowcount

    def _observer(self, name: str) -> int:
        self._put("observer", name=name)
        return 0  # the name is all there is: nothing of it is lost

    def _practice(self, key: str) -> int:
        try:
            day = sound.day(key[:10], "")
        except SeasonFileError:
            return 0
        return self._put("practice", key=key, held_on=day.isoformat(), surface="full")

    def _player(self, ident: bytes) -> int:
        worn = {number for (number,) in self._connection.execute("SELECT number FROM player")}
        nth = next(n for n in range(sound.MOST_PLAYERS) if str(_FIRST_NUMBER + n) not in worn)
        name = f"{NOT_READABLE} {nth + 1}"
        number = str(_FIRST_NUMBER + nth)
        return self._put("player", id=ident, number=number, name=name, position="F", status="full")

    def _skill(self, key: str) -> int:
        newest = "SELECT max(skill_version) FROM tally WHERE skill = ?"
        (version,) = self._connection.execute(newest, (key,)).fetchone()
        words = {"caption": "", "looks_like": NOT_READABLE, "at_home": "", "target": 0.6}
        place = self._next_place("skill")
        return self._put("skill", key=key, place=place, name=key, positions="DFG", version=version, **words)

    def _definition(self, pair: str) -> int:
        skill, version = pair.split(" ")
        words = dict.fromkeys(("starts", "done", "missed", "not_counted"), NOT_READABLE)
        return self._put("definition", skill=skill, version=int(version), since=now_ms(), **words)

    def _drill(self, key: str) -> int:
        return self._put("drill", key=key, place=self._next_place("drill"), name=key)

    def _step(self, pair: str) -> int:
        drill, key = pair.split(" ")
        return self._put("step", drill=drill, key=key, place=self._next_place("step"), name=key)

    def _next_place(self, table: str) -> int:
        return self._connection.execute(f"SELECT coalesce(max(place), 0) + 1 FROM {table}").fetchone()[0]

    def _forget_reps(self) -> None:
        """Let tallies stand without their rep where that is lost: they count all the same."""
        lost = "rep IS NOT NULL AND rep NOT IN (SELECT id FROM rep)"
        done = self._connection.execute(f"UPDATE tally SET rep = NULL, slot = NULL WHERE {lost}")
        self.stood_in["rep"] += done.rowcount

    def _note_presence(self) -> None:
        """Note who was there where that is lost: whoever has a tally was."""
        if "attendance" not in self._damaged:
            return
        lost = (
            "SELECT practice, player, min(at) FROM tally t WHERE NOT EXISTS (SELECT 1 FROM attendance a"
            " WHERE a.practice = t.practice AND a.player = t.player) GROUP BY practice, player"
        )
        note = (
            "INSERT INTO attendance (practice, player, here, place, at) SELECT ?1, ?2, 1,"
            " coalesce(max(place) + 1, 0), ?3 FROM attendance WHERE practice = ?1"
        )
        rows = self._connection.execute(lost).fetchall()
        self._connection.executemany(note, rows)
        self.stood_in["attendance"] += len(rows)

    def _cut_plans(self) -> None:
        """Let a plan go of which a block is lost, or that cannot be read."""
        whole = (
            "SELECT count(*) = max(place) + 1 FROM plan_block b"
            " WHERE b.nth = practice_plan.nth AND b.tablet = practice_plan.tablet"
        )
        done = self._connection.execute(f"DELETE FROM practice_plan WHERE NOT coalesce(({whole}), 0)")
        broken = Plans(self._connection).unreadable()
        self._connection.executemany("DELETE FROM practice_plan WHERE nth = ? AND tablet = ?", broken)
        self.gone["practice_plan"] += done.rowcount + len(broken)

    def _mend_slots(self) -> None:
        """Let a slot lead to, meet and watch only what is there."""
        for column in ("next", "against"):
            lost = (
                f"{column} IS NOT NULL AND (drill, step, {column}) NOT IN (SELECT drill, step, key FROM slot)"
            )
            done = self._connection.execute(f"UPDATE slot SET {column} = NULL WHERE {lost}")
            self.stood_in["slot"] += done.rowcount
        known = {key for (key,) in self._connection.execute("SELECT key FROM skill")}
        for drill, step, key, skills in self._connection.execute(
            "SELECT drill, step, key, skills FROM slot"
        ).fetchall():
            left = " ".join(one for one in skills.split() if one in known)
            if left != skills:
                change = "UPDATE slot SET skills = ? WHERE drill = ? AND step = ? AND key = ?"
                self._connection.execute(change, (left, drill, step, key))
                self.stood_in["slot"] += 1

    def _drop_unnamed(self, table: str) -> int:
        """Delete the rows of a table that name what is not there, and return how many these were."""
        rules: dict[int, list[tuple]] = {}
        for number, _, parent, own, theirs, *_ in self._connection.execute(
            f"PRAGMA foreign_key_list({table})"
        ).fetchall():
            rules.setdefault(number, []).append((parent, own, theirs))
        dropped = 0
        for pairs in rules.values():
            parent = pairs[0][0]
            given = " AND ".join(f"{table}.{own} IS NOT NULL" for _, own, _ in pairs)
            same = " AND ".join(f"p.{theirs} = {table}.{own}" for _, own, theirs in pairs)
            unnamed = f"{given} AND NOT EXISTS (SELECT 1 FROM {parent} p WHERE {same})"
            dropped += self._connection.execute(f"DELETE FROM {table} WHERE {unnamed}").rowcount
        self.gone[table] += dropped
        return dropped

    def _cut_rotations(self) -> None:
        """Let a rotation end before the first change that is lost: what comes after cannot be played."""
        select = "SELECT practice, tablet, nth FROM line_fact ORDER BY practice, tablet, nth"
        expected: Counter[tuple] = Counter()
        late = []
        for practice, tablet, nth in self._connection.execute(select).fetchall():
            expected[practice, tablet] += 1
            if nth != expected[practice, tablet]:
                expected[practice, tablet] -= 1
                late.append((practice, tablet, nth))
        delete = "DELETE FROM line_fact WHERE practice = ? AND tablet = ? AND nth = ?"
        self._connection.executemany(delete, late)
        self.gone["line_fact"] += len(late)
