import type { SourceRef } from '../../../records/runs/provenance.js';

/** What a national frame is in terms of the international one. */
export interface Realisation {
  readonly name: string;
  /** Codes of its geographic systems of two and three dimensions and of its geocentric one. */
  readonly codes: readonly string[];
  /** The international realisation it was taken from. */
  readonly itrf: string;
  /** The year its coordinates stand still at, decimal; null: those of a published operation, which says it. */
  readonly epochYear: number | null;
  /** The plate that the whole of its area lies on, by its code; null: several plates, a plate's edge, or none of the models. */
  readonly plate: string | null;
  /** A published operation that leads to it, in place of set and plate; null: there is none. */
  readonly operation: string | null;
  /** How well its marks realise it, one sigma an axis, metres. An assumption: see `REALISATION_SIGMA_M`. */
  readonly sigmaM: number;
  readonly source: SourceRef;
  readonly note: string | null;
}

/**
 * How well a frame is the international one at its epoch, one sigma an axis, by the decade of that one. No published source.
 * The first was measured: the same chain for GDA94 (ITRF92 at 1994.0) differs from EPSG:9682, which was fitted to its marks,
 * by 7 to 34 mm in plan and 55 to 81 mm in height at four places of Australia.
 */
const REALISATION_SIGMA_M = { upToItrf93: 0.05, upToItrf97: 0.03, since: 0.01 } as const;

const UP_TO_ITRF93: readonly string[] = ['ITRF88', 'ITRF89', 'ITRF90', 'ITRF91', 'ITRF92', 'ITRF93'];
const UP_TO_ITRF97: readonly string[] = ['ITRF94', 'ITRF96', 'ITRF97'];

type Row = readonly [
  name: string,
  codes: readonly number[],
  itrf: string,
  epochYear: number,
  plate: string | null,
  note: string | null,
];

const DEFORMS = 'its area deforms: a velocity grid of the agency does what no plate does';

/** Frames that are an international one frozen at an epoch. Reference: EPSG-DB, anchor of each datum. */
const FROZEN: readonly Row[] = [
  ['BDA2000', [4762, 4887, 4886], 'ITRF96', 2000, 'NOAM', null],
  ['China Geodetic Coordinate System 2000', [4490, 4480, 4479], 'ITRF97', 2000, null, null],
  ['CIGD11', [6135, 6134, 6133], 'ITRF2005', 2011, null, null],
  ['CR05', [5365, 5364, 5363], 'ITRF2000', 2005.83, null, DEFORMS],
  ['GDBD2009', [5246, 5245, 5244], 'ITRF2005', 2009.45, null, null],
  [
    'Hartebeesthoek94',
    [4148, 4941, 4940],
    'ITRF91',
    1994,
    'NUBI',
    'coincident with ITRF91 at Hartebeesthoek observatory',
  ],
  ['ISN93', [4659, 4945, 4944], 'ITRF93', 1993.6, null, DEFORMS],
  ['JGD2000', [4612, 4947, 4946], 'ITRF94', 1997, null, DEFORMS],
  ['Korea 2000', [4737, 4927, 4926], 'ITRF2000', 2002, null, null],
  ['Macao 2008', [8431, 8430, 8429], 'ITRF2005', 2008.38, null, null],
  ['Mexico ITRF2008', [6365, 6364, 6363], 'ITRF2008', 2010, null, DEFORMS],
  ['NZGD2000', [4167, 4959, 4958], 'ITRF96', 2000, null, DEFORMS],
  ['ONGD14', [7373, 7372, 7371], 'ITRF2008', 2013.15, null, null],
  ['PNG94', [5546, 5545, 5544], 'ITRF92', 1994, null, DEFORMS],
  ['RGAF09', [5489, 5488, 5487], 'ITRF2005', 2009, null, DEFORMS],
  ['RGSPM06', [4463, 4466, 4465], 'ITRF2000', 2006, 'NOAM', null],
  ['RSRGD2000', [4764, 4885, 4884], 'ITRF96', 2000, null, null],
  ['SIRGAS 1995', [4170, 4975, 4974], 'ITRF94', 1995.42, null, null],
  ['SIRGAS 2000', [4674, 4989, 4988], 'ITRF2000', 2000.4, null, null],
  ['SIRGAS-Chile 2002', [5360, 5359, 5358], 'ITRF2000', 2002, null, DEFORMS],
  ['SIRGAS_ES2007.8', [5393, 5392, 5391], 'ITRF2005', 2007.85, null, DEFORMS],
  ['TWD97', [3824, 3823, 3822], 'ITRF94', 1997, null, DEFORMS],
];

type PublishedRow = readonly [
  name: string,
  codes: readonly number[],
  itrf: string,
  operation: number,
  note: string | null,
];

const BY_DEFINITION = 'the operation defines the frame; points inside it still move a little';

/** Frames that a published operation leads to from an international one, at the epoch of the coordinates. Reference: EPSG-DB, the operation. */
const PUBLISHED: readonly PublishedRow[] = [
  ['ETRF2000', [9067, 7931, 7930], 'ITRF2014', 8405, BY_DEFINITION],
  ['ETRF2014', [9069, 8403, 8401], 'ITRF2014', 8366, BY_DEFINITION],
  ['GDA94', [4283, 4939, 4938], 'ITRF2014', 9682, 'ITRF92 at 1994.0; the operation was fitted to its marks'],
  ['GDA2020', [7844, 7843, 7842], 'ITRF2014', 8049, 'ITRF2014 at 2020.0 by the plate motion of its agency'],
  ['KSA-GRF17', [9333, 9332, 9331], 'ITRF2014', 9334, 'ITRF2014 at 2017.0 by the plate motion of its agency'],
  ['NAD83(2011)', [6318, 6319, 6317], 'ITRF2014', 8970, BY_DEFINITION],
  ['NAD83(CSRS)v7', [8255, 8254, 8253], 'ITRF2014', 8265, BY_DEFINITION],
];

/** National frames by what they are of the international one, in the order of their names. */
export const REALISATIONS: readonly Realisation[] = [
  ...FROZEN.map(([name, codes, itrf, epochYear, plate, note]): Realisation => ({
    name,
    codes: codes.map((code) => `EPSG:${String(code)}`),
    itrf,
    epochYear,
    plate,
    operation: null,
    sigmaM: sigmaOf(itrf),
    source: { key: 'EPSG-DB', locator: `${name}, anchor of the datum, read in a stored copy` },
    note,
  })),
  ...PUBLISHED.map(([name, codes, itrf, operation, note]): Realisation => ({
    name,
    codes: codes.map((code) => `EPSG:${String(code)}`),
    itrf,
    epochYear: null,
    plate: null,
    operation: `EPSG:${String(operation)}`,
    sigmaM: REALISATION_SIGMA_M.since,
    source: { key: 'EPSG-DB', locator: `operation ${String(operation)}` },
    note,
  })),
].sort((a, b) => (a.name < b.name ? -1 : 1));

function sigmaOf(itrf: string): number {
  if (UP_TO_ITRF93.includes(itrf)) return REALISATION_SIGMA_M.upToItrf93;
  return UP_TO_ITRF97.includes(itrf) ? REALISATION_SIGMA_M.upToItrf97 : REALISATION_SIGMA_M.since;
}

/** The national frame of a system; null where the table has none. Given: code such as `EPSG:4148`. */
export function realisationOf(code: string): Realisation | null {
  return REALISATIONS.find(({ codes }) => codes.includes(code)) ?? null;
}
