"""What an erasure took out, what still holds the name, and what to tell whoever has a copy."""

from collections.abc import Iterable

from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.days import in_full
from evaltrack.words.backups import day_words

CANNOT_BE_UNDONE = mark("This cannot be undone: there is no way to bring the player back.")
REHEARSED = mark("Nothing was erased. Say --yes to erase.")
TELL_OTHERS = mark(
    "Tell whoever has a copy. On each other tablet of this season join a pack of this one, and erase the"
    " player there too. Ask those who have notes, printed pages, packs or backups to delete them."
)
DEVICE = mark(
    "On a flash disk deleted bytes may lie in places that no program reaches: lock the device itself."
)
NO_BACKUP = mark("No backup of the season as it is now could be kept, so make one yourself: {why}")
_HEAD = {True: mark("{who} would be erased:"), False: mark("{who} is erased:")}
_HOLDS = mark("{path}, of {day}, has the name in it: delete it, or take the name out")
_MAY_HOLD = mark("{path}, of {day}, may have the name in it: look, and delete it if so")
_DELETED = mark("{path}, of {day}, was deleted")
_GONE = mark("{path} was deleted")
_WOULD_DELETE = mark("{path}, of {day}, would be deleted")
_ELSEWHERE = mark("{path} is a copy, written on {day}, with the name in it: delete it, wherever it is now")
_PAGES = mark(
    "Pages or tables were written into {path} on {day}, and may have the name: delete them, wherever they are"
)
_PRINTED = mark("A page of the family was printed on {day}: ask for it.")
_STUCK = mark("{path} has the name in it and cannot be deleted: delete it yourself")
_USUAL = mark(
    "The word {word} was not looked for by itself: others have it too, or it is a word of the game."
)


def taken_out_lines(who: str, erasure, rehearsed: bool) -> list[str]:
    """Return what went out of the season file, or would go."""
    settled, struck = erasure.taken_out.settled, sum(erasure.taken_out.struck.values())
    other = sum(erasure.taken_out.rows.values())
    lines = [tr(_HEAD[rehearsed], who=who)]
    counts = [
        (_tallies, settled.gone),
        (_kept, settled.kept),
        (_given_back, settled.given_back),
        (_other, other),
        (_struck_out, struck),
    ]
    lines += [f"  {said(number)}" for said, number in counts if number]
    return lines + [tr(_USUAL, word=word) for word in erasure.names.passed_over]


def _tallies(number: int) -> str:
    return tr_many("{number} tally of theirs, for good", "{number} tallies of theirs, for good", number)


def _kept(number: int) -> str:
    return tr_many(
        "the name and the number of {number} tally, which stay in the figures of the team as nobody's",
        "the name and the number of {number} tallies, which stay in the figures of the team as nobody's",
        number,
    )


def _given_back(number: int) -> str:
    return tr_many(
        "their part in {number} tally that were noted for them by mistake, and are the others'",
        "their part in {number} tallies that were noted for them by mistake, and are the others'",
        number,
    )


def _other(number: int) -> str:
    return tr_many(
        "{number} further entry: presence, changes of the roster, reps, plans",
        "{number} further entries: presence, changes of the roster, reps, plans",
        number,
    )


def _struck_out(number: int) -> str:
    return tr_many(
        "the name in {number} text that the staff wrote, where it is struck out",
        "the name in {number} texts that the staff wrote, where it is struck out",
        number,
    )


def elsewhere_lines(copies: Iterable) -> list[str]:
    """Return what was written to places of somebody's choice: copies of the season, pages, tables."""
    return [
        tr(_PAGES if one.pages else _ELSEWHERE, path=one.path, day=day_words(str(one.day))) for one in copies
    ]


def file_lines(files: Iterable, deleted: Iterable, stuck: Iterable, rehearsed: bool) -> list[str]:
    """Return which files went, and which ones that the app knows of hold the name or may hold it."""
    went = _WOULD_DELETE if rehearsed else _DELETED
    lines = [tr(went, path=path, day=in_full(day)) for path, day in deleted]
    lines += [tr(_STUCK, path=path) for path in stuck]
    return lines + [
        tr(_HOLDS if one.surely else _MAY_HOLD, path=one.path, day=in_full(one.day)) for one in files
    ]


def receipt_lines(who: str, receipt, rehearsed: bool) -> list[str]:
    """Return all that an erasure did, or would do, and what to do about what is still out.

    Parameters
    ----------
    receipt : a `Receipt` of `store.erased_on_tablet`.
    """
    lines = taken_out_lines(who, receipt.erasure, rehearsed)
    lines += [] if rehearsed else [tr(_GONE, path=path) for path in receipt.erasure.copies]
    lines += elsewhere_lines(receipt.elsewhere)
    lines += file_lines(receipt.files, receipt.deleted, receipt.stuck, rehearsed)
    lines += [tr(_PRINTED, day=in_full(day)) for day in receipt.printed]
    lines += [tr(NO_BACKUP, why=receipt.no_backup)] if receipt.no_backup else []
    return [*lines, *map(tr, (TELL_OTHERS, DEVICE, CANNOT_BE_UNDONE))]
