"""A skill as the form has it: what is wrong with it, and the skills of which it becomes one. No widgets."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from math import ceil, floor

from evaltrack.intake.catalogue import CAPTION_LENGTH, LOOKS_LIKE_LENGTH, NAME_LENGTH
from evaltrack.intake.text import folded, name_fault
from evaltrack.intake.toml_entries import MOST_TEXTS, TEXT_LENGTH
from evaltrack.language import mark, tr
from evaltrack.rink.catalogue_change import DEFINITION, rewritten
from evaltrack.rink.catalogue_fit import unfit, watched_in, without_skill
from evaltrack.rink.drill import Drill
from evaltrack.rink.plain_text import plain_words
from evaltrack.rink.player import Position
from evaltrack.rink.skill import DEFAULT_TARGET, Definition, Skill

TEXTS = {
    "name": NAME_LENGTH,
    "caption": CAPTION_LENGTH,
    **dict.fromkeys(DEFINITION, TEXT_LENGTH),
    "looks_like": LOOKS_LIKE_LENGTH,
}
EMPTY = mark("Still empty.")
AT_HOME = "at_home"  # one text, a suggestion in each line
_LONGEST_KEY = 40
_STEP = 0.05  # of the target
_LOWEST, _HIGHEST = 0.05, 0.95
TARGETS = tuple(round(number * _STEP, 2) for number in range(1, 20))  # where the keys lead


@dataclass
class SkillDraft:
    """What stands in the form.

    ``known`` are the skills in use, in their order, and ``retired`` the others; ``drills`` watch some of
    them. ``skill`` is what is changed, None for a new one. ``texts`` has what is written, by field.
    """

    known: tuple[Skill, ...]
    retired: tuple[Skill, ...] = ()
    drills: tuple[Drill, ...] = ()
    skill: Skill | None = None
    texts: dict[str, str] = field(default_factory=lambda: dict.fromkeys((*TEXTS, AT_HOME), ""))
    positions: tuple[Position, ...] = ()
    target: float = DEFAULT_TARGET

    @classmethod
    def of(
        cls, skill: Skill | None, known: Iterable[Skill], retired: Iterable[Skill], drills: Iterable[Drill]
    ) -> "SkillDraft":
        """Return the draft of a skill as it is, or an empty one."""
        draft = cls(tuple(known), tuple(retired), tuple(drills), skill)
        if skill:
            words = {part: getattr(skill.definition, part) for part in DEFINITION}
            words |= {name: getattr(skill, name) for name in TEXTS if name not in words}
            draft.texts = words | {AT_HOME: "\n".join(skill.at_home)}
            draft.positions, draft.target = skill.positions, skill.target
        return draft

    @property
    def in_use(self) -> bool:
        """Say whether it is of a skill in use; a new one is not yet."""
        return self.skill in self.known

    @property
    def key(self) -> str:
        """Return the key: of a new skill it is made from the name, and is one that no other has."""
        if self.skill:
            return self.skill.key
        plain = plain_words(self.texts["name"]).replace("-", "_")
        stem = (plain if plain[:1].isalpha() else f"skill_{plain}")[:_LONGEST_KEY].strip("_")
        taken, key, number = {skill.key for skill in (*self.known, *self.retired)}, stem, 1
        while key in taken:
            number += 1
            key = f"{stem[: _LONGEST_KEY - len(str(number)) - 1]}_{number}"
        return key

    def turn(self, position: Position) -> None:
        """Let the skill be for a position group, or not any more."""
        chosen = {*self.positions} ^ {position}
        self.positions = tuple(one for one in Position if one in chosen)

    def raise_target(self) -> None:
        """Go to the next step above the target."""
        self.target = round(min(_HIGHEST, (floor(self.target / _STEP + 1e-6) + 1) * _STEP), 2)

    def lower_target(self) -> None:
        """Go to the next step below the target."""
        self.target = round(max(_LOWEST, (ceil(self.target / _STEP - 1e-6) - 1) * _STEP), 2)

    def made(self) -> Skill:
        """Return the skill as it is afterwards; of a draft without complaints."""
        texts = {name: folded(text) for name, text in self.texts.items()}
        words = Definition(*(texts.pop(part) for part in DEFINITION))
        made = texts | {AT_HOME: self._at_home, "positions": self.positions, "target": self.target}
        if self.skill:
            return replace(self.skill, definition=words, **made)
        return Skill(key=self.key, definition=words, **made)

    @property
    def _at_home(self) -> tuple[str, ...]:
        return tuple(filter(None, map(folded, self.texts[AT_HOME].split("\n"))))

    @property
    def changed(self) -> bool:
        """Say whether anything differs from the skill as it is, or was written of a new one."""
        start = SkillDraft.of(self.skill, self.known, self.retired, self.drills)
        return (self.texts, self.positions, self.target) != (start.texts, start.positions, start.target)

    @property
    def rewritten(self) -> list[str]:
        """Return the parts of the definition in which it differs from the one in force."""
        return rewritten([self.skill], [self.made()]).get(self.key, []) if self.skill else []

    def skills(self) -> list[Skill]:
        """Return the skills in use afterwards, in their order; of a draft without complaints."""
        made = self.made()
        if self.in_use:
            return [made if skill.key == made.key else skill for skill in self.known]
        return [*self.known, made]

    def without(self) -> tuple[list[Skill], list[Drill] | None]:
        """Return the skills in use when it is retired, and the drills where they watched it, else None."""
        left = [skill for skill in self.known if skill.key != self.key]
        watched = any(one.skill == self.key for one in watched_in(self.drills))
        return left, without_skill(self.drills, self.key) if watched else None

    def complaints(self) -> dict[str, str]:
        """Return what is wrong, by field; ``for`` is who it is for."""
        found = {name: _fault(folded(self.texts[name]), longest) for name, longest in TEXTS.items()}
        found["name"] = found["name"] or self._same_name()
        found["for"] = self._position_fault()
        found[AT_HOME] = self._at_home_fault()
        return {name: text for name, text in found.items() if text}

    def _same_name(self) -> str:
        name = folded(self.texts["name"])
        if self.skill and self.skill.name == name:
            return ""
        same = any(one.name == name for one in (*self.known, *self.retired))
        return tr("Another skill is called so; give it a name of its own.") if same else ""

    def _position_fault(self) -> str:
        if not self.positions:
            return tr("Choose who is watched.")
        own = [one for one in unfit(self.drills, self.skills()) if one.skill == self.key]
        if not own:
            return ""
        first = own[0]
        return tr(
            "{drill}, {step}, watches it in the slot {slot}, where a {position} stands; "
            "change that drill first.",
            drill=first.drill.name,
            step=first.step.name,
            slot=first.slot.name,
            position=first.slot.position.word,
        )

    def _at_home_fault(self) -> str:
        lines = self._at_home
        if len(lines) > MOST_TEXTS:
            return tr("{number} suggestions; at most {most} fit.", number=len(lines), most=MOST_TEXTS)
        return next(filter(None, (_fault(line, TEXT_LENGTH) for line in lines)), "")


def _fault(text: str, longest: int) -> str:
    if not text:
        return tr(EMPTY)
    fault = name_fault(text, "it", longest)
    return f"{fault[0].upper()}{fault[1:]}." if fault else ""


def moved(skills: Sequence[Skill], key: str, by: int) -> list[Skill]:
    """Return the skills with one of them so many places further down; at an end it stays there."""
    at = [skill.key for skill in skills].index(key)
    others = [skill for skill in skills if skill.key != key]
    to = max(0, min(at + by, len(others)))
    return [*others[:to], skills[at], *others[to:]]
