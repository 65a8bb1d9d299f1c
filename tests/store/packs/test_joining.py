"""What two tablets come to, case by case.

Cases: who changed last with a clock far ahead and one that is right; what lost is told and kept; two series
of one skill begun at once; one number for two players; a practice begun on both, two of one day; going on
after a pack that was not joined; another season; a rehearsal; the roster's and the catalogue's history.
"""

import json
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lanterns_season import DRILLS, PLAYERS, PRACTICES, SKILLS, definition, station, tally
from pack_damage import lines_of, rows_of, signed
from three_tablets import NOON, clock_of, shared

from evaltrack.rink.ident import new_id
from evaltrack.rink.practice import Attendance, Practice
from evaltrack.rink.tally import Outcome, Withdrawal
from evaltrack.rink.tally_correction import Change, correction_of
from evaltrack.store.opening import open_season
from evaltrack.store.packs.last_words import numbers_worn, places_of
from evaltrack.store.packs.pack_file import PackError, read_pack

DAY, HOUR, YEAR = date(2025, 11, 12), 3_600_000, 365 * 24 * 3_600_000
FIRST, SECOND = (practice.key for practice in PRACTICES)
KEY = DAY.isoformat()


def begin(season, tablet: str, at: int, key: str = KEY, players=PLAYERS[:3]) -> None:
    marks = [Attendance(player.id, True, place, at) for place, player in enumerate(players)]
    season.practices.begin(
        Practice(key, DAY, started_at=at), marks, station(practice=key, tablet=tablet, at=at)
    )


def number(season, player=PLAYERS[0]) -> str:
    return {one.id: one.number for one in season.people.everyone()}[player.id]


def change(season, at: int, tablet: str, **fields) -> None:
    with clock_of(at):
        season.people.change([replace(PLAYERS[0], **fields)], DAY, tablet)


def test_who_has_seen_a_change_of_a_clock_far_ahead_has_the_last_word(pair):
    """The far clock is told and counts; what is changed after it counts, and nothing else is put ahead."""
    change(pair.one, NOON + 4 * YEAR, "one", number="21")
    pair.one.comments.write(FIRST, "No ice.", "one", NOON + 4 * YEAR)
    joined = pair.give(pair.one, pair.two)
    assert number(pair.two) == "21"
    assert joined.ahead == {"one": 4 * YEAR}
    change(pair.two, NOON, "two", number="22")
    pair.two.comments.write(SECOND, "Soft ice.", "two", NOON)
    pair.two.comments.write(FIRST, "Hard ice.", "two", NOON)
    pair.give(pair.two, pair.one)
    assert (number(pair.one), number(pair.two)) == ("22", "22")
    for season in (pair.one, pair.two):
        assert season.comments.all() == {FIRST: "Hard ice.", SECOND: "Soft ice."}
    select = "SELECT nth FROM practice_comment ORDER BY nth"
    assert pair.two._connection.execute(select).fetchall() == [
        (NOON,),
        (NOON + 4 * YEAR,),
        (NOON + 4 * YEAR + 1,),
    ]


def test_a_clock_an_hour_behind_is_not_told(pair):
    """Clocks at a rink are never quite right."""
    change(pair.one, NOON + HOUR, "one", number="21")
    assert pair.give(pair.one, pair.two).ahead == {}


def test_what_lost_is_told_and_kept(pair):
    """On both tablets, once; the newer one is in force."""
    change(pair.one, NOON, "one", number="21")
    change(pair.two, NOON + HOUR, "two", number="22")
    with clock_of(NOON + 2 * HOUR):
        pair.one.people.change([replace(PLAYERS[1], name="Wim")], DAY, "one")
    with clock_of(NOON):
        pair.two.people.change([replace(PLAYERS[1], name="William")], DAY, "two")
    pair.one.comments.write(FIRST, "Soft ice.", "one", NOON + HOUR)
    pair.two.comments.write(FIRST, "Hard ice.", "two", NOON)
    for joined in pair.exchange():
        found = {(one.kind, one.field): (one.tablet, one.won_tablet) for one in joined.lost}
        assert found == {
            ("player", "number"): ("one", "two"),
            ("player", "name"): ("two", "one"),
            ("practice_comment", ""): ("two", "one"),
        }
    assert [joined.lost for joined in pair.exchange()] == [[], []]
    for season in (pair.one, pair.two):
        assert number(season) == "22"
        assert season.comments.all() == {FIRST: "Soft ice."}
        assert {(one.kind, one.tablet) for one in season.packs.lost()} == {
            ("player", "one"),
            ("player", "two"),
            ("practice_comment", "two"),
        }
        assert next(one.name for one in season.people.everyone() if one.id == PLAYERS[1].id) == "Wim"
        assert [c.becomes for c in season.people.changes()] == ["21", "22", "William", "Wim"]


