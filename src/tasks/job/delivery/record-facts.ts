import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { formatUtc } from '../../../core/numeric/text/utc-text.js';
import type { FinishedRun } from '../../../records/runs/finished-run.js';
import type {
  DeliveryBase,
  DeliveryCheck,
  DeliveryFact,
  DeliveryReport,
} from '../../../records/reports/delivery-report.js';

type Json = Readonly<Record<string, unknown>>;

const LIMITS: Readonly<Record<string, string>> = { limit_horizontal_m: 'in plan', limit_vertical_m: 'in height' };

/** What the record of a reduction says that its coordinates rest on. */
export type RecordFacts = Pick<DeliveryReport, 'systems' | 'grids' | 'bases' | 'days' | 'edits'>;

/** Systems, grids, bases, days and edits of a run, in words. Given: its record. */
export function recordFacts({ json }: FinishedRun): RecordFacts {
  const job = objectOf(json['job']);
  return {
    systems: [
      ...once(
        listOf(json['systems']).map(({ role, name }): DeliveryFact => ({ name: wordOf(role), value: wordOf(name) })),
      ),
      ...epochFacts(json),
    ],
    grids: once(
      listOf(json['grids']).map(({ role, name, sha256, test }) => ({
        name: wordOf(role),
        value: wordOf(name),
        sha256: typeof sha256 === 'string' ? sha256 : null,
        test: typeof test === 'string' ? test : null,
      })),
    ),
    bases: basesOf(json),
    days: listOf(job['days']).map(({ id }) => wordOf(id)),
    edits: [
      ...listOf(job['excluded']).map(
        (edit) => `Left out: ${namesOf(edit)}, ${countOf(edit)} (${wordOf(edit['reason'])}).`,
      ),
      ...listOf(job['renamed']).map(
        (edit) => `Renamed: ${wordOf(edit['from'])} to ${wordOf(edit['to'])} (${wordOf(edit['reason'])}).`,
      ),
    ],
  };
}

/** A check of the points. Given: its command; the record of its run, or null; its answer and counts by the ledger. */
export function checkFacts(
  command: string,
  record: FinishedRun | null,
  answer: DeliveryCheck['answer'],
  counts: Readonly<Record<string, number>>,
): Omit<DeliveryCheck, 'beyond'> {
  const methods = listOf(record?.json['methods']).flatMap(({ id, name, source }) => {
    if (!wordOf(id).startsWith('standard-')) return [];
    const { key, locator } = objectOf(source);
    return [`${wordOf(name)}, ${wordOf(key)} ${wordOf(locator)}`];
  });
  const limits = settingsOf(record?.json ?? {}).flatMap(([key, value]) =>
    LIMITS[key] === undefined ? [] : [`limit ${LIMITS[key]} ${wordOf(value)} m`],
  );
  // Counted where there are any.
  const unchecked = record?.reasonCounts.get('network-unchecked') ?? 0;
  // An adjustment counts what it adjusts; what reads its points counts its own comparisons.
  const what =
    command === 'adjust-network'
      ? `nothing checks ${String(unchecked)} of its observations and control points`
      : `${String(unchecked)} of its comparisons rest on points that nothing checked in the adjustment they come from`;
  const unseen = unchecked === 0 ? [] : [what];
  return {
    command,
    what: checkedWords(command, record),
    answer,
    counts: new Map(Object.entries(counts)),
    by: [...methods, ...limits, ...unseen],
    reasons: record?.reasonCounts ?? new Map(), // A run that left no record says no reason.
    largest: (record?.summary?.largest ?? []).flatMap(({ figure, value, at }) =>
      // Nor what it found.
      LARGEST[figure] === undefined ? [] : [{ name: LARGEST[figure], value: formatFixed(value, 3), at }],
    ),
  };
}

const LARGEST: Readonly<Record<string, string>> = {
  horizontal_difference_m: 'in plan',
  vertical_difference_m: 'in height',
  moved_m: 'moved',
};

/** What a check held against what. */
function checkedWords(command: string, record: FinishedRun | null): string {
  if (command === 'adjust-network') return 'adjustment of the network';
  if (command === 'fit-site') return 'fit of the site';
  const argv = record?.argv ?? []; // Without a record nothing is known of it.
  if (argv.includes('--register')) return 'control over the days';
  const kinds = new Set(record?.inputs.map(({ kind }) => kind) ?? []); // As above.
  const against = [
    ...(kinds.has('control') ? ['control'] : []),
    ...(argv.includes('--repeats') ? ['repeats'] : []),
    ...(kinds.has('design') ? ['design'] : []),
  ];
  return against.length === 0 ? 'check of the points' : `check against ${against.join(' and ')}`;
}

