"""Every reader of a season file asked at once: whether it can be read after all of it was changed."""

import sqlite3

from evaltrack.store.calendar import Calendar
from evaltrack.store.catalogue import CatalogueTable
from evaltrack.store.catalogue_changes import CatalogueChanges
from evaltrack.store.comments import Comments
from evaltrack.store.corrections import Corrections
from evaltrack.store.meetings import Meetings
from evaltrack.store.notes import Notes
from evaltrack.store.people import People
from evaltrack.store.player_comments import PlayerComments
from evaltrack.store.practices import Practices
from evaltrack.store.season_life import SeasonLife
from evaltrack.store.tally_corrections import TallyCorrections


def read_all(connection: sqlite3.Connection) -> None:
    """Read what a season file has but for tallies, rotations and plans; SeasonFileError if it is damaged."""
    people, catalogue = People(connection), CatalogueTable(connection)
    people.everyone(), people.changes(), people.observers()
    catalogue.skills(retired=True), catalogue.drills(retired=True)
    changes = CatalogueChanges(connection)
    changes.all(), changes.texts()
    for practice in Practices(connection).every():
        Practices(connection).attendance(practice.key)
    Corrections(connection).all(), TallyCorrections(connection).all()
    Comments(connection).all(), Calendar(connection).all(), Notes(connection).all()
    SeasonLife(connection).all(), PlayerComments(connection).all()
    evenings = Meetings(connection)
    for evening in evenings.all():
        evenings.of(evening.key), evenings.who_came(evening.key)
