import { utcOfStream } from '../../../core/corrections/stream-time-text.js';
import type { CorrectionAudit } from '../../../records/corrections/correction-audit.js';
import type { LinkOutage, LinkReport } from '../../../records/corrections/link-report.js';

/** A stretch of UTC, milliseconds. */
type Stretch = readonly [number, number];

/** An outage is the base's where its silence covers so much of it: what remains is the way of the first corrections after it. */
const COVERED_SHARE = 0.5;

/** What is known of one station: when it was recorded, and when it was silent meanwhile. */
interface Heard {
  readonly recorded: readonly Stretch[];
  readonly silent: readonly Stretch[];
}

/**
 * Puts each outage that lacked corrections down to the base or to the rover: where the recorded stream was silent meanwhile the base sent
 * nothing, where it went on the rover got nothing. `unknown` where the stream has no date or was not recorded then, as between two files,
 * and where stations say different things: nobody knows which one the rover had.
 */
export function withSides(report: LinkReport, audit: CorrectionAudit): LinkReport {
  const heard = heardOf(audit);
  const listed = report.outages.listed.map((outage) =>
    outage.side === 'none' ? outage : { ...outage, side: sideOf(outage, heard) },
  );
  return { ...report, outages: { ...report.outages, listed } };
}

function heardOf({ calendar, files, stations }: CorrectionAudit): readonly Heard[] {
  const stretch = (from: number | null, to: number | null): readonly Stretch[] => {
    const fromMs = from === null ? null : utcOfStream(calendar, from);
    const toMs = to === null ? null : utcOfStream(calendar, to);
    return fromMs === null || toMs === null ? [] : [[fromMs, toMs]];
  };
  const recorded = files.flatMap(({ firstMs, lastMs }) => stretch(firstMs, lastMs));
  const inFiles = (own: readonly Stretch[]): readonly Stretch[] =>
    own.flatMap((one) => recorded.map((file) => common(one, file)).filter(([from, to]) => to > from));
  return stations.map(({ epochs }) => ({
    recorded: inFiles(stretch(epochs.firstMs, epochs.lastMs)),
    silent: inFiles(epochs.gaps.listed.flatMap(({ fromMs, toMs }) => stretch(fromMs, toMs))),
  }));
}

function sideOf({ silentFromMs, fromMs, toMs }: LinkOutage, stations: readonly Heard[]): LinkOutage['side'] {
  const own: Stretch = [silentFromMs ?? fromMs, toMs];
  const needed = COVERED_SHARE * (toMs - own[0]);
  const sides = new Set(
    stations.flatMap(({ recorded, silent }): readonly LinkOutage['side'][] => {
      if (covered(own, silent) >= needed) return ['base'];
      return covered(own, recorded) >= needed ? ['rover'] : [];
    }),
  );
  const [side] = sides;
  return side === undefined || sides.size > 1 ? 'unknown' : side;
}

/** The longest part of a stretch that one of others covers. */
function covered(own: Stretch, others: readonly Stretch[]): number {
  return others.reduce((most, other) => {
    const [from, to] = common(own, other);
    return Math.max(most, to - from);
  }, 0);
}

/** What two stretches share; it ends before it begins where they share nothing. */
function common([from, to]: Stretch, [start, end]: Stretch): Stretch {
  return [Math.max(from, start), Math.min(to, end)];
}
