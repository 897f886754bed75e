"""Write the front end's types, lists of kinds and defaults from the JSON Schemas of docs/, and its sentences.

    python tools/write_types.py           after tools/write_schemas.py
    python tools/write_types.py --check   say which file is stale, exit code 1

Standard library only: what builds and checks the pages calls it without rehaul.
"""

from __future__ import annotations

import csv
import json
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
DOCS = ROOT / "docs"
SOURCES = ROOT / "frontend" / "src"
TABLES = ROOT / "src" / "rehaul" / "words" / "tables"
LANGUAGES = ("en", "fr")
OF_PAGES = ("page_", "words.")  # tables of sentences that the pages say
WIDE = 120  # as frontend/.prettierrc.json has it
NO_KIND = {"AcceptedOffer"}  # listed in a job, but signed: no edit puts or drops one
HEAD = "/** {what}: written by tools/write_types.py from docs/{schema}; not to be edited. */\n"
HEAD_OF_WORDS = "/** {what}: written by tools/write_types.py from tables of words; not to be edited. */\n"
Schema = dict[str, Any]


def type_texts() -> dict[Path, str]:
    """The files as they should stand, by their path; none where the schemas are not there."""
    if not (DOCS / "job.schema.json").exists():
        return {}
    job, plan = (json.loads((DOCS / f"{name}.schema.json").read_text("utf-8")) for name in ("job", "plan"))
    return {
        SOURCES / "job" / "schema.ts": job_types(job),
        SOURCES / "job" / "kinds.ts": kinds(job),
        SOURCES / "job" / "defaults.ts": defaults(job),
        SOURCES / "net" / "planSchema.ts": plan_types(plan),
        SOURCES / "words" / "catalogue.ts": catalogue(),
        **{SOURCES / "words" / f"{language}.ts": spoken(language) for language in LANGUAGES},
    }


def stale() -> list[str]:
    """The files that are not as the schemas have them."""
    return [
        path.relative_to(ROOT).as_posix()
        for path, text in type_texts().items()
        if not path.exists() or path.read_text("utf-8") != text
    ]


# What is said -----------------------------------------------------------------------------------------------


def rows_of(*tables: str) -> dict[str, list[str]]:
    """What stands in tables of these beginnings: in each language by its code, a term by its English."""
    rows = {}
    for path in sorted(TABLES.glob("*.csv")):
        if path.name.startswith(tables):
            with path.open(encoding="utf-8", newline="") as file:
                for row in csv.DictReader(file):
                    code = f"{path.stem}.{row['code']}" if "code" in row else row["en"]
                    rows[code] = [row[language] for language in LANGUAGES]
    return rows


def catalogue() -> str:
    """Which languages and codes there are, with the values that each names: all that is not fetched later."""
    text = HEAD_OF_WORDS.format(what="What the pages can say")
    text += f'\nimport type {{ SENTENCES }} from "./{LANGUAGES[0]}";\n'
    text += f"\nexport const LANGUAGES = {json.dumps(LANGUAGES)} as const;\n"
    text += "\nexport type Code = keyof typeof SENTENCES;\n"
    text += "\n/** What a file of one language has: sentences by code, words of lists by their English. */\n"
    text += "export type Words = { SENTENCES: Record<Code, string>; TERMS: Record<string, string> };\n"
    text += "\n/** The values that a sentence names. */\n// prettier-ignore\nexport type Named = {\n"
    for code, said in rows_of(*OF_PAGES).items():
        names = sorted(set(re.findall(r"\{(\w+)", said[0])))
        text += f"  {json.dumps(code)}: {' | '.join(map(json.dumps, names)) or 'never'};\n"
    return text + "};\n"


