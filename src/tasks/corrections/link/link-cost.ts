import type { LinkCost, PointCost } from '../../../records/corrections/link-report.js';
import type { Fix } from '../../../records/points/fix.js';

/** What the cost is counted with. */
export interface CostSetting {
  /** Older is refused. */
  readonly limitS: number;
  /** Growth of the error, metres a second, one sigma an axis. */
  readonly ageRateMPerS: number;
  /** Fewest epochs of a point. */
  readonly minEpochs: number;
  /** One sigma of an axis of a fixed epoch with fresh corrections, by the planning model, metres; null: no baseline is known. */
  readonly sigmaOf: (fix: Fix) => { readonly horizontalM: number; readonly verticalM: number } | null;
  /** 95 %, metres; null: not asked for. */
  readonly toleranceHorizontalM: number | null;
  readonly toleranceVerticalM: number | null;
}

/** Ages that a good link gives, seconds: what is asked is what the day would have been with it. */
const GOOD_AGE_S = 2;
/** Half-width of 95 % of one axis, and the radius of 95 % of two like ones, as multiples of sigma. */
const NORMAL_95 = 1.959963984540054;
const RAYLEIGH_95 = 2.447746830680816;
/** Points that are listed. */
const MOST_POINTS = 20_000;

interface Count {
  epochs: number;
  kept: number;
  lost: number;
  ageSum: number;
  aged: number;
  /** Of kept and lost epochs, with every age at most `GOOD_AGE_S`. */
  goodAgeSum: number;
  goodAged: number;
  sigma: ReturnType<CostSetting['sigmaOf']>;
}

/** Counts what age cost each point. */
export interface LinkCostCount {
  /** `isFixed`: the solution is one that is accepted, or none is stated. */
  readonly add: (fix: Fix, isFixed: boolean) => void;
  readonly result: () => LinkCost;
}

export function createLinkCost(setting: CostSetting): LinkCostCount {
  const points = new Map<string, Count>();
  let leftOut = 0;
  return {
    add(fix, isFixed) {
      let own = points.get(fix.pointId);
      if (own === undefined) {
        if (points.size >= MOST_POINTS) {
          leftOut += 1;
          return;
        }
        own = {
          epochs: 0,
          kept: 0,
          lost: 0,
          ageSum: 0,
          aged: 0,
          goodAgeSum: 0,
          goodAged: 0,
          sigma: setting.sigmaOf(fix),
        };
        points.set(fix.pointId, own);
      }
      own.epochs += 1;
      const { correctionAgeS: ageS } = fix;
      const isOld = ageS !== null && ageS > setting.limitS;
      // An epoch that is not fixed and whose corrections are too old is put down to them.
      if (isOld) own.lost += 1;
      else if (isFixed) own.kept += 1;
      if (ageS === null || !(isOld || isFixed)) return;
      own.goodAgeSum += Math.min(ageS, GOOD_AGE_S);
      own.goodAged += 1;
      if (isOld) return;
      own.ageSum += ageS;
      own.aged += 1;
    },
    result() {
      const listed = [...points].map(([pointId, own]) => pointCost(pointId, own, setting));
      return {
        ageRateMPerS: setting.ageRateMPerS,
        lostEpochs: listed.reduce((sum, { lost }) => sum + lost, 0),
        lostPoints: listed.filter(({ kept, lost }) => kept === 0 && lost > 0).map(({ pointId }) => pointId),
        rescuedPoints: listed.filter(({ passes, wouldPass }) => wouldPass && !passes).map(({ pointId }) => pointId),
        points: { listed, leftOut },
      };
    },
  };
}

function pointCost(pointId: string, own: Count, setting: CostSetting): PointCost {
  const { epochs, kept, lost, sigma } = own;
  const meanAgeS = own.aged === 0 ? null : own.ageSum / own.aged;
  const goodAgeS = own.goodAged === 0 ? null : own.goodAgeSum / own.goodAged;
  const aged = sigma === null ? null : agedSigma(sigma, meanAgeS, setting);
  const good = sigma === null ? null : agedSigma(sigma, goodAgeS, setting);
  return {
    ...{ pointId, epochs, kept, lost, meanAgeS },
    sigmaHorizontalM: sigma?.horizontalM ?? null,
    sigmaHorizontalAgedM: aged?.horizontalM ?? null,
    sigmaVerticalM: sigma?.verticalM ?? null,
    sigmaVerticalAgedM: aged?.verticalM ?? null,
    passes: kept >= setting.minEpochs && isWithin(aged, setting),
    wouldPass: kept + lost >= setting.minEpochs && isWithin(good, setting),
  };
}

interface Sigma {
  readonly horizontalM: number;
  readonly verticalM: number;
}

/** As a stand's uncertainty has it: rate times mean age on every axis, which averaging does not reduce. No age: nothing is added. */
function agedSigma({ horizontalM, verticalM }: Sigma, meanAgeS: number | null, { ageRateMPerS }: CostSetting): Sigma {
  if (meanAgeS === null) return { horizontalM, verticalM };
  const age = ageRateMPerS * meanAgeS;
  return { horizontalM: Math.hypot(horizontalM, age), verticalM: Math.hypot(verticalM, age) };
}

function isWithin(sigma: Sigma | null, { toleranceHorizontalM, toleranceVerticalM }: CostSetting): boolean {
  if (sigma === null) return true;
  const isPlan = toleranceHorizontalM === null || RAYLEIGH_95 * sigma.horizontalM <= toleranceHorizontalM;
  return isPlan && (toleranceVerticalM === null || NORMAL_95 * sigma.verticalM <= toleranceVerticalM);
}
