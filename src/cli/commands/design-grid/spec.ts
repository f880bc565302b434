import { DESIGN_METHODS } from '../../../core/grid/design/design-text.js';
import type { CommandSpec } from '../../shell/command-spec.js';
import {
  GEOID_OPTIONS,
  INPUT_OPTIONS,
  OUTPUT_OPTIONS,
  POSITION_OPTION,
  REPORT_OPTION,
  SESSION_OPTION,
  SYSTEM_OPTION,
} from '../../shell/shared-options.js';

/** `pegbook design-grid` */
export const designGridSpec: CommandSpec = {
  name: 'design-grid',
  summary: 'a project grid on the ground: projection, scale and false origins for the points of a job',
  description: [
    'Chooses a transverse Mercator, a Lambert with one parallel or an oblique Mercator by the long axis of the points and by what each',
    'reaches, and its scale and central line so that lengths on the grid are lengths on the ground as nearly as the heights allow. Gives',
    'it as a PROJ string and as WKT2, each of which every command takes for a system, and the distortion point by point.',
  ],
  arguments: [{ name: '<points>', description: 'the points with their heights: CSV or GeoJSON; - is standard input' }],
  options: [
    SYSTEM_OPTION,
    SESSION_OPTION,
    ...GEOID_OPTIONS,
    {
      flags: '--method <method>',
      description: 'the projection',
      choices: DESIGN_METHODS,
      defaultText: 'by the long axis of the points, unless another is clearly better',
    },
    {
      flags: '--minimise <what>',
      description: 'what is made least: the largest distortion, or the one that 95 of 100 points keep',
      choices: ['largest', 'p95'],
      defaultText: 'largest',
    },
    {
      flags: '--height-limit <ppm>',
      description: 'warn where the range of the heights alone costs more',
      kind: 'number',
      defaultText: '20',
    },
    { flags: '--name <text>', description: 'of the grid', defaultText: 'Project grid' },
    { flags: '--wkt <file>', isWritten: true, description: 'write its WKT2 (ISO 19162) there' },
    { flags: '--explain <point>', description: 'work the scale, and the distortion at one point, through' },
    REPORT_OPTION,
    POSITION_OPTION,
    ...OUTPUT_OPTIONS,
    ...INPUT_OPTIONS,
  ],
  examples: [
    {
      about: 'a grid for the points of a site, and its distortion at each',
      command: 'pegbook design-grid examples/quillback-pan-site/points.csv --system EPSG:2049',
    },
    {
      about: 'a Lambert that 95 of 100 points are best on, as JSON and WKT2',
      command:
        'pegbook design-grid examples/quillback-pan-site/points.csv --system EPSG:2049 --method lambert --minimise p95 --wkt grid.wkt -o grid.json',
    },
  ],
  cautions: [
    'A project grid is not the national system: deliver its definition with every coordinate, and never mix the two.',
    'It fits the heights it was made for. Outside the points, and on other heights, its distortion is another.',
  ],
  load: async () => (await import('./run.js')).runDesignGrid,
};
