import { streamTimeText } from '../../../core/corrections/stream-time-text.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type {
  CorrectionAudit,
  Listed,
  SentMessages,
  StreamCalendar,
  StreamGap,
} from '../../../records/corrections/correction-audit.js';
import { warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';

/** A message keeps its interval where the usual one differs by less than this share: base clocks are not that bad. */
const INTERVAL_SHARE = 0.2;
/** Times of messages that have none of their own are those of the last epoch, so intervals are known to one of these. */
const EPOCHS_OFF = 1;

/** Epochs that are missing, and messages that keep another interval than is announced. */
export function intervalFindings(audit: CorrectionAudit): readonly Problem[] {
  const gaps = audit.stations.flatMap(({ stationId, epochs }): readonly Problem[] =>
    epochs.gaps.listed.length === 0
      ? []
      : [
          warningProblem('stream-gap', {
            message: `station ${String(stationId)}: ${gapWords(epochs.gaps, audit.calendar)}`,
          }),
        ],
  );
  const intervals = audit.messages.flatMap((messages): readonly Problem[] => {
    const station = audit.stations.find(({ stationId }) => stationId === messages.stationId);
    const stepS = station?.epochs.usualIntervalS ?? null;
    const { usualIntervalS: usual, announcedIntervalS: announced, number, stationId } = messages;
    if (usual === null || announced === null || isKept(messages, stepS)) return [];
    return [
      warningProblem('stream-interval', {
        message: `station ${String(stationId)}: message ${String(number)} comes each ${formatFixed(usual, 1)} s and is announced each ${formatFixed(announced, 1)} s`,
      }),
    ];
  });
  return [...gaps, ...intervals];
}

function isKept({ usualIntervalS: usual, announcedIntervalS: announced }: SentMessages, stepS: number | null): boolean {
  if (usual === null || announced === null) return true;
  const offS = Math.abs(usual - announced);
  const isEpoch = stepS === null || usual === stepS;
  return offS <= announced * INTERVAL_SHARE || (!isEpoch && offS <= stepS * EPOCHS_OFF);
}

/** The gaps of a station in a sentence. */
function gapWords({ listed, leftOut }: Listed<StreamGap>, calendar: StreamCalendar): string {
  const longest = listed.reduce((best, own) => (own.toMs - own.fromMs > best.toMs - best.fromMs ? own : best));
  const count = listed.length + leftOut;
  return `${String(count)} ${count === 1 ? 'gap' : 'gaps'} between epochs, the longest ${formatFixed((longest.toMs - longest.fromMs) / 1000, 1)} s from ${streamTimeText(calendar, longest.fromMs)}`;
}