/** A set-up as settings name it: its day, where there are days, and its name. */
type SetUp = readonly [day: string | undefined, name: string];

/** The coordinate of each base, once for all days that have the same. */
function basesOf(json: Json): readonly DeliveryBase[] {
  const found = new Map<string, { id: string; day: string | null; known: DeliveryFact[]; broadcast: DeliveryFact[] }>();
  const times = setUpTimes(json);
  const places = settingsOf(json).flatMap(([key, value]) => {
    const place = /^(?:day\.(.+)\.)?base\.(.+)\.(known|broadcast)\.(.+)$/u.exec(key);
    if (place === null || value === null) return [];
    const [, day, name = '', kind, path = ''] = place;
    return [{ setUp: [day, name] as const, kind, path, value }];
  });
  const setUps = new Set(places.map(({ setUp }) => JSON.stringify(setUp)));
  for (const { setUp, kind, path, value } of places) {
    const own = JSON.stringify(setUp);
    // A set-up without times stood all the while.
    const id = `${idOf(setUp, setUps)}${times.get(own) ?? ''}`;
    const base = found.get(own) ?? { id, day: setUp[0] ?? null, known: [], broadcast: [] };
    const leaf = path.split('.').at(-1) ?? path;
    if (leaf !== 'kind') base[kind === 'known' ? 'known' : 'broadcast'].push({ name: leaf, value: wordOf(value) });
    found.set(own, base);
  }
  const bases = new Map<string, DeliveryBase & { days: string[] }>();
  for (const { id, day, known, broadcast } of found.values()) {
    const kind = known.length > 0 ? 'known' : 'broadcast';
    const place = kind === 'known' ? known : broadcast;
    const key = JSON.stringify([id, place]);
    const base = bases.get(key) ?? { id, days: [], kind, place };
    if (day !== null) base.days.push(day);
    bases.set(key, base);
  }
  return [...bases.values()];
}

/** The id of a base by the name of a set-up: of each after the first that has it, a number stands behind it (`B1#2`). */
function idOf([day, name]: SetUp, setUps: ReadonlySet<string>): string {
  const id = name.replace(/#\d+$/u, '');
  // A base may be called so itself: then no other has the name without the number.
  return setUps.has(JSON.stringify([day, id])) ? id : name;
}

/** When a set-up stood that says so, in words, by its day and its name in the record. */
function setUpTimes(json: Json): ReadonlyMap<string, string> {
  const times = new Map<string, string>();
  for (const [key, value] of settingsOf(json)) {
    const [, day, name, end] = /^(?:day\.(.+)\.)?base\.(.+)\.(from|to)_ms$/u.exec(key) ?? [];
    if (typeof value !== 'number' || name === undefined || end === undefined) continue;
    const setUp = JSON.stringify([day, name]);
    // The first of its two times has nothing before it.
    times.set(setUp, `${times.get(setUp) ?? ''} ${end} ${formatUtc(value)}`);
  }
  return times;
}

function epochFacts(json: Json): readonly DeliveryFact[] {
  const years = new Set(
    settingsOf(json).flatMap(([key, value]) =>
      /(?:^|\.)system\.epoch_year$/u.test(key) && value !== null ? [wordOf(value)] : [],
    ),
  );
  return years.size === 0 ? [] : [{ name: 'epoch', value: [...years].join(', ') }];
}

/** Days mostly share what they rest on. */
function once<T>(facts: readonly T[]): readonly T[] {
  return [...new Map(facts.map((fact) => [JSON.stringify(fact), fact])).values()];
}

function settingsOf(json: Json): readonly (readonly [key: string, value: unknown])[] {
  return listOf(json['settings']).map(({ key, value }) => [wordOf(key), value]);
}

function namesOf({ point, day, occupation }: Json): string {
  return [
    wordOf(point),
    ...(day == null ? [] : [`day ${wordOf(day)}`]),
    ...(occupation == null ? [] : [`occupation ${wordOf(occupation)}`]),
  ].join(', ');
}

function countOf({ count }: Json): string {
  return `${wordOf(count)} occupation${count === 1 ? '' : 's'}`;
}

function listOf(value: unknown): readonly Json[] {
  return Array.isArray(value) ? value.map(objectOf) : [];
}

function objectOf(value: unknown): Json {
  return typeof value === 'object' && value !== null ? (value as Json) : {};
}

function wordOf(value: unknown): string {
  if (typeof value === 'string') return value;
  return typeof value === 'number' || typeof value === 'boolean' ? String(value) : '';
}
