"""The addresses of this tablet: found without asking a name server, and known to be gone when they are."""

import pytest

from evaltrack.device.handover import addresses


def test_no_name_server_is_asked_where_there_is_a_network(monkeypatch):
    """One that does not answer would hold the screen up for seconds."""
    asked = []

    def ask(*_) -> list:
        asked.append(1)
        return [(0, 0, 0, "", ("10.9.8.7", 0)), (0, 0, 0, "", ("127.0.1.1", 0))]

    monkeypatch.setattr(addresses.socket, "getaddrinfo", ask)
    monkeypatch.setattr(addresses, "_towards", lambda nearby: "192.168.43.1" if "43" in nearby else "")
    assert (addresses.own_addresses(), asked) == (["192.168.43.1"], [])
    monkeypatch.setattr(addresses, "_towards", lambda _: "")
    assert (addresses.own_addresses(), asked) == (["10.9.8.7"], [1])


@pytest.mark.parametrize(("address", "ours"), [("127.0.0.1", True), ("192.0.2.77", False)])
def test_an_address_that_is_not_ours_is_known(address, ours):
    """By asking the system, not a network."""
    assert addresses.is_ours(address) is ours
