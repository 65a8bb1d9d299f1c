"""What is asked before a skill is saved or retired, in words. No widgets."""

from typing import NamedTuple

from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.catalogue_fit import watched_in, without_skill
from evaltrack.touch.catalogue.skill_draft import SkillDraft
from evaltrack.words.catalogue import places
from evaltrack.words.wording import counted

SAME, NEW = mark("The same skill in better words"), mark("A new series")
_PARTS = {
    "starts": mark("when a try starts"),
    "done": mark("done"),
    "missed": mark("missed"),
    "not_counted": mark("not counted"),
}


class Question(NamedTuple):
    """A question, and what one should know before the answer, line by line."""

    words: str
    lines: list[str]


def of_series(draft: SkillDraft, parts: list[str], tries: int) -> Question:
    """Return what is asked when these parts of the definition change, and tries stand under the old words."""
    stand = counted(tries, "try", "tries")
    return Question(
        tr_many(
            "Other words ({parts}), and {number} try stands under the old ones. What do the new ones mean?",
            "Other words ({parts}), and {number} tries stand under the old ones. What do the new ones mean?",
            tries,
            parts=", ".join(tr(_PARTS[part]) for part in parts),
        ),
        [
            *(
                tr(
                    "Until now, {part}: {words}",
                    part=tr(_PARTS[part]),
                    words=getattr(draft.skill.definition, part),
                )
                for part in parts
            ),
            tr(
                "{same}: a try is what it was, and the {stand} count together with those to come.",
                same=tr(SAME),
                stand=stand,
            ),
            tr(
                "{new}: something else counts from now on. The {stand} so far stay, and are not mixed in.",
                new=tr(NEW),
                stand=stand,
            ),
        ],
    )


def of_retiring(draft: SkillDraft) -> Question:
    """Return what is asked before a skill is taken out of use, and out of the drills that watch it."""
    lines = [
        tr(
            "From then on it is on no board and in no chart. What was tallied stays, and it can be "
            "brought back."
        )
    ]
    if watched := [one for one in watched_in(draft.drills) if one.skill == draft.key]:
        lines.append(
            tr(
                "These steps do not watch it any more, even when it is back: {places}.",
                places=places(watched),
            )
        )
    if draft.changed:
        lines.append(tr("What was changed in the form is not saved."))
    return Question(tr("Retire {name}?", name=draft.skill.name), lines)


def why_not_retired(draft: SkillDraft) -> str:
    """Return why a skill cannot be retired: a step would have nothing to watch; empty when it can."""
    for drill in without_skill(draft.drills, draft.key):
        for step in drill.steps:
            if not step.skills:
                return tr(
                    "{step} of {drill} watches nothing else; give it another skill first.",
                    step=step.name,
                    drill=drill.name,
                )
    return ""
