"""Which plug to put in which of ten outlets, so that one fault never gives a wrong answer."""

from rehaul.tracing import Bag, plan_codes

outlets = [f"1-{number:02d}" for number in range(1, 11)]
ends = [f"end {letter}" for letter in "ABCDEFGHIJ"]
code = plan_codes(outlets, ends, Bag(plugs=10), conductors=4)
print(code.sentence)
for number, plugs in enumerate(code.rounds, 1):
    print(f"round {number}: " + ", ".join(f"{outlet} {plug.name}" for outlet, plug in plugs))
