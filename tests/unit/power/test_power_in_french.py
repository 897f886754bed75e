"""What power says is said in French too, with its values in it."""

from __future__ import annotations

import pytest

from rehaul.copper import RunFacts
from rehaul.facts.separation import separation_checks
from rehaul.power import bell, bundle_advice, code_checks, heat_advice, poe, switch_budget
from rehaul.words import Reader, again
from sayings import unsaid

FRENCH = Reader("fr")
RUN = RunFacts("cat5e", 4, (55.0, 60.0, 65.0), "home run")


def test_power_over_a_run() -> None:
    found = again(poe(RUN, 4), FRENCH)
    assert found.reason == "Environ 47 V arrivent à l'appareil sur environ 60 m de 24 AWG."
    assert again(poe(RUN, 4), Reader("en", "imperial")).reason.endswith("over about 197 ft of 24 AWG.")


@pytest.mark.parametrize(
    "run",
    [
        RUN,
        RunFacts("cat5e", 4, (5.0, 6.0, 7.0), "home run", state="alarm"),
        RunFacts("cat5e", 2, (5.0, 6.0, 7.0), "home run"),
        RunFacts("cat5e", 1, (5.0, 6.0, 7.0), "home run"),
        RunFacts("cat5e", 4, (5.0, 6.0, 7.0), "daisy chain"),
        RunFacts("cat5e", 4, (5.0, 6.0, 7.0), "home run", wire_map_ok=False),
        RunFacts("cat5e", 4, (5.0, 6.0, 7.0), "home run", loop_ohm=60.0),
        RunFacts("unknown", None, (150.0, 200.0, 250.0), "unknown"),
    ],
)
def test_every_reason_and_remedy_is_said(run: RunFacts) -> None:
    english = poe(run, 6)
    french = again(english, FRENCH)
    assert not unsaid(english, but=("band",))
    assert french.reason != english.reason
    assert french.lift != english.lift or not english.lift


def test_bells_bundles_heat_and_switches() -> None:
    assert again(bell(16.0, 20.0, 20.0, 22, needs_v=16.0), FRENCH).reason.endswith(
        "moins que les 16 V qu'il faut à l'appareil."
    )
    assert again(bundle_advice(30, 4.0, 25.0), FRENCH).startswith("Diviser le faisceau\u00a0: pas plus de 24")
    assert again(heat_advice(45.2, vented=True), FRENCH).startswith("Environ 45 °C, plus que les 40 °C")
    assert again(switch_budget((4, 4), 65.0), FRENCH).reason.startswith("Sur 65 W, 60 W sont réservés")


@pytest.mark.parametrize("country", ["US", "CA", "UK", "EU", "AU", "NZ"])
def test_checks_of_a_country_are_french_to_the_last_word(country: str) -> None:
    checks = code_checks(country)
    assert not unsaid(checks)
    for row, found in zip(separation_checks(country), again(checks, FRENCH), strict=True):
        assert found.advice.endswith("Vérifier les règles locales.")
        assert row.applies_to not in found.advice and row.check not in found.advice.lower()


def test_the_least_distance_is_in_the_readers_units() -> None:
    checks = again(code_checks("US"), Reader("en", "imperial"))
    assert any("at least 4.9 in" in found.advice for found in checks)
