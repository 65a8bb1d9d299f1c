"""How many tallies each practice has, and how many of them are tries that count."""

import sqlite3
from collections import defaultdict
from uuid import UUID

from evaltrack.rink.tally import Outcome, Tally
from evaltrack.rink.tally_sum import TallySum, total
from evaltrack.store import sound
from evaltrack.store.as_they_stand import put_right
from evaltrack.store.connection import reading
from evaltrack.store.tally_rows import NOT_WITHDRAWN

_KIND = (
    "CASE WHEN t.outcome = 'unseen' THEN 'unseen'"
    " WHEN s.version IS NOT t.skill_version OR s.retired THEN 'earlier'"
    # in a season that was closed nobody has a name, and all that is left is the team's
    " WHEN p.status = 'left' AND EXISTS (SELECT 1 FROM player n WHERE n.name <> '') THEN 'left'"
    " ELSE 'tries' END"
)
_FROM = (
    "FROM tally t LEFT JOIN skill s ON s.key = t.skill LEFT JOIN player p ON p.id = t.player"
    f" WHERE {NOT_WITHDRAWN}"
)


class TallySums:
    """Counts tallies as they stand: none that was withdrawn or set aside by itself."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    @reading()
    def by_practice(self) -> dict[str, TallySum]:
        """Return the sums of each practice that has a tally, by its key; also of one that was set aside."""
        return self._counted()

    @reading()
    def of_season(self, player: UUID | None = None) -> TallySum:
        """Return the sum over all practices that count, of one player or of all."""
        aside = {key for (key,) in self._connection.execute("SELECT key FROM practice WHERE aside")}
        return total(one for key, one in self._counted(player).items() if key not in aside)

    def _counted(self, player: UUID | None = None) -> dict[str, TallySum]:
        found: dict[str, dict[str, int]] = defaultdict(lambda: defaultdict(int))
        with put_right(self._connection) as others:
            whose = " AND t.player = ?1" if player else ""
            rows = self._connection.execute(
                f"SELECT t.practice, {_KIND} AS kind, count(*) {_FROM} AND {others.left_out}{whose}"
                " GROUP BY t.practice, kind",
                (player.bytes,) if player else (),
            )
            for key, kind, count in rows:
                found[sound.key(key, "the practice of a tally")][kind] += count
            corrected = [tally for tally in others.tallies() if player in (None, tally.player)]
            versions, left = self._in_force() if corrected else ({}, set())
            for tally in corrected:
                found[tally.practice][_kind(tally, versions, left)] += 1
        return {key: TallySum(**counts) for key, counts in found.items()}

    def _in_force(self) -> tuple[dict[str, int], set[bytes]]:
        """Return the versions of the skills in use, and who has left."""
        versions = self._connection.execute("SELECT key, version FROM skill WHERE NOT retired")
        left = self._connection.execute("SELECT id FROM player WHERE status = 'left'")
        return dict(versions), {raw for (raw,) in left}


def _kind(tally: Tally, versions: dict[str, int], left: set[bytes]) -> str:
    if tally.outcome is Outcome.UNSEEN:
        return "unseen"
    if versions.get(tally.skill) != tally.skill_version:
        return "earlier"
    return "left" if tally.player.bytes in left else "tries"
