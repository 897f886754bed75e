"""The narrowest link."""

import pytest

from rehaul.errors import BadInput
from rehaul.wlan import Chain, chain_of, ethernet_tcp_mbps, narrowest


def test_the_narrowest_is_named() -> None:
    chain = chain_of(
        [("plan", 330), ("modem port", 941), ("run 2-07", 94), ("switch port", 941), ("air, 5 GHz", 260)]
    )
    assert chain.rate_mbps == 94 and chain.narrowest.name == "run 2-07"
    assert chain.next_rate_mbps == 260


def test_the_first_of_equals() -> None:
    assert narrowest([("plan", 100), ("run", 100)]).name == "plan"
    assert chain_of([("plan", 100), ("run", 100)]).next_rate_mbps == 100
    assert chain_of([("plan", 100)]).next_rate_mbps == 100


def test_bad_chains_are_refused() -> None:
    with pytest.raises(BadInput, match="at least one link"):
        Chain(())
    with pytest.raises(BadInput, match="run"):
        chain_of([("run", float("nan"))])
    with pytest.raises(BadInput):
        ethernet_tcp_mbps(-1)
