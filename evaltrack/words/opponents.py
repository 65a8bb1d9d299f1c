"""Against whom a player's tries were, in one sentence for the staff: it names other players by number."""

from evaltrack.analysis.standings.standing import Standing
from evaltrack.language import tr

MOST = 6  # opponents that are named


def met_words(standing: Standing) -> str:
    """Return against whom the tries were, most tries first; empty where nobody is known."""
    if not standing.met:
        return ""
    named, others = standing.met[:MOST], standing.met[MOST:]
    parts = [
        tr("{opponent} in {tries} ({done} done)", opponent=one.opponent, tries=one.tries, done=one.done)
        for one in named
    ]
    if others:
        tries, done = sum(one.tries for one in others), sum(one.done for one in others)
        parts.append(tr("{others} more in {tries} ({done} done)", others=len(others), tries=tries, done=done))
    unknown = standing.tries - sum(one.tries for one in standing.met)
    if unknown:
        parts.append(tr("not known in {tries}", tries=unknown))
    return tr("Met by rep: {opponents}", opponents=", ".join(parts))
