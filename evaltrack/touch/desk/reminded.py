"""What is said of the season in hand when it is time to let its children's names go."""

from evaltrack.rink.practice import local_day
from evaltrack.touch.desk.desk import Desk


def reminder_of(desk: Desk) -> str:
    """Return one sentence, or nothing while it is not yet time; of the invented team nothing is said.

    A season that was closed says so as long as it is in hand.
    """
    today = desk.season and local_day(desk.now())
    if not today or desk.invented:
        return ""
    found = []
    desk.told(lambda: found.append((desk.season.life.closed(), desk.season.life.retention())))
    if not found:
        return ""
    from evaltrack.words.season_life import closed_words, reminder  # most often nothing is to be said

    (closed, kept), *_ = found
    return closed_words(closed) if closed else reminder(kept, today)
