import type { LinkMinute, LinkReport } from '../../../records/corrections/link-report.js';
import type { Fix } from '../../../records/points/fix.js';
import type { Solution } from '../../../records/session.js';
import { createAgeResets } from './age-resets.js';
import { createAvailability } from './availability.js';
import { createLinkCost } from './link-cost.js';
import type { CostSetting } from './link-cost.js';
import { createOutages } from './outages.js';
import type { EpochStanding } from './outages.js';

/** What a link is looked at with. */
export interface LinkSetting extends CostSetting {
  /** The limit of age is the usual one, since none is set. */
  readonly isLimitAssumed: boolean;
  /** Solutions that are accepted. */
  readonly solution: readonly Solution[];
}

const MINUTE_MS = 60_000;
/** Minutes that the timeline keeps: two days and more. */
const MOST_MINUTES = 4000;

/** Collects the link of a day from its fixes. */
export interface LinkCount {
  /** A file begins. */
  readonly begin: (source: string) => void;
  readonly add: (fix: Fix) => void;
  readonly result: () => LinkReport;
}

export function createLinkCount(setting: LinkSetting): LinkCount {
  const ages = createAgeTotals(setting.limitS);
  const resets = createAgeResets();
  const outages = createOutages();
  const availability = createAvailability();
  const cost = createLinkCost(setting);
  const minutes = createMinutes();
  let epochs = 0;
  let notFixed = 0;
  return {
    begin(source) {
      resets.begin();
      outages.begin(source);
    },
    add(fix) {
      const { correctionAgeS: ageS, epochMs, solution, geodetic } = fix;
      const isFixed = solution === null || setting.solution.includes(solution);
      const standing = standingOf(ageS, isFixed, setting.limitS);
      epochs += 1;
      if (!isFixed) notFixed += 1;
      if (ageS !== null) {
        ages.add(ageS);
        resets.add(ageS, epochMs);
      }
      cost.add(fix, isFixed);
      // Fixed without a stated age: the file does not say it, and nothing is known.
      if (ageS !== null || !isFixed) availability.add(ageS, epochMs, geodetic.latitudeDeg, geodetic.longitudeDeg);
      if (epochMs === null) return;
      outages.add(fix, epochMs, standing);
      minutes.add(epochMs, ageS, standing !== 'good');
    },
    result: () => ({
      ...{ epochs, notFixed },
      ...ages.result(),
      ...{ limitS: setting.limitS, isLimitAssumed: setting.isLimitAssumed },
      resets: resets.result(),
      outages: outages.result(),
      hours: availability.hours(),
      cells: availability.cells(),
      cost: cost.result(),
      minutes: minutes.result(),
    }),
  };
}

/** An epoch that is fixed and states no age is a good one: the file does not say it. */
function standingOf(ageS: number | null, isFixed: boolean, limitS: number): EpochStanding {
  const isYoung = ageS !== null && ageS <= limitS;
  if (isFixed) return isYoung || ageS === null ? 'good' : 'without';
  return isYoung ? 'unfixed' : 'without';
}

function createAgeTotals(limitS: number): {
  readonly add: (ageS: number) => void;
  readonly result: () => Pick<LinkReport, 'withAge' | 'aboveLimit' | 'meanAgeS' | 'leastAgeS' | 'largestAgeS'>;
} {
  let withAge = 0;
  let aboveLimit = 0;
  let sum = 0;
  let least = Infinity;
  let largest = -Infinity;
  return {
    add(ageS) {
      withAge += 1;
      sum += ageS;
      if (ageS > limitS) aboveLimit += 1;
      least = Math.min(least, ageS);
      largest = Math.max(largest, ageS);
    },
    result: () =>
      withAge === 0
        ? { withAge, aboveLimit, meanAgeS: null, leastAgeS: null, largestAgeS: null }
        : { withAge, aboveLimit, meanAgeS: sum / withAge, leastAgeS: least, largestAgeS: largest },
  };
}

function createMinutes(): {
  readonly add: (epochMs: number, ageS: number | null, isBad: boolean) => void;
  readonly result: () => LinkReport['minutes'];
} {
  const minutes = new Map<number, { -readonly [Name in keyof LinkMinute]: LinkMinute[Name] }>();
  const leftOut = new Set<number>();
  return {
    add(epochMs, ageS, isBad) {
      const minute = Math.floor(epochMs / MINUTE_MS);
      let own = minutes.get(minute);
      if (own === undefined) {
        if (minutes.size >= MOST_MINUTES) {
          if (leftOut.size < MOST_MINUTES) leftOut.add(minute);
          return;
        }
        own = { fromMs: minute * MINUTE_MS, epochs: 0, bad: 0, leastAgeS: null, largestAgeS: null };
        minutes.set(minute, own);
      }
      own.epochs += 1;
      if (isBad) own.bad += 1;
      if (ageS === null) return;
      own.leastAgeS = Math.min(own.leastAgeS ?? ageS, ageS);
      own.largestAgeS = Math.max(own.largestAgeS ?? ageS, ageS);
    },
    result: () => ({ listed: [...minutes.values()].sort((a, b) => a.fromMs - b.fromMs), leftOut: leftOut.size }),
  };
}
