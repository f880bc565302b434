import { streamTimeText } from '../../core/corrections/stream-time-text.js';
import type { BroadcastCheck } from '../../records/corrections/broadcast-check.js';
import type { StreamCalendar } from '../../records/corrections/correction-audit.js';
import type { LocalVector } from '../../records/points/point.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, fixed, metres, plainInstants } from '../page/words/numbers.js';
import { table } from '../page/table.js';

/** Each base of the session against each coordinate sent for it. */
export function broadcastSection(
  checks: readonly BroadcastCheck[],
  calendar: StreamCalendar,
  toleranceM: number,
): Markup {
  const all = checks.flatMap(({ baseId, cause, line }) =>
    cause === null && line === null
      ? []
      : [
          markup`<li>Base ${named(baseId)}${cause === null ? '' : `: ${cause}`}${line === null ? '' : markup`. To put into the session, where it is right: <code>${line}</code>`}</li>`,
        ],
  );
  const lines = all.filter(({ html }, index) => all.findIndex((other) => other.html === html) === index);
  return together([
    table({
      label: 'Bases against the stream',
      caption: markup`<b>Bases against the stream.</b> Sent minus session, along east, north and up at the base; each may be ${fixed(1000 * toleranceM, 1)} mm.`,
      columns: [
        { head: 'Base', kind: 'words' },
        { head: 'Station', kind: 'text' },
        { head: 'Sent from', kind: 'text' },
        { head: 'East', unit: 'm, antenna', kind: 'number' },
        { head: 'North', unit: 'm, antenna', kind: 'number' },
        { head: 'Up', unit: 'm, antenna', kind: 'number' },
        { head: 'East', unit: 'm, mark', kind: 'number' },
        { head: 'North', unit: 'm, mark', kind: 'number' },
        { head: 'Up', unit: 'm, mark', kind: 'number' },
        { head: 'Height sent', unit: 'm', kind: 'number' },
        { head: 'Height, session', unit: 'm', kind: 'number' },
        { head: 'Verdict', kind: 'text' },
      ],
      rows: checks.map(({ baseId, sent, verdict }) => [
        named(baseId),
        sent === null ? 'none sent' : String(sent.stationId),
        sent?.position.firstMs == null ? UNKNOWN : plainInstants(streamTimeText(calendar, sent.position.firstMs)),
        ...axes(sent?.arp ?? null),
        ...axes(sent?.mark ?? null),
        metres(sent?.position.antennaHeightM ?? null),
        metres(sent?.antennaHeightM ?? null),
        verdict === 'no' ? markup`<span class="no">no</span>` : verdict,
      ]),
    }),
    lines.length === 0 ? { html: '' } : markup`<ul>${lines}</ul>`,
  ]);
}

function axes(vector: LocalVector | null): readonly string[] {
  return [vector?.eastM, vector?.northM, vector?.upM].map((value) => metres(value ?? null));
}
