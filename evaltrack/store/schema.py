"""What a season file holds, in words and in SQL. Reading this loads nothing heavy."""

from evaltrack.store.schema_in_season import (
    AWAY_UNTIL,
    CATALOGUE_CHANGES,
    PLANS,
    PLAYS_BOTH,
    ROSTER_CHANGES,
)
from evaltrack.store.schema_of_life import PLAYER_COMMENTS, SEASON_FACTS
from evaltrack.store.schema_of_loans import LOANS
from evaltrack.store.schema_of_meetings import MEETINGS
from evaltrack.store.schema_of_notes import FAMILY_NOTES
from evaltrack.store.schema_of_packs import PACKS
from evaltrack.store.schema_of_plans import PRACTICE_PLANS
from evaltrack.store.schema_of_views import LAST_LOOK, VIEWS
from evaltrack.store.schema_of_wishes import WISHES_AND_CONTACT

APPLICATION_ID = 0x4556_5431  # "EVT1": marks the file as a season file of ours
SCHEMA_VERSION = 14  # the number of migrations, also kept in PRAGMA user_version

# The facts of a season, as version 1 has them; this text never changes. Moments (`*_at`, `at`) are
# milliseconds since 1970 in UTC; ids are 16-byte UUIDs that sort by time. `tally` and `withdrawal` only
# grow. `tally_cell` holds everything that the cells of the estimates need, so that a million tallies are
# counted by reading one index in order.
SEASON_TABLES = """
CREATE TABLE season (
    one         INTEGER PRIMARY KEY CHECK (one = 1),
    id          BLOB NOT NULL,
    team        TEXT NOT NULL,
    age_class   TEXT NOT NULL,
    created_at  INTEGER NOT NULL
) STRICT;

CREATE TABLE player (
    id          BLOB PRIMARY KEY,
    number      TEXT NOT NULL UNIQUE CHECK (number <> '' AND number NOT GLOB '*[^0-9]*'),
    name        TEXT NOT NULL,
    position    TEXT NOT NULL CHECK (position IN ('D', 'F', 'G')),
    birth_year  INTEGER,
    status      TEXT NOT NULL CHECK (status IN ('full', 'limited', 'away'))
) STRICT, WITHOUT ROWID;

CREATE TABLE observer (
    name        TEXT PRIMARY KEY
) STRICT, WITHOUT ROWID;

CREATE TABLE skill (
    key         TEXT PRIMARY KEY,
    place       INTEGER NOT NULL,       -- order in the catalogue
    name        TEXT NOT NULL,
    positions   TEXT NOT NULL,          -- letters of the position groups, such as 'DF'
    caption     TEXT NOT NULL,
    looks_like  TEXT NOT NULL,
    at_home     TEXT NOT NULL,          -- one suggestion a line
    target      REAL NOT NULL CHECK (target > 0 AND target < 1),
    version     INTEGER NOT NULL        -- of the definition in force
) STRICT, WITHOUT ROWID;

CREATE TABLE definition (
    skill       TEXT NOT NULL REFERENCES skill (key),
    version     INTEGER NOT NULL,
    starts      TEXT NOT NULL,
    done        TEXT NOT NULL,
    missed      TEXT NOT NULL,
    not_counted TEXT NOT NULL,
    since       INTEGER NOT NULL,       -- moment
    PRIMARY KEY (skill, version)
) STRICT, WITHOUT ROWID;

CREATE TABLE drill (
    key         TEXT PRIMARY KEY,
    place       INTEGER NOT NULL,
    name        TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE step (
    drill       TEXT NOT NULL REFERENCES drill (key),
    key         TEXT NOT NULL,
    place       INTEGER NOT NULL,       -- easy to hard
    name        TEXT NOT NULL,
    PRIMARY KEY (drill, key)
) STRICT, WITHOUT ROWID;

CREATE TABLE slot (
    drill       TEXT NOT NULL,
    step        TEXT NOT NULL,
    key         TEXT NOT NULL,
    place       INTEGER NOT NULL,
    name        TEXT NOT NULL,
    position    TEXT NOT NULL,
    next        TEXT,                   -- the slot its player goes to, NULL for out
    skills      TEXT NOT NULL,          -- keys of the skills worth watching, separated by blanks
    PRIMARY KEY (drill, step, key),
    FOREIGN KEY (drill, step) REFERENCES step (drill, key)
) STRICT, WITHOUT ROWID;

CREATE TABLE practice (
    key         TEXT PRIMARY KEY,       -- the date, or the date and '.2'
    held_on     TEXT NOT NULL,
    surface     TEXT NOT NULL CHECK (surface IN ('full', 'half', 'cross')),
    started_at  INTEGER,
    ended_at    INTEGER                 -- NULL while it runs, and for practices that were loaded
) STRICT, WITHOUT ROWID;

CREATE TABLE attendance (
    practice    TEXT NOT NULL REFERENCES practice (key),
    player      BLOB NOT NULL REFERENCES player (id),
    here        INTEGER NOT NULL CHECK (here IN (0, 1)),
    place       INTEGER NOT NULL,       -- of his tile on the board
    at          INTEGER NOT NULL,
    PRIMARY KEY (practice, player)
) STRICT, WITHOUT ROWID;

CREATE TABLE station (                  -- what a tablet watches from a moment on
    practice    TEXT NOT NULL REFERENCES practice (key),
    tablet      TEXT NOT NULL,
    at          INTEGER NOT NULL,
    drill       TEXT NOT NULL,
    step        TEXT NOT NULL,
    skill       TEXT NOT NULL REFERENCES skill (key),
    observer    TEXT NOT NULL REFERENCES observer (name),
    pressure    INTEGER NOT NULL CHECK (pressure IN (0, 1)),
    FOREIGN KEY (drill, step) REFERENCES step (drill, key)
) STRICT;
CREATE INDEX station_latest ON station (practice, tablet, at);

CREATE TABLE rep (
    id          BLOB PRIMARY KEY,
    practice    TEXT NOT NULL REFERENCES practice (key),
    drill       TEXT NOT NULL,
    step        TEXT NOT NULL,
    at          INTEGER NOT NULL,
    FOREIGN KEY (drill, step) REFERENCES step (drill, key)
) STRICT, WITHOUT ROWID;

CREATE TABLE rep_slot (
    rep         BLOB NOT NULL REFERENCES rep (id),
    slot        TEXT NOT NULL,
    player      BLOB NOT NULL REFERENCES player (id),
    PRIMARY KEY (rep, slot),
    UNIQUE (rep, player)
) STRICT, WITHOUT ROWID;

CREATE TABLE tally (
    id            BLOB PRIMARY KEY,
    practice      TEXT NOT NULL REFERENCES practice (key),
    player        BLOB NOT NULL REFERENCES player (id),
    skill         TEXT NOT NULL,
    skill_version INTEGER NOT NULL,
    outcome       TEXT NOT NULL CHECK (outcome IN ('done', 'missed', 'unseen')),
    pressure      INTEGER CHECK (pressure IN (0, 1)),
    drill         TEXT NOT NULL,
    step          TEXT NOT NULL,
    observer      TEXT NOT NULL REFERENCES observer (name),
    rep           BLOB REFERENCES rep (id),
    tablet        TEXT NOT NULL,
    at            INTEGER NOT NULL,
    FOREIGN KEY (skill, skill_version) REFERENCES definition (skill, version),
    FOREIGN KEY (drill, step) REFERENCES step (drill, key)
) STRICT, WITHOUT ROWID;
CREATE INDEX tally_cell ON tally
    (skill, skill_version, player, practice, drill, step, pressure, observer, outcome);
CREATE INDEX tally_practice ON tally (practice, tablet);

CREATE TABLE withdrawal (               -- of a tally that may still be on its way from another tablet
    tally       BLOB PRIMARY KEY,
    tablet      TEXT NOT NULL,
    at          INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
"""

