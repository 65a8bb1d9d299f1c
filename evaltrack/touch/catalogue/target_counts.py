"""How many players each target would put below it, worked out beside the app for the form of a skill."""

from collections.abc import Callable
from functools import partial

from evaltrack.analysis.standings.targets import Below
from evaltrack.language import mark, tr
from evaltrack.rink.skill import Skill
from evaltrack.touch.catalogue.skill_draft import TARGETS
from evaltrack.touch.worker.tasks import below_in
from evaltrack.touch.worker.worker import Worker

_WORKING = mark("Working out who is below it …")


class TargetCounts:
    """The counts of one skill, for the target in force and all to which the form's keys lead.

    They are asked for again when the standings are others; until they come the last ones stay.
    ``on_known`` is called when they are there, or when ``words`` say why not.
    """

    def __init__(self, review, worker: Worker, on_known: Callable[[], None]):
        self._review, self._worker, self._on_known = review, worker, on_known
        self._asked: tuple | None = None
        self._key = self._failed = ""
        self._known: dict[float, Below] = {}

    def follow(self, season, skill: Skill) -> None:
        """Ask for the counts of a skill, unless they are at hand or on their way."""
        asked = (skill, self._review.standings)
        if self._key != skill.key:
            self._key, self._known = skill.key, {}
        ready = self._review.standings or not self._review.words
        if season is None or not ready or asked == self._asked:
            return
        self._asked, self._failed = asked, ""
        work = partial(below_in, season.path, skill.key, (skill.target, *TARGETS))
        self._worker.ask(work, partial(self._take, asked), partial(self._fail, asked))

    def of(self, target: float) -> Below | None:
        """Return how many are below a target; None where that is not known yet."""
        return self._known.get(target)

    @property
    def words(self) -> str:
        """Why nothing is known yet."""
        return self._review.words or self._failed or tr(_WORKING)

    def _take(self, asked: tuple, found: tuple[Below, ...]) -> None:
        if asked == self._asked:
            self._known = {one.target: one for one in found}
            self._on_known()

    def _fail(self, asked: tuple, sentence: str) -> None:
        if asked == self._asked:
            self._failed = tr("Who is below it could not be worked out: {sentence}.", sentence=sentence)
            self._on_known()
