import type { Listed } from '../../../records/corrections/correction-audit.js';
import type { LinkOutage } from '../../../records/corrections/link-report.js';
import type { Fix } from '../../../records/points/fix.js';

/** A stretch is an outage where it lasts longer than this, milliseconds: common practice, no published source. */
const LEAST_MS = 5000;
/** Fixes farther apart do not belong together, milliseconds: nobody says what happened between. */
const APART_MS = 60_000;
/** Outages and, of each, points that are listed. */
const MOST_OUTAGES = 1000;
const MOST_POINTS = 50;

/** An epoch that is fixed with corrections young enough; one that has such corrections and is not fixed; one that has none, or too old ones. */
export type EpochStanding = 'good' | 'unfixed' | 'without';

/** Collects outages from fixes in the order of their files. */
export interface OutageCount {
  /** A file begins. */
  readonly begin: (source: string) => void;
  readonly add: (fix: Fix, epochMs: number, standing: EpochStanding) => void;
  readonly result: () => Listed<LinkOutage>;
}

interface Open {
  readonly fix: Fix;
  readonly fromMs: number;
  lastMs: number;
  epochs: number;
  largestAgeS: number | null;
  /** Of every epoch of it. */
  hasCorrections: boolean;
  readonly points: Set<string>;
  leftOut: number;
}

export function createOutages(): OutageCount {
  const listed: LinkOutage[] = [];
  let leftOut = 0;
  let source = '';
  let open: Open | null = null;

  const close = (endMs: number | null): void => {
    if (open === null) return;
    const toMs = endMs ?? open.lastMs;
    if (toMs - open.fromMs > LEAST_MS) {
      if (listed.length < MOST_OUTAGES) listed.push(outageOf(open, toMs, endMs !== null, source));
      else leftOut += 1;
    }
    open = null;
  };

  return {
    begin(name) {
      close(null);
      source = name;
    },
    add(fix, epochMs, standing) {
      if (open !== null && (epochMs < open.lastMs || epochMs - open.lastMs > APART_MS)) close(null);
      if (standing === 'good') {
        close(epochMs);
        return;
      }
      open ??= {
        ...{ fix, fromMs: epochMs, lastMs: epochMs, epochs: 0, largestAgeS: null },
        ...{ hasCorrections: true, points: new Set<string>(), leftOut: 0 },
      };
      open.lastMs = epochMs;
      open.epochs += 1;
      open.hasCorrections &&= standing === 'unfixed';
      const { correctionAgeS } = fix;
      if (correctionAgeS !== null) open.largestAgeS = Math.max(open.largestAgeS ?? correctionAgeS, correctionAgeS);
      if (open.points.size < MOST_POINTS) open.points.add(fix.pointId);
      else if (!open.points.has(fix.pointId)) open.leftOut += 1;
    },
    result() {
      close(null);
      return { listed, leftOut };
    },
  };
}

function outageOf(
  { fix, fromMs, epochs, largestAgeS, hasCorrections, points, leftOut }: Open,
  toMs: number,
  isEnded: boolean,
  source: string,
): LinkOutage {
  const { latitudeDeg, longitudeDeg } = fix.geodetic;
  return {
    ...{ source, fromMs, toMs, isEnded },
    silentFromMs: fix.correctionAgeS === null ? null : fromMs - fix.correctionAgeS * 1000,
    ...{ latitudeDeg, longitudeDeg, epochs, largestAgeS },
    points: { listed: [...points], leftOut },
    side: hasCorrections ? 'none' : 'unknown',
  };
}
