"""A report of one's own from a plan: rooms, price and what is still open, as Markdown."""

import sys

import rehaul

job = rehaul.load(sys.argv[1]) if len(sys.argv) > 1 else rehaul.demo()
found = rehaul.plan(job)
print(f"# {job.title}\n\n| room | asked | today | planned |\n|---|---|---|---|")
for before, after in zip(found.before.rooms, found.after.rooms, strict=True):
    print(f"| {after.name} | {after.need_mbps:.0f} | {before.median_mbps:.0f} | {after.median_mbps:.0f} |")
quote = found.takeoff.quote
print(f"\n{quote.total:,.0f} {quote.currency}, {len(found.order)} steps of work.")
for question in found.open_questions[:3]:
    print(f"- {question.question}")
