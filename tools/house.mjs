#!/usr/bin/env node
// What the guide says of the shape of the house, counted: lines, the longest functions, entries of a folder, and text that stands
// twice.
//
//   node tools/house.mjs                 of the sources as they are
//   node tools/house.mjs --at COMMIT     of those of a commit, put through the same formatter first
//   node tools/house.mjs --most 20       longer lists
//
// A line counts that says something: neither blank nor comment. Twice stand twelve such lines or more that are alike but for the
// space around them, imports left out.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import prettier from 'prettier';
import ts from 'typescript';

import { filesBelow } from './mutants/related.mjs';

const ROOT = fileURLToPath(new URL('..', import.meta.url)).replace(/[\\/]$/, '');
/** Lines alike in a row from which on they are a duplicate. */
const ALIKE = 12;
const { values: options } = parseArgs({ options: { at: { type: 'string' }, most: { type: 'string', default: '10' } } });
const most = Number(options.most);

let root = ROOT;
if (options.at !== undefined) {
  root = mkdtempSync(join(tmpdir(), 'pegbook-house-'));
  process.on('exit', () => rmSync(root, { recursive: true, force: true }));
  const archive = execFileSync('git', ['-C', ROOT, 'archive', options.at, 'src'], { maxBuffer: 1 << 28 });
  execFileSync('tar', ['-x', '-C', root], { input: archive });
  const style = await prettier.resolveConfig(join(ROOT, 'src/index.ts'));
  for (const file of filesBelow(root, 'src', '.ts')) {
    const path = join(root, file);
    writeFileSync(path, await prettier.format(readFileSync(path, 'utf8'), { ...style, parser: 'typescript' }));
  }
}

const files = filesBelow(root, 'src', '.ts');
const functions = [];
const perLayer = new Map();
const windows = new Map();
let physical = 0;
let said = 0;
for (const file of files) {
  const text = readFileSync(join(root, file), 'utf8');
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const says = sayingLines(source, text);
  physical += text.split('\n').length - 1;
  said += says.length;
  const layer = file.split('/').slice(0, 2).join('/');
  perLayer.set(layer, (perLayer.get(layer) ?? 0) + says.length);
  const visit = (node) => {
    if (ts.isFunctionLike(node) && node.body !== undefined) {
      const from = source.getLineAndCharacterOfPosition(node.getStart(source)).line;
      const to = source.getLineAndCharacterOfPosition(node.getEnd()).line;
      const lines = says.filter(({ line }) => line >= from && line <= to).length;
      functions.push({ lines, place: `${file}:${String(from + 1)}`, name: node.name?.getText(source) ?? 'nameless' });
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  const own = says.filter(({ words }) => !/^(?:import|export) .* from '|^\} from '/u.test(words));
  for (let at = 0; at + ALIKE <= own.length; at += 1) {
    const key = createHash('sha256')
      .update(
        own
          .slice(at, at + ALIKE)
          .map(({ words }) => words)
          .join('\n'),
      )
      .digest('base64');
    const places = windows.get(key) ?? [];
    places.push({ file, lines: own.slice(at, at + ALIKE).map(({ line }) => line) });
    windows.set(key, places);
  }
}

/** Lines that are not all blank or comment, with their words. */
function sayingLines(source, text) {
  const isComment = new Uint8Array(text.length);
  const mark = (from, to) => isComment.fill(1, from, to);
  const look = (node) => {
    for (const range of ts.getLeadingCommentRanges(text, node.getFullStart()) ?? []) mark(range.pos, range.end);
    for (const range of ts.getTrailingCommentRanges(text, node.getEnd()) ?? []) mark(range.pos, range.end);
    ts.forEachChild(node, look);
  };
  look(source);
  let at = 0;
  return text.split('\n').flatMap((words, line) => {
    const start = at;
    at += words.length + 1;
    const left = [...words].some((sign, index) => sign.trim() !== '' && isComment[start + index] === 0);
    return left ? [{ line, words: words.trim() }] : [];
  });
}

const folders = new Map();
for (const file of files) {
  for (let inner = file, folder = dirname(file); folder !== '.'; inner = folder, folder = dirname(folder)) {
    const entries = folders.get(folder) ?? new Set();
    entries.add(inner);
    folders.set(folder, entries);
  }
}
const twice = new Set();
for (const places of windows.values())
  if (places.length > 1)
    for (const { file, lines } of places) for (const line of lines) twice.add(`${file}:${String(line)}`);

const largest = (list, of) => [...list].sort((a, b) => of(b) - of(a)).slice(0, most);
console.log(
  `${options.at ?? 'as it is'}: ${String(files.length)} files, ${String(physical)} lines, ${String(said)} that say something`,
);
for (const [layer, lines] of largest(perLayer, ([, lines]) => lines)) console.log(`  ${layer}: ${String(lines)}`);
console.log('longest functions:');
for (const { lines, place, name } of largest(functions, ({ lines }) => lines))
  console.log(`  ${String(lines)}  ${name}  ${place}`);
console.log(
  `  longer than 60: ${String(functions.filter(({ lines }) => lines > 60).length)} of ${String(functions.length)}`,
);
console.log('entries of a folder:');
for (const [folder, entries] of largest(folders, ([, entries]) => entries.size))
  console.log(`  ${String(entries.size)}  ${folder}`);
console.log(
  `twice, ${String(ALIKE)} lines or more alike: ${String(twice.size)} lines, ${((100 * twice.size) / said).toFixed(2)} %`,
);
const pairs = new Map();
for (const places of windows.values())
  if (places.length > 1) {
    const key = [...new Set(places.map(({ file }) => file))].join(' and ');
    pairs.set(key, (pairs.get(key) ?? 0) + 1);
  }
for (const [key, count] of largest(pairs, ([, count]) => count)) console.log(`  ${String(count)} windows: ${key}`);