# Version 2: the rotation of players through the slots. `line_fact` only grows: every change of the rotation
# that a tablet keeps at a practice, numbered as they came, so that it can be played again. A rep begins with
# a fact of its own; `rep_slot` has who was in the slots then.
LINE_TABLES = """
ALTER TABLE rep ADD COLUMN tablet TEXT NOT NULL DEFAULT '';
CREATE INDEX rep_practice ON rep (practice, tablet, at);

CREATE TABLE line_fact (
    practice    TEXT NOT NULL REFERENCES practice (key),
    tablet      TEXT NOT NULL,
    nth         INTEGER NOT NULL,       -- from 1, for each practice and tablet
    change      TEXT NOT NULL CHECK (change IN
                ('first', 'next', 'step', 'skip', 'arrive', 'leave', 'swap', 'empty', 'back')),
    drill       TEXT NOT NULL,
    step        TEXT NOT NULL,
    rep         BLOB NOT NULL REFERENCES rep (id),      -- that begins with it, or runs meanwhile
    slot        TEXT,
    player      BLOB REFERENCES player (id),
    position    TEXT CHECK (position IN ('D', 'F', 'G')),   -- of the line that a player joins
    at          INTEGER NOT NULL,
    PRIMARY KEY (practice, tablet, nth),
    FOREIGN KEY (drill, step) REFERENCES step (drill, key)
) STRICT, WITHOUT ROWID;

CREATE TABLE line_start (               -- who lined up, in which order and group
    practice    TEXT NOT NULL,
    tablet      TEXT NOT NULL,
    nth         INTEGER NOT NULL,       -- of the fact
    place       INTEGER NOT NULL,
    player      BLOB NOT NULL REFERENCES player (id),
    position    TEXT NOT NULL CHECK (position IN ('D', 'F', 'G')),
    PRIMARY KEY (practice, tablet, nth, place),
    FOREIGN KEY (practice, tablet, nth) REFERENCES line_fact (practice, tablet, nth)
) STRICT, WITHOUT ROWID;
"""

