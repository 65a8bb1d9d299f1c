"""A file of version 8 becomes one that several tablets can share, with every fact as it was.

Two copies of it that were brought up to date apart are still one season.
"""

import shutil
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date

from lanterns_season import PLAYERS, SKILLS, definition, tally
from older_files import back_to_version_eight
from three_tablets import shared

from evaltrack.rink.ident import new_id
from evaltrack.store.opening import open_season
from evaltrack.store.packs.pack_file import read_pack
from evaltrack.store.schema import SCHEMA_VERSION

DAY = date(2025, 11, 12)


def test_two_copies_of_version_eight_are_one_season(season_path):
    """Players, skills and series that were changed before count; what each notes after comes together."""
    with open_season(season_path) as season:
        season.log.add_many([], [tally(n) for n in range(4)])
        season.catalogue_changes.set_to(
            [replace(SKILLS[0], definition=definition("Anew."))], None, (), "bench"
        )
        season.people.change([replace(PLAYERS[0], number="19")], DAY, "bench")
        season.comments.write(tally(0).practice, "Soft ice.", "bench")
        skills, players = season.catalogue.skills(retired=True), season.people.everyone()
    with closing(sqlite3.connect(season_path, isolation_level=None)) as file:
        file.execute("UPDATE roster_change SET nth = 1")  # as version 8 numbered them
        file.execute("UPDATE practice_comment SET nth = 1")
        back_to_version_eight(file)
    paths = [season_path, shutil.copy(season_path, season_path.with_name("other.db"))]
    one, two = map(open_season, paths)
    assert season_path.with_name(f"lanterns.db.before-version-{SCHEMA_VERSION}").exists()
    for season, name in ((one, "one"), (two, "two")):
        assert (season.catalogue.skills(retired=True), season.people.everyone()) == (skills, players)
        season.log.add(tally(0, tablet=name, skill_version=2, id=new_id()))
    one.comments.write(tally(0).practice, "Hard ice.", "one")
    for taker, giver in ((one, two), (two, one)):
        taker.packs.join([("pack", read_pack("pack", giver.packs.pack("giver")))])
    assert shared(one._connection) == shared(two._connection)
    assert two.comments.all() == {tally(0).practice: "Hard ice."}
    assert (two.log.count(), two.catalogue.skills(retired=True), two.people.everyone()) == (
        6,
        skills,
        players,
    )
    one.close()
    two.close()
