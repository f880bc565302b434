import type { CommandSpec } from '../../shell/command-spec.js';
import { CHECK_ONLY_OPTION, GEOID_OPTIONS, OUTPUT_OPTIONS } from '../../shell/shared-options.js';

/** `pegbook describe-system` */
export const describeSystemSpec: CommandSpec = {
  name: 'describe-system',
  summary: 'a coordinate system: definition, axes, area of use, factors at a place',
  description: [
    'Prints what a projected system is, and at a place its grid pair, point scale factor, convergence and elevation factor.',
  ],
  arguments: [{ name: '<system>', description: 'EPSG:n, or a PROJ definition string' }],
  options: [
    {
      flags: '--at <lat,lon[,h]>',
      description:
        "a place: latitude and longitude in the system's own frame (decimal or DMS), and ellipsoidal height in metres",
    },
    CHECK_ONLY_OPTION,
    ...GEOID_OPTIONS,
    ...OUTPUT_OPTIONS,
  ],
  examples: [
    { about: 'what a system is', command: 'pegbook describe-system EPSG:2049' },
    {
      about: 'scale factor and convergence at a place',
      command: 'pegbook describe-system EPSG:2049 --at -31.5,21.4,1040 --format json',
    },
  ],
  load: async () => (await import('./run.js')).runDescribeSystem,
};
