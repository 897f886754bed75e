"""What rehaul says to people, apart from what it computes: codes with their values, said in a language.

Floors above write `say("copper.beyond_reach", reach_m=90.0, ...)`; the sentence of each code stands once in
`tables/`, a column for each language. What comes back is a text that reads as any other and remembers its
code and values, so that whoever shows it can have it said again to another reader.
"""

from rehaul.words.citing import Cited, cited
from rehaul.words.faults import fault_words
from rehaul.words.readers import REFERENCE, Reader, reader, speaking
from rehaul.words.rows import LANGUAGES, Language, catalogue
from rehaul.words.saying import Saying, as_data, printably, say, term
from rehaul.words.template import figure
from rehaul.words.walk import again

__all__ = [
    "LANGUAGES",
    "REFERENCE",
    "Cited",
    "Language",
    "Reader",
    "Saying",
    "again",
    "as_data",
    "catalogue",
    "cited",
    "fault_words",
    "figure",
    "printably",
    "reader",
    "say",
    "speaking",
    "term",
]
