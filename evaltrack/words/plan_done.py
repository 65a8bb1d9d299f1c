"""What was planned beside what was done: told by the tallies, since what nobody noted is not known."""

from collections import Counter
from collections.abc import Sequence

from evaltrack.language import tr
from evaltrack.rink.plan_card import PlanCard
from evaltrack.rink.tally import Tally
from evaltrack.words.plan_card import place_words, step_words
from evaltrack.words.planning import PlanNames
from evaltrack.words.wording import counted


def done_lines(card: PlanCard, tallies: Sequence[Tally], names: PlanNames) -> list[str]:
    """Return a line for each block of a plan that has a step, then one for each step that was not planned.

    Parameters
    ----------
    tallies : those of the practice that was started from the plan.
    """
    lines = [
        tr(
            "{place}  {step}: {done}",
            place=place_words(card, at),
            step=_named(card, at, names),
            done=_done(card, at, tallies, names),
        )
        for at, block in enumerate(card.blocks)
        if block.drill
    ]
    planned = {(block.drill, block.step) for block in card.blocks} | set(card.starts)
    others = Counter((one.drill, one.step) for one in tallies if (one.drill, one.step) not in planned)
    return lines + [
        tr("Not planned  {step}: {tallies}", step=step_words(*key, names), tallies=_tallies(count))
        for key, count in others.items()
    ]


def _named(card: PlanCard, at: int, names: PlanNames) -> str:
    return step_words(card.blocks[at].drill, card.blocks[at].step, names)


def _done(card: PlanCard, at: int, tallies: Sequence[Tally], names: PlanNames) -> str:
    block = card.blocks[at]
    noted = [one for one in tallies if (one.drill, one.step) == (block.drill, block.step)]
    if not noted:
        return tr("nothing was noted in it")
    said = _tallies(len(noted))
    if not block.watch:
        return said
    watched = [one for one in noted if one.skill == block.watch]
    first = {look.player for look in card.looks if look.block == at}
    seen = len(first & {one.player for one in watched})
    told = tr(
        "{tallies}, {number} in {skill}",
        tallies=said,
        number=len(watched),
        skill=names.skills.get(block.watch, block.watch),
    )
    if not first:
        return told
    return tr("{noted}; seen {seen} of {of} to look at first", noted=told, seen=seen, of=len(first))


def _tallies(count: int) -> str:
    return counted(count, "tally", "tallies")
