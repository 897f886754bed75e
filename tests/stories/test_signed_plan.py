"""After an acceptance the signed plan and the ticked work stay in force; a new plan is a proposal."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest

from plans_once import made_weighed
from rehaul.cli.main import main
from rehaul.house import (
    AcceptedOffer,
    Job,
    Obligation,
    ObligationKind,
    ObligationState,
    SignOff,
    Tick,
)
from rehaul.jobs import open_job, save_job
from rehaul.planning import Plan, Weighed, in_force, plan_data, signed_offer
from rehaul.sheets import write_papers
from rehaul.sheets.summary import summary_section
from rehaul.takeoff import QuoteOption as Option
from rehaul.takeoff import accept, is_intact, read_signed_plan, signature, signed_plan_text
from rehaul.takeoff.accepted import digest

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "examples" / "1934-brick-pendant-alarm.rehaul.json"
SERVED = ROOT / "tests" / "store" / "samples" / "version1" / "served.rehaul.json"
YES = signature("Invented owner", "2026-11-20", "Yes, please")
MOVED = SignOff(by="Invented owner", date="2026-11-25", words="Tested on its new line with the centre")


@cache
def house() -> Job:
    return open_job(EXAMPLE)


@cache
def weighed() -> Weighed:
    return made_weighed(house())


@cache
def anew(change: str) -> Weighed:
    return made_weighed(CHANGES[change](house()))


def option(which: str) -> Option:
    options = weighed().fresh.takeoff.quote.options
    if which == "fullest":
        return next(one for one in options if one.chosen)
    return next(one for one in options if one.total > 0 and not one.chosen)


@cache
def signed(which: str) -> Job:
    """The house with one offer accepted: the fullest, or the least that costs anything."""
    text = signed_plan_text(signed_offer(weighed(), option(which).name))
    return accept(house(), weighed().fresh.takeoff.quote, option(which).name, YES, text)


def with_offers(job: Job, which: str) -> Job:
    return job.model_copy(update={"accepted_offers": signed(which).accepted_offers})


def dearer(job: Job) -> Job:
    return job.model_copy(update={"choices": job.choices.model_copy(update={"margin_pct": 45.0})})


def less(job: Job) -> Job:
    """The rooms on the last access point ask for nothing any more."""
    plan = weighed().fresh
    asked = {row.room for row in plan.after.rooms if row.source == plan.choice.access_points[-1].id}
    return job.model_copy(update={"needs": tuple(need for need in job.needs if need.room not in asked)})


CHANGES = {"dearer": dearer, "less": less}


def substance(found: Plan) -> dict[str, object]:
    """What a person buys, pays and does."""
    data = json.loads(json.dumps(plan_data(found)))
    rows = {name: data[name] for name in ("channels", "network", "takeoff", "drops", "checks", "paths")}
    points = [(p["id"], p["site"]["id"], p["equipment"]) for p in data["choice"]["access_points"]]
    return {**rows, "points": points, "steps": [(t["id"], t["key"], t["title"]) for t in data["order"]]}


@pytest.mark.parametrize("which", ["fullest", "least"])
def test_the_plan_of_the_very_offer_is_in_force(which: str) -> None:
    found = in_force(signed(which), weighed())
    assert found.takeoff.quote.total == option(which).total == signed(which).accepted_offers[-1].total
    assert len(found.choice.access_points) == option(which).access_points
    assert next(one for one in found.takeoff.quote.options if one.chosen).name == option(which).name
    assert found.changes == (), [change.words for change in found.changes]
    assert found.standing is not None and "as signed" in found.standing.words
    assert found.findings == (), [finding.sentence for finding in found.findings]
    keys = {task.key for task in found.order}
    mounted = {f"access_point:{point.id}" for point in found.choice.access_points}
    assert {key.rsplit(":", 1)[0] for key in keys if key.startswith("access_point:")} == mounted


def test_a_lesser_offer_has_fewer_steps_and_parts_than_the_fullest() -> None:
    fullest, least = (in_force(signed(which), weighed()) for which in ("fullest", "least"))
    assert len(least.order) < len(fullest.order)
    assert least.takeoff.quote.parts < fullest.takeoff.quote.parts
    left_out = {row.name for row in fullest.after.rooms if row.asks and row.met} - {
        row.name for row in least.after.rooms if row.asks and row.met
    }
    assert left_out <= {short.name for short in least.choice.shortfalls}


@pytest.mark.parametrize("which", ["fullest", "least"])
@pytest.mark.parametrize("change", CHANGES)
def test_an_edit_proposes_and_changes_nothing_that_was_signed(change: str, which: str) -> None:
    before = in_force(signed(which), weighed())
    after = in_force(with_offers(CHANGES[change](house()), which), anew(change))
    assert substance(after) == substance(before)
    said = " ".join(row.words for row in after.changes)
    if change == "dearer":
        assert "The price would be" in said and "as signed" in said
    elif which == "fullest":
        assert "would fall away" in said and "The price would be" in said
    assert after.new_quote is not None and after.new_quote != after.takeoff.quote
    assert after.findings == (), [finding.sentence for finding in after.findings]


def test_accepting_the_new_offer_puts_it_in_force() -> None:
    fresh = anew("dearer")
    old = with_offers(dearer(house()), "least")
    quote = fresh.fresh.takeoff.quote
    best = next(one for one in quote.options if one.chosen)
    text = signed_plan_text(signed_offer(fresh, best.name))
    new = accept(old, quote, best.name, signature("Invented owner", "2026-11-28"), text)
    found = in_force(new, fresh)
    assert found.takeoff.quote.total == best.total and found.changes == ()
    assert new.accepted_offers[0] == old.accepted_offers[0]


def test_ticked_work_stays_and_what_a_new_plan_drops_of_it_is_said() -> None:
    before = in_force(signed("fullest"), weighed())
    point = before.choice.access_points[-1]
    (step,) = [task for task in before.order if task.key.startswith(f"access_point:{point.id}:")]
    job = with_offers(less(house()), "fullest")
    job = job.model_copy(update={"ticks": (Tick(id="TK1", task=step.key, by="Ann"),)})
    after = in_force(job, anew("less"))
    assert step.key in {task.key for task in after.order}
    (gone,) = [row for row in after.changes if row.what == "steps" and "fall away" in row.words]
    assert step.key in gone.about and "1 of them is ticked off already" in gone.words


@cache
def chained() -> Weighed:
    """A house whose chain carries a monitored alarm: nine of its steps wait for the sign-off."""
    return made_weighed(open_job(EXAMPLE.with_name("2008-chained-alarm.rehaul.json")))


def test_a_sign_off_releases_signed_steps_and_a_new_hold_holds_them() -> None:
    quote = chained().fresh.takeoff.quote
    best = next(one for one in quote.options if one.chosen)
    text = signed_plan_text(signed_offer(chained(), best.name))
    job = accept(chained().survey.job, quote, best.name, YES, text)
    waiting = in_force(job, chained())
    held = {task.key: task.held for task in waiting.order if task.held}
    assert len(held) > 3 and {task.key for task in waiting.order if not task.touches} & set(held)
    assert held == {task.key: task.held for task in chained().fresh.order if task.held}

    moved = tuple(
        one.model_copy(update={"state": ObligationState.MOVED, "sign_off": MOVED}) for one in job.obligations
    )
    free = in_force(job.model_copy(update={"obligations": moved}), chained())
    assert [task.title for task in free.order if task.held] == []
    assert all(task.start_min is not None for task in free.order), "they have times now"
    numbers = {task.key: (task.id, task.title) for task in waiting.order}
    assert {task.key: (task.id, task.title) for task in free.order} == numbers, "a step keeps its number"
    assert free.takeoff == waiting.takeoff

    touched = next(run for task in free.order for run in task.touches)
    lift = Obligation(id="OX", kind=ObligationKind.LIFT, run=touched, who="Invented lifts")
    again = in_force(job.model_copy(update={"obligations": (*moved, lift)}), chained())
    assert {task.key for task in again.order if task.held} == set(held)
    for task in again.order:
        assert ("lift (Invented lifts)" in task.held) is (task.key in held)
    assert all(task.start_min is None for task in again.order if task.held)


def test_papers_print_what_is_signed_and_what_is_proposed(tmp_path: Path) -> None:
    found = in_force(with_offers(dearer(house()), "least"), anew("dearer"))
    text = str(summary_section(found))
    assert found.standing is not None and found.standing.words in text
    assert found.changes[0].words in text and "not in force before it is accepted" in text
    names = {path.name for path in write_papers(found, tmp_path, "A4")}
    assert "plan.pdf" in names
    tasks = (tmp_path / "csv" / "tasks.csv").read_text(encoding="utf-8")
    assert all(task.title.split(":")[0] in tasks for task in found.order)


def test_what_is_kept_is_whole_small_and_covered_by_the_signature() -> None:
    (offer,) = signed("least").accepted_offers
    assert len(offer.plan) < 500_000
    assert digest(offer.plan) == offer.plan_sha256 == json.loads(offer.offer)["plan_sha256"]
    kept = read_signed_plan(offer.plan)
    assert signed_plan_text(kept) == offer.plan, "read and written again it is the same"
    assert json.loads(offer.plan)["choice"]["problem"] == {}, "what was solved is not kept"


def test_a_plan_altered_since_is_not_followed() -> None:
    (offer,) = signed("least").accepted_offers
    total = f"{option('least').total}"
    forged = offer.model_copy(update={"plan": offer.plan.replace(total, "1.0")})
    assert forged.plan != offer.plan and not is_intact(forged)
    both = forged.model_copy(update={"plan_sha256": digest(forged.plan)})
    assert not is_intact(both), "the signed words name the hash of the plan"
    found = in_force(house().model_copy(update={"accepted_offers": (both,)}), weighed())
    assert found.standing is not None and "altered since" in found.standing.words
    assert found.takeoff == weighed().fresh.takeoff


def test_an_offer_of_version_1_keeps_words_and_price_and_says_that_its_steps_were_not_kept() -> None:
    old = open_job(SERVED)
    (offer,) = old.accepted_offers
    found = in_force(old.model_copy(update={"title": house().title}), weighed())
    said = found.standing.words if found.standing else ""
    assert "1 933.96 GBP" in said and offer.total == 1933.96 and "its steps, signed under" in said
    assert "nobody signed them" in said and found.changes == ()
    assert found.takeoff == weighed().fresh.takeoff
    assert "signed-offer-rules" in {finding.rule for finding in found.findings} and not found.choice.proven


def test_a_plan_of_a_form_that_is_not_known_is_said_plainly() -> None:
    (offer,) = signed("least").accepted_offers
    data = json.loads(offer.plan)
    text = json.dumps({**data, "form": 99}, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    words = {**json.loads(offer.offer), "plan_sha256": digest(text)}
    said = json.dumps(words, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    later = AcceptedOffer(
        **{**dict(offer), "plan": text, "plan_sha256": digest(text), "offer": said, "sha256": digest(said)}
    )
    found = in_force(house().model_copy(update={"accepted_offers": (later,)}), weighed())
    assert found.standing is not None and "this version cannot read" in found.standing.words


def test_accepting_and_planning_from_the_command_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "house.rehaul.json"
    save_job(path, house())
    main(["accept", str(path), "--option", option("least").name, "--by", "Owner", "--date", "2026-11-20"])
    assert open_job(path).accepted_offers[-1].plan
    save_job(path, dearer(open_job(path)))
    capsys.readouterr()
    main(["plan", str(path)])
    said = capsys.readouterr().out
    assert "In force: offer A1" in said and "Proposed, not in force: The price would be" in said
    assert f"{option('least').total:,.2f}".replace(",", "") in said.replace("\u202f", "").replace(" ", "")
