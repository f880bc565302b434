import { pushAll } from '../../core/numeric/push-all.js';
import { failureOf } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import { GEOID_TILT_SIGMA_M_PER_KM } from '../../tasks/network/input/network-input.js';
import type { NetworkSystems } from '../../tasks/network/input/network-input.js';
import type { NetworkAssumptions } from '../../tasks/network/input/assemble-network.js';
import { PLAIN_TABLES, workingFolder } from '../tables/as-it-stands.js';
import { wholePoints } from '../points/whole-points.js';
import type { Reduction } from '../reduction/prepare-reduction.js';
import { loadNetwork } from './load-network.js';
import type { LoadedNetwork } from './load-network.js';

/** Files of a network, each absent where there is none. Paths start from the working folder. */
export interface NetworkFileNames {
  readonly vectors?: string;
  readonly control?: string;
  readonly levelled?: string;
  readonly distances?: string;
  /** Files of reduced points, each with the reduction it came from; its name tells days apart where there are several. */
  readonly points?: readonly { readonly path: string; readonly reduction: Reduction; readonly day: string }[];
}

/**
 * A network of files, sorted: the order of files and rows changes no digit.
 *
 * Given: the names of the files; what places are in; sigmas of set-ups that no session describes, and of the tilt of the geoid,
 * absent: the usual ones. Returned: what `networkResults` takes. Problems: those of each file, and then there is no network; those of
 * `assembleNetwork`.
 *
 * @example
 * const folder = '../quillback-pan-network';
 * const grid = loadGridSystem('EPSG:2049').value;
 * const systems = { ellipsoid: grid.base.ellipsoid, grid, geoid: null, geoidSigmaM: null };
 * const read = await readNetworkFiles({ vectors: `${folder}/vectors.csv`, control: `${folder}/control.csv` }, systems);
 * const { network, bases } = read.value;
 * const choice = { datum: 'control', excludesOutliers: false, estimatesVariance: false };
 * const results = networkResults(network, systems, bases, choice, false).value;
 * [network.vectors.length, results.answer]; // [12, 'review']
 */
export async function readNetworkFiles(
  { points = [], ...named }: NetworkFileNames,
  systems: NetworkSystems,
  assumed: Pick<NetworkAssumptions, 'setup' | 'geoidTiltSigmaMPerKm'> = USUAL,
): Promise<Outcome<LoadedNetwork>> {
  const bad: Problem[] = [];
  const warnings: Problem[] = [];
  const files = {
    sessions: points.map(({ reduction, day }) => ({ setup: reduction.setup, day })),
    points: points.map(({ path }, session) => ({ path, session })),
    ...{ vectors: null, control: null, levelled: null, distances: null, ...named },
  };
  const loaded = await loadNetwork(files, systems, {
    tables: PLAIN_TABLES,
    controlColumns: {},
    assumed: { ...assumed, positionFrom: null },
    surroundings: workingFolder(),
    async collect(opened, check) {
      const rows = await wholePoints(opened, check);
      pushAll(rows.ok ? warnings : bad, rows.problems);
      return { points: rows.ok ? rows.value : [], rejected: 0 };
    },
    onRead: () => undefined,
  });
  if (bad.length > 0) return failureOf(bad);
  return loaded.ok ? { ...loaded, problems: [...warnings, ...loaded.problems] } : loaded;
}

const USUAL = {
  setup: { horizontalM: null, verticalM: null },
  geoidTiltSigmaMPerKm: GEOID_TILT_SIGMA_M_PER_KM,
} as const;
