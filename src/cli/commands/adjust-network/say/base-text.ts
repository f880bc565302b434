import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { DECIMALS } from '../../../../io/tables/columns/cells/decimals.js';
import type { NetworkResults } from '../../../../tasks/network/network-results.js';

/** Bases of which the lines for a session are said. */
const MOST_SHOWN = 10;

/** For each base that no control holds, the lines that a session can take; they are never written anywhere. */
export function knownLines({ bases, adjusted }: NetworkResults): readonly string[] {
  const isStrained = adjusted.finalTest.answer === 'too-large';
  const lines = bases
    .slice(0, MOST_SHOWN)
    .flatMap(({ id, at, geodetic, sigmaHorizontalM, sigmaVerticalM, isChecked, isRejected }) => {
      const m = (value: number): string => formatFixed(value, DECIMALS.metres);
      const degrees = (value: number): string => formatFixed(value, DECIMALS.degrees);
      if (isRejected)
        return [
          `base ${id} is determined by the network and rejected: settle what fails there before a session takes its coordinate`,
        ];
      return [
        `base ${id} is determined by the network${isChecked ? '' : ', and nothing checks it'}; for its [[base]] in the session:`,
        `  known = { latitude_deg = ${degrees(geodetic.latitudeDeg)}, longitude_deg = ${degrees(geodetic.longitudeDeg)}, ellipsoidal_height_m = ${m(geodetic.ellipsoidalHeightM)}, at = "${at}" }`,
        `  sigma_horizontal_m = ${m(sigmaHorizontalM)}`,
        `  sigma_vertical_m = ${m(sigmaVerticalM)}`,
      ];
    });
  return [
    ...lines,
    ...(bases.length > MOST_SHOWN ? [`and ${String(bases.length - MOST_SHOWN)} more bases`] : []),
    ...(isStrained && bases.length > 0
      ? ['  the whole does not hold together: find out why before a session takes the coordinate of a base from it']
      : []),
  ];
}
