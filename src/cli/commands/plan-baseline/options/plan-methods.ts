import type { RunLog } from '../../../shell/run/run-log.js';

/** The methods of a plan, as its run record names them. */
export const PLAN_METHODS: readonly Parameters<RunLog['method']>[0][] = [
  {
    id: 'geodesic',
    name: 'geodesic distance on the ellipsoid',
    source: { key: 'KARNEY-2013', locator: 'sections 2 to 4' },
  },
  {
    id: 'precision-model-1',
    name: 'planning model of one fixed epoch; planning assumptions',
    source: { key: 'docs/methods/uncertainty.md', locator: 'Planning model' },
  },
  {
    id: 'base-siting-1',
    name: 'geodesic 1-centre, ranking, K bases and fewest bases',
    source: { key: 'docs/methods/base-siting.md', locator: 'A free place; Among candidates' },
  },
];
