"""An open season file and its parts."""

import sqlite3
from contextlib import AbstractContextManager
from datetime import date
from pathlib import Path
from typing import NamedTuple
from uuid import UUID

from evaltrack.device.season_claim import SeasonClaim, is_claimed_here
from evaltrack.language import tr
from evaltrack.store import sound
from evaltrack.store.catalogue import CatalogueTable
from evaltrack.store.connection import FileConnection, reading, transaction
from evaltrack.store.corrections import Corrections
from evaltrack.store.log import Log
from evaltrack.store.people import People
from evaltrack.store.practices import Practices

# the id of every season of the invented team, laid out as version 8: wherever such a file is copied to, and
# whatever it is called there, it is known as what it is
INVENTED = UUID("00000000-0000-8156-9ebd-b3ef5f97662a")


class Team(NamedTuple):
    """Whose season it is."""

    name: str
    age_class: str

    def __str__(self) -> str:
        return f"{self.name} {self.age_class}".strip()


class SeasonFile:
    """An open season file. A connection belongs to the thread that opened it: each thread opens its own.

    ``people`` has players and observers, ``catalogue`` skills and drills, ``practices`` the ice times
    with who was there, ``corrections`` what was put right of them, ``reps`` the reps with the rotation,
    ``log`` the tallies, ``tally_corrections`` what was put right of these, ``turnout`` who was there,
    ``comments`` those of practices, ``plans`` what was planned for them, ``calendar``
    the ice times to come, ``notes`` what was done to the families' pages, ``meetings`` the evenings with
    them, ``copies`` copies of the file, ``checks`` whether it is whole, ``packs`` what other tablets noted.
    """

    def __init__(self, path: Path, connection: FileConnection):
        self.path = path
        self.use(connection)

    def use(self, connection: FileConnection) -> None:
        """Read and write through this connection from now on."""
        self._connection = connection
        self.people = People(connection)
        self.catalogue = CatalogueTable(connection)
        self.practices = Practices(connection)
        self.corrections = Corrections(connection)
        self.log = Log(connection)

    @property
    def catalogue_changes(self):
        """Return what changes the catalogue and keeps what was changed, `CatalogueChanges`."""
        from evaltrack.store.catalogue_changes import CatalogueChanges  # no board waits for it

        return CatalogueChanges(self._connection)

    @property
    def reps(self):
        """Return what keeps the reps and the rotations, `Reps`."""
        from evaltrack.store.reps import Reps  # the first board has no slots, and does not wait for it

        return Reps(self._connection)

    @property
    def tally_corrections(self):
        """Return what keeps the corrections of tallies, `TallyCorrections`."""
        from evaltrack.store.tally_corrections import TallyCorrections  # no board waits for it either

        return TallyCorrections(self._connection)

    @property
    def turnout(self):
        """Return what tells who was at each practice, and who noted how much, `Turnout`."""
        from evaltrack.store.turnout import Turnout

        return Turnout(self._connection)

    @property
    def tally_sums(self):
        """Return what counts tallies and tries, `TallySums`."""
        from evaltrack.store.tally_sums import TallySums  # nor for this

        return TallySums(self._connection)

    @property
    def comments(self):
        """Return what keeps the comments on practices, `Comments`."""
        from evaltrack.store.comments import Comments

        return Comments(self._connection)

    @property
    def plans(self):
        """Return what keeps the plans of practices, `Plans`."""
        from evaltrack.store.plans import Plans  # no board waits for it

        return Plans(self._connection)

    @property
    def player_comments(self):
        """Return what keeps the comments on players, `PlayerComments`."""
        from evaltrack.store.player_comments import PlayerComments

        return PlayerComments(self._connection)

    @property
    def last_look(self):
        """Return what keeps the standings that were shown last, for other programs, `LastLook`."""
        from evaltrack.store.last_look import LastLook

        return LastLook(self._connection)

    @property
    def life(self):
        """Return what keeps how long names are kept, and whether the season was closed, `SeasonLife`."""
        from evaltrack.store.season_life import SeasonLife

        return SeasonLife(self._connection)

    @property
    def calendar(self):
        """Return what keeps the ice times to come, `Calendar`."""
        from evaltrack.store.calendar import Calendar

        return Calendar(self._connection)

    @property
    def notes(self):
        """Return what keeps the families' pages, `Notes`."""
        from evaltrack.store.notes import Notes

        return Notes(self._connection)

    @property
    def meetings(self):
        """Return what keeps the evenings of meetings, `Meetings`."""
        from evaltrack.store.meetings import Meetings

        return Meetings(self._connection)

    @property
    def copies(self):
        """Return what makes copies of the file and tells what is in it, `Copies`."""
        from evaltrack.store.copying import Copies

        return Copies(self._connection)

    @property
    def checks(self):
        """Return what looks through the file, `Checks`."""
        from evaltrack.store.checking import Checks

        return Checks(self, self._connection)

    @property
    def packs(self):
        """Return what writes packs for other tablets and joins theirs, `SeasonPacks`."""
        from evaltrack.store.packs.season_packs import SeasonPacks

        return SeasonPacks(self._connection)

    @property
    def loan(self):
        """Return what makes the file a loan, `Loan`; None where it is none."""
        from evaltrack.store.loan import loan_in

        return loan_in(self._connection)

    def refuse_loan(self) -> None:
        """Raise EvaltrackError where the file is a loan."""
        from evaltrack.store.loan import refuse_loan

        refuse_loan(self._connection)

    def keep_latest(self, now: int) -> None:
        """Keep in a loan that it has become so late."""
        from evaltrack.store.loan import keep_latest

        keep_latest(self._connection, now)

    def write_loan(self, draft: Path, loan) -> None:
        """Write a loan of the season, `Loan`, into an empty file; see `lending.lend`."""
        from evaltrack.store.lent_file import write_lent

        write_lent(self._connection, draft, loan)

    def kept_of(self, player: UUID):
        """Return what gives all that the file has of one player, `KeptOfPlayer`."""
        from evaltrack.store.kept_of_player import KeptOfPlayer

        return KeptOfPlayer(self._connection, player)

    def erase(self, player: UUID, keep_counts: bool = False, rehearse: bool = False):
        """Take a player out of the file for good and close it; return what went, an `Erasure`.

        With ``keep_counts`` the tries stay in the figures, of nobody. ``rehearse`` changes nothing. Raises
        EvaltrackError where it is a loan.
        """
        self.refuse_loan()
        from evaltrack.store.erasing.erasing import erase

        return erase(self._connection, self.path, player, keep_counts, rehearse)

    def forget(self, day: date, tablet: str = "", rehearse: bool = False):
        """Let the file know nobody by name any more, and close it; return what went, an `Erasure`.

        The tries stay in the team's figures. ``rehearse`` changes nothing. Raises EvaltrackError where it is
        a loan: it would be closed for the lender too.
        """
        self.refuse_loan()
        from evaltrack.store.erasing.erasing import forget

        return forget(self._connection, self.path, day, tablet, rehearse)

    @property
    def may_return(self) -> bool:
        """Say whether opening the file again could mend what is wrong with the connection."""
        return self._connection.may_return()

    @property
    @reading()
    def team(self) -> Team:
        """Return whose season it is."""
        name, age_class = self._row("team, age_class")
        longest = sound.LONGEST_TEXT
        return Team(
            sound.name(name, "the name of the team", longest), sound.name(age_class, "the age class", longest)
        )

    def together(self) -> AbstractContextManager[None]:
        """Write all that a block writes, or nothing of it and raise NotSavedError."""
        return transaction(self._connection)

    @property
    @reading()
    def created_at(self) -> int:
        """Return the moment at which the file was made, by the clock of who made it."""
        return sound.moment(*self._row("created_at"), "the moment at which it was made")

    @property
    @reading()
    def ident(self) -> UUID:
        """Return what tells this season from all others, in every copy of it."""
        return sound.ident(*self._row("id"), "the id of the season")

    @property
    @reading()
    def invented(self) -> bool:
        """Say whether it is the season of the invented team."""
        return self._row("id")[0] == INVENTED.bytes

    def _row(self, columns: str) -> tuple:
        row = self._connection.execute(f"SELECT {columns} FROM season").fetchone()
        if row is None:
            raise sound.damaged(tr("it does not say whose season it is"))
        return row

    @property
    @reading()
    def seen_version(self) -> tuple:
        """Return what changes as soon as others' commits are seen here, or the file is not in its place."""
        return self._connection.seen()

    @property
    @reading()
    def waiting(self) -> int:
        """Return how many writes wait in the WAL, those of others counted as one."""
        return self._connection.waiting

    def write_back(self, **how: bool) -> bool:
        """Write the WAL back into the file, and say whether the file alone is whole now.

        Only for the process with the claim on the file. What cannot be written back now stays in the WAL. See
        `FileConnection.checkpoint` for how.
        """
        try:
            return self._connection.checkpoint(**how)
        except sqlite3.Error as error:
            self._connection.met(error)
            return False

    def save_wal(self) -> None:
        """Write what only a deleted WAL holds into the file; sqlite3.Error when it cannot be written."""
        self._connection.save_wal()

    def close(self) -> None:
        """Close the file; everything is on disk, and in the file itself unless it is open elsewhere."""
        if self._connection.wal_size and not is_claimed_here(self.path):
            claim = SeasonClaim()
            if claim.take(self.path):
                self.write_back(empty=True)
            claim.leave()
        self._connection.close()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.close()