def spoken(language: str) -> str:
    """What the pages say in one language, a file of its own: a page fetches the one that its reader reads."""
    number = LANGUAGES.index(language)
    text = HEAD_OF_WORDS.format(what=f"What the pages say, in {language}")
    text += '\nimport type { Words } from "./catalogue";\n'
    terms = {en: said for en, said in rows_of("terms").items() if said[number] != en}
    for name, rows in (("SENTENCES", rows_of(*OF_PAGES)), ("TERMS", terms)):
        first = number == 0 and name == "SENTENCES"  # they say which codes there are
        kind = "" if first else f': Words["{name}"]'
        text += f"\n// prettier-ignore\nexport const {name}{kind} = {{"
        for code, said in rows.items():
            key, words = (json.dumps(one, ensure_ascii=False) for one in (code, said[number]))
            text += f"\n  {key}: {words},"
        text += "\n};\n" if rows else "};\n"
    return text


# The job ----------------------------------------------------------------------------------------------------


def job_types(schema: Schema) -> str:
    """Types of the document and of all in it."""
    used = sorted({constant(*one) for one, _ in enumerations(schema)})
    text = HEAD.format(what="The job document", schema="job.schema.json")
    text += "\nimport type {\n" + "".join(f"  {name},\n" for name in used) + '} from "./kinds";\n'
    for name, part in parts(schema, "Job"):
        text += "\n" + declared(name, part, listed=True)
    return text


def kinds(schema: Schema) -> str:
    """What a field may be, where it is one of a few words or numbers, and where things are listed."""
    text = HEAD.format(what="Words a job may use", schema="job.schema.json")
    text += f"\nexport const SCHEMA_VERSION = {schema['properties']['schema_version']['const']};\n\n"
    for (name, field), values in enumerations(schema):
        text += const(f"export const {constant(name, field)} = ", values, " as const;\n")
    rows = [
        f'  {kind}: {{ field: "{field}", inHouse: {str(in_house).lower()} }},\n'
        for kind, (field, in_house, _) in things(schema).items()
    ]
    text += "\n/** Where the things of one kind stand in the document: `house.walls`, `boxes`. */\n"
    text += "export const LISTS = {\n" + "".join(rows) + "} as const;\n"
    ones = [name for name, part in schema["properties"].items() if "$ref" in part]
    text += "\n/** Things of which a job has exactly one; edits set their fields and name no id. */\n"
    return text + const("export const SINGLES = ", ["job", *ones], " as const;\n")


def defaults(schema: Schema) -> str:
    """What a field is where an edit puts a thing without it."""
    text = HEAD.format(what="What stands where nothing is said", schema="job.schema.json")
    text += "\nexport const DEFAULTS = {\n"
    for kind, (_, _, name) in things(schema).items():
        fields = schema["$defs"][name]["properties"]
        rows = {field: part["default"] for field, part in fields.items() if "default" in part}
        text += const(f"  {kind}: ", rows, ",\n", indent="  ") if rows else f"  {kind}: {{}},\n"
    return text + "} as const;\n"


def things(schema: Schema) -> dict[str, tuple[str, bool, str]]:
    """By kind: the field that lists such things, whether that is the house's, and what they are."""
    found = {}
    for holder, in_house in ((schema["$defs"]["House"], True), (schema, False)):
        for field, part in holder["properties"].items():
            name = part.get("items", {}).get("$ref", "").rpartition("/")[2]
            if name and name not in NO_KIND and "id" in schema["$defs"][name].get("required", []):
                found[snake(name)] = field, in_house, name
    return found


def enumerations(schema: Schema) -> Iterator[tuple[tuple[str, str], list[Any]]]:
    """Every list of allowed values: (its definition, its field or ""), the values."""
    for name, part in parts(schema, "Job"):
        if "enum" in part:
            yield (name, ""), part["enum"]
        for field, inner in part.get("properties", {}).items():
            for one in [inner, *inner.get("anyOf", [])]:
                if "enum" in one:
                    yield (name, field), one["enum"]


# The plan ---------------------------------------------------------------------------------------------------


def plan_types(schema: Schema) -> str:
    """Types of what a plan says."""
    text = HEAD.format(what="What a plan says", schema="plan.schema.json")
    return text + "".join("\n" + declared(name, part) for name, part in parts(schema, "Plan"))


