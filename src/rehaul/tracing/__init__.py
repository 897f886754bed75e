"""Which cable end is which outlet, what is wrong with a cable, and which lines must not be cut yet."""

from rehaul.tracing.advice import Suggestion, next_best_reading
from rehaul.tracing.asked import TracingQuestion, problem
from rehaul.tracing.cards import Card, ProposedState, off_sentences
from rehaul.tracing.codebook import Guarantee, correcting_codes, detecting_codes
from rehaul.tracing.codeplan import Bag, CodePlan, Method, plan_codes
from rehaul.tracing.endblame import EndEvidence, LikelyEnd
from rehaul.tracing.faults import Fault, FaultKind, single_faults
from rehaul.tracing.job_tracing import LeftAlone, TracePlan, ends_at, outlet_places, plan_tracing, point_of
from rehaul.tracing.journal import Traced, log_of, question_of, traced
from rehaul.tracing.labels import FittedLabel, fit_label, label_text
from rehaul.tracing.length import LengthEstimate, length_from_loop
from rehaul.tracing.live import LineStep, checks_before_cutting
from rehaul.tracing.meanwhile import MeanwhileLink
from rehaul.tracing.plugs import Plug, how_to_make, plug_on_pins, resistor_plug, strap_plug
from rehaul.tracing.readings import (
    Bridge,
    Continuity,
    LinkLight,
    Reading,
    ReadingLog,
    Resistance,
    Tone,
    ToneHeard,
    Withdrawn,
)
from rehaul.tracing.resistors import chain_safe_values, separable_values
from rehaul.tracing.routes import WalkRoute, Whereabouts, shortest_route
from rehaul.tracing.solving import Answer, Contradiction, EndAnswer, EndStanding, Possibility, solve
from rehaul.tracing.terminating import PinRow, TerminationSheet, termination, two_links
from rehaul.tracing.trust import Trust
from rehaul.tracing.walks import Trip, WalkPlan, plan_walks
from rehaul.tracing.wiremap import PAIRS, WireFault, WireFaultKind, WireMapResult, classify

__all__ = [
    "PAIRS",
    "Answer",
    "Bag",
    "Bridge",
    "Card",
    "CodePlan",
    "Continuity",
    "Contradiction",
    "EndAnswer",
    "EndEvidence",
    "EndStanding",
    "Fault",
    "FaultKind",
    "FittedLabel",
    "Guarantee",
    "LeftAlone",
    "LengthEstimate",
    "LikelyEnd",
    "LineStep",
    "LinkLight",
    "MeanwhileLink",
    "Method",
    "PinRow",
    "Plug",
    "Possibility",
    "ProposedState",
    "Reading",
    "ReadingLog",
    "Resistance",
    "Suggestion",
    "TerminationSheet",
    "Tone",
    "ToneHeard",
    "TracePlan",
    "Traced",
    "TracingQuestion",
    "Trip",
    "Trust",
    "WalkPlan",
    "WalkRoute",
    "Whereabouts",
    "WireFault",
    "WireFaultKind",
    "WireMapResult",
    "Withdrawn",
    "chain_safe_values",
    "checks_before_cutting",
    "classify",
    "correcting_codes",
    "detecting_codes",
    "ends_at",
    "fit_label",
    "how_to_make",
    "label_text",
    "length_from_loop",
    "log_of",
    "next_best_reading",
    "off_sentences",
    "outlet_places",
    "plan_codes",
    "plan_tracing",
    "plan_walks",
    "plug_on_pins",
    "point_of",
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
]