# Version 3: a tablet's own facts in the order in which they were written. `station` is numbered by the file
# for each tablet, as `line_fact` is, since clocks are set back; no two players of a practice have one place.
WRITTEN_ORDER = """
CREATE TEMP TABLE watched AS SELECT tablet, row_number() OVER (PARTITION BY tablet ORDER BY rowid) AS nth,
    practice, at, drill, step, skill, observer, pressure FROM station;
DROP TABLE station;
CREATE TABLE station (                  -- what a tablet watches from a moment on
    tablet      TEXT NOT NULL,
    nth         INTEGER NOT NULL,       -- from 1, for each tablet
    practice    TEXT NOT NULL REFERENCES practice (key),
    at          INTEGER NOT NULL,
    drill       TEXT NOT NULL,
    step        TEXT NOT NULL,
    skill       TEXT NOT NULL REFERENCES skill (key),
    observer    TEXT NOT NULL REFERENCES observer (name),
    pressure    INTEGER NOT NULL CHECK (pressure IN (0, 1)),
    PRIMARY KEY (tablet, nth),
    FOREIGN KEY (drill, step) REFERENCES step (drill, key)
) STRICT, WITHOUT ROWID;
CREATE INDEX station_practice ON station (practice, tablet, nth);
INSERT INTO station SELECT * FROM watched;
DROP TABLE watched;

CREATE TEMP TABLE placed AS SELECT practice, player,
    row_number() OVER (PARTITION BY practice ORDER BY place, at, player) - 1 AS place FROM attendance;
UPDATE attendance SET place = placed.place FROM placed
    WHERE placed.practice = attendance.practice AND placed.player = attendance.player;
DROP TABLE placed;
CREATE UNIQUE INDEX attendance_place ON attendance (practice, place);
"""

# ... and what a correction by hand has moved: the slot in which a tally was made, and for a change of
# the rotation the tallies that it gave to another player.
SLOTS_OF_TALLIES = """
ALTER TABLE tally ADD COLUMN slot TEXT;

CREATE TABLE moved (
    practice    TEXT NOT NULL,
    tablet      TEXT NOT NULL,
    nth         INTEGER NOT NULL,       -- of the change of the line
    was         BLOB NOT NULL,          -- the tally that is withdrawn
    becomes     BLOB NOT NULL,          -- the same try, of the player whose it was
    PRIMARY KEY (practice, tablet, nth, was),
    FOREIGN KEY (practice, tablet, nth) REFERENCES line_fact (practice, tablet, nth)
) STRICT, WITHOUT ROWID;
"""

# ... and practices that are put right: held on another day, set aside with all that was tallied, brought
# back. `practice` has what is in force, `correction` every change of it; it only grows.
CORRECTIONS = """
ALTER TABLE practice ADD COLUMN aside INTEGER NOT NULL DEFAULT 0 CHECK (aside IN (0, 1));

CREATE TABLE correction (
    tablet      TEXT NOT NULL,
    nth         INTEGER NOT NULL,       -- from 1, for each tablet
    practice    TEXT NOT NULL REFERENCES practice (key),
    change      TEXT NOT NULL CHECK (change IN ('to_date', 'set_aside', 'bring_back')),
    was         TEXT NOT NULL,          -- the day before the change
    becomes     TEXT NOT NULL,          -- and after it
    at          INTEGER NOT NULL,
    PRIMARY KEY (tablet, nth)
) STRICT, WITHOUT ROWID;
"""

