"""The command that hands a season over to another tablet nearby, and takes in what that one noted."""

import asyncio
import sys
from pathlib import Path

import click

from evaltrack.cli.asking import argument, command, option, season_file
from evaltrack.cli.telling import say, tell
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr

_EXAMPLE = """\b
Example:  evaltrack handover lanterns.db
          evaltrack handover lanterns.db 192.168.43.1 --code 471120
          evaltrack handover lanterns.db --live 600
"""


@command(epilog=_EXAMPLE)
@season_file
@argument("address", metavar="[ADDRESS[:PORT]]", required=False)
@option("--code", metavar="DIGITS", help="The code that the other tablet shows; asked for if not given.")
@option("--listen", metavar="ADDRESS", help="The address of this machine on which to listen.")
@option("--port", type=click.IntRange(0, 65535), help="The port on which to listen; 0 for any.")
@option(
    "--live", type=click.IntRange(0), default=0, metavar="SECONDS", help="Stay together so long after that."
)
def handover(
    season_file: Path, address: str | None, code: str | None, listen: str | None, port: int | None, live: int
) -> None:
    """Exchange all that was noted with another tablet on the same network, which needs no internet.

    Without an address a code is shown, good for three minutes and three tries; the other tablet types it, in
    its app or with this command. What goes over is encrypted, and only who knows the code can take part. A
    hand-over that breaks off goes on where it was. A backup is kept before anything is taken in.
    """
    if address is None and code is not None:
        raise click.UsageError(tr("name the address of the tablet that shows this code"))
    if address is not None and (listen is not None or port is not None):
        raise click.UsageError(tr("--listen and --port are for the tablet that shows the code"))
    from evaltrack.cli.handing_over import joined_host, season_in_hand, shown_code

    with season_in_hand(season_file) as season:
        if address is None:
            lines = asyncio.run(shown_code(season, listen, port, live, say, tell))
        else:
            digits = code or _asked_code()
            lines = asyncio.run(joined_host(season, address, digits, live, say))
    for line in lines:
        tell(line)


def _asked_code() -> str:
    if not sys.stdin or not sys.stdin.isatty():
        raise EvaltrackError(tr("nobody can be asked for the code here; say it with --code"))
    return click.prompt(tr("Code"), err=True)
