"""Readings from a table, as a phone or a spreadsheet writes it, and what they say of the house."""

import rehaul
from rehaul.proof import readings_from_table

TABLE = """\
room,device,signal (dBm),band,time
Games den,{device},-94,5,2026-03-01T10:00
Weaving room,{device},-97,5,2026-03-01T10:04
Workroom,{device},-86,5,2026-03-01T10:09
"""
job = rehaul.demo()
table = readings_from_table(TABLE.format(device=job.devices[0].name), job)
richer = job.model_copy(update={"readings": (*job.readings, *table.readings)})
for one in (job, richer):
    found = rehaul.calibrate(one)
    said = found.correction
    terms = zip(said.names, said.mean_db, said.covariance.diagonal(), strict=True)
    losses = [term for term in terms if not term[0].startswith("share of")]
    print(f"{len(found.used)} readings, {len(found.suspects)} do not fit the rest")
    for name, shift_db, variance in sorted(losses, key=lambda term: -abs(term[1]))[:4]:
        print(f"  {name}: loses {shift_db:+.1f} dB more than thought, known to {variance**0.5:.1f} dB")
