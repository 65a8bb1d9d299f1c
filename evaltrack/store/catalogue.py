"""Skills and drills in the season file."""

import sqlite3
from collections.abc import Container, Iterable, Sequence
from itertools import groupby

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.ident import now_ms
from evaltrack.rink.player import Position
from evaltrack.rink.skill import Definition, Skill
from evaltrack.store import sound
from evaltrack.store.clock import next_number
from evaltrack.store.connection import reading, transaction
from evaltrack.store.drill_rows import drill_of, slot_row
from evaltrack.store.known import known_skills
from evaltrack.store.room import refuse_overfull

_SKILL_COLUMNS = "key, name, positions, caption, looks_like, at_home, target, version"


class CatalogueTable:
    """The skills with their definitions, and the drills with their steps and slots."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    @reading()
    def skills(self, retired: bool = False) -> list[Skill]:
        """Return every skill with the definition in force, in the order of the catalogue.

        With ``retired`` also those that are not in use any more.
        """
        rows = self._connection.execute(
            "SELECT s.key, s.name, s.positions, s.caption, s.looks_like, s.at_home, s.target, s.version,"
            " d.starts, d.done, d.missed, d.not_counted, s.retired"
            " FROM skill s JOIN definition d ON d.skill = s.key AND d.version = s.version"
            " ORDER BY s.place, s.key"
        )
        rows = sound.no_more_than(sound.MOST_IN_CATALOGUE, rows, "skills")
        skills = {_skill(row[:-1]): sound.flag(row[-1], "the use of a skill") for row in rows}
        if known_skills(self._connection).keys() != {skill.key for skill in skills}:
            raise sound.damaged(tr("a skill lacks its definition"))
        return [skill for skill, is_retired in skills.items() if retired or not is_retired]

    @reading()
    def version_at(self, skill: str, at: int) -> int:
        """Return the version of a skill's definition that was in force at a moment, or else the first one."""
        select = "SELECT max(version) FROM definition WHERE skill = ? AND (since <= ? OR version = 1)"
        (version,) = self._connection.execute(select, (skill, at)).fetchone()
        newest = sound.of(known_skills(self._connection), skill, "a definition")
        return sound.whole(version, "the version of a skill", 1, newest)

    @reading()
    def drills(self, retired: bool = False) -> list[Drill]:
        """Return every drill with its steps and slots, in the order of the catalogue.

        With ``retired`` also drills and steps that are not in use any more.
        """
        rows = self._connection.execute(
            "SELECT d.key, d.name, s.key, s.name, s.surface, s.contact, t.key, t.name, t.position, t.next,"
            " t.skills, t.against, t.along, t.across, d.retired, s.retired"
            " FROM drill d JOIN step s ON s.drill = d.key"
            " LEFT JOIN slot t ON t.drill = d.key AND t.step = s.key"
            " ORDER BY d.place, d.key, s.place, s.key, t.place"
        )
        rows = sound.no_more_than(sound.MOST_OF_DRILLS, rows, "slots")
        rows = [row[:-2] for row in rows if _is_in_use(row[-2:]) or retired]
        skills = known_skills(self._connection)
        return [drill_of(head, list(part), skills) for head, part in groupby(rows, key=lambda row: row[:2])]

    def write(self, skills: Iterable[Skill], drills: Iterable[Drill]) -> None:
        """Add skills and drills, or change those that are there; all or nothing.

        A skill whose definition differs from the one in force gets the next version: a new series. What
        is not named stays. The order is that of the arguments when they name everything; otherwise what
        is there keeps its place, and what is new goes to the end.
        """
        skills, drills = list(skills), list(drills)
        with transaction(self._connection):
            for skill, place in zip(skills, self._places("skill", [s.key for s in skills]), strict=True):
                self._write_skill(place, skill)
            for drill, place in zip(drills, self._places("drill", [d.key for d in drills]), strict=True):
                self._write_drill(place, drill)
            self._refuse_overfull()

    def put_skills(self, skills: Sequence[Skill], same: Container[str], tablet: str = "") -> None:
        """Put just these skills in use, in the caller's transaction; the others are retired, after them.

        ``same`` are those of which a changed definition says the same in better words.
        """
        self._retire("skill", [skill.key for skill in skills])
        for place, skill in enumerate(skills):
            if skill.key in same:
                self._reword(skill)
            self._write_skill(place, skill, tablet)
        self._refuse_overfull()

    def put_drills(self, drills: Sequence[Drill]) -> None:
        """Put just these drills and their steps in use, in the caller's transaction; the others retire."""
        self._retire("drill", [drill.key for drill in drills])
        for place, drill in enumerate(drills):
            self._write_drill(place, drill)
            self._connection.execute("UPDATE step SET retired = 1 WHERE drill = ?", (drill.key,))
            self._connection.executemany(
                "UPDATE step SET retired = 0 WHERE drill = ? AND key = ?",
                [(drill.key, step.key) for step in drill.steps],
            )
        self._refuse_overfull()

    def _refuse_overfull(self) -> None:
        made = self._connection
        refuse_overfull(made, "skill", sound.MOST_IN_CATALOGUE, "skills, with those not in use any more")
        slots = "step s LEFT JOIN slot t ON t.drill = s.drill AND t.step = s.key"
        refuse_overfull(made, slots, sound.MOST_OF_DRILLS, "slots, with those not in use any more")

    def _retire(self, table: str, kept: Sequence[str]) -> None:
        self._connection.execute(f"UPDATE {table} SET retired = 1, place = place + ?", (len(kept),))
        in_use = [(key,) for key in kept]
        self._connection.executemany(f"UPDATE {table} SET retired = 0 WHERE key = ?", in_use)

    def _reword(self, skill: Skill) -> None:
        words = skill.definition
        self._connection.execute(
            "UPDATE definition SET starts = ?, done = ?, missed = ?, not_counted = ? WHERE skill = ?"
            " AND version = (SELECT version FROM skill WHERE key = ?)",
            (words.starts, words.done, words.missed, words.not_counted, skill.key, skill.key),
        )

    def _places(self, table: str, keys: list[str]) -> list[int]:
        known = dict(self._connection.execute(f"SELECT key, place FROM {table}"))
        if known.keys() <= set(keys):
            return list(range(len(keys)))
        end = max(known.values()) + 1
        return [known.get(key, end + i) for i, key in enumerate(keys)]

    def _write_skill(self, place: int, skill: Skill, tablet: str = "") -> None:
        version = self._version_for(skill)
        letters = "".join(skill.positions)
        at_home = "\n".join(" ".join(suggestion.split()) for suggestion in skill.at_home)
        row = (skill.key, skill.name, letters, skill.caption, skill.looks_like, at_home)
        self._connection.execute(
            f"INSERT INTO skill ({_SKILL_COLUMNS}, place) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"
            " ON CONFLICT (key) DO UPDATE SET name = excluded.name, positions = excluded.positions,"
            " caption = excluded.caption, looks_like = excluded.looks_like, at_home = excluded.at_home,"
            " target = excluded.target, version = excluded.version, place = excluded.place",
            (*row, skill.target, version, place),
        )
        words, now = skill.definition, now_ms()
        # the clock tells it from one that another tablet begins meanwhile
        same = "skill = ?", (skill.key,), "clock"
        clock = next_number(self._connection, "definition", now, *same) if tablet else version
        row = (skill.key, version, words.starts, words.done, words.missed, words.not_counted, now)
        self._connection.execute(
            "INSERT INTO definition VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"
            " ON CONFLICT (skill, version) DO NOTHING",
            (*row, clock, tablet),
        )

    def _version_for(self, skill: Skill) -> int:
        row = self._connection.execute(
            "SELECT s.version, d.starts, d.done, d.missed, d.not_counted FROM skill s"
            " JOIN definition d ON d.skill = s.key AND d.version = s.version WHERE s.key = ?",
            (skill.key,),
        ).fetchone()
        if row is None:
            return skill.version
        return row[0] if Definition(*row[1:]) == skill.definition else row[0] + 1

    def _write_drill(self, place: int, drill: Drill) -> None:
        self._connection.execute(
            "INSERT INTO drill (key, place, name) VALUES (?, ?, ?)"
            " ON CONFLICT (key) DO UPDATE SET place = excluded.place, name = excluded.name",
            (drill.key, place, drill.name),
        )
        # steps that are not named any more stay, since tallies may name them, but after those that are
        self._connection.execute(
            "UPDATE step SET place = place + ? WHERE drill = ?", (len(drill.steps), drill.key)
        )
        for step_place, step in enumerate(drill.steps):
            self._write_step(drill.key, step_place, step)

    def _write_step(self, drill: str, place: int, step: Step) -> None:
        if len(step.slots) > sound.MOST_SLOTS:
            raise EvaltrackError(
                tr(
                    'the step "{name}" has {number} slots; at most {most} fit',
                    name=step.name,
                    number=len(step.slots),
                    most=sound.MOST_SLOTS,
                )
            )
        self._connection.execute(
            "INSERT INTO step (drill, key, place, name, surface, contact) VALUES (?, ?, ?, ?, ?, ?)"
            " ON CONFLICT (drill, key) DO UPDATE SET place = excluded.place, name = excluded.name,"
            " surface = excluded.surface, contact = excluded.contact",
            (drill, step.key, place, step.name, step.surface, step.contact),
        )
        self._connection.execute("DELETE FROM slot WHERE drill = ? AND step = ?", (drill, step.key))
        self._connection.executemany(
            "INSERT INTO slot (drill, step, place, key, name, position, next, skills, against, along, across)"
            " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            [(drill, step.key, place, *slot_row(slot)) for place, slot in enumerate(step.slots)],
        )


def _skill(row) -> Skill:
    key, name, letters, caption, looks_like, at_home, target, version, *definition = row
    what = "the definition of a skill"
    return Skill(
        key=sound.key(key, "the key of a skill"),
        name=sound.name(name, "the name of a skill"),
        positions=tuple(
            sound.word(Position, letter, "the positions of a skill")
            for letter in sound.name(letters, "the positions of a skill")
        ),
        caption=sound.name(caption, what),
        definition=Definition(*(sound.text(words, what) for words in definition)),
        looks_like=sound.text(looks_like, what),
        at_home=sound.lines(at_home, what),
        target=sound.share(target, "the target of a skill"),
        version=sound.whole(version, "the version of a skill", low=1),
    )


def _is_in_use(flags: Iterable[object]) -> bool:
    return not any([sound.flag(flag, "the use of a drill or a step") for flag in flags])
