"""What is to be looked at in a page that was made, said behind where it is."""

from collections.abc import Iterable

from evaltrack.language import tr


def with_problems(said: str, problems: Iterable[str | None]) -> str:
    """Return a sentence with one more for each problem; an empty one is none."""
    return " ".join(
        [
            said,
            *(tr("Look at this first: {problem}.", problem=one.removesuffix(".")) for one in problems if one),
        ]
    )
