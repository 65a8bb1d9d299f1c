"""The addresses of this tablet on networks nearby, and addresses as people type them."""

import re
import socket
from contextlib import suppress

from evaltrack.device.handover.faults import HandoverError
from evaltrack.device.handover.tablets import PORT
from evaltrack.language import mark, tr

# one in each private range (RFC 1918), and in those that hotspots use: nothing is ever sent there, but the
# system says from which address of ours it would go
_NEARBY = ("192.168.43.254", "172.20.10.14", "10.255.255.254", "192.168.255.254", "172.31.255.254")
_TYPED = re.compile(r"(\d{1,3}(?:\.\d{1,3}){3})(?::(\d{1,5}))?", re.ASCII)
_NO_ADDRESS = mark('an address looks like 192.168.43.1, perhaps with :4546 behind it; "{typed}" is none')


def own_addresses() -> list[str]:
    """Return the addresses under which tablets nearby may reach this one, those of hotspots first."""
    found = [address for nearby in _NEARBY if (address := _towards(nearby))]
    if not any(found):  # only then: a name server that does not answer would hold the screen up
        with suppress(OSError):
            named = socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)
            found += [address[0] for *_, address in named]
    return [address for address in dict.fromkeys(found) if not address.startswith(("127.", "0."))]


def is_ours(address: str) -> bool:
    """Say whether this tablet still has an address: it goes when a network does, and another may come."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.bind((address, 0))
        except OSError:
            return False
    return True


def _towards(nearby: str) -> str:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        with suppress(OSError):
            probe.connect((nearby, 9))
            return probe.getsockname()[0]
    return ""


def parsed(typed: str) -> tuple[str, int]:
    """Return address and port of what was typed; HandoverError when it is no address."""
    found = _TYPED.fullmatch(typed.strip())
    if not found or any(int(part) > 255 for part in found[1].split(".")):
        raise HandoverError(tr(_NO_ADDRESS, typed=typed[:40]))
    port = int(found[2] or PORT)
    if not 0 < port < 65536:
        raise HandoverError(tr(_NO_ADDRESS, typed=typed[:40]))
    return found[1], port


def shown(address: str, port: int) -> str:
    """Return an address as it is to be typed; the usual port goes without saying."""
    return address if port == PORT else f"{address}:{port}"
