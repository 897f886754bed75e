"""From received power to megabits per second: modulation, airtime, contention, channels, the chain.

Pure: arrays and frozen dataclasses in and out; knows nothing of houses.
"""

from rehaul.facts.modulation import Generation, Ladder
from rehaul.facts.spectrum import BandGhz
from rehaul.wlan.airtime import Mode
from rehaul.wlan.assignment import (
    Assignment,
    Neighbour,
    allowed_channels,
    assign_channels,
    coupling,
)
from rehaul.wlan.chain import Chain, ChainLink, chain_of, ethernet_tcp_mbps, narrowest
from rehaul.wlan.chance import Asks, chance_of_asks, chances_of_asks, goodput_range, ln_ease, power_for
from rehaul.wlan.channels import (
    BANDS,
    BandChannel,
    countries,
    indoors_only,
    lawful_channels,
    power_limit_dbm,
    radar_listen_s,
)
from rehaul.wlan.contention import Backoff, backoff, turn_us
from rehaul.wlan.delivered import WHOLE, ShareSpread, air_of_others, part_sd, usual_share
from rehaul.wlan.emission import emitted_dbm
from rehaul.wlan.goodput import (
    RateLadder,
    goodput_mbps,
    link_rate_mbps,
    mode_at,
    power_needed_dbm,
    rate_ladder,
)
from rehaul.wlan.link import RadioLink, link_between
from rehaul.wlan.personal_area import MeshChannel, mesh_centre_mhz, rank_mesh_channels
from rehaul.wlan.rates import phy_rate_mbps, top_mcs, widths_mhz
from rehaul.wlan.roaming import Walk, holds, sticks, walk
from rehaul.wlan.sharing import after_hop_mbps, air_share, before_hop_mbps, shared_mbps
from rehaul.wlan.signal import noise_dbm, receiver_sd_db, thresholds_dbm

__all__ = [
    "BANDS",
    "WHOLE",
    "Asks",
    "Assignment",
    "Backoff",
    "BandChannel",
    "BandGhz",
    "Chain",
    "ChainLink",
    "Generation",
    "Ladder",
    "MeshChannel",
    "Mode",
    "Neighbour",
    "RadioLink",
    "RateLadder",
    "ShareSpread",
    "Walk",
    "after_hop_mbps",
    "air_of_others",
    "air_share",
    "allowed_channels",
    "assign_channels",
    "backoff",
    "before_hop_mbps",
    "chain_of",
    "chance_of_asks",
    "chances_of_asks",
    "countries",
    "coupling",
    "emitted_dbm",
    "ethernet_tcp_mbps",
    "goodput_mbps",
    "goodput_range",
    "holds",
    "indoors_only",
    "lawful_channels",
    "link_between",
    "link_rate_mbps",
    "ln_ease",
    "mesh_centre_mhz",
    "mode_at",
    "narrowest",
    "noise_dbm",
    "part_sd",
    "phy_rate_mbps",
    "power_for",
    "power_limit_dbm",
    "power_needed_dbm",
    "radar_listen_s",
    "rank_mesh_channels",
    "rate_ladder",
    "receiver_sd_db",
    "shared_mbps",
    "sticks",
    "thresholds_dbm",
    "top_mcs",
    "turn_us",
    "usual_share",
    "walk",
    "widths_mhz",
]