@pytest.mark.parametrize("value", ["5", "null", '{"a": 1}', '"x"', "[", "[" * 3000])
def test_a_value_that_nobody_writes_meets_ours_and_is_refused(pair, value):
    """Also where both changed one thing, which is compared before it is taken in."""
    begin(pair.one, "one", NOON)
    pair.give(pair.one, pair.two)
    for season, tablet in ((pair.one, "one"), (pair.two, "two")):
        season.practices.mark(KEY, [Attendance(PLAYERS[0].id, False, 0, NOON + 1)], tablet)
    lines = lines_of(pair.two.packs.pack("two", at=NOON))[1:-1]
    (met,) = (at for at, line in enumerate(lines) if b'"here"' in line and b'"two"' in line)
    lines[met] = json.dumps([*json.loads(lines[met])[:-1], value]).encode()
    made = read_pack("a.pack", signed(pair.two.packs.pack("two", at=NOON), lines=lines))
    before = rows_of(pair.one)
    with pytest.raises(PackError, match="nothing was taken in"):
        pair.one.packs.join([("a.pack", made)], now=NOON)
    assert rows_of(pair.one) == before


def test_a_change_that_followed_another_has_not_beaten_it(pair):
    """Who changes what they have seen contradicts nobody."""
    change(pair.one, NOON, "one", number="21")
    pair.give(pair.one, pair.two)
    change(pair.two, NOON + 1, "two", number="22")
    assert pair.give(pair.two, pair.one).lost == []


def test_a_change_that_both_made_has_lost_against_nothing(pair):
    """They are of one mind."""
    change(pair.one, NOON, "one", number="21")
    change(pair.two, NOON + 1, "two", number="21")
    assert [joined.lost for joined in pair.exchange()] == [[], []]


@pytest.mark.parametrize(
    ("claims", "numbers"),
    [
        ([[(1, "a", "7")], [(2, "a", "8")]], ["7", "8"]),
        ([[(0, "", "7"), (2, "a", "9")], [(0, "", "8"), (3, "b", "9")]], ["7", "9"]),
        ([[(0, "", "7"), (2, "b", "9")], [(0, "", "8"), (2, "a", "9")]], ["9", "8"]),
        ([[(0, "", "7"), (2, "a", "9")], [(0, "", "8"), (3, "b", "9")], [(4, "b", "7")]], ["100", "9", "7"]),
        ([[(0, "", "100")], [(0, "", "9")], [(1, "a", "9")]], ["100", "101", "9"]),
        ([[(0, "", "5"), (1, "a", "6"), (2, "a", "9")], [(3, "b", "9")]], ["6", "9"]),
    ],
)
def test_nobody_has_the_number_of_somebody_else(claims, numbers):
    """The last word on a number counts; whoever cannot have it keeps one of before that nobody wants."""
    given = {(bytes([n]),): found for n, found in enumerate(claims)}
    assert list(dict(sorted(numbers_worn(given).items())).values()) == numbers


@given(st.dictionaries(st.binary(min_size=1, max_size=2), st.integers(0, 6), max_size=9))
def test_nobody_has_the_place_of_somebody_else(wanted):
    """One of those who had a place there has it, the others stand behind all."""
    places = places_of(wanted)
    assert len(set(places.values())) == len(places) == len(wanted)
    assert set(wanted.values()) <= set(places.values())
    assert all(
        places[player] == place or places[player] > max(wanted.values()) for player, place in wanted.items()
    )


def test_two_series_of_one_skill_stay_two(pair):
    """Each tally keeps the words by which it was noted; the newer words are in force."""
    for season, name, at in ((pair.one, "one", NOON + HOUR), (pair.two, "two", NOON)):
        with clock_of(at):
            skill = replace(SKILLS[0], definition=definition(f"As {name} says."))
            season.catalogue_changes.set_to([skill, *SKILLS[1:]], None, (), name)
            season.log.add_many([], [tally(n, skill_version=2, tablet=name, id=new_id()) for n in range(3)])
    with clock_of(NOON + HOUR):
        stands = pair.one.log.stands(FIRST)
        pair.one.tally_corrections.add(
            replace(correction_of(stands, Change.SKILL, ("shot_on_net", 1), FIRST, "one"), at=NOON + HOUR)
        )
    pair.exchange()
    for season in (pair.one, pair.two):
        assert season.catalogue.skills()[0].definition.done == "As one says."
        assert season.catalogue.skills()[0].version == 3
        rows = season._connection.execute("SELECT tablet, skill_version FROM tally").fetchall()
        assert sorted(rows) == [("one", 3)] * 3 + [("two", 2)] * 3
        (corrected,) = season.tally_corrections.all()
        assert set(corrected.was.values()) == {("outlet_pass", 3)}
    assert shared(pair.one._connection) == shared(pair.two._connection)


