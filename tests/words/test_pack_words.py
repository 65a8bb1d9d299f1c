"""What packs hold and joins bring, in sentences: every field has its own."""

from collections import Counter
from uuid import UUID

import pytest

from evaltrack.rink.days import long_date
from evaltrack.store.edits import KINDS, SLOTS
from evaltrack.store.packs.joined import Joined, Lost
from evaltrack.store.packs.merge_rules import FACTS
from evaltrack.words.packs import FIELDS, content_words, joined_lines, lost_lines

ODA = UUID(int=10)
NAMES = {ODA: "12 Oda Marsh"}
NOON = 1_762_945_200_000
DAY = 24 * 60 * 60 * 1000
NEVER_TOLD = {  # what contradicts nobody
    ("practice", "ended_at"), ("practice", "started_at"), ("practice", "surface"), ("definition", "since"),
    ("attendance", "place"),
}  # fmt: skip


def test_every_field_has_a_sentence_of_its_own():
    """A further field, or a further kind of which the last one counts, needs one."""
    fields = {(kind.table, field.name) for kind in KINDS.values() for field in kind.fields}
    fields |= {("step", SLOTS.name)} | {(table, "") for table, rule in FACTS.items() if rule.about}
    assert fields - NEVER_TOLD == FIELDS.keys()


@pytest.mark.parametrize(
    ("counts", "words"),
    [
        ({}, "nothing"),
        ({"definition": 16, "begun": 3, "observer": 2, "edit": 0}, "nothing"),
        ({"tally": 1}, "1 tally"),
        ({"tally": 5506, "withdrawal": 2}, "5,506 tallies and 2 tallies taken back"),
        ({"tally": 3, "practice_plan": 1, "station": 4, "stood": 1}, "3 tallies, 1 plan and 5 other facts"),
    ],
)
def test_what_a_pack_holds(counts, words):
    """What goes along with all else is not counted."""
    assert content_words(counts) == words


@pytest.mark.parametrize(
    ("lost", "words"),
    [
        (
            Lost("player", (ODA.hex,), "number", ("19",), "one", NOON, ("21",), "two"),
            "the number of 12 Oda Marsh: 19, of {at} on the tablet one, lost against 21 of the tablet two",
        ),
        (
            Lost("player", (ODA.hex,), "status", ("away", "2026-01-20"), "one", NOON),
            "the status of 12 Oda Marsh: away/2026-01-20, of {at} on the tablet one",
        ),
        (
            Lost("attendance", ("2025-11-12", ODA.hex), "here", (1, NOON), "", NOON, (0, NOON), "two"),
            "whether 12 Oda Marsh was at the practice 2025-11-12: yes, of {at} on the tablet of no name, "
            "lost against no of the tablet two",
        ),
        (
            Lost("skill", ("stop",), "retired", (1,), "one", NOON, (0,), "two"),
            "whether the skill stop is in use: no, of {at} on the tablet one, "
            "lost against yes of the tablet two",
        ),
        (
            Lost("step", ("wall_work", "free"), "slots", (["wall_f"],), "one", NOON, ([],), "two"),
            "the slots of the step free of the drill wall_work: a change of {at} on the tablet one",
        ),
        (
            Lost(
                "practice_comment", ("2025-11-12",), "", (1, "one", "2025-11-12", "Soft ice.", 1), "one", NOON
            ),
            'the comment on the practice 2025-11-12: "Soft ice.", of {at} on the tablet one',
        ),
    ],
)
def test_what_lost(lost, words):
    """Of what, what it was, where and when it was made, and what counts."""
    from datetime import datetime

    at = datetime.fromtimestamp(NOON / 1000)
    assert lost_lines([lost], NAMES) == [words.format(at=f"{long_date(at.date())}, {at:%H:%M}")]


def test_a_long_value_is_shortened():
    """A sentence stays one that can be read."""
    lost = Lost("skill", ("stop",), "looks_like", ("x" * 900,), "one", NOON)
    assert len(lost_lines([lost], NAMES)[0]) < 160


def test_what_is_to_be_looked_at():
    """Each thing in its own sentence."""
    joined = Joined(
        Counter(tally=2),
        ahead={"one": 3 * DAY + 5},
        clashes=Counter(station=1),
        doubled=[("12", "7")],
        renamed={"2025-11-12": "2025-11-12.2"},
        practices=1,
        erased=[ODA],
    )
    lines = joined_lines(joined, NAMES)
    assert lines[:3] == [
        "brought: 2 tallies",
        "new: 1 practice",
        "the practice 2025-11-12 has the key 2025-11-12.2 now",
    ]
    assert [word for word in ("number 12", "3 days ahead", "tablet.json", "12 Oda Marsh was erased")
            if word not in "\n".join(lines)] == []  # fmt: skip
    assert joined_lines(Joined(), NAMES, rehearsed=True) == ["would bring: nothing new"]
