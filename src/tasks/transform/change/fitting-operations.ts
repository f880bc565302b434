import { findOperationChains } from '../../../core/frames/operations/operation-chains.js';
import { findOperations } from '../../../core/frames/operations/operations.js';
import { chainEnds, yearText } from '../../../core/frames/realisations/realisation-chain.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { NamedSide } from './named-side.js';

/** Chains shown; there can be dozens between the satellite frames. */
const CHAINS_SHOWN = 3;

/** Metres as stated with an operation, to 0.1 mm: `15 m`, `0.035 m`; words where none is. */
export function accuracyText(accuracyM: number | null): string {
  return accuracyM === null ? 'accuracy not stated' : `accuracy ${String(Math.round(accuracyM * 1e4) / 1e4)} m`;
}

/** The refusal of a change of datum that is not named: what would fit, and how to name it. */
export function unnamedChange(from: NamedSide, to: NamedSide): Problem {
  // A system without a code is in no operation of the registry.
  const [fromCode, toCode] = [from.geographic.code ?? '', to.geographic.code ?? ''];
  const direct = findOperations(fromCode, toCode).map(
    ({ operation, direction }) =>
      `--operation ${operation.code} (${operation.name}, ${accuracyText(operation.accuracyM)}${direction === 'inverse' ? ', applied backwards' : ''})`,
  );
  const chains = findOperationChains(fromCode, toCode)
    .slice(0, CHAINS_SHOWN)
    .map(
      ({ first, second, through, accuracyM }) =>
        `--operation ${first.operation.code},${second.operation.code} (through ${through}, ${accuracyText(accuracyM)})`,
    );
  const fitting = [...direct, ...chains, ...chainOffered(fromCode, toCode)];
  if (from.toWgs84 !== null && to.toWgs84 !== null)
    fitting.push('--accept-default-shift (the shift written in the definitions, accuracy not stated)');
  const list =
    fitting.length === 0
      ? 'no built-in operation joins the two: give the parameters with --shift FILE'
      : `what would fit: ${fitting.join('; ')}; or --shift FILE`;
  return errorProblem('operation-not-named', {
    message: `the points are on ${from.geographic.name} and ${to.label} is on ${to.geographic.name}: a change of datum is never made without being named`,
    received: fromCode,
    expected: toCode,
    hint: list,
  });
}

/** The chain by the table of national frames, as it is asked for. */
function chainOffered(fromCode: string, toCode: string): readonly string[] {
  const ends = chainEnds(fromCode, toCode);
  if (ends === null) return [];
  const { name, itrf, epochYear, operation, plate } = ends.realisation;
  const is = operation === null ? `${itrf} at ${yearText(epochYear)}` : `reached by ${operation} from ${itrf}`;
  const plateWord = operation === null && plate === null ? ' and --plate NAME' : '';
  return [`--epoch YEAR${plateWord} alone (${name} is ${is})`];
}
