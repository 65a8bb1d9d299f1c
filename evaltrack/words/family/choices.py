"""Which skills may stand under going well and which may be a next step: the list that a coach picks from."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Offered:
    """One skill that may be picked: what the page would say of it, and whether it says so as drafted."""

    skill: str
    name: str
    text: str
    drafted: bool


@dataclass(frozen=True, slots=True)
class Choices:
    """What may be picked, in the order of the catalogue: never what the call contradicts."""

    strengths: tuple[Offered, ...]
    next_skills: tuple[Offered, ...]
