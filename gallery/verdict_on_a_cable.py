"""Which Ethernet an old cable carries, how surely, and how much power over it."""

from rehaul.copper import RunFacts, verdicts

cable = RunFacts(
    category="cat3",
    pairs=4,
    length_m=(18.0, 22.0, 30.0),  # low, middle, high
    topology="home run",
    splices=0,
    state="dead",
    awg=24,
    loop_ohm=4.1,  # one pair shorted at the far end
)
for verdict in verdicts(cable):
    print(f"{verdict.ethernet}: {verdict.band}, {verdict.probability:.0%}. {verdict.reason}")
