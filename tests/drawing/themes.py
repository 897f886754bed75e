"""What the drawings must have in turn, so that every rare thing stands in at least ten of three hundred."""

from __future__ import annotations

_LINES = """
tiny; needs: none; medium: wireless; modem-in-can
closed-can; modem-in-can; copper: home runs; kind: cat5e; two-gigabit; medium: fibre
copper: chain in segments; kind: cat5e; medium: dsl; holds: dsl; dsl-taps
copper: chain in one; kind: cat3; medium: dsl; holds: telephone; state: believed unused; dsl-taps
coax: cascade; old-splitter; amplifier; holds: television; medium: cable
coax: cascade; input-unknown; holds: cable modem; medium: cable; no-adapters
coax: tree; splitter-not-found; holds: satellite; medium: fibre; fibre-in-the-house
coax: single; medium: cable; holds: cable modem; old-client
landlord: not asked; reversible; closed-can; holds: entry phone; no-new-pulls
landlord: no; no-new-pulls; extra: wireless; tiny; budget: nothing
landlord: yes; reversible; flat; built-concrete; coax: tree; no-hops
outbuilding; fibre-to-outbuilding; camera-client; holds: lift
outside; needs: up-heavy; extra: power line; two-people
other-household; holds: other household; two-meeting-points; medium: dsl
l-shape; carved; every-wall; built-frame; walls-unknown
terrace; built-brick; basement; copper: home runs; kind: cat6; wired
built-metal-mesh; hazard: knob and tube; copper: mixed; kind: quad; state: released; holds: fax
built-concrete; conduit; gate: all asked; copper: home runs; kind: quad; hazard: asbestos; no-drilling
built-stone; attic; attic-box; kind: unknown; copper: home runs; holds: pendant alarm; state: moved and tested
built-insulated; copper: home runs; kind: cat5e; link-100; three-outlets; certified; extra: run
built-lath; no-meeting-point; copper: chain in one; kind: quad; spliced; holds: fax; hazard: lead paint
built-block; copper: none; needs: above the plan; medium: fibre; budget; no-hops
large; copper: mixed; kind: cat5; wire-map-fault; damaged; errors; holds: monitored alarm; to-be-moved
four-storeys; basement; attic; copper: home runs; kind: cat5e; delay; old-switch
router-fixed; router-stays; extra: cord; needs: high; medium: cable; coax: tree; many-spare-ports
modem-unknown; medium: unknown; gate: nothing asked; tenure: unknown; year-unknown; holds: other
far-end-lost; never-located; tapped; typo; copper: home runs; no-mains-where-cables-meet
bell; pinned; forbidden; copper: home runs; kind: cat5e; no-battery; extra: unknown
readings; heard; fridge; chimney; bath; no-spare-ports; holds: telephone; unsigned
whole-rooms; tiny; budget; needs: high; hazard: other; dfs; own-labour
"""

THEMES: tuple[frozenset[str], ...] = tuple(
    frozenset(part.strip() for part in line.split(";")) for line in _LINES.strip().splitlines()
)
