"""What was accepted and signed is altered by no edit, no file and no undo."""

from __future__ import annotations

import hashlib
from typing import Any

import pytest
from replica import edit_data

from rehaul.errors import BadInput
from rehaul.jobs import Ledger, edit_from_data


def offer(name: str) -> dict[str, Any]:
    digest = hashlib.sha256(b"{}").hexdigest()
    sign_off = {"by": "Invented owner", "date": "2026-11-20", "words": ""}
    head = {"id": name, "option": "Good", "total": 900.0, "currency": "USD"}
    return {**head, "offer": "{}", "sha256": digest, "sign_off": sign_off}


def say(ledger: Ledger, *offers: dict[str, Any], edit: str, from_file: bool = True) -> None:
    change = {"do": "set", "kind": "job", "fields": {"accepted_offers": list(offers)}}
    data = edit_data(ledger.revision, change, edit=edit)
    ledger.submit("ann", edit_from_data(data), from_file=from_file)


def test_another_acceptance_is_put_behind_the_first(ledger: Ledger) -> None:
    say(ledger, offer("A1"), edit="accept-1")
    say(ledger, offer("A1"), offer("A2"), edit="accept-2")
    assert [one.id for one in ledger.job.accepted_offers] == ["A1", "A2"]


def test_an_edit_from_a_page_cannot_accept(ledger: Ledger) -> None:
    with pytest.raises(BadInput, match="as a whole"):
        say(ledger, offer("A1"), edit="accept-1", from_file=False)
    assert ledger.job.accepted_offers == ()


@pytest.mark.parametrize("after", [[], [{**offer("A1"), "total": 1.0}], [offer("A2"), offer("A1")]])
def test_nothing_accepted_is_altered(ledger: Ledger, after: list[dict[str, Any]]) -> None:
    say(ledger, offer("A1"), edit="accept-1")
    with pytest.raises(BadInput, match="not altered"):
        say(ledger, *after, edit="accept-2")
    with pytest.raises(BadInput, match="not altered"):
        ledger.undo("ann", "undo-1")
    assert [one.id for one in ledger.job.accepted_offers] == ["A1"]
