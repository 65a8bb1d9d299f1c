"""Against whom a player's tries were, in one sentence for the staff: it names other players by number."""

from evaltrack.analysis.standings.standing import Standing

MOST = 6  # opponents that are named


def met_words(standing: Standing) -> str:
    """Return against whom the tries were, most tries first; empty where nobody is known."""
    if not standing.met:
        return ""
    named, others = standing.met[:MOST], standing.met[MOST:]
    parts = [f"{one.opponent} in {one.tries} ({one.done} done)" for one in named]
    if others:
        tries, done = sum(one.tries for one in others), sum(one.done for one in others)
        parts.append(f"{len(others)} more in {tries} ({done} done)")
    unknown = standing.tries - sum(one.tries for one in standing.met)
    if unknown:
        parts.append(f"not known in {unknown}")
    return f"Met by rep: {', '.join(parts)}"
