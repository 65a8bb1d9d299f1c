"""Views for people who open a season file with any SQLite browser, and the standings of the last look.

Nothing of evaltrack reads them; they say in plain words what its tables mean. What counts is worked out as
the app does: tallies as they were put right, none that was withdrawn or set aside.
"""

# The standings that a screen or a command showed last. It is worked out, and may be thrown away.
LAST_LOOK = """
CREATE TABLE last_look (
    player      BLOB NOT NULL REFERENCES player (id),
    skill       TEXT NOT NULL REFERENCES skill (key),
    tries       INTEGER NOT NULL,
    done        INTEGER NOT NULL,
    practices   INTEGER NOT NULL,
    share       REAL,                   -- NULL where the model could not tell
    low         REAL,
    high        REAL,
    call        TEXT NOT NULL,
    trend       TEXT NOT NULL,
    up_to       TEXT NOT NULL,          -- the last practice day that is in it
    at          INTEGER NOT NULL,       -- moment of the look
    PRIMARY KEY (player, skill)
) STRICT, WITHOUT ROWID;
"""

_WORD = (
    "(SELECT c.becomes FROM correction_in_force c WHERE c.tally = t.id AND c.change = '{}'"
    " ORDER BY c.nth DESC, c.tablet DESC LIMIT 1)"
)
_PLAYER, _SKILL, _OUTCOME, _STEP, _PRESSURE, _PRACTICE, _ASIDE = (
    _WORD.format(change) for change in ("player", "skill", "outcome", "step", "pressure", "practice", "aside")
)

VIEWS = f"""
CREATE VIEW correction_in_force AS
SELECT w.tally, c.nth, c.tablet, c.change, c.becomes
FROM corrected_tally w
JOIN tally_correction c ON c.nth = w.nth AND c.tablet = w.tablet
WHERE coalesce((SELECT f.in_force FROM correction_force f
    WHERE f.correction = c.nth AND f.made_on = c.tablet ORDER BY f.nth DESC, f.tablet DESC LIMIT 1), 1) = 1;

CREATE VIEW tally_as_it_stands AS
SELECT lower(hex(t.id)) AS id,
    coalesce({_PRACTICE}, t.practice) AS practice,
    coalesce({_PLAYER}, lower(hex(t.player))) AS player,
    coalesce({_SKILL}, t.skill || ' ' || t.skill_version) AS skill_and_version,
    coalesce({_OUTCOME}, t.outcome) AS outcome,
    CASE coalesce({_PRESSURE}, t.pressure) WHEN '1' THEN 'yes' WHEN 'yes' THEN 'yes'
        WHEN '0' THEN 'no' WHEN 'no' THEN 'no' END AS pressure,
    coalesce({_STEP}, t.drill || ' ' || t.step) AS drill_and_step,
    t.observer, t.tablet, t.at
FROM tally t
WHERE NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.tally = t.id)
    AND coalesce({_ASIDE}, 'no') <> 'yes';

CREATE VIEW readable_tallies AS
SELECT p.held_on AS date, t.practice, y.number AS player_number, y.name AS player_name,
    s.name AS skill, t.outcome, t.pressure, d.name AS drill, e.name AS step, t.observer,
    CASE WHEN t.tablet = 'file' AND t.at % 86400000 = 43200000 THEN NULL
        ELSE strftime('%Y-%m-%d %H:%M:%S', t.at / 1000, 'unixepoch') END AS time_utc,
    s.key AS skill_key, y.position,
    CASE WHEN t.skill_and_version = s.key || ' ' || s.version THEN 'yes' ELSE 'no' END AS in_force,
    t.id AS tally_id, t.player AS player_id
FROM tally_as_it_stands t
JOIN practice p ON p.key = t.practice AND NOT p.aside
JOIN player y ON lower(hex(y.id)) = t.player
JOIN skill s ON s.key = substr(t.skill_and_version, 1, instr(t.skill_and_version, ' ') - 1)
JOIN drill d ON d.key = substr(t.drill_and_step, 1, instr(t.drill_and_step, ' ') - 1)
JOIN step e ON e.drill = d.key AND e.key = substr(t.drill_and_step, instr(t.drill_and_step, ' ') + 1);

CREATE VIEW readable_cells AS
SELECT player_number, player_name, position, skill,
    sum(outcome = 'done') AS done, sum(outcome <> 'unseen') AS tries,
    sum(outcome = 'unseen') AS unseen, count(DISTINCT practice) AS practices,
    min(date) AS first_date, max(date) AS last_date, skill_key, player_id
FROM readable_tallies
WHERE in_force = 'yes'
GROUP BY player_id, skill_key;

CREATE VIEW readable_attendance AS
SELECT p.held_on AS date, p.key AS practice, y.number AS player_number, y.name AS player_name,
    CASE WHEN n.seen IS NOT NULL OR a.here AND NOT EXISTS (SELECT 1 FROM corrected_tally c
        JOIN tally t ON t.id = c.tally
        WHERE t.practice = a.practice AND t.player = a.player AND t.at = a.at)
        THEN 'yes' ELSE 'no' END AS was_there,
    lower(hex(y.id)) AS player_id
FROM practice p
JOIN player y ON y.name <> ''
LEFT JOIN attendance a ON a.practice = p.key AND a.player = y.id
LEFT JOIN (SELECT DISTINCT practice, player, 1 AS seen FROM tally_as_it_stands) n
    ON n.practice = p.key AND n.player = lower(hex(y.id))
WHERE a.player IS NOT NULL OR n.seen IS NOT NULL;

CREATE VIEW readable_practices AS
SELECT p.held_on AS date, p.key AS practice, p.surface,
    CASE p.aside WHEN 1 THEN 'yes' ELSE 'no' END AS set_aside,
    (SELECT count(*) FROM readable_attendance a WHERE a.practice = p.key AND a.was_there = 'yes') AS players,
    count(t.id) AS tallies, coalesce(sum(t.outcome <> 'unseen'), 0) AS seen,
    coalesce(sum(t.outcome = 'done'), 0) AS done,
    group_concat(DISTINCT t.observer) AS observers,
    (SELECT nullif(c.words, '') FROM practice_comment c WHERE c.practice = p.key
        ORDER BY c.nth DESC, c.tablet DESC LIMIT 1) AS comment
FROM practice p
LEFT JOIN tally_as_it_stands t ON t.practice = p.key
GROUP BY p.key;

CREATE VIEW readable_standings AS
SELECT y.number AS player_number, y.name AS player_name, y.position, s.name AS skill,
    l.done, l.tries, l.practices, l.share, l.low, l.high, l.call, l.trend, l.up_to AS counted_up_to,
    strftime('%Y-%m-%d %H:%M:%S', l.at / 1000, 'unixepoch') AS looked_at_utc,
    s.key AS skill_key, lower(hex(y.id)) AS player_id
FROM last_look l
JOIN player y ON y.id = l.player
JOIN skill s ON s.key = l.skill;
"""
