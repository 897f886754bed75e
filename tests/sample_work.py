"""Parts, price and order of work of the sample plan."""

from __future__ import annotations

from rehaul.takeoff.results import (
    CutLine,
    LabourLine,
    PartLine,
    Quote,
    QuoteOption,
    Takeoff,
    Task,
    ToolLine,
)


def takeoff() -> Takeoff:
    options = (("Only what is needed", 2, 5, 760.0), ("Better", 3, 6, 1290.0), ("Good", 4, 6, 1540.0))
    return Takeoff(
        parts=(
            PartLine(
                item="ap-he-2x2",
                name="Access point, two streams",
                unit="each",
                need=3,
                spare=0,
                quantity=3,
                unit_price=120,
                price=360,
                because=("AP1", "AP2", "AP3"),
            ),
            PartLine(
                item="jack-cat6",
                name="Jack, category 6",
                unit="each",
                need=9,
                spare=1,
                quantity=10,
                unit_price=4.2,
                price=42,
                because=("C01", "C03", "C05", "P01"),
            ),
            PartLine(
                item="cable-cat6",
                name="Cable, category 6, solid copper",
                unit="m",
                need=17.3,
                spare=0.9,
                quantity=25,
                unit_price=0.6,
                price=15,
                because=("P01",),
                note="5 % waste",
            ),
        ),
        cuts=(
            CutLine(
                id="P01", kind="cable", from_place="M1", to_place="N1 Hall", length_m=17.3, because=("N1",)
            ),
            CutLine(
                id="K1",
                kind="patch cord",
                from_place="panel 1",
                to_place="port 1",
                length_m=0.5,
                because=("AP1",),
            ),
        ),
        tools=(
            ToolLine(name="Tone set", for_what="Finding the far end of C08", because=("C08",)),
            ToolLine(name="Rod set, 10 m", for_what="The new pull to the Hall", because=("P01",)),
        ),
        labour=(
            LabourLine(
                task="Terminate a jack",
                norm="jack",
                visit=1,
                count=9,
                minutes=72,
                minutes_90=96,
                because=("C01", "C03"),
            ),
            LabourLine(
                task="Pull a new run",
                norm="fish_easy",
                visit=1,
                count=1,
                minutes=60,
                minutes_90=180,
                because=("P01",),
            ),
        ),
        quote=Quote(
            currency="EUR",
            parts=620,
            labour=410,
            margin=260,
            tax=0,
            total=1290,
            total_90=1610,
            options=tuple(
                QuoteOption(
                    name=name,
                    access_points=count,
                    rooms_served=rooms,
                    rooms_total=7,
                    parts=total * 0.48,
                    labour=total * 0.32,
                    margin=total * 0.2,
                    tax=0,
                    total=total,
                    total_90=total * 1.25,
                    chosen=name == "Better",
                    words="Every room in which people live, but for the Workshop." if count == 3 else "",
                )
                for name, count, rooms, total in options
            ),
            included=("Three wired access points, set up and tested", "Labels on both ends of every cable"),
            excluded=("Making good of plaster and paint", "Work by an electrician"),
            assumptions=("The floor void above the Hall is open",),
            unknowns=("Cable C08 is not priced until its far end is found.",),
            deposit=320,
        ),
    )


def order() -> tuple[Task, ...]:
    return (
        Task(
            id="T01",
            title="Ask about alarms, pendants, lift and entry phone; sign the list",
            stage="gate",
            visit=1,
            place="Front door",
            minutes=15,
            start_min=0,
            person=1,
            cautions=("Built before 1978: treat paint as lead until tested; keep to the local rule.",),
        ),
        Task(
            id="T02",
            title="Photograph the cellar board before anything is disconnected",
            stage="trace",
            visit=1,
            place="Lower floor",
            minutes=10,
            minutes_90=15,
            needs=("T01",),
            start_min=15,
            person=1,
            photo=True,
            because=("M1",),
            cautions=(
                "Idle lines carry 50 to 60 V dc and about 90 V ac while ringing: do not touch bare pairs.",
            ),
        ),
        Task(
            id="T03",
            title="Break the chain C02 at G-01",
            stage="terminate",
            visit=1,
            place="Living room",
            minutes=20,
            minutes_90=35,
            needs=("T02",),
            because=("C02", "G-01"),
            held="O1: a monitored alarm depends on C02 and nobody has signed that it may go",
            cautions=("Cutting an alarm line calls somebody out, or leaves nobody called.",),
        ),
        Task(
            id="T04",
            title="Pull P01 from the cellar board to the Hall ceiling",
            stage="run",
            visit=1,
            place="Hall",
            minutes=60,
            minutes_90=180,
            needs=("T02",),
            start_min=25,
            person=2,
            tools=("Rod set, 10 m",),
            because=("P01", "N1"),
            cautions=(
                "Ladder one out for four up, footed.",
                "Find mains before drilling; seal every hole through a plate with fire-stop.",
            ),
        ),
        Task(
            id="T05",
            title="Terminate and label C01, C03, C05 and P01, T568B throughout",
            stage="terminate",
            visit=1,
            place="Lower floor",
            minutes=72,
            minutes_90=96,
            needs=("T04",),
            start_min=85,
            person=1,
            tools=("Punch-down tool",),
        ),
        Task(
            id="T06",
            title="Repeat the before readings: same places, device, hours and doors",
            stage="prove",
            visit=2,
            place="Every room",
            minutes=45,
            minutes_90=60,
            needs=("T05",),
            start_min=0,
            person=1,
        ),
    )
