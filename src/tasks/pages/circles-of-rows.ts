import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { height95M } from '../../core/observation/uncertainty/height-95.js';
import { positionalUncertainty } from '../../core/observation/uncertainty/positional-uncertainty.js';
import type { PlaceRow } from '../../records/points/place-row.js';
import { entryAt } from '../../records/present.js';
import type { SiteFigures } from '../site/apply-site.js';

/** Of the fit itself, along the axes of the site. */
export function circleOfSite({ sigmaEastM, sigmaNorthM }: SiteFigures): number {
  return circleOfSigmas(sigmaEastM, sigmaNorthM, 0);
}

/** 95 % of a height by the fit itself, metres; null without a site or without heights. */
export function height95OfSite(site: SiteFigures | null): number | null {
  return height95M(null, site?.sigmaHeightM ?? null); // As it says.
}

function circleOfSigmas(eastM: number, northM: number, correlation: number): number {
  const covariance = {
    eeM2: eastM * eastM,
    enM2: correlation * eastM * northM,
    nnM2: northM * northM,
    euM2: 0,
    nuM2: 0,
    uuM2: 0,
  };
  return positionalUncertainty(covariance, null).circle95M;
}

/** The 95 % circle of a row by the figures of trust that it still has; null where it has none. */
export function circleReader(names: readonly string[], decimalComma: boolean): (row: PlaceRow) => number | null {
  const at = (name: string): number => names.findIndex((own) => own.toLowerCase() === name);
  const places = [at('circle_95_m'), at('sigma_east_m'), at('sigma_north_m'), at('correlation_en')] as const;
  const [circleAt, eastAt, northAt, correlationAt] = places;
  const numberAt = ({ passThrough }: PlaceRow, index: number): number | null =>
    index < 0 ? null : parseDecimal(entryAt(passThrough, index), decimalComma);
  if (circleAt < 0 && (eastAt < 0 || northAt < 0)) return () => null;
  return (row) => {
    const circle = numberAt(row, circleAt);
    if (circle !== null && circle >= 0) return circle;
    const east = numberAt(row, eastAt);
    const north = numberAt(row, northAt);
    if (east === null || north === null) return null;
    // Stated sigmas without a correlation are taken as independent, as everywhere.
    return circleOfSigmas(east, north, numberAt(row, correlationAt) ?? 0);
  };
}