def test_one_number_for_two_players_goes_to_the_last_who_got_it(pair):
    """The other one keeps the number of before, and it is told."""
    with clock_of(NOON):
        pair.one.people.change([replace(PLAYERS[0], number="55")], DAY, "one")
    with clock_of(NOON + 1):
        pair.two.people.change([replace(PLAYERS[4], number="55")], DAY, "two")
    for joined in pair.exchange():
        assert joined.doubled == [("55", "10")]
    assert (number(pair.one), number(pair.one, PLAYERS[4])) == ("10", "55")


def test_numbers_that_are_swapped_are_no_doubt(pair):
    """Both changes are of one moment."""
    with clock_of(NOON):
        swap = [replace(PLAYERS[0], number="7"), replace(PLAYERS[4], number="10")]
        pair.one.people.change(swap, DAY, "one")
    assert pair.give(pair.one, pair.two).doubled == []
    assert (number(pair.two), number(pair.two, PLAYERS[4])) == ("7", "10")


def test_a_practice_that_both_began_is_one(pair):
    """With all tallies, everybody who was there, and places on the board that are nobody else's."""
    begin(pair.one, "one", NOON)
    begin(pair.two, "two", NOON + 20 * 60_000, players=[PLAYERS[3], PLAYERS[1]])
    for season, name in ((pair.one, "one"), (pair.two, "two")):
        season.log.add_many([], [tally(n, practice=KEY, tablet=name, id=new_id()) for n in range(4)])
    # when somebody came is no contradiction
    for joined in pair.exchange():
        assert (joined.lost, joined.new["tally"]) == ([], 4)
    for season in (pair.one, pair.two):
        assert [one.key for one in season.practices.held_on(DAY)] == [KEY]
        assert season.log.counts() == {KEY: 8}
        attendance = season.practices.attendance(KEY)
        assert len({one.place for one in attendance}) == len(attendance) == 4
    assert shared(pair.one._connection) == shared(pair.two._connection)


def test_a_practice_that_was_loaded_can_be_gone_on_with_on_one_tablet_or_both(pair):
    """It had no start on either; whichever start is known first holds, and both come to the same."""
    begin(pair.two, "two", NOON, key=FIRST)
    pair.exchange()
    assert shared(pair.one._connection) == shared(pair.two._connection)
    begin(pair.one, "one", NOON - HOUR, key=SECOND)
    begin(pair.two, "two", NOON, key=SECOND)
    pair.exchange()
    assert [one.key for one in pair.one.practices.every()] == [FIRST, SECOND]
    assert shared(pair.one._connection) == shared(pair.two._connection)


def test_two_practices_of_one_day_stay_two(pair):
    """The later one gets the second key where it had the first, and so does all that names it."""
    begin(pair.one, "one", NOON)
    begin(pair.two, "two", NOON + 6 * HOUR)
    for season, name in ((pair.one, "one"), (pair.two, "two")):
        season.log.add_many([], [tally(n, practice=KEY, tablet=name, id=new_id()) for n in range(4)])
        season.comments.write(KEY, f"By {name}.", name, NOON)
        aside = correction_of(season.log.stands(KEY)[:1], Change.ASIDE, True, KEY, name)
        season.tally_corrections.add(aside)
    mine, theirs = pair.exchange()
    assert (mine.renamed, theirs.renamed) == ({}, {KEY: f"{KEY}.2"})
    for season in (pair.one, pair.two):
        assert season.comments.all() == {KEY: "By one.", f"{KEY}.2": "By two."}
        assert season.log.counts() == {KEY: 3, f"{KEY}.2": 3}
        assert season.practices.last_at("two") == f"{KEY}.2"
        assert {one.practice for one in season.tally_corrections.all()} == {KEY, f"{KEY}.2"}
    assert shared(pair.one._connection) == shared(pair.two._connection)


def test_a_tally_that_is_taken_back_elsewhere_counts_nowhere(pair):
    """Also when the withdrawal comes before the tally, and from both."""
    pair.one.log.add(tally(1))
    pair.two.log.withdraw(Withdrawal(tally(1).id, "two", NOON))
    pair.one.log.withdraw(Withdrawal(tally(1).id, "one", NOON))
    pair.exchange()
    assert pair.one.log.count() == pair.two.log.count() == 0
    assert shared(pair.one._connection) == shared(pair.two._connection)


