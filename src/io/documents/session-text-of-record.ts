import { pushAll } from '../../core/numeric/push-all.js';
import { formatUtc } from '../../core/numeric/text/utc-text.js';
import type { FinishedRun } from '../../records/runs/finished-run.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';

type Value = string | number | boolean | readonly string[];

/** Parts of a session that a record holds under the names of the session file. */
const PARTS = ['system', 'height', 'rover', 'acceptance', 'precision', 'tolerance'];

/**
 * The text of a session file that says what a run record of a reduction holds of its session.
 *
 * Given: the record, which tells set-ups of one base id apart by a number. Problems: record-schema where it holds no settings of a session, or a setting
 * twice, as records of earlier versions did of such set-ups.
 */
export function sessionTextOfRecord({ json, source }: FinishedRun): Outcome<string> {
  const settings = settingsOf(json['settings']);
  const keys = settings.map(({ key }) => key);
  const twice = keys.find((key, index) => keys.indexOf(key) !== index);
  const ids = settings.flatMap(({ key, value }) => {
    const name = key.startsWith('base.') && key.endsWith('.id') ? key.slice('base.'.length, -'.id'.length) : null;
    return name !== null && name.replace(/#\d+$/u, '') === String(value) ? [name] : [];
  });
  if (twice !== undefined || ids.length === 0)
    return failure(
      errorProblem('record-schema', {
        message:
          twice === undefined
            ? 'holds no settings of a session with a base'
            : `holds ${twice} more than once: the set-ups of one base cannot be told apart in it`,
        where: { source },
        hint: 'give the session file itself with --session',
      }),
    );
  const lines = ['version = 1'];
  for (const part of PARTS) {
    const own = under(settings, `${part}.`);
    if (own.size > 0) pushAll(lines, [`[${part}]`, ...entries(part === 'precision' ? withMillimetres(own) : own)]);
  }
  for (const id of ids) pushAll(lines, ['[[base]]', ...entries(baseOf(under(settings, `base.${id}.`)))]);
  return success(`${lines.join('\n')}\n`);
}

interface Setting {
  readonly key: string;
  readonly value: Value;
}

/** The settings that say something. */
function settingsOf(member: unknown): readonly Setting[] {
  if (!Array.isArray(member)) return [];
  return (member as unknown[]).flatMap((item): readonly Setting[] => {
    if (typeof item !== 'object' || item === null) return [];
    const { key, value } = item as { readonly key?: unknown; readonly value?: unknown };
    return typeof key === 'string' && isValue(value) ? [{ key, value }] : [];
  });
}

function isValue(value: unknown): value is Value {
  return (
    ['string', 'number', 'boolean'].includes(typeof value) ||
    (Array.isArray(value) && value.every((one) => typeof one === 'string'))
  );
}

function under(settings: readonly Setting[], start: string): ReadonlyMap<string, Value> {
  return new Map(
    settings.flatMap(({ key, value }) => (key.startsWith(start) ? [[key.slice(start.length), value]] : [])),
  );
}

function entries(values: ReadonlyMap<string, Value>): readonly string[] {
  return [...values].map(([key, value]) => `${key} = ${textOf(value)}`);
}

function textOf(value: Value): string {
  return typeof value === 'number' || typeof value === 'boolean' ? String(value) : JSON.stringify(value);
}

/** A record holds metres where the session file has millimetres. */
function withMillimetres(values: ReadonlyMap<string, Value>): ReadonlyMap<string, Value> {
  return new Map(
    [...values].map(([key, value]) =>
      key.endsWith('.constant_m') && typeof value === 'number'
        ? [key.replace('.constant_m', '.constant_mm'), value * 1000]
        : [key, value],
    ),
  );
}

/** A base under the names of the session file: kinds follow from what is given, times are written out. */
function baseOf(values: ReadonlyMap<string, Value>): ReadonlyMap<string, Value> {
  const found = new Map<string, Value>();
  for (const [key, value] of values) {
    if (key.endsWith('.kind')) {
      if (key === 'antenna_height.kind') found.set('antenna_height_kind', value);
    } else if (key === 'from_ms' || key === 'to_ms') {
      if (typeof value === 'number') found.set(key.replace('_ms', '_utc'), formatUtc(value));
    } else
      found.set(
        NAMES.reduce((name, [from, to]) => name.replace(from, to), key),
        value,
      );
  }
  return found;
}

const NAMES: readonly (readonly [RegExp, string])[] = [
  [/^antenna_height\.(?:height|slant)_m$/u, 'antenna_height_m'],
  [/^antenna_height\.(radius|offset)_m$/u, 'antenna_$1_m'],
  [/^(known|broadcast)\.(?:values|height)\./u, '$1.'],
];
