import * as decimal from './fixed-decimals.js';
import { evaluate, UNITS } from './formula.js';
import { jointWeights } from './joint-weights.js';
import type { Value } from './formula.js';

/** What a printed explanation says of one step, and what does not come out. */
export interface ReadStep {
  readonly title: string;
  readonly source: string;
  /** Names with a formula beside them, that were computed again. */
  readonly computed: readonly string[];
  readonly given: readonly string[];
  /** Numbers of the results that repeat what stands above them. */
  readonly repeated: number;
  readonly wrong: readonly string[];
}

/** Of the last printed place: half of it is rounding, the rest what doubles and rounded inputs may do. */
const ALLOWED_PLACES = decimal.fromText('0.52');
const STATEMENT = /^([\p{L}∞][\p{L}\p{M}0-9₀₁₂₃₄₅₆₇₈₉′_]*) = (.+)$/u;
const NUMBER = /^(-?\d+(?:\.(\d+))?)( ?[^\d\s,]*)$/u;
const REPEATED = /(?:^|, )(\p{L}[\p{L}\p{M}_]*) (-?\d+(?:\.\d+)?(?:°| m| mm)?)(?=,|$)/gu;
const TITLE = /^\d+\. (.*)$/u;

interface PrintedNumber {
  readonly value: bigint;
  readonly place: bigint;
}

function numberOf(text: string): PrintedNumber | null {
  const found = NUMBER.exec(text.trim());
  const unit = UNITS[(found?.[3] ?? '').trim()];
  if (found === null || unit === undefined) return null;
  const places = (found[2] ?? '').length;
  return {
    value: decimal.times(decimal.fromText(found[1] as string), unit),
    place: decimal.times(decimal.over(decimal.ONE, decimal.whole(1) * 10n ** BigInt(places)), unit),
  };
}

const differs = (is: bigint, { value, place }: PrintedNumber): boolean =>
  decimal.absolute(is - value) > decimal.times(place, ALLOWED_PLACES);
const shown = (is: bigint, { value, place }: PrintedNumber): string =>
  `off by ${(Number(is - value) / Number(place)).toFixed(3)} of its last place`;

/**
 * Computes a printed explanation again, line by line, in decimal arithmetic: `name = number` is an input; `name = formula = number`
 * is computed of the names above it, each of them as it was computed, and must round to the number. A table gives columns.
 */
export function readExplanation(text: string): readonly ReadStep[] {
  const known = new Map<string, Value>();
  const steps: {
    title: string;
    source: string;
    computed: string[];
    given: string[];
    repeated: number;
    wrong: string[];
  }[] = [];
  let columns: string[] | null = null;
  let table = new Map<string, string[]>();
  let weights: ReadonlyMap<string, bigint> = new Map();
  for (const line of text.split('\n')) {
    const title = TITLE.exec(line)?.[1];
    if (title !== undefined) {
      steps.push({ title, source: '', computed: [], given: [], repeated: 0, wrong: [] });
      columns = null;
    }
    const step = steps.at(-1);
    if (step === undefined) continue;
    if (/^ {3}\[/u.test(line)) step.source = line.trim().slice(1, -1);
    if (line.startsWith('   = ')) checkRepeated(line.slice(5), known, step);
    if (!line.startsWith('     ')) continue;
    const body = line.slice(5);
    if (/^ *[\p{L}_]+ \[/u.test(body)) {
      columns = body
        .trim()
        .split(/\s+/u)
        .filter((word) => !word.startsWith('['));
      table = new Map(columns.map((name) => [name, []]));
      continue;
    }
    if (columns !== null && /^[\s\d.-]+$/u.test(body)) {
      body
        .trim()
        .split(/\s+/u)
        .forEach((cell, at) => table.get((columns as string[])[at] as string)?.push(cell));
      continue;
    }
    if (columns !== null) {
      for (const [name, cells] of table) known.set(name, cells.map(decimal.fromText));
      if (columns.every((name) => name.startsWith('C_'))) weights = jointWeights(table);
      columns = null;
    }
    if (body.startsWith('of the epochs kept')) keepRows(table, known);
    for (const statement of statementsOf(body)) checkStatement(statement, known, { table, weights }, step);
  }
  return steps;
}

/** Leaves of every column the rows that were not screened out. */
function keepRows(table: ReadonlyMap<string, readonly string[]>, known: Map<string, Value>): void {
  const kept = known.get('k') as readonly bigint[];
  for (const name of table.keys())
    known.set(
      name,
      (known.get(name) as readonly bigint[]).filter((_, at) => kept[at] !== 0n),
    );
}

/** Without the words before a colon and those in brackets behind. */
function statementsOf(body: string): readonly string[] {
  const label = /^[^=]*: /u.exec(body)?.[0] ?? '';
  return body
    .slice(label.length)
    .split('; ')
    .map((part) =>
      / = .* \([^()]*(?:\([^()]*\)[^()]*)*\)$/u.test(part) &&
      numberOf(withoutNote(part).split(' = ').at(-1) ?? '') !== null
        ? withoutNote(part)
        : part,
    );
}
const withoutNote = (part: string): string => part.replace(/ \([^=]*\)$/u, '');

interface OpenStep {
  computed: string[];
  given: string[];
  repeated: number;
  wrong: string[];
}

function checkStatement(
  statement: string,
  known: Map<string, Value>,
  { table, weights }: { table: ReadonlyMap<string, readonly string[]>; weights: ReadonlyMap<string, bigint> },
  step: OpenStep,
): void {
  const found = STATEMENT.exec(statement.trim());
  if (found === null) return;
  const [name, parts] = [found[1] as string, (found[2] as string).split(' = ')];
  const last = parts.at(-1) as string;
  try {
    if (last.includes(' of the table')) {
      const is = evaluate(parts[0] as string, known) as readonly bigint[];
      (table.get(name) ?? []).forEach((cell, at) => {
        const printed = numberOf(cell) as PrintedNumber;
        const kept = (known.get('k') as readonly bigint[])[at] !== 0n;
        // The mean that the weights belong to is known to the place it is printed to.
        if (kept && decimal.absolute((is[at] as bigint) - printed.value) > 2n * printed.place)
          step.wrong.push(`${name}, row ${String(at + 1)}: ${shown(is[at] as bigint, printed)}`);
      });
      step.computed.push(name);
      return;
    }
    const printed = numberOf(last);
    if (printed === null) return;
    if (parts.length === 1) {
      const weight = weights.get(name);
      if (weight !== undefined && differs(weight, printed)) step.wrong.push(`${statement}: ${shown(weight, printed)}`);
      known.set(name, weight ?? printed.value);
      (weight === undefined ? step.given : step.computed).push(name);
      return;
    }
    const is = evaluate(parts[0] as string, known) as bigint;
    if (differs(is, printed)) step.wrong.push(`${statement}: ${shown(is, printed)}`);
    known.set(name, is);
    step.computed.push(name);
  } catch (error) {
    step.wrong.push(`${statement}: ${error instanceof Error ? error.message : String(error)}`);
  }
}

function checkRepeated(result: string, known: ReadonlyMap<string, Value>, step: OpenStep): void {
  for (const [, name, number] of result.matchAll(REPEATED)) {
    const is = known.get(name as string);
    const printed = numberOf(number as string);
    if (typeof is !== 'bigint' || printed === null) continue;
    step.repeated += 1;
    if (differs(is, printed)) step.wrong.push(`${name as string} ${number as string}: ${shown(is, printed)}`);
  }
}
