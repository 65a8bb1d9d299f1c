"""The paper twin of the board by rep, as plain data: the slots of a step as rows, its reps as columns.

Lengths are in millimetres. The template decides nothing but the type.
"""

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass

from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.paper.clipboard.occasion import Occasion, Paper
from evaltrack.rink.drill import Slot
from evaltrack.rink.player import Player
from evaltrack.rink.rotation.rotation import Rotation
from evaltrack.rink.skill import Skill

PAGES = 2  # of reps: a continuous drill has some twenty in ten minutes
COLUMN_HEAD = 5.5
_SLOT_WIDTH = 44.0
_REP_WIDTH = 19.0  # room for three boxes
_WHO = 1.25  # the height of the line for who, in those of a skill
_LOWEST, _HIGHEST = 4.4, 9.6  # the line of a skill

HOW_TO_MARK = mark(
    "Tick the ring for missed or the check for done, and P as well when it was under "
    "pressure. The numbers are those whose turn it is while the line runs as it stands now: "
    "strike out a wrong one and write who it was."
)


@dataclass(frozen=True, slots=True)
class SlotRow:
    """One slot: what is watched there, and the jersey number of whose turn it is in each rep, or nothing."""

    name: str
    skills: tuple[str, ...]
    numbers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RepSheet:
    """One page: some slots of the step in some of its reps.

    ``first`` is the number of the first rep; ``line`` the height of a skill's line, ``who`` that of the
    line above it; ``slot`` and ``rep`` are the widths of the columns.
    """

    paper: Paper
    occasion: Occasion
    first: int
    rows: tuple[SlotRow, ...]
    skills: tuple[Skill, ...]
    line: float
    who: float
    slot: float
    rep: float


def make_reps(
    occasion: Occasion, skills: Iterable[Skill], present: Sequence[Player], paper: Paper
) -> list[RepSheet]:
    """Return the pages of one step: some twenty reps on two, on more where its slots do not fit on one.

    Parameters
    ----------
    skills : those to watch; the slots' others are left out.
    present : in the order in which they line up for the first rep.

    Raises
    ------
    EvaltrackError : the step has no slot.
    """
    wanted = {skill.key: skill for skill in skills}
    slots = [slot for slot in occasion.step.slots if any(key in wanted for key in slot.skills)]
    if not slots:
        raise EvaltrackError(
            tr('the step "{step}" has no slot for these skills; print the group', step=occasion.step.name)
        )
    reps = int((paper.board.width - _SLOT_WIDTH) / _REP_WIDTH)
    turns = _turns(occasion, present, PAGES * reps)
    return [
        _page(occasion, part, wanted, turns, range(start, start + reps), paper)
        for start in range(0, PAGES * reps, reps)
        for part in _parts(slots, wanted, paper.board.height - COLUMN_HEAD)
    ]


def _turns(occasion: Occasion, present: Sequence[Player], reps: int) -> list[dict[str, str]]:
    """Return for each rep the number of whose turn it is, by slot key."""
    numbers = {player.id: player.number for player in present}
    rotation, turns = Rotation.first(occasion.step, present), []
    for _ in range(reps):
        turns.append({slot: numbers[player] for slot, player in rotation.slots.items()})
        rotation = rotation.next_rep()
    return turns


def _parts(slots: Sequence[Slot], wanted: dict[str, Skill], height: float) -> list[list[Slot]]:
    """Return the slots in parts that are low enough for a page."""
    parts: list[list[Slot]] = [[]]
    for slot in slots:
        if parts[-1] and _lines([*parts[-1], slot], wanted) * _LOWEST > height:
            parts.append([])
        parts[-1].append(slot)
    return parts


def _lines(slots: Iterable[Slot], wanted: dict[str, Skill]) -> float:
    """Return how high slots are, in lines of a skill."""
    return sum(_WHO + sum(key in wanted for key in slot.skills) for slot in slots)


def _page(
    occasion: Occasion,
    slots: Sequence[Slot],
    wanted: dict[str, Skill],
    turns: Sequence[dict[str, str]],
    reps: range,
    paper: Paper,
) -> RepSheet:
    line = min((paper.board.height - COLUMN_HEAD) / _lines(slots, wanted), _HIGHEST)
    keys = dict.fromkeys(key for slot in slots for key in slot.skills if key in wanted)
    rows = tuple(
        SlotRow(
            slot.name,
            tuple(wanted[key].name for key in slot.skills if key in wanted),
            tuple(turns[rep].get(slot.key, "") for rep in reps),
        )
        for slot in slots
    )
    return RepSheet(
        paper=paper,
        occasion=occasion,
        first=reps.start + 1,
        rows=rows,
        skills=tuple(wanted[key] for key in keys),
        line=line,
        who=_WHO * line,
        slot=_SLOT_WIDTH,
        rep=(paper.board.width - _SLOT_WIDTH) / len(reps),
    )


def rep_words(sheets: Sequence[RepSheet]) -> dict:
    """Return the pages of one file as the template takes them."""
    first = sheets[0]
    pages = [_page_words(sheet, number, len(sheets)) for number, sheet in enumerate(sheets, start=1)]
    return first.occasion.words(first.paper, tr("By rep")) | {
        "marking": tr(HOW_TO_MARK),
        "column_head": COLUMN_HEAD,
        "pages": pages,
    }


def _page_words(sheet: RepSheet, number: int, pages: int) -> dict:
    return sheet.occasion.page_words(number, pages) | {
        "name": sheet.occasion.step.name,
        "caption": tr("rep by rep: ring for missed, check for done, P under pressure"),
        "skills": [
            {"lead": tr("{skill}:", skill=skill.name), "text": skill.caption} for skill in sheet.skills
        ],
        "rows": [asdict(row) for row in sheet.rows],
        "heads": [tr("rep {number}", number=sheet.first + i) for i in range(len(sheet.rows[0].numbers))],
        **{name: getattr(sheet, name) for name in ("line", "who", "slot", "rep")},
    }
