import type { DeterminedBase, NetworkDistortion, NetworkPair } from '../../../../records/reports/network-report.js';
import { ellipseAzimuthDeg } from '../../../../tasks/network/ellipse-azimuth.js';
import type { NetworkResults } from '../../../../tasks/network/network-results.js';

/** What stands beside the points, ready for JSON.stringify. */
type NetworkWhole = Readonly<Record<string, unknown>> & { readonly summary: Readonly<Record<string, unknown>> };

/** Beside the points. Numbers are as computed, to ten digits. */
export function networkWhole(found: NetworkResults, pairs: readonly NetworkPair[]): NetworkWhole {
  const { adjusted } = found;
  const { finalTest, freeTest, control } = adjusted;
  return {
    summary: {
      weighted_sum_of_squares: digits(finalTest.weightedSquares),
      degrees_of_freedom: finalTest.degreesOfFreedom,
      variance_factor: digits(finalTest.varianceFactor),
      global_test: finalTest.answer,
      global_limits: finalTest.limits?.map(digits) ?? null,
      free_weighted_sum_of_squares: digits(freeTest.weightedSquares),
      free_degrees_of_freedom: freeTest.degreesOfFreedom,
      free_global_test: freeTest.answer,
      control_test: digits(control?.together ?? null),
      // Nothing is tested of control that does no more than hold the datum.
      control_degrees_of_freedom: control?.degreesOfFreedom ?? 0,
      datum: adjusted.datum,
      uncertainties_multiplied_by: digits(Math.sqrt(adjusted.scale)),
      excluded_observations: adjusted.excluded.length,
      excluded_control: adjusted.excludedControl.length,
      verdict: found.answer,
      reasons: found.reasons,
    },
    control: found.control.map((point) => ({
      point_id: point.id,
      held: point.held,
      holds: point.isHolding,
      difference_east_m: digits(point.differenceM[0]),
      difference_north_m: digits(point.differenceM[1]),
      difference_up_m: digits(point.differenceM[2]),
      test: digits(point.test),
      limit: digits(point.limit),
      verdict: point.verdict,
      reasons: point.reasons,
    })),
    parameters: parameterList(found),
    ...(adjusted.distortions === null ? {} : { distortions: found.distortions.map(distortionMembers) }),
    bases: found.bases.map(baseMembers),
    variance_components: found.components.map((component) => ({
      group: component.group,
      factor: digits(component.factor),
      sigma: digits(component.sigma),
      redundancy: digits(component.redundancy),
    })),
    pairs: pairs.map((pair) => ({
      from_id: pair.fromId,
      to_id: pair.toId,
      distance_m: digits(pair.distanceM),
      relative_ellipse_major_95_m: digits(pair.summary.ellipseMajor95M),
      relative_ellipse_minor_95_m: digits(pair.summary.ellipseMinor95M),
      relative_ellipse_azimuth_deg: digits(ellipseAzimuthDeg(pair.summary)),
      relative_circle_95_m: digits(pair.summary.circle95M),
      relative_vertical_95_m: digits(pair.summary.vertical95M),
    })),
  };
}

/** Nanometres and ten decimals: below what differs between engines, and no negative zero. */
function digits(value: number | null): number | null {
  return value === null ? null : Math.round(value * 1e9) / 1e9 + 0;
}

/** As the file of covariances has them. */
function squares(valueM2: number | undefined): number | null {
  return valueM2 === undefined ? null : Math.round(valueM2 * 1e15) / 1e15 + 0;
}

function parameterList({ parameters, distortions }: NetworkResults): readonly Readonly<Record<string, unknown>>[] {
  return [
    ...parameters.map((parameter) => ({
      name: parameter.name,
      component: parameter.component,
      value_m: digits(parameter.valueM),
      sigma_m: digits(parameter.sigmaM),
      stated_sigma_m: digits(parameter.statedSigmaM),
    })),
    ...distortions.flatMap(({ name, answer, valuePpm, sigmaPpm }) =>
      answer === 'kept' ? [{ name, component: 'one', value_ppm: digits(valuePpm), sigma_ppm: digits(sigmaPpm) }] : [],
    ),
  ];
}

function distortionMembers(one: NetworkDistortion): Readonly<Record<string, unknown>> {
  return {
    name: one.name,
    kind: one.kind,
    group: one.group,
    answer: one.answer,
    value_ppm: digits(one.valuePpm),
    sigma_ppm: digits(one.sigmaPpm),
    test: digits(one.test),
    limit: digits(one.limit),
    hangs_on: one.hangsOn,
    alike_station: one.alike?.stationId ?? null,
    alike_correlation: digits(one.alike?.correlation ?? null),
  };
}

function baseMembers(base: DeterminedBase): Readonly<Record<string, unknown>> {
  const [xx, xy, xz, , yy, yz, , , zz] = base.covariance;
  return {
    point_id: base.id,
    at: base.at,
    x_m: digits(base.position.xM),
    y_m: digits(base.position.yM),
    z_m: digits(base.position.zM),
    latitude_deg: digits(base.geodetic.latitudeDeg),
    longitude_deg: digits(base.geodetic.longitudeDeg),
    ellipsoidal_height_m: digits(base.geodetic.ellipsoidalHeightM),
    cov_xx_m2: squares(xx),
    cov_xy_m2: squares(xy),
    cov_xz_m2: squares(xz),
    cov_yy_m2: squares(yy),
    cov_yz_m2: squares(yz),
    cov_zz_m2: squares(zz),
    sigma_horizontal_m: digits(base.sigmaHorizontalM),
    sigma_vertical_m: digits(base.sigmaVerticalM),
    checked: base.isChecked ? 'yes' : 'no',
    rejected: base.isRejected ? 'yes' : 'no',
  };
}
