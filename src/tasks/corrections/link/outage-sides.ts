import { utcOfStream } from '../../../core/corrections/stream-time-text.js';
import type { CorrectionAudit } from '../../../records/corrections/correction-audit.js';
import type { LinkOutage, LinkReport } from '../../../records/corrections/link-report.js';

/** A stretch of UTC, milliseconds. */
type Stretch = readonly [number, number];

/** An outage is the base's where its silence covers so much of it: what remains is the way of the first corrections after it. */
const COVERED_SHARE = 0.5;

/**
 * Puts each outage down to the base or to the rover: where the recorded stream was silent meanwhile the base sent nothing, where it went on
 * the rover got nothing. `unknown` where the stream has no date, or was not recorded then.
 */
export function withSides(report: LinkReport, audit: CorrectionAudit): LinkReport {
  const utc = (ms: number | null): number | null => (ms === null ? null : utcOfStream(audit.calendar, ms));
  const stretches = (list: readonly (readonly [number | null, number | null])[]): readonly Stretch[] =>
    list.flatMap(([from, to]): readonly Stretch[] => {
      const [fromMs, toMs] = [utc(from), utc(to)];
      return fromMs === null || toMs === null ? [] : [[fromMs, toMs]];
    });
  const gaps = stretches(
    audit.stations.flatMap(({ epochs }) => epochs.gaps.listed.map(({ fromMs, toMs }) => [fromMs, toMs] as const)),
  );
  const recorded = stretches(audit.files.map(({ firstMs, lastMs }) => [firstMs, lastMs] as const));
  const listed = report.outages.listed.map((outage) => ({ ...outage, side: sideOf(outage, gaps, recorded) }));
  return { ...report, outages: { ...report.outages, listed } };
}

function sideOf(outage: LinkOutage, gaps: readonly Stretch[], recorded: readonly Stretch[]): LinkOutage['side'] {
  const own: Stretch = [outage.silentFromMs ?? outage.fromMs, outage.toMs];
  const needed = COVERED_SHARE * (own[1] - own[0]);
  if (covered(own, gaps) >= needed) return 'base';
  return covered(own, recorded) >= needed ? 'rover' : 'unknown';
}

/** The longest part of a stretch that one of others covers. */
function covered([from, to]: Stretch, others: readonly Stretch[]): number {
  return others.reduce((most, [start, end]) => Math.max(most, Math.min(to, end) - Math.max(from, start)), 0);
}
