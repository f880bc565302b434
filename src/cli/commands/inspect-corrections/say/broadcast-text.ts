import { streamTimeText } from '../../../../core/corrections/stream-time-text.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import type { BroadcastCheck, BroadcastMatch } from '../../../../records/corrections/broadcast-check.js';
import type { StreamCalendar } from '../../../../records/corrections/correction-audit.js';
import type { LocalVector } from '../../../../records/points/point.js';
import { present } from '../../../../records/present.js';
import { warningProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';

const MATCHED: Readonly<Record<BroadcastMatch, string>> = {
  id: 'by its number',
  'only-one': 'the only one',
  nearest: 'the nearest',
};

/** Bases held against what was sent, as lines for people. */
export function broadcastText(checks: readonly BroadcastCheck[], calendar: StreamCalendar): readonly string[] {
  return checks.flatMap(({ baseId, sent, verdict, cause, line }) => {
    if (sent === null) return ['', `base ${baseId}: ${verdict}: nothing was sent for it in its time`];
    const { position, stationId, matchedBy, arp, mark, antennaHeightM } = sent;
    const since = position.firstMs === null ? '' : `, sent from ${streamTimeText(calendar, position.firstMs)}`;
    const height = (value: number | null): string => (value === null ? 'not stated' : `${formatFixed(value, 4)} m`);
    return [
      '',
      `base ${baseId}: ${verdict}: station ${String(stationId)} (${MATCHED[matchedBy]})${since}; sent minus session:`,
      `  antenna reference point  ${vectorText(arp)}`,
      mark === null
        ? '  mark                     not compared: a height of the antenna is not stated'
        : `  mark                     ${vectorText(mark)}`,
      `  antenna height           sent ${height(position.antennaHeightM)}, session ${height(antennaHeightM)}`,
      ...(cause === null ? [] : [`  ${cause}`]),
      ...(line === null ? [] : ['  to put into the session, where it is right:', `    ${line}`]),
    ];
  });
}

function vectorText({ eastM, northM, upM }: LocalVector): string {
  return `east ${formatFixed(eastM, 4)} m, north ${formatFixed(northM, 4)} m, up ${formatFixed(upM, 4)} m`;
}

/** A warning for each reason of each base; what was sent twice and differs alike is said once. */
export function broadcastWarnings(checks: readonly BroadcastCheck[]): readonly Problem[] {
  const said = new Set<string>();
  const isNew = ({ message, hint }: Problem): boolean => {
    const text = JSON.stringify([message, hint]);
    if (said.has(text)) return false;
    said.add(text);
    return true;
  };
  return warningsOf(checks).filter(isNew);
}

function warningsOf(checks: readonly BroadcastCheck[]): readonly Problem[] {
  return checks.flatMap(({ baseId, sent, reasons, line }) =>
    reasons.map((reason) => {
      const message = `base ${baseId}: ${reasonText(reason, sent)}`;
      return warningProblem(
        reason,
        reason === 'broadcast-differs' && line !== null ? { message, hint: line } : { message },
      );
    }),
  );
}

function reasonText(reason: BroadcastCheck['reasons'][number], sent: BroadcastCheck['sent']): string {
  if (sent === null) return 'no stream holds a coordinate for it in its time';
  const { arp, position, antennaHeightM } = sent;
  if (reason === 'broadcast-differs') return `what was sent lies ${vectorText(arp)} from the session`;
  const [own, stated] = [present(position.antennaHeightM, 'height sent'), present(antennaHeightM, 'height stated')];
  return `the antenna height ${formatFixed(own, 4)} m was sent, and the session says ${formatFixed(stated, 4)} m`;
}
