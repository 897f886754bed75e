/**
 * Breaks the modules in small ways and counts how many of the breaks the tests catch.
 *
 *   npm run mutate                                 a sample of all modules of src that are not Svelte components
 *   npm run mutate -- --count 40 --seed 2 src/net  another sample, of some files or folders
 *   npm run mutate -- --all src/net/field.ts       every break of one file
 *
 * Works on a copy in a temporary folder. A break that makes the tests run for ever counts as caught.
 */

import { fork } from "node:child_process";
import {
  cpSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  realpathSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, normalize } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import ts from "typescript";

const HERE = dirname(fileURLToPath(import.meta.url));
const PATIENCE_MS = 60_000; // of one run of the tests
const WRITTEN = /^.*not to be edited/; // held to the schema by another test
const OTHER = {
  "<": "<=",
  "<=": "<",
  ">": ">=",
  ">=": ">",
  "===": "!==",
  "!==": "===",
  "+": "-",
  "-": "+",
  "*": "/",
  "/": "*",
  "%": "*",
  "&&": "||",
  "||": "&&",
  "??": "&&",
  "+=": "-=",
  "-=": "+=",
  "*=": "/=",
  "|": "&",
  "&": "|",
  "<<": ">>",
  ">>": "<<",
};

/** Every small break of a source: what it is, and from where to where the text becomes what. */
export function breaksOf(name, text) {
  const source = ts.createSourceFile(name, text, ts.ScriptTarget.Latest, true);
  const found = [];
  const put = (kind, from, to, becomes) => {
    const { line } = source.getLineAndCharacterOfPosition(from);
    found.push({ kind, from, to, becomes, line: line + 1, was: text.slice(from, to) });
  };
  const over = (kind, node, becomes) => put(kind, node.getStart(), node.getEnd(), becomes);
  const visit = (node) => {
    if (ts.isTypeNode(node) || ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) return;
    if (ts.isInterfaceDeclaration(node) || ts.isTypeAliasDeclaration(node)) return;
    if (ts.isBinaryExpression(node)) {
      const other = OTHER[node.operatorToken.getText()];
      if (other && !isText(node)) over("operator", node.operatorToken, other);
    } else if (ts.isPrefixUnaryExpression(node)) {
      if (node.operator === ts.SyntaxKind.ExclamationToken || node.operator === ts.SyntaxKind.MinusToken) {
        put("operator", node.getStart(), node.operand.getStart(), "");
      }
    } else if (ts.isNumericLiteral(node)) {
      over("constant", node, `(${node.getText()} + 1)`);
    } else if (ts.isStringLiteral(node) && /^[\w-]+$/.test(node.text) && !ts.isPropertyName(node)) {
      over("constant", node, '""');
    } else if (node.kind === ts.SyntaxKind.TrueKeyword) over("constant", node, "false");
    else if (node.kind === ts.SyntaxKind.FalseKeyword) over("constant", node, "true");
    else if (ts.isIfStatement(node)) over("condition", node.expression, `!(${node.expression.getText()})`);
    else if (ts.isConditionalExpression(node)) over("condition", node.condition, `!(${node.condition.getText()})`);
    else if (ts.isReturnStatement(node) && node.expression) over("return", node.expression, "undefined");
    else if (ts.isExpressionStatement(node)) over("statement", node, ";");
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

/** Adding texts: "-" in its place is no small break. */
function isText(node) {
  const sides = [node.left, node.right];
  return sides.some((side) => ts.isStringLiteralLike(side) || ts.isTemplateExpression(side));
}

function filesIn(folder) {
  return readdirSync(join(HERE, folder), { recursive: true, withFileTypes: true })
    .filter((one) => one.isFile())
    .map((one) => join(one.parentPath ?? one.path, one.name).slice(HERE.length + 1))
    .sort();
}

/** The tests that a file is under, by what imports what. */
function testsOf(files) {
  const known = new Set(files);
  const importers = new Map(files.map((name) => [name, new Set()]));
  for (const name of files.filter((one) => /\.(ts|svelte)$/.test(one))) {
    const text = readFileSync(join(HERE, name), "utf8");
    for (const [, path] of text.matchAll(/(?:\bfrom|\bimport)\s*\(?\s*["'](\.\.?\/[^"']+)["']/g)) {
      const base = normalize(join(dirname(name), path));
      const found = [base, `${base}.ts`].find((one) => known.has(one));
      if (found) importers.get(found).add(name);
    }
  }
  return (file) => {
    const seen = new Set([file]);
    for (const one of seen) for (const importer of importers.get(one)) seen.add(importer);
    return [...seen].filter((one) => one.endsWith(".test.ts"));
  };
}

function shuffled(things, seed) {
  let state = seed >>> 0;
  const random = () => {
    state = (state + 0x6d2b79f5) >>> 0; // mulberry32
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  return things
    .map((thing) => ({ thing, at: random() }))
    .sort((a, b) => a.at - b.at)
    .map(({ thing }) => thing);
}

/** A process that keeps vitest warm on the copy, and is replaced when the tests run for ever. */
class Runner {
  constructor(copy) {
    this.copy = copy;
    this.child = null;
  }
  /** Whether the tests fail, once `changed` is read anew. */
  fails(tests, changed) {
    this.child ??= fork(join(this.copy, "mutate.js"), ["--runner"], {
      cwd: this.copy,
      detached: true,
      stdio: "ignore",
    });
    const { child } = this;
    return new Promise((resolve) => {
      const done = (failed) => {
        clearTimeout(timer);
        child.removeAllListeners();
        resolve(failed);
      };
      const timer = setTimeout(() => {
        this.close();
        done(true);
      }, PATIENCE_MS);
      child.once("message", ({ failed }) => done(failed));
      child.once("exit", () => {
        this.child = null;
        done(true);
      });
      child.send({ tests, changed });
    });
  }
  close() {
    if (this.child) process.kill(-this.child.pid, "SIGKILL"); // with the workers it started
    this.child = null;
  }
}

/** The other side of it: runs what it is sent, with the file that changed read anew. */
async function run() {
  const { createVitest } = await import("vitest/node");
  // Each file of tests by itself: a module that another file has imported would be as it was.
  const options = { watch: false, reporters: [{}], root: process.cwd(), isolate: true };
  const vitest = await createVitest("test", options);
  process.on("message", async ({ tests, changed }) => {
    changed.forEach((name) => vitest.invalidateFile(join(process.cwd(), name)));
    const specs = (await vitest.globTestSpecifications(tests)).filter(
      (one) => !tests.length || tests.some((name) => one.moduleId.endsWith(`/${name}`)),
    );
    vitest.state.clearErrors();
    const { testModules, unhandledErrors } = await vitest.runTestSpecifications(specs, !tests.length);
    const ran = testModules.filter((one) => specs.some((spec) => spec.moduleId === one.moduleId)); // others are of before
    const failed = !ran.length || unhandledErrors.length > 0 || ran.some((one) => !one.ok());
    process.send({ failed });
  });
}

async function main() {
  const { values, positionals } = parseArgs({
    options: {
      count: { type: "string", default: "120" },
      seed: { type: "string", default: "1" },
      all: { type: "boolean", default: false },
    },
    allowPositionals: true,
  });
  const files = [...filesIn("src"), ...filesIn("tests")];
  const related = testsOf(files);
  const wanted = positionals.map((one) => normalize(one).replace(/\/$/, ""));
  const modules = files.filter(
    (one) =>
      one.startsWith("src") &&
      one.endsWith(".ts") &&
      !one.endsWith(".test.ts") &&
      !WRITTEN.test(readFileSync(join(HERE, one), "utf8")) &&
      (!wanted.length || wanted.some((name) => one === name || one.startsWith(`${name}/`))),
  );
  const every = modules.flatMap((file) =>
    breaksOf(file, readFileSync(join(HERE, file), "utf8")).map((one) => ({ ...one, file })),
  );
  const chosen = values.all ? every : shuffled(every, Number(values.seed)).slice(0, Number(values.count));
  console.log(`${chosen.length} of ${every.length} breaks of ${modules.length} modules`);

  const copy = mkdtempSync(join(realpathSync(tmpdir()), "mutate-"));
  const runner = new Runner(copy);
  const folders = new Map();
  try {
    for (const name of ["src", "tests"]) cpSync(join(HERE, name), join(copy, name), { recursive: true });
    for (const name of [
      "floors.js",
      "mutate.js",
      "package.json",
      "svelte.config.js",
      "tsconfig.json",
      "vite.config.ts",
    ]) {
      cpSync(join(HERE, name), join(copy, name));
    }
    symlinkSync(join(HERE, "node_modules"), join(copy, "node_modules"));
    if (await runner.fails([], [])) throw new Error("the tests fail before anything is broken");
    let broken = []; // and mended since
    for (const one of chosen) {
      const text = readFileSync(join(HERE, one.file), "utf8");
      writeFileSync(join(copy, one.file), text.slice(0, one.from) + one.becomes + text.slice(one.to));
      const tests = related(one.file);
      const caught = tests.length > 0 && (await runner.fails(tests, [one.file, ...broken]));
      broken = [one.file];
      writeFileSync(join(copy, one.file), text);
      const folder = folders.get(dirname(one.file)) ?? { caught: 0, all: 0 };
      folders.set(dirname(one.file), { caught: folder.caught + Number(caught), all: folder.all + 1 });
      if (!caught) {
        const was = one.was.replace(/\s+/g, " ").slice(0, 70);
        console.log(`missed  ${one.file}:${one.line}  ${one.kind}: ${was}  ->  ${one.becomes.slice(0, 40)}`);
      }
    }
    if (await runner.fails([], broken)) throw new Error("the tests fail though nothing is broken any more");
  } finally {
    runner.close();
    rmSync(copy, { recursive: true });
  }
  const total = { caught: 0, all: 0 };
  for (const [folder, { caught, all }] of [...folders].sort()) {
    console.log(`${folder.padEnd(12)} ${caught}/${all}`);
    total.caught += caught;
    total.all += all;
  }
  console.log(`caught ${total.caught}/${total.all}, ${((100 * total.caught) / total.all).toFixed(0)} %`);
}

if (process.argv[2] === "--runner") await run();
else if (process.argv[1] === fileURLToPath(import.meta.url)) await main();
