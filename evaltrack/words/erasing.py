"""What an erasure took out, what still holds the name, and what to tell whoever has a copy."""

from collections.abc import Iterable

from evaltrack.words.wording import counted

CANNOT_BE_UNDONE = "This cannot be undone: there is no way to bring the player back."
REHEARSED = "Nothing was erased. Say --yes to erase."
TELL_OTHERS = (
    "Tell whoever has a copy. On each other tablet of this season join a pack of this one, and erase the"
    " player there too. Ask those who have notes, printed pages, packs or backups to delete them."
)
DEVICE = "On a flash disk deleted bytes may lie in places that no program reaches: lock the device itself."
_HEAD = {True: "{who} would be erased:", False: "{who} is erased:"}
_TALLIES = "{} of theirs, for good"
_KEPT = "the name and the number of {}, which stay in the figures of the team as nobody's"
_GIVEN_BACK = "their part in {} that were noted for them by mistake, and are the others'"
_OTHER = "{}: presence, changes of the roster, reps, plans"
_STRUCK_OUT = "the name in {} that the staff wrote, where it is struck out"
_HOLDS = "{path}, of {day}, has the name in it: delete it, or take the name out"
_MAY_HOLD = "{path}, of {day}, may have the name in it: look, and delete it if so"
_DELETED = "{path}, of {day}, was deleted"
_WOULD_DELETE = "{path}, of {day}, would be deleted"
_ELSEWHERE = "{path} is a copy, written on {day}, with the name in it: delete it, wherever it is now"
_STUCK = "{path} has the name in it and cannot be deleted: delete it yourself"
_USUAL = "The word {word} was not looked for by itself: others have it too, or it is a word of the game."


def taken_out_lines(who: str, erasure, rehearsed: bool) -> list[str]:
    """Return what went out of the season file, or would go."""
    settled, struck = erasure.taken_out.settled, sum(erasure.taken_out.struck.values())
    other = sum(erasure.taken_out.rows.values())
    lines = [_HEAD[rehearsed].format(who=who)]
    counts = [
        (_TALLIES, settled.gone, "tally", "tallies"),
        (_KEPT, settled.kept, "tally", "tallies"),
        (_GIVEN_BACK, settled.given_back, "tally", "tallies"),
        (_OTHER, other, "further entry", "further entries"),
        (_STRUCK_OUT, struck, "text", "texts"),
    ]
    lines += [f"  {text.format(counted(n, *words))}" for text, n, *words in counts if n]
    return lines + [_USUAL.format(word=word) for word in erasure.names.passed_over]


def elsewhere_lines(copies: Iterable) -> list[str]:
    """Return which backups were written to places of somebody's choice."""
    return [_ELSEWHERE.format(path=one.path, day=one.day) for one in copies]


def file_lines(files: Iterable, deleted: Iterable, stuck: Iterable, rehearsed: bool) -> list[str]:
    """Return which files went, and which ones that the app knows of hold the name or may hold it."""
    went = _WOULD_DELETE if rehearsed else _DELETED
    lines = [went.format(path=path, day=day) for path, day in deleted]
    lines += [_STUCK.format(path=path) for path in stuck]
    return lines + [
        (_HOLDS if one.surely else _MAY_HOLD).format(path=one.path, day=one.day.isoformat()) for one in files
    ]


def receipt_lines(who: str, receipt, rehearsed: bool) -> list[str]:
    """Return all that an erasure did, or would do, and what to do about what is still out.

    Parameters
    ----------
    receipt : a `Receipt` of `store.erased_on_tablet`.
    """
    lines = taken_out_lines(who, receipt.erasure, rehearsed)
    lines += [] if rehearsed else [f"{path} was deleted" for path in receipt.erasure.copies]
    lines += elsewhere_lines(receipt.elsewhere)
    lines += file_lines(receipt.files, receipt.deleted, receipt.stuck, rehearsed)
    return [*lines, TELL_OTHERS, DEVICE, CANNOT_BE_UNDONE]
