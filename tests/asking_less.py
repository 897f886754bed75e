"""A house that asks for what devices surely get of what the radio allows, so that walls and boxes decide.

Of what the radio allows a device of which nothing was read delivers, nine times in ten, about a quarter. A
house whose needs were set against the radio asks for so much where a test is about something else.
"""

from __future__ import annotations

import math

from rehaul.house import Job
from rehaul.predict import asked
from rehaul.wlan import usual_share

SURE_Z = 1.2816  # nine times in ten


def asking_less(job: Job) -> Job:
    """The same house, each need times the share that is delivered nine times in ten."""
    usual = usual_share("5")
    share = math.exp(usual.ln_mean - SURE_Z * usual.sd)
    wanted = {need.room: need for need in asked(job)}
    needs = tuple(
        need.model_copy(
            update={
                "down_mbps": round(wanted[need.room].down_mbps * share, 1),
                "up_mbps": round(wanted[need.room].up_mbps * share, 1),
            }
        )
        for need in job.needs
    )
    return job.model_copy(update={"needs": needs})
