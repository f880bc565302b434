import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import type { NetworkDistortion } from '../../../../records/reports/network-report.js';
import type { NetworkResults } from '../../../../tasks/network/network-results.js';
import { percentText } from './percent-text.js';

/** Distortions of one answer said one by one, before the rest is counted. */
const MOST_SHOWN = 10;

/** What was looked for beside shifts, what of it is kept, and what is not and why; nothing where nothing was looked for. */
export function distortionLines({ adjusted, distortions }: NetworkResults): readonly string[] {
  if (adjusted.distortions === null) return [];
  const of = (answer: NetworkDistortion['answer']): readonly NetworkDistortion[] =>
    distortions.filter((one) => one.answer === answer);
  const { level, ungrouped } = adjusted.distortions;
  const [kept, alone, undetermined] = [of('kept'), of('one-alone'), of('undetermined')];
  return [
    `distortions looked for: ${String(distortions.length)}, each tested at ${percentText(level)}, so that one network in a hundred that has none keeps one; kept: ${kept.length === 0 ? 'none' : String(kept.length)}`,
    ...(ungrouped === 0
      ? []
      : [
          `  nothing is looked for in ${ungrouped === 1 ? '1 vector that names' : `${String(ungrouped)} vectors that name`} no day`,
        ]),
    ...kept.flatMap(keptLines),
    ...alone
      .slice(0, MOST_SHOWN)
      .map(({ name, hangsOn }) => `  ${name} is not kept: without ${hangsOn ?? 'one observation'} nothing asks for it`),
    ...(alone.length > MOST_SHOWN
      ? [`  and ${String(alone.length - MOST_SHOWN)} more that hang on one observation`]
      : []),
    ...(undetermined.length === 0
      ? []
      : [
          `  ${String(undetermined.length)} cannot be told from places and shifts: ${undetermined
            .slice(0, MOST_SHOWN)
            .map(({ name }) => name)
            .join(', ')}${undetermined.length > MOST_SHOWN ? ', …' : ''}`,
        ]),
  ];
}

function keptLines({ name, valuePpm, sigmaPpm, test, limit, alike }: NetworkDistortion): readonly string[] {
  const number = (value: number | null, decimals: number): string =>
    value === null ? '?' : formatFixed(value, decimals);
  return [
    `  ${name}: ${number(valuePpm, 2)} ± ${number(sigmaPpm, 2)} mm a km (test ${number(test, 1)}, limit ${number(limit, 1)})`,
    ...(alike === null
      ? []
      : [
          `    it can hardly be told from the height of ${alike.stationId} (correlation ${formatFixed(alike.correlation, 2)}): a better known height there would tell`,
        ]),
  ];
}
