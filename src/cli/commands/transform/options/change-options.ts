import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import type { GeocentricVelocity } from '../../../../core/frames/plates/plate-motion.js';
import type { VelocityGrid } from '../../../../core/frames/plates/velocity-grid.js';
import type { Motion, MotionBy } from '../../../../core/frames/plates/point-motion.js';
import { platePole } from '../../../../core/frames/plates/plate-pole.js';
import { DEFAULT_PLATE_MODEL } from '../../../../core/frames/plates/plate-models.js';
import type { PlateModelKey } from '../../../../core/frames/plates/plate-models.js';
import { CHAIN_PLATE_MODEL } from '../../../../core/frames/realisations/realisation-chain.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { ChangeRequest } from '../../../../tasks/transform/change/shift-change.js';
import { flagOption, numberOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation, NumberOption } from '../../../shell/command-spec.js';
import { present } from '../../../../records/present.js';

/** What the command line says about the change of frame, with the name of the shift file. */
export interface ChangeOptions extends ChangeRequest {
  readonly shift: string | null;
}

/** Reads the options. Problems: usage-conflict, usage-invalid, plate-unknown. */
export function changeOptions(invocation: Invocation, grid: VelocityGrid | null): Outcome<ChangeOptions> {
  const shift = textOption(invocation, 'shift');
  const operation = textOption(invocation, 'operation');
  const acceptsDefault = flagOption(invocation, 'acceptDefaultShift');
  const named = [
    shift === null ? '' : '--shift',
    operation === null ? '' : '--operation',
    acceptsDefault ? '--accept-default-shift' : '',
  ].filter((name) => name !== '');
  if (named.length > 1) return conflict(`${named.join(' and ')} exclude each other`, 'name one operation');
  const epoch = yearOption(invocation, 'epoch', '--epoch');
  if (!epoch.ok) return epoch;
  const chain = chainOptions(invocation, epoch.value, grid);
  if (!chain.ok) return chain;
  const motion = chain.value.isChain ? success(null) : motionOf(invocation, grid);
  if (!motion.ok) return motion;
  if (motion.value !== null && epoch.value !== null) {
    return conflict(
      '--epoch and --epoch-to both say the epoch of the coordinates',
      'leave out --epoch: a shift is applied at --epoch-to',
    );
  }
  return success({
    shift,
    operations: operation === null ? [] : operation.split(/[,+]/u).map((code) => code.trim().toUpperCase()),
    acceptsDefault,
    inverse: flagOption(invocation, 'inverse'),
    epochYear: epoch.value ?? motion.value?.toYear ?? null,
    motion: motion.value,
    chainBy: chain.value.by,
    chainModel: chain.value.model,
  });
}

/** What a chain to a national frame moves by: `--plate`, `--velocity` or `--plate-model` beside `--epoch` alone. */
function chainOptions(
  invocation: Invocation,
  epochYear: number | null,
  grid: VelocityGrid | null,
): Outcome<{ readonly isChain: boolean; readonly by: MotionBy | null; readonly model: PlateModelKey | null }> {
  const model = textOption(invocation, 'plateModel');
  const isChain =
    epochYear !== null &&
    numberOption(invocation, 'epochFrom') === null &&
    numberOption(invocation, 'epochTo') === null;
  if (!isChain) return success({ isChain, by: null, model: null });
  const by = moverOf(invocation, model ?? CHAIN_PLATE_MODEL, grid);
  return by.ok ? success({ isChain, by: by.value, model }) : by;
}

function motionOf(invocation: Invocation, grid: VelocityGrid | null): Outcome<Motion | null> {
  const from = yearOption(invocation, 'epochFrom', '--epoch-from');
  if (!from.ok) return from;
  const to = yearOption(invocation, 'epochTo', '--epoch-to');
  if (!to.ok) return to;
  const plate = textOption(invocation, 'plate');
  const velocityText = textOption(invocation, 'velocity');
  const model = textOption(invocation, 'plateModel');
  if (model !== null && plate === null)
    return conflict('--plate-model is given and no plate is named', 'name the plate with --plate, or leave it out');
  const fromYear = from.value;
  const toYear = to.value;
  if (fromYear === null && toYear === null && plate === null && velocityText === null && grid === null)
    return success(null);
  if (fromYear === null || toYear === null || (plate === null && velocityText === null && grid === null)) {
    return conflict(
      'moving coordinates in time needs --epoch-from, --epoch-to and --plate, --velocity or --velocity-grid',
      'for example --epoch-from 2026.3 --epoch-to 2020 --plate Australian',
    );
  }
  const by = moverOf(invocation, model ?? DEFAULT_PLATE_MODEL, grid);
  return by.ok ? success({ fromYear, toYear, by: present(by.value, '--plate, --velocity or --velocity-grid') }) : by;
}

/** What `--plate` or `--velocity` says; null where neither is given. */
function moverOf(invocation: Invocation, model: PlateModelKey, grid: VelocityGrid | null): Outcome<MotionBy | null> {
  const plate = textOption(invocation, 'plate');
  const text = textOption(invocation, 'velocity');
  const given = [
    plate === null ? '' : '--plate',
    text === null ? '' : '--velocity',
    grid === null ? '' : '--velocity-grid',
  ];
  const named = given.filter((name) => name !== '');
  if (named.length > 1)
    return conflict(`${named.join(' and ')} exclude each other`, 'name the plate, or give the velocities of the place');
  if (grid !== null) return success({ kind: 'grid', grid });
  if (plate !== null) {
    const pole = platePole(plate, model);
    return pole.ok ? success({ kind: 'plate', pole: pole.value }) : pole;
  }
  if (text === null) return success(null);
  const [x, y, z, ...more] = text.split(',').map((part) => parseDecimal(part.trim()));
  if (x == null || y == null || z == null || more.length > 0 || Math.max(Math.abs(x), Math.abs(y), Math.abs(z)) > 1) {
    return failure(
      errorProblem('usage-invalid', {
        message: `--velocity ${text} is not VX,VY,VZ`,
        received: text,
        hint: 'metres a year along the geocentric axes, for example --velocity -0.0155,0.0188,0.0164; no plate moves a metre a year',
      }),
    );
  }
  const velocity: GeocentricVelocity = { xMPerYear: x, yMPerYear: y, zMPerYear: z };
  return success({ kind: 'velocity', velocity });
}

function yearOption(invocation: Invocation, key: NumberOption, flag: string): Outcome<number | null> {
  const value = numberOption(invocation, key);
  if (value === null || (value >= 1900 && value <= 2200)) return success(value);
  return failure(
    errorProblem('usage-invalid', {
      message: `${flag} ${String(value)} is not a decimal year from 1900 to 2200`,
      received: String(value),
      hint: '1 July 2026 is 2026.5',
    }),
  );
}

function conflict(message: string, hint: string): Outcome<never> {
  return failure(errorProblem('usage-conflict', { message, hint }));
}
