import { formatUtc } from '../../../../core/numeric/text/utc-text.js';
import type { Availability, LinkOutage, LinkReport, PointCost } from '../../../../records/corrections/link-report.js';

type Members = Readonly<Record<string, unknown>>;

/** The link of a day as a JSON document says it. */
export function linkMembers(link: LinkReport): Members {
  const { resets, cost } = link;
  return {
    epochs: link.epochs,
    epochs_with_age: link.withAge,
    epochs_not_fixed: link.notFixed,
    mean_age_s: rounded(link.meanAgeS, 4),
    least_age_s: link.leastAgeS,
    largest_age_s: link.largestAgeS,
    limit_s: link.limitS,
    epochs_above_limit: link.aboveLimit,
    resets: {
      count: resets.count,
      mean_peak_s: rounded(resets.meanPeakS, 4),
      latency_s: rounded(resets.meanTroughS, 4),
      least_latency_s: resets.leastTroughS,
      mean_update_interval_s: rounded(resets.meanIntervalS, 3),
      usual_update_interval_s: resets.usualIntervalS,
    },
    outages: link.outages.listed.map(outageMembers),
    outages_left_out: link.outages.leftOut,
    hours: link.hours.map(({ fromMs, ...own }) => ({ from: formatUtc(fromMs), ...availabilityMembers(own) })),
    cells: link.cells.listed.map(({ southDeg, westDeg, northDeg, eastDeg, ...own }) => ({
      south_deg: rounded(southDeg, 9),
      west_deg: rounded(westDeg, 9),
      north_deg: rounded(northDeg, 9),
      east_deg: rounded(eastDeg, 9),
      ...availabilityMembers(own),
    })),
    cells_left_out: link.cells.leftOut,
    cost: {
      age_mm_per_s: rounded(cost.ageRateMPerS * 1000, 6),
      lost_epochs: cost.lostEpochs,
      lost_points: cost.lostPoints,
      rescued_points: cost.rescuedPoints,
      points: cost.points.listed.map(pointMembers),
      points_left_out: cost.points.leftOut,
    },
  };
}

function outageMembers(outage: LinkOutage): Members {
  const { fromMs, toMs, silentFromMs, points } = outage;
  return {
    from: formatUtc(fromMs),
    to: formatUtc(toMs),
    ended: outage.isEnded,
    seconds: (toMs - fromMs) / 1000,
    silent_from: silentFromMs === null ? null : formatUtc(Math.round(silentFromMs)),
    side: outage.side,
    largest_age_s: outage.largestAgeS,
    epochs: outage.epochs,
    points: points.listed,
    points_left_out: points.leftOut,
    latitude_deg: rounded(outage.latitudeDeg, 9),
    longitude_deg: rounded(outage.longitudeDeg, 9),
    source: outage.source,
  };
}

function availabilityMembers({ epochs, shares }: Availability): Members {
  return {
    epochs,
    within: shares.map(({ ageS, count, share, low, high }) => ({
      age_s: ageS,
      count,
      share: rounded(share, 6),
      low: rounded(low, 6),
      high: rounded(high, 6),
    })),
  };
}

function pointMembers(point: PointCost): Members {
  return {
    point_id: point.pointId,
    epochs: point.epochs,
    kept: point.kept,
    lost: point.lost,
    mean_age_s: rounded(point.meanAgeS, 3),
    sigma_horizontal_m: rounded(point.sigmaHorizontalM, 5),
    sigma_horizontal_aged_m: rounded(point.sigmaHorizontalAgedM, 5),
    sigma_vertical_m: rounded(point.sigmaVerticalM, 5),
    sigma_vertical_aged_m: rounded(point.sigmaVerticalAgedM, 5),
    passes: point.passes,
    would_pass: point.wouldPass,
  };
}

function rounded(value: number | null, decimals: number): number | null {
  return value === null ? null : Math.round(value * 10 ** decimals) / 10 ** decimals + 0;
}
