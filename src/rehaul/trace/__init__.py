"""Which cable end is which outlet, what is wrong with a cable, and which lines must not be cut yet."""

from rehaul.trace.advice import Suggestion, next_best_reading
from rehaul.trace.cards import Card, ProposedState, off_sentences
from rehaul.trace.codebook import Guarantee, correcting_codes, detecting_codes
from rehaul.trace.endblame import EndEvidence, LikelyEnd
from rehaul.trace.faults import Fault, FaultKind, single_faults
from rehaul.trace.journal import Traced, log_of, question_of, traced
from rehaul.trace.labels import FittedLabel, fit_label, label_text, link_identifier
from rehaul.trace.length import LengthEstimate, length_from_loop
from rehaul.trace.live import Check, checks_before_cutting
from rehaul.trace.meanwhile import MeanwhileLink
from rehaul.trace.plan import Bag, CodePlan, Method, plan_codes
from rehaul.trace.plugs import Plug, plug_on_pins, resistor_plug, strap_plug
from rehaul.trace.problem import Problem, problem
from rehaul.trace.readings import (
    Bridge,
    Continuity,
    Heard,
    LinkLight,
    Reading,
    ReadingLog,
    Resistance,
    Tone,
    Withdrawn,
)
from rehaul.trace.resistors import chain_safe_values, e24_values, separable_values
from rehaul.trace.routes import Place, Route, shortest_route
from rehaul.trace.solve import Answer, Contradiction, EndAnswer, Possibility, Standing, solve
from rehaul.trace.termination import PinRow, TerminationSheet, termination, two_links
from rehaul.trace.tracing import LeftAlone, TracePlan, ends_at, outlet_places, plan_tracing
from rehaul.trace.trust import Trust, usable_patterns
from rehaul.trace.walks import Trip, WalkPlan, plan_walks
from rehaul.trace.wiremap import PAIRS, WireFault, WireFaultKind, WireMapResult, classify

__all__ = [
    "PAIRS",
    "Answer",
    "Bag",
    "Bridge",
    "Card",
    "Check",
    "CodePlan",
    "Continuity",
    "Contradiction",
    "EndAnswer",
    "EndEvidence",
    "Fault",
    "FaultKind",
    "FittedLabel",
    "Guarantee",
    "Heard",
    "LeftAlone",
    "LengthEstimate",
    "LikelyEnd",
    "LinkLight",
    "MeanwhileLink",
    "Method",
    "PinRow",
    "Place",
    "Plug",
    "Possibility",
    "Problem",
    "ProposedState",
    "Reading",
    "ReadingLog",
    "Resistance",
    "Route",
    "Standing",
    "Suggestion",
    "TerminationSheet",
    "Tone",
    "TracePlan",
    "Traced",
    "Trip",
    "Trust",
    "WalkPlan",
    "WireFault",
    "WireFaultKind",
    "WireMapResult",
    "Withdrawn",
    "chain_safe_values",
    "checks_before_cutting",
    "classify",
    "correcting_codes",
    "detecting_codes",
    "e24_values",
    "ends_at",
    "fit_label",
    "label_text",
    "length_from_loop",
    "link_identifier",
    "log_of",
    "next_best_reading",
    "off_sentences",
    "outlet_places",
    "plan_codes",
    "plan_tracing",
    "plan_walks",
    "plug_on_pins",
    "problem",
    "question_of",
    "resistor_plug",
    "separable_values",
    "shortest_route",
    "single_faults",
    "solve",
    "strap_plug",
    "termination",
    "traced",
    "two_links",
    "usable_patterns",
]