# TypeScript -------------------------------------------------------------------------------------------------


def parts(schema: Schema, root: str) -> Iterator[tuple[str, Schema]]:
    """Every definition, the document itself last."""
    yield from schema["$defs"].items()
    yield root, schema


def declared(name: str, part: Schema, *, listed: bool = False) -> str:
    """One exported type; `listed`: the values of words stand in kinds.ts."""
    text = comment(part.get("description", ""), "")
    if "properties" not in part:
        named = f"(typeof {constant(name, '')})[number]" if listed and "enum" in part else type_of(part, "")
        return text + f"export type {name} = {named};\n"
    text += f"export type {name} = {{\n"
    for field, inner in part["properties"].items():
        said = inner.get("description", "")
        text += comment("" if said.startswith("short id") else said, "  ")
        line = f"  {field}: {type_of(inner, constant(name, field) if listed else '')};\n"
        text += line if len(line) <= WIDE + 1 else line.replace(": ", ": | ", 1).replace(" | ", "\n    | ")
    return text + "};\n"


def comment(words: str, indent: str) -> str:
    """A short comment; long ones are left to the schema."""
    line = f"{indent}/** {' '.join(words.split())} */\n"
    return line if words and len(line) <= WIDE else ""


def type_of(part: Schema, values: str) -> str:
    """A type expression; `values` names the list that an enumeration stands in."""
    if "$ref" in part:
        return str(part["$ref"]).rpartition("/")[2]
    if "anyOf" in part:
        return " | ".join(type_of(one, values) for one in part["anyOf"])
    if "enum" in part:
        return f"(typeof {values})[number]" if values else " | ".join(json.dumps(one) for one in part["enum"])
    if "const" in part:
        return json.dumps(part["const"])
    match part.get("type"):
        case "array" if "prefixItems" in part:
            return "[" + ", ".join(type_of(one, "") for one in part["prefixItems"]) + "]"
        case "array":
            inner = type_of(part["items"], "")
            return f"({inner})[]" if "|" in inner else f"{inner}[]"
        case "object":
            inner = part.get("additionalProperties", True)
            return f"Record<string, {type_of(inner, '') if isinstance(inner, dict) else 'unknown'}>"
        case "integer" | "number":
            return "number"
        case "boolean" | "string" | "null" as plain:
            return str(plain)
    raise SystemExit(f"tools/write_types.py does not know this part of a schema: {json.dumps(part)[:200]}")


def const(before: str, value: Any, after: str, indent: str = "") -> str:
    """A value, on one line where it fits, a field or a word a line where it does not."""
    line = before + flat(value) + after
    if len(line) <= WIDE + 1 and not (isinstance(value, dict) and indent):
        return line
    pairs = value.items() if isinstance(value, dict) else ((None, one) for one in value)
    text = before + ("{\n" if isinstance(value, dict) else "[\n")
    for key, one in pairs:
        text += const(f"{indent}  {key}: " if key else f"{indent}  ", one, ",\n")
    return text + indent + ("}" if isinstance(value, dict) else "]") + after


def flat(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key}: {flat(one)}" for key, one in value.items()) + " }" if value else "{}"
    if isinstance(value, list):
        return "[" + ", ".join(flat(one) for one in value) + "]"
    if isinstance(value, float) and value.is_integer():
        value = int(value)
    return json.dumps(value, ensure_ascii=False)


def constant(name: str, field: str) -> str:
    """`CABLE_KIND`, `STOREY_ACCESS`: the list of what that may be."""
    return "_".join(filter(None, [snake(name), field])).upper()


def snake(name: str) -> str:
    return re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", name).lower()


def main() -> int:
    """Write them, or say what is stale; the exit code."""
    if sys.argv[1:] == ["--check"]:
        for name in stale():
            print(f"{name} is not as the schemas have it: run python tools/write_types.py", file=sys.stderr)
        return 1 if stale() else 0
    for path, text in type_texts().items():
        path.write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
