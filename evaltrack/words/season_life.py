"""How long a season keeps its children's names, in sentences."""

from datetime import date

from evaltrack.language import tr
from evaltrack.rink.days import in_full
from evaltrack.rink.retention import Retention


def keep_words(kept: Retention) -> str:
    """Say until when names are kept, and whether somebody has chosen that."""
    if kept.chosen:
        return tr("Children’s data of this season are kept until {day}.", day=in_full(kept.until))
    return tr(
        "Children’s data of this season are kept until {day}, eight weeks after a season of usual length.",
        day=in_full(kept.until),
    )


def reminder(kept: Retention, today: date) -> str:
    """Return one sentence when it is time to let names go, and nothing before."""
    if not kept.is_due(today):
        return ""
    if kept.is_doubtful(today):
        return tr(
            "Children’s data of this season were to be kept until {day},"
            " if the clock of this tablet ({today}) is right.",
            day=in_full(kept.until),
            today=in_full(today),
        )
    if kept.is_past(today):
        return tr("Children’s data of this season were to be kept until {day}.", day=in_full(kept.until))
    return tr("Children’s data of this season are kept until {day}.", day=in_full(kept.until))


def closed_words(day: date) -> str:
    """Say that the season has forgotten its children."""
    return tr(
        "This season was closed on {day}: it knows no child any more. The team’s figures are still here.",
        day=in_full(day),
    )
