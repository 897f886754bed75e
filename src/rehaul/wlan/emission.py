"""How loudly a radio transmits: what it can, and what the country lets it."""

from __future__ import annotations

from rehaul.facts.spectrum import Role
from rehaul.facts.wlan_equipment import AccessPointRadio, ClientRadio
from rehaul.wlan.channels import BandChannel, power_limit_dbm


def emitted_dbm(radio: AccessPointRadio | ClientRadio, country: str, channel: BandChannel) -> float:
    """EIRP of a radio on a channel: conducted power plus antenna gain, no more than the limit [dBm].

    Parameters
    ----------
    radio : a generic class of the fact tables
    country : two-letter code
    channel : where it transmits

    Raises
    ------
    BadInput for a country or channel that is not in the table.

    Validity: the gain is that of the strongest direction; power does not fall with the modulation step.
    Source: the tables of radio classes, spectrum rules and indoor limits.
    """
    role: Role = "access point" if isinstance(radio, AccessPointRadio) else "client"
    return min(radio.conducted_dbm + radio.antenna_dbi, power_limit_dbm(country, channel, role))