# ... and whose WAL lies beside the file: a new `epoch` is drawn whenever a WAL is begun, `before` is the one
# that the file itself held then.
EPOCH = """
CREATE TABLE epoch (
    one         INTEGER PRIMARY KEY CHECK (one = 1),
    epoch       BLOB NOT NULL CHECK (length(epoch) = 16),
    before      BLOB NOT NULL CHECK (length(before) = 16)
) STRICT;
INSERT INTO epoch VALUES (1, randomblob(16), zeroblob(16));
"""

# Version 4: against whom. A slot may name the slot that it meets. `rep_slot` has who was in the slots when a
# rep began, `stood` what was put right of that since; the last word on a slot has the highest number.
WHO_MEETS_WHOM = """
ALTER TABLE slot ADD COLUMN against TEXT;

CREATE TABLE stood (
    rep         BLOB NOT NULL REFERENCES rep (id),
    slot        TEXT NOT NULL,
    nth         INTEGER NOT NULL,       -- of the change of the line
    player      BLOB REFERENCES player (id),    -- NULL for nobody
    PRIMARY KEY (rep, slot, nth)
) STRICT, WITHOUT ROWID;
"""

# Version 5: tallies that are put right, corrections that are taken back or count again, and comments: all
# of it only grows. What is in force follows from it whenever tallies are read: no order of arrival matters.
TALLY_CORRECTIONS = """
CREATE TABLE tally_correction (
    nth         INTEGER NOT NULL,       -- from 1 in the file; a later one has a higher number
    tablet      TEXT NOT NULL,
    practice    TEXT NOT NULL REFERENCES practice (key),
    change      TEXT NOT NULL CHECK (change IN
                ('player', 'skill', 'outcome', 'step', 'pressure', 'practice', 'aside')),
    becomes     TEXT NOT NULL,
    at          INTEGER NOT NULL,
    PRIMARY KEY (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE corrected_tally (          -- it may still be on its way from another tablet
    tally       BLOB NOT NULL,
    nth         INTEGER NOT NULL,       -- of the correction
    tablet      TEXT NOT NULL,
    was         TEXT NOT NULL,
    PRIMARY KEY (tally, nth, tablet),
    FOREIGN KEY (nth, tablet) REFERENCES tally_correction (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE correction_force (         -- the last word on a correction, which is in force without any
    nth         INTEGER NOT NULL,       -- from 1 in the file
    tablet      TEXT NOT NULL,
    correction  INTEGER NOT NULL,
    made_on     TEXT NOT NULL,          -- the tablet of the correction
    in_force    INTEGER NOT NULL CHECK (in_force IN (0, 1)),
    at          INTEGER NOT NULL,
    PRIMARY KEY (nth, tablet),
    FOREIGN KEY (correction, made_on) REFERENCES tally_correction (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE practice_comment (         -- of which the last one is in force
    nth         INTEGER NOT NULL,       -- from 1 in the file
    tablet      TEXT NOT NULL,
    practice    TEXT NOT NULL REFERENCES practice (key),
    words       TEXT NOT NULL,
    at          INTEGER NOT NULL,
    PRIMARY KEY (nth, tablet)
) STRICT, WITHOUT ROWID;
"""

_VERSIONS = (
    (SEASON_TABLES,),
    (LINE_TABLES,),
    (WRITTEN_ORDER, SLOTS_OF_TALLIES, CORRECTIONS, EPOCH),
    (WHO_MEETS_WHOM,),
    (TALLY_CORRECTIONS, ROSTER_CHANGES, CATALOGUE_CHANGES),
    (PLANS, AWAY_UNTIL),
    (PLAYS_BOTH,),
    (PRACTICE_PLANS,),
    (FAMILY_NOTES,),
    (MEETINGS,),
    (WISHES_AND_CONTACT,),
    (PACKS,),
    (LOANS,),
    (SEASON_FACTS, PLAYER_COMMENTS, LAST_LOOK, VIEWS),
)


def scripts(version: int) -> list[str]:
    """Return the statements that make a season file of a version, from the first one on."""
    return [text for each in range(1, version + 1) for text in statements(each)]


def statements(version: int) -> list[str]:
    """Return the statements that make a file of one version less into one of this version."""
    # executescript() would commit first, and so break the transaction
    lines = (line.split("--")[0] for script in _VERSIONS[version - 1] for line in script.splitlines())
    return [text for text in "\n".join(lines).split(";") if text.strip()]
