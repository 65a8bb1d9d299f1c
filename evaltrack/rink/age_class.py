"""What commonly goes with an age class. It is common practice, from no rule book: the local rules win."""

import re

from evaltrack.language import tr

AGE_CLASSES = ("8U", "10U", "12U", "14U", "16U", "18U")
_AGE = re.compile(r"(?<![0-9])([0-9]{1,2})(?![0-9])")


def age_of(age_class: str) -> int | None:
    """Return the age that a class is named after: 12 for ``12U``, ``U12`` and ``under 12``; None if none."""
    found = _AGE.search(age_class)
    return int(found[1]) if found else None


def customs_of(age_class: str) -> tuple[str, ...]:
    """Return what is common practice in an age class: contact, ice, stick; nothing for one without an age."""
    age = age_of(age_class)
    return () if age is None else (_contact(age), _ice(age), _stick(age))


def _contact(age: int) -> str:
    if age <= 12:
        return tr("Contact: body checking is commonly no part of the game yet.")
    if age <= 14:
        return tr("Contact: body checking commonly begins about this age, and not in every league.")
    return tr("Contact: body checking is common in some leagues and not allowed in others.")


def _ice(age: int) -> str:
    if age <= 8:
        return tr("Ice: games are commonly played across the ice or on half of it.")
    if age <= 10:
        return tr("Ice: half and full ice are both common.")
    return tr("Ice: games are commonly played on full ice, and practices often share it.")


def _stick(age: int) -> str:
    if age <= 10:
        return tr("Stick: on skates its upper end commonly stands about the chin.")
    return tr("Stick: on skates its upper end commonly stands between chin and nose.")
