import type { RegisterEpoch, RegisterSeries } from '../../../core/quality/register/register-series.js';
import { entryAt } from '../../../records/present.js';
import type { RegisterAxis } from '../../../records/reports/register-report.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import type { CheckSetup } from '../judge/check-tolerances-setup.js';
import type { GatheredRegister, RegisterMark, RegisterSetUp } from './gather-register.js';
import { markAndSetUp } from '../../repeats/set-up-identity.js';
import { setUpResidual } from './seen-marks.js';

/** A base of a register: what stands over one mark, or one set-up that stood all the while. */
export interface RegisterBase {
  readonly key: string;
  readonly base: PreparedBase;
}

/** The residuals of one axis, and which set-up each of its epochs is. */
export interface AxisSeries {
  readonly series: RegisterSeries;
  /** Places in `GatheredRegister.setUps`, one an epoch. */
  readonly setUps: readonly number[];
}

/** The bases of a register in the order of their first set-up. */
export function registerBases({ setUps }: GatheredRegister): readonly RegisterBase[] {
  const bases = new Map<string, PreparedBase>();
  for (const { base } of setUps) if (!bases.has(baseKey(base))) bases.set(baseKey(base), base);
  return [...bases].map(([key, base]) => ({ key, base }));
}

/**
 * The residuals of one axis as the core judges them: errors of a row, of a set-up, of the coordinate of a mark and of that of a base apart.
 *
 * Given: what was gathered; its bases; the axis. Returned: see `AxisSeries`; set-ups without a residual are left out.
 *
 * Notes: 1. The geoid is wrong by the same at a mark every day: its sigma belongs to the mark. 2. A base that stood all the while was set up once:
 * its whole error is one. 3. A base mark measured from another shares that one's error; it is taken as its own, on the safe side.
 */
export function axisSeries(
  gathered: GatheredRegister,
  bases: readonly RegisterBase[],
  axis: RegisterAxis,
  setup: Pick<CheckSetup, 'geoidSigmaM'>,
): AxisSeries {
  const along = axis === 'up' ? 'verticalM' : 'horizontalM';
  const epochs: RegisterEpoch[] = [];
  const setUps: number[] = [];
  for (const [place, setUp] of gathered.setUps.entries()) {
    const rows = [...setUp.seen].flatMap(([mark, seen]) => {
      const residual = setUpResidual(seen, axis);
      return residual === null ? [] : [{ mark, ...residual }];
    });
    if (rows.length === 0) continue;
    const base = bases.findIndex(({ key }) => key === baseKey(setUp.base));
    epochs.push({
      base,
      rows,
      sharedM2: isStanding(setUp.base) ? 0 : markAndSetUp(setUp.base.identity).setup[along] ** 2,
    });
    setUps.push(place);
  }
  return {
    setUps,
    series: {
      epochs,
      markM2: gathered.marks.map((mark, place) => markM2(mark, axis, setup, isOrthometric(gathered.setUps, place))),
      baseM2: bases.map(({ base }) => {
        const { mark, setup: own } = markAndSetUp(base.identity);
        return mark[along] ** 2 + (isStanding(base) ? own[along] ** 2 : 0);
      }),
    },
  };
}

/** A base in `[shared]` of a job was set up once. */
function isStanding({ settings }: PreparedBase): boolean {
  return settings.day === undefined;
}

function baseKey(base: PreparedBase): string {
  return isStanding(base) ? base.identity.setupKey : base.identity.markKey;
}

function markM2(
  { known: { row } }: RegisterMark,
  axis: RegisterAxis,
  { geoidSigmaM }: Pick<CheckSetup, 'geoidSigmaM'>,
  usesGeoid: boolean,
): number | null {
  const sigmaM = axis === 'up' ? row.sigmaVerticalM : row.sigmaHorizontalM;
  if (sigmaM === null) return null;
  // Not stated: it adds nothing, and the summary says what is missing.
  return sigmaM ** 2 + (axis === 'up' && usesGeoid ? (geoidSigmaM ?? 0) ** 2 : 0);
}

function isOrthometric(setUps: readonly RegisterSetUp[], mark: number): boolean {
  const first = setUps.find(({ seen }) => seen.has(mark));
  return first !== undefined && entryAt(first.seen.get(mark) ?? [], 0).heightKind === 'orthometric';
}
