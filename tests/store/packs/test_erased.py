"""Who was erased on one tablet is brought back by no pack to another, in what others wrote neither."""

import gzip
from dataclasses import replace
from datetime import time

from lanterns_season import PLAYERS, tally
from planned_cards import DAY, card
from three_tablets import NOON, clock_of

from evaltrack.rink.ident import new_id
from evaltrack.rink.meeting_evening import Evening, MeetingSlot, MeetingWish, MeetingWishKind
from evaltrack.rink.name_pattern import STRUCK
from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey
from evaltrack.rink.plan import WishKind
from evaltrack.rink.plan_card import CardPlace, CardWish
from evaltrack.rink.player import Player
from evaltrack.rink.practice import Attendance, Practice, Rep
from evaltrack.rink.rotation.rotation_fact import Change, RotationFact
from evaltrack.rink.tally_correction import Change as PutRight
from evaltrack.rink.tally_correction import correction_of
from evaltrack.store.opening import open_season
from evaltrack.store.packs.merge_rules import RULES, Own
from evaltrack.store.packs.pack_file import read_pack
from evaltrack.words.packs import joined_lines

ODA, KEY = PLAYERS[0], "2025-11-12"


def note_everywhere(season) -> None:
    """Let a player be in every table that can name one."""
    season.practices.add([Practice(KEY, DAY)])
    season.practices.mark(KEY, [Attendance(ODA.id, True, 0, NOON)], "one")
    season.log.add_many([], [tally(n, practice=KEY, id=new_id()) for n in range(3)])
    season.log.add(tally(7, player=PLAYERS[4].id, practice=KEY))
    juno = season.log.tallies(KEY, PLAYERS[4].id)
    for ident in (PLAYERS[1].id, ODA.id):
        stands = [one for one in season.log.stands(KEY) if one.tally.id == juno[0].id]
        season.tally_corrections.add(correction_of(stands, PutRight.PLAYER, ident, KEY, "one"))
    season.tally_corrections.put_in_force(season.tally_corrections.all()[1], False, "one", NOON)
    mine = [one for one in season.log.stands(KEY) if one.tally.player == ODA.id][:1]
    season.tally_corrections.add(correction_of(mine, PutRight.PLAYER, PLAYERS[2].id, KEY, "one"))
    season.people.change([replace(ODA, name="Oda Marsh-Reed")], DAY, "one")
    season.plans.add(
        replace(
            card(DAY),
            places={ODA.id: CardPlace(0), PLAYERS[4].id: CardPlace(0)},
            wishes=(
                CardWish(WishKind.APART, ODA.id, PLAYERS[4].id),
                CardWish(WishKind.APART, PLAYERS[4].id, ODA.id),
            ),
        ),
        "one",
        NOON,
    )
    step = ("breakout_attack", "two_on_one")
    rep = Rep(KEY, *step, {"breakout_d": ODA.id, "wall_f": PLAYERS[4].id}, "one", NOON, new_id())
    start = ((ODA.id, ODA.position), (PLAYERS[4].id, PLAYERS[4].position))
    season.reps.begin(rep, RotationFact(KEY, "one", *step, Change.FIRST, rep.id, start=start, at=NOON))
    swap = RotationFact(KEY, "one", *step, Change.SWAP, rep.id, slot="wall_f", player=ODA.id, at=NOON)
    season.reps.correct(swap, [(PLAYERS[4].id, ODA.id)], {"wall_f": ODA.id})
    _note_for_families(season)


def _note_for_families(season) -> None:
    """Let there be a page of the player with a change that was taken back, a comment, and a meeting."""
    season.notes.add([NoteFact(NoteKey(ODA.id, DAY), NoteField.COACH_WORDS, "Oda skates well.")], "one", NOON)
    (life,) = season.notes.all().values()
    season.notes.put_in_force(life.facts[0], False, "one", NOON)
    season.player_comments.write(ODA.id, "Oda was here last season.", "one", NOON)
    wishes = (
        MeetingWish(MeetingWishKind.SIBLING, ODA.id, other=PLAYERS[4].id),
        MeetingWish(MeetingWishKind.NOT_WITH, PLAYERS[4].id, other=ODA.id),
    )
    slots = {ODA.id: MeetingSlot(time(18), 1), PLAYERS[4].id: MeetingSlot(time(18, 12), 1)}
    season.meetings.add(Evening("k", DAY, time(18), wishes=wishes, slots=slots), "one", NOON)
    season.meetings.note_came("k", ODA.id, True, "one", NOON)


