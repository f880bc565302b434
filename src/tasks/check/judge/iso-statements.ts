import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { ISO_LEAST_DISTANCE_M, ISO_MOST_DISTANCE_M } from '../../../core/quality/standards/iso-17123-8.js';
import type { IsoTest } from '../../../core/quality/standards/iso-17123-8.js';
import type { IsoResult } from './check-tolerances-iso.js';
import type { StandardStatement } from './check-tolerances-standard-statement.js';

const mm = (metres: number): string => `${formatFixed(metres * 1000, 2)} mm`;

/** What the field procedure lets one say. */
export function isoStatements(result: IsoResult): readonly StandardStatement[] {
  return [
    screenStatement(result),
    ...distanceStatements(result),
    ...precisionStatements(result),
    ...result.tests.map(testStatement),
  ];
}

function screenStatement({ screen }: IsoResult): StandardStatement {
  const what = 'gross-error screen';
  const { sets, distanceLimitM, heightLimitM } = screen;
  const failed = sets.filter((set) => !set.passes);
  if (failed.length === 0)
    return {
      what,
      text: `all ${String(sets.length)} sets within ${mm(distanceLimitM)} in distance and ${mm(heightLimitM)} in height`,
      verdict: 'within',
    };
  const named = failed.map(({ series, set, distanceErrorM, heightErrorM }) => {
    const axes = [
      ...(Math.abs(distanceErrorM) > distanceLimitM
        ? [`${mm(distanceErrorM)} in distance, limit ${mm(distanceLimitM)}`]
        : []),
      ...(Math.abs(heightErrorM) > heightLimitM ? [`${mm(heightErrorM)} in height, limit ${mm(heightLimitM)}`] : []),
    ];
    return `series ${String(series)} set ${String(set)}: ${axes.join(', and ')}`;
  });
  const series = [...new Set(failed.map((set) => String(set.series)))];
  return {
    what,
    text: `${named.join('; ')}: find the cause and repeat series ${series.join(', ')}`,
    verdict: 'exceeds',
  };
}

function distanceStatements({ nominal: { distanceM } }: IsoResult): readonly StandardStatement[] {
  if (distanceM >= ISO_LEAST_DISTANCE_M && distanceM <= ISO_MOST_DISTANCE_M) return [];
  return [
    {
      what: 'distance of the rover points',
      text: `${formatFixed(distanceM, 3)} m; the procedure is for ${String(ISO_LEAST_DISTANCE_M)} m to ${String(ISO_MOST_DISTANCE_M)} m, and for others cannot be stated`,
      verdict: 'not-stated',
    },
  ];
}

function precisionStatements({ setsMissing, precision }: IsoResult): readonly StandardStatement[] {
  const what = 'standard deviations';
  const missing: readonly StandardStatement[] =
    setsMissing === 0
      ? []
      : [
          {
            what,
            text: `cannot be stated by the simplified procedure; the full one needs ${String(setsMissing)} more sets`,
            verdict: 'information',
          },
        ];
  if (precision === null) return missing;
  const { sigmaXyM, sigmaHeightM, degreesXy, degreesHeight } = precision;
  return [
    ...missing,
    {
      what,
      text: `s_xy ${mm(sigmaXyM)} (${String(degreesXy)} degrees of freedom), s_h ${mm(sigmaHeightM)} (${String(degreesHeight)})`,
      verdict: 'information',
    },
  ];
}

/** A test of a length against a limit, or of a ratio between two. */
function testStatement({ what, value, low, high, passes }: IsoTest): StandardStatement {
  const text =
    low === null
      ? `${mm(value)}, at most ${mm(high)}`
      : `${formatFixed(value, 3)}, ${formatFixed(low, 3)} to ${formatFixed(high, 3)}`;
  return { what, text: `${text} (95 %)`, verdict: passes ? 'within' : 'exceeds' };
}