def test_a_pack_since_another_needs_that_one(pair):
    """It is smaller, and refused whole by who lacks the other one."""
    pair.one.practices.add([Practice(KEY, DAY)])
    pair.one.people.add_observer("Edda")
    pair.one.log.add_many([], [tally(n, observer="Edda", id=new_id()) for n in range(50)])
    early = pair.one.packs.pack("one", at=NOON)
    pair.one.log.add(tally(99, observer="Edda", outcome=Outcome.MISSED))
    late = pair.one.packs.pack("one", read_pack("early", early), NOON)
    assert read_pack("late", late).counts()["tally"] == 1
    with pytest.raises(PackError, match="join that one first"):
        pair.two.packs.join([("late", read_pack("late", late))])
    assert pair.two.log.count() == 0
    pair.two.packs.join([("early", read_pack("early", early)), ("late", read_pack("late", late))])
    assert pair.two.log.count() == 51
    with open_season(pair.paths[1]) as again:
        assert again.log.count() == 51


def test_another_season_is_refused(pair, another_season_path):
    """Though it is the same team's."""
    with open_season(another_season_path) as other:
        for since in (None, read_pack("1", pair.one.packs.pack("one"))):
            with pytest.raises(PackError, match="another season"):
                pair.one.packs.join([("2", read_pack("2", other.packs.pack("two", since)))])


def test_a_rehearsal_says_the_same_and_changes_nothing(pair):
    """Nothing in the file is another one afterwards."""
    begin(pair.one, "one", NOON)
    pair.one.log.add_many([], [tally(n, practice=KEY, id=new_id()) for n in range(3)])
    pack = [("1", read_pack("1", pair.one.packs.pack("one", at=NOON)))]
    before = shared(pair.two._connection)
    said = pair.two.packs.join(pack, rehearse=True, now=NOON)
    assert shared(pair.two._connection) == before
    assert pair.two.packs.join(pack, now=NOON) == said
    assert (said.new["tally"], said.practices) == (3, 1)


def test_packs_of_a_command_are_joined_all_or_none(pair, another_season_path):
    """One that is refused takes the others back."""
    pair.one.log.add(tally(1))
    good = read_pack("1", pair.one.packs.pack("one"))
    with open_season(another_season_path) as other:
        bad = read_pack("2", other.packs.pack("two"))
    with pytest.raises(PackError):
        pair.two.packs.join([("1", good), ("2", bad)])
    assert pair.two.log.count() == 0


def test_skills_and_drills_that_one_changed_are_changed_on_the_other(pair):
    """A new skill, a target, the slots of a step, one out of use: as they stand, and their history."""
    stop = replace(SKILLS[0], key="stop", name="Stop")
    steps = DRILLS[0].steps
    step = replace(steps[0], slots=tuple(replace(slot, spot=(40, 20)) for slot in steps[0].slots))
    with clock_of(NOON):
        pair.one.catalogue_changes.set_to(
            [stop, replace(SKILLS[1], target=0.7), SKILLS[0]],
            [DRILLS[1], replace(DRILLS[0], steps=(step, *steps[1:]))],
            (),
            "one",
            {"skills": "# ours"},
        )
    pair.give(pair.one, pair.two)
    mine, theirs = pair.one.catalogue, pair.two.catalogue
    assert theirs.skills(retired=True) == mine.skills(retired=True)
    assert [skill.key for skill in theirs.skills()] == ["stop", "wall_puck_feet", "outlet_pass"]
    assert theirs.drills(retired=True) == mine.drills(retired=True)
    assert pair.two.catalogue_changes.all() == pair.one.catalogue_changes.all()
    assert pair.two.catalogue_changes.texts() == {"skills": "# ours"}


def test_the_invented_season_of_another_day_is_another_season(tmp_path):
    """All of them have one id, and players of their own."""
    from evaltrack.store.creating import create_season

    files = {"team": "Kettle Bay Lanterns", "age_class": "12U", "skills": SKILLS, "drills": DRILLS}
    made = []
    for n in range(2):
        with clock_of(NOON + n):
            made.append(create_season(tmp_path / f"{n}.db", players=PLAYERS, invented=True, **files))
    with pytest.raises(PackError, match="another season"):
        made[0].packs.join([("1", read_pack("1", made[1].packs.pack("one")))])
    for season in made:
        season.close()
