"""What an erasure took out, what still holds the name, and what to tell whoever has a copy."""

from collections.abc import Iterable

from evaltrack.words.wording import counted

CANNOT_BE_UNDONE = "This cannot be undone: there is no way to bring the player back."
REHEARSED = "Nothing was erased. Say --yes to erase."
TELL_OTHERS = (
    "Tell whoever has a copy: the other tablets of this season join a pack of this one and then erase the"
    " player too; ask those who have notes, printed pages, packs or backups to delete them."
)
DEVICE = "On a flash disk deleted bytes may lie in places that no program reaches: lock the device itself."
_HOLDS = "{path}, of {day}, has the name in it: delete it, or take the name out"
_MAY_HOLD = "{path}, of {day}, may have the name in it: look, and delete it if so"
_DELETED = "{path}, of {day}, was deleted"
_WOULD_DELETE = "{path}, of {day}, would be deleted"
_STUCK = "{path} has the name in it and cannot be deleted: delete it yourself"
_USUAL = "The word {word} was not looked for by itself: others have it too, or it is a word of the game."


def taken_out_lines(who: str, erasure, rehearsed: bool) -> list[str]:
    """Return what went out of the season file, or would go."""
    settled, rows = erasure.taken_out.settled, erasure.taken_out.rows
    head = f"{who} would be erased" if rehearsed else f"{who} is erased"
    tallies = f"  {counted(settled.gone, 'tally', 'tallies')} of theirs go"
    if settled.kept:
        tallies += f"; {counted(settled.kept, 'tally', 'tallies')} stay in the figures of the team, of nobody"
    lines = [head, tallies if rehearsed else tallies.replace(" go", " are gone", 1)]
    if settled.given_back:
        lines.append(f"  {counted(settled.given_back, 'tally', 'tallies')} noted for them by mistake are the"
                     " others' for good")  # fmt: skip
    other = sum(rows.values())
    lines.append(f"  {counted(other, 'further entry', 'further entries')}: presence, changes, reps, plans")
    struck = sum(erasure.taken_out.struck.values())
    lines.append(f"  {counted(struck, 'text')} of the staff with the name in it: the name is struck out")
    return lines + [_USUAL.format(word=word) for word in erasure.names.passed_over]


def file_lines(files: Iterable, deleted: Iterable, stuck: Iterable, rehearsed: bool) -> list[str]:
    """Return which files went, and which ones that the app knows of hold the name or may hold it."""
    went = _WOULD_DELETE if rehearsed else _DELETED
    lines = [went.format(path=path, day=day) for path, day in deleted]
    lines += [_STUCK.format(path=path) for path in stuck]
    return lines + [
        (_HOLDS if one.surely else _MAY_HOLD).format(path=one.path, day=one.day.isoformat()) for one in files
    ]
