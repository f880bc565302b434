import { formatUtc } from '../../core/numeric/text/utc-text.js';
import { question } from './draft-line.js';
import type { DraftLine } from './draft-line.js';

/** The base of an epoch, and when it was. */
export interface BaseEpoch {
  readonly id: string;
  /** Milliseconds since 1970-01-01T00:00:00Z; null: not known. */
  readonly ms: number | null;
}

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;
const COORDINATE = '{ latitude_deg = …, longitude_deg = …, ellipsoidal_height_m = …, at = "arp" }';

/** Hours without a word of a base after which it is taken to have been set up anew; work over midnight has none so long. Common practice, no published source. */
const NEW_SET_UP_MS = 4 * 3_600_000;

/** Lines of `[[base]]`: one set-up for each base and day's work that the file names; a pattern to fill in where it names none. */
export function baseLines(epochs: readonly BaseEpoch[], header: string | null): readonly DraftLine[] {
  const setUps = new Map<string, { readonly id: string; readonly epochs: BaseEpoch[] }>();
  const startOf = setUpStarts(epochs);
  for (const epoch of epochs) {
    const key = `${epoch.id}#${epoch.ms === null ? '' : String(startOf(epoch.id, epoch.ms))}`;
    const setUp = setUps.get(key) ?? { id: epoch.id, epochs: [] };
    setUp.epochs.push(epoch);
    setUps.set(key, setUp);
  }
  if (setUps.size === 0) return offeredBase();
  // A base that no column names has none to be named by.
  return [...setUps].flatMap(([key, { id, epochs: own }]) => setUpLines(key, id, own, header ?? ''));
}

/**
 * The day that the set-up of a base began which a time belongs to. A long silence ends it where the next word is of another day than the
 * one it began on; a new day alone does not, nor a silence in a day.
 */
function setUpStarts(epochs: readonly BaseEpoch[]): (id: string, ms: number) => number {
  const byBase = new Map<string, number[]>();
  for (const { id, ms } of epochs) {
    if (ms === null) continue;
    const times = byBase.get(id);
    if (times === undefined) byBase.set(id, [ms]);
    else times.push(ms);
  }
  const begun = new Map<string, readonly number[]>([...byBase].map(([id, times]) => [id, beginnings(times)]));
  return (id, ms) => Math.floor((begun.get(id)?.findLast((start) => start <= ms) ?? ms) / DAY_MS);
}

function beginnings(times: readonly number[]): readonly number[] {
  const starts: number[] = [];
  let before = -Infinity;
  for (const ms of [...times].sort((a, b) => a - b)) {
    const began = starts.at(-1) ?? -Infinity;
    if (ms - before >= NEW_SET_UP_MS && Math.floor(ms / DAY_MS) !== Math.floor(began / DAY_MS)) starts.push(ms);
    before = ms;
  }
  return starts;
}

function setUpLines(key: string, id: string, epochs: readonly BaseEpoch[], header: string): readonly DraftLine[] {
  const line = (name: string, value: string, ...why: readonly string[]): DraftLine => ({
    path: ['base', key, name],
    value,
    why,
  });
  const times = epochs.map(({ ms }) => ms).filter((ms) => ms !== null);
  let [first, last] = [Infinity, -Infinity];
  for (const ms of times) {
    if (ms < first) first = ms;
    if (ms > last) last = ms;
  }
  return [
    line('id', id, `"${header}" names it in ${String(epochs.length)} rows`),
    ...(times.length === 0
      ? []
      : [
          line(
            'from_utc',
            formatUtc(Math.floor(first / MINUTE_MS) * MINUTE_MS),
            `first and last epoch with it: ${formatUtc(first)}, ${formatUtc(last)}`,
          ),
          line('to_utc', formatUtc((Math.floor(last / MINUTE_MS) + 1) * MINUTE_MS)),
        ]),
    question(
      ['base', key, 'broadcast'],
      [
        `the coordinate that the base sent: ${COORDINATE}`,
        'a `known` one beside it puts it right. To go without a base take base_id out of [columns] too: baselines are not known then',
      ],
    ),
  ];
}

function offeredBase(): readonly DraftLine[] {
  return [
    {
      path: ['base', '', 'id'],
      value: 'B1',
      why: ['no column names a base: without a [[base]] baselines and the error of the base are not known'],
      isOffered: true,
    },
    { path: ['base', '', 'broadcast'], value: COORDINATE, why: [], isOffered: true },
  ];
}
