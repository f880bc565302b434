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

/** Lines of `[[base]]`: one set-up for each base and day that the file names; a pattern to fill in where it names none. */
export function baseLines(epochs: readonly BaseEpoch[], header: string | null): readonly DraftLine[] {
  const setUps = new Map<string, { readonly id: string; readonly epochs: BaseEpoch[] }>();
  for (const epoch of epochs) {
    const key = `${epoch.id}#${epoch.ms === null ? '' : String(Math.floor(epoch.ms / DAY_MS))}`;
    const setUp = setUps.get(key) ?? { id: epoch.id, epochs: [] };
    setUp.epochs.push(epoch);
    setUps.set(key, setUp);
  }
  if (setUps.size === 0) return offeredBase();
  // A base that no column names has none to be named by.
  return [...setUps].flatMap(([key, { id, epochs: own }]) => setUpLines(key, id, own, header ?? ''));
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
