import type { ReportBase, ReportBend, ReportPlace, ReportRing } from '../../records/reports/reduction-report.js';
import { baseBend } from './base-bend.js';
import type { PreparedBase } from './prepare-bases.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import type { BaseEffect } from '../reduce/totals/base-effects.js';

const PLACES_A_RING = 72;

/** The bases as a page shows them, with lines of equal distance out to their farthest point. Both maps are by `setupKey`. */
export function reportBases(
  setup: ReductionSetup,
  farthestM: ReadonlyMap<string, number>,
  effects: ReadonlyMap<string, BaseEffect>,
): readonly ReportBase[] {
  return setup.bases.map((base): ReportBase => {
    const { settings, correction, identity } = base;
    const effect = effects.get(identity.setupKey);
    const farthest = farthestM.get(identity.setupKey) ?? null;
    return {
      id: identity.setupName,
      place: placeOf(base.origin.geodetic.latitudeDeg, base.origin.geodetic.longitudeDeg, setup),
      at: base.origin.at,
      antennaVerticalM: base.antenna?.verticalM ?? null,
      sigmaHorizontalM: settings.sigmaHorizontalM,
      sigmaVerticalM: settings.sigmaVerticalM,
      correction:
        correction === null
          ? null
          : {
              magnitudeM: correction.magnitudeM,
              local: correction.local,
              shortcutErrorM: effect?.shortcutErrorM ?? null,
              bend: bendOf(base, effect?.farthestM ?? null, setup),
            },
      farthestM: farthest,
      rings: farthest === null ? [] : ringsOf(base, farthest, setup),
    };
  });
}

function bendOf(base: PreparedBase, farthestM: number | null, setup: ReductionSetup): ReportBend | null {
  const bend = baseBend(base, farthestM, setup);
  return bend === null
    ? null
    : { planM: bend.greatest.alongM, upM: bend.greatest.upM, mattersFromM: bend.mattersFromM };
}

/** Out to the farthest point, and ten times closer out to the first of those. */
function ringsOf(base: PreparedBase, farthestM: number, setup: ReductionSetup): readonly ReportRing[] {
  const stepM = ringStepM(farthestM);
  return [...ringSet(base, stepM, farthestM + 0.5 * stepM, setup), ...ringSet(base, stepM / 10, 0.95 * stepM, setup)];
}

function ringSet(base: PreparedBase, stepM: number, beforeM: number, setup: ReductionSetup): readonly ReportRing[] {
  const rings: ReportRing[] = [];
  for (let count = 1; count * stepM < beforeM; count += 1) {
    const radiusM = count * stepM;
    const places: ReportPlace[] = [];
    for (let i = 0; i < PLACES_A_RING; i += 1) {
      const end = setup.geodesic.direct(
        base.origin.geodetic.latitudeDeg,
        base.origin.geodetic.longitudeDeg,
        (360 * i) / PLACES_A_RING,
        radiusM,
      );
      const place = placeOf(end.latitudeDeg, end.longitudeDeg, setup);
      if (place !== null) places.push(place);
    }
    rings.push({ stepM, radiusM, places });
  }
  return rings;
}

/** A round distance of which three to six reach the farthest point. */
function ringStepM(farthestM: number): number {
  const power = 10 ** Math.floor(Math.log10(Math.max(farthestM, 1)));
  const steps = [0.2, 0.25, 0.5, 1, 2].map((factor) => factor * power);
  return steps.find((step) => farthestM / step <= 5) ?? 2 * power;
}

function placeOf(latitudeDeg: number, longitudeDeg: number, { grid }: ReductionSetup): ReportPlace | null {
  if (grid === null) return null;
  const pair = { first: NaN, second: NaN };
  return grid.forward(latitudeDeg, longitudeDeg, pair) === 'ok' ? { ...pair } : null;
}