def naming(connection, player) -> dict[tuple[str, str], int]:
    """Return how many rows name a player, by table and column; what is of this tablet alone is left out."""
    tables = [name for (name,) in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
    columns = [
        (table, row[3])
        for table in tables
        for row in connection.execute(f"PRAGMA foreign_key_list({table})")
        if row[2] == "player" and RULES[table] is not Own.HERE
    ]
    count = "SELECT count(*) FROM {} WHERE {} = ?"
    return {
        place: connection.execute(count.format(*place), (player.id.bytes,)).fetchone()[0] for place in columns
    }


def test_no_pack_brings_an_erased_player_back(pair):
    """Neither the id nor the name comes in again, and what is of others does."""
    note_everywhere(pair.one)
    # a table that is to come cannot be forgotten here
    assert [place for place, count in naming(pair.one._connection, ODA).items() if not count] == []
    old = pair.one.packs.pack("one", at=NOON)
    connection = pair.two._connection
    connection.execute("DELETE FROM player WHERE id = ?", (ODA.id.bytes,))  # as erasing does, and more
    pair.two.packs.note_erased([ODA.id])
    pair.two.packs.join([("old", read_pack("old", old))], now=NOON)
    assert set(naming(connection, ODA).values()) == {0}
    assert (pair.two.notes.all(), pair.two.player_comments.all()) == ({}, {})
    (evening,) = pair.two.meetings.all()
    assert (evening.wishes, evening.slots.keys()) == ((), {PLAYERS[4].id})
    assert pair.two.log.count() == 1
    assert pair.two.plans.last().places.keys() == {PLAYERS[4].id}
    for line in connection.iterdump():
        if not line.startswith('INSERT INTO "erased"'):
            assert ODA.id.hex not in line.lower()
            assert "Oda" not in line


def test_no_join_makes_an_erased_player_anew_from_what_their_fields_were(pair):
    """What was changed of them here is forgotten with them, and comes back with no pack."""
    with clock_of(NOON):
        pair.two.people.change([replace(ODA, number="19")], DAY, "two")
    pair.give(pair.one, pair.two)  # by now every field of everybody is noted
    connection = pair.two._connection
    connection.execute("DELETE FROM roster_change")
    connection.execute("DELETE FROM player WHERE id = ?", (ODA.id.bytes,))
    pair.two.packs.note_erased([ODA.id])
    pair.give(pair.one, pair.two)
    assert ODA.id not in {player.id for player in pair.two.people.everyone()}
    assert "Oda" not in "".join(connection.iterdump())


def test_the_list_goes_along_with_every_pack(pair):
    """The other tablet knows whom to erase, and is told; the list only grows."""
    pair.two.packs.note_erased([ODA.id])
    joined = pair.give(pair.two, pair.one)
    assert joined.erased == [ODA.id]
    assert pair.one.packs.erased() == {ODA.id.bytes}
    pair.one.packs.note_erased([PLAYERS[1].id])
    pair.give(pair.one, pair.two)
    assert pair.two.packs.erased() == {ODA.id.bytes, PLAYERS[1].id.bytes}


def test_a_pack_says_nothing_of_an_erased_player_but_the_id(pair):
    """What a tablet takes in from an old pack it does not give on."""
    note_everywhere(pair.one)
    old = pair.one.packs.pack("one", at=NOON)
    pair.two._connection.execute("DELETE FROM player WHERE id = ?", (ODA.id.bytes,))
    pair.two.packs.note_erased([ODA.id])
    pair.two.packs.join([("old", read_pack("old", old))], now=NOON)
    text = gzip.decompress(pair.two.packs.pack("two", at=NOON)).decode()
    assert "Oda" not in text
    assert text.count(ODA.id.hex) == 1


def without_oda(season, path):
    """Erase Oda, and open the file that is left."""
    season.erase(ODA.id)
    return open_season(path)


def comment(season, words: str) -> None:
    """Write what was remarkable of a practice, on the tablet one."""
    season.practices.add([Practice(KEY, DAY)])
    season.comments.write(KEY, words, "one", NOON)


def test_a_name_in_a_text_of_another_tablet_is_struck_out_as_it_comes_in(pair):
    """By the name that its own pack has; who gets the text back has the struck one too."""
    comment(pair.one, "Oda Marsh was tired; Juno Reed was not.")
    pair.two = without_oda(pair.two, pair.paths[1])
    joined = pair.give(pair.one, pair.two)
    assert (joined.struck, joined.to_read) == (1, [])
    assert pair.two.comments.all()[KEY] == f"{STRUCK} was tired; Juno Reed was not."
    assert "Oda" not in "".join(pair.two._connection.iterdump())
    assert pair.give(pair.one, pair.two).struck == 0
    pair.give(pair.two, pair.one)
    assert STRUCK in pair.one.comments.all()[KEY]


def test_news_tell_the_name_of_who_was_erased_elsewhere_and_is_still_here(pair):
    """So that what is written while two tablets are together is read by it too."""
    pair.two = without_oda(pair.two, pair.paths[1])
    pair.give(pair.two, pair.one)
    news = pair.one.packs.news("one")
    news.note(read_pack("whole", pair.one.packs.pack("one", at=NOON)))
    assert news.pack() == b""
    comment(pair.one, "Soft ice, said Oda.")
    joined = pair.two.packs.join([("news", read_pack("news", news.pack()))], now=NOON)
    assert (joined.struck, joined.to_read) == (1, [])
    assert pair.two.comments.all()[KEY] == f"Soft ice, said {STRUCK}."


def test_texts_of_a_tablet_that_never_knew_the_player_are_told(pair):
    """Nobody can say whether the name is in them; once it knows of the erasure it is asked no more."""
    pip = Player("66", "Pip Alder", ODA.position, id=new_id())
    pair.two.people.change([pip], DAY, "two")
    pair.two.erase(pip.id, keep_counts=True)
    pair.two = open_season(pair.paths[1])
    comment(pair.one, "Pip was here.")
    joined = pair.give(pair.one, pair.two)
    assert [(one.kind, one.key, one.tablet) for one in joined.to_read] == [
        ("practice_comment", (KEY,), "one")
    ]
    lines = "\n".join(joined_lines(joined, {}))
    assert f'the comment on the practice {KEY}: "Pip was here.", of' in lines
    pair.give(pair.two, pair.one)
    comment(pair.one, "Hard ice.")
    assert pair.give(pair.one, pair.two).to_read == []
