"""Whatever can be written can be read again: one row too many is refused, and takes nothing along.

Cases: each table that only grows and has a bound where it is read; the catalogue, new and changed; a step of
very many slots; a very long step in the history; a text that is none. The bounds are lowered, since a season
has to be large to come near the real ones.
"""

from dataclasses import replace
from datetime import date, time

import pytest
from lanterns_season import DRILLS, PLAYERS, PRACTICES, SKILLS, TEAM, tally

from evaltrack.errors import EvaltrackError, NotSavedError
from evaltrack.rink.drill import Drill, Slot, Step
from evaltrack.rink.meeting_evening import Evening
from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Amendment, Correction
from evaltrack.rink.tally_correction import Change, TallyCorrection
from evaltrack.store import sound
from evaltrack.store.creating import create_season

FIRST, DAY, D = PRACTICES[0].key, date(2025, 10, 4), Position.DEFENCE
PAGE = NoteKey(PLAYERS[0].id, DAY)
ROOM = 6  # players and skills that a lowered bound leaves room for: one more than the season has


def correct_tallies(season, n, count=1):
    was = {tally(n * 10 + k).id: PLAYERS[0].id for k in range(count)}
    season.tally_corrections.add(TallyCorrection(FIRST, Change.PLAYER, PLAYERS[1].id, was))


def retarget(season, n):
    skills = [replace(SKILLS[0], target=0.5 + n / 100), *SKILLS[1:]]
    season.catalogue_changes.set_to(skills, None, (), "bench", {})


def rename(season, n):
    season.people.change([replace(PLAYERS[0], name=f"Oda {n}")], DAY, "bench")


def joins(season, n):
    season.people.change([Player(str(20 + n), f"Sol {n}", D)], DAY, "bench")


def new_skill(season, n):
    skills = [*SKILLS, *(replace(SKILLS[0], key=f"more_{k}") for k in range(n + 1))]
    season.catalogue_changes.set_to(skills, None, (), "bench", {})


def new_drill(season, n):
    drills = [*DRILLS, *(Drill(f"more_{k}", "More", DRILLS[0].steps[1:]) for k in range(n + 1))]
    season.catalogue_changes.set_to(None, drills, (), "bench", {})


# the bound that is lowered; what is written for the nth time; what reads it
GROWING = {
    "corrections of tallies": ("MOST_CORRECTIONS", correct_tallies, lambda s: s.tally_corrections.all()),
    "tallies corrected": (
        "MOST_CORRECTED",
        lambda season, n: correct_tallies(season, n, count=3),
        lambda s: s.tally_corrections.all(),
    ),
    "corrections of practices": (
        "MOST_CORRECTIONS",
        lambda season, n: season.corrections.add(Correction(FIRST, Amendment.TO_DATE, DAY, DAY, "bench")),
        lambda season: season.corrections.all(),
    ),
    "comments": (
        "MOST_OF_PRACTICE",
        lambda season, n: season.comments.write(FIRST, f"Ice {n}"),
        lambda season: season.comments.all(),
    ),
    "changes of families' pages": (
        "MOST_NOTE_FACTS",
        lambda season, n: season.notes.add(
            [NoteFact(PAGE, NoteField.COACH, f"Ines {k}") for k in (n, n + 1)]
        ),
        lambda season: season.notes.all(),
    ),
    "changes of evenings": (
        "MOST_EVENINGS",
        lambda season, n: season.meetings.add(Evening("k", DAY, time(18), place=f"Room {n}")),
        lambda season: season.meetings.of("k"),
    ),
    "marks of who came": (
        "MOST_CAME",
        lambda season, n: season.meetings.note_came("k", PLAYERS[n % 2].id, True),
        lambda season: season.meetings.who_came("k"),
    ),
    "changes of the roster": ("MOST_CHANGES", rename, lambda season: season.people.changes()),
    "players": ("MOST_PLAYERS", joins, lambda season: season.people.everyone()),
    "changes of the catalogue": ("MOST_CHANGES", retarget, lambda season: season.catalogue_changes.all()),
    "skills": ("MOST_IN_CATALOGUE", new_skill, lambda season: season.catalogue.skills(retired=True)),
    "slots": ("MOST_OF_DRILLS", new_drill, lambda season: season.catalogue.drills(retired=True)),
    "observers": (
        "MOST_OBSERVERS",
        lambda season, n: season.log.add_many([], [tally(n, observer=f"Ines {n}")]),
        lambda season: season.people.observers(),
    ),
    "tallies of a practice": (
        "MOST_OF_PRACTICE",
        lambda season, n: season.log.add_many([], [tally(2 * n), tally(2 * n + 1)]),
        lambda season: season.log.tallies(FIRST),
    ),
}


@pytest.mark.parametrize("kind", GROWING)
def test_what_would_be_too_much_to_read_is_not_written(season, season_path, monkeypatch, contents, kind):
    """The write that would pass the bound is refused, nothing is called damaged, and all reads on."""
    bound, write, read = GROWING[kind]
    monkeypatch.setattr(sound, bound, ROOM)
    said = ""
    for n in range(2 * ROOM):
        before = contents(season_path)
        try:
            write(season, n)
        except EvaltrackError as error:
            said = str(error)
            break
    assert "room for 6" in said
    assert contents(season_path) == before
    assert read(season)


def wide(slots: int, name: str = "T") -> Drill:
    """Return a drill with a step of so many slots, each of which names every skill many times over."""
    watched = ("shot_on_net",) * 20
    return Drill(
        "wide", "Wide", (Step("s", "S", tuple(Slot(f"t{n}", name, D, None, watched) for n in range(slots))),)
    )


def test_a_step_with_too_many_slots_makes_no_season(tmp_path):
    """No season file comes of drills that nobody could read again."""
    path = tmp_path / "wide.db"
    drills = [wide(sound.MOST_SLOTS + 1)]
    with pytest.raises(EvaltrackError, match="has 101 slots; at most 100 fit"):
        create_season(path, **TEAM, players=PLAYERS, skills=SKILLS, drills=drills)
    assert list(tmp_path.iterdir()) == []


def test_a_very_long_step_is_noted_in_short(season):
    """What changed of a step with many slots is still told, as far as it is read."""
    for name in ("T", "U"):
        season.catalogue_changes.set_to(None, [*DRILLS, wide(sound.MOST_SLOTS, name)], (), "bench", {})
    (last,) = [change for change in season.catalogue_changes.all() if change.field == "step s"]
    assert last.was != last.becomes
    assert max(len(last.was), len(last.becomes)) == sound.LONGEST_LIST


def test_half_a_letter_is_refused_in_a_sentence(season, refused):
    """A byte that a terminal could not read as a letter is no text: it is not saved, and that is said."""
    with refused("not saved: ", kind=NotSavedError):
        season.comments.write(FIRST, "soft ice \udcff")
    season.comments.write(FIRST, "soft ice")
    assert season.comments.all() == {FIRST: "soft ice"}
