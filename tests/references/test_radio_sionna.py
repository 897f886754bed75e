"""The straight path with both polarisations against an independent propagation library, cell by cell.

Set REHAUL_PEER_PYTHON to an interpreter that can import sionna.rt (and DRJIT_LIBLLVM_PATH where its
LLVM is too old); the test takes about half a minute then, and is skipped otherwise.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
import radio_peer as peer


@pytest.mark.slow
@pytest.mark.skipif(not peer.PEER_PYTHON, reason="REHAUL_PEER_PYTHON names no interpreter with sionna.rt")
def test_house_through_all_walls(tmp_path: Path) -> None:
    run = {"name": "through", "rays": 2e6, "depth": 12, "reflections": False}
    maps = peer.peer_maps([run], tmp_path)
    rmse = peer.rmse_by_storey_db(peer.own_map_db(4), maps["through"])
    assert max(rmse) < 0.4, rmse
