import { resolve } from 'node:path';
import { degreesApart, testAgreement } from './agreement.js';
import type { Case } from './agreement.js';

// The grids of tests/fixtures/shift-grids through the command, between two ellipsoids, against the pipelines of cct.
const grid = (name: string): string => resolve('tests/fixtures/shift-grids', `${name}.tif`);
const CAPE = '+a=6378249.145 +rf=293.4663077';
const RADIANS = '+step +proj=unitconvert +xy_in=deg +xy_out=rad';
const DEGREES = '+step +proj=unitconvert +xy_in=rad +xy_out=deg';
const BOX: Case['box'] = [
  [-32.9, 19.1, -50],
  [-29.1, 22.8, 3000],
];

function throughSpace(name: string, gridRef: string): Case {
  const cct = `+proj=pipeline ${RADIANS} +step +proj=cart ${CAPE} +step +proj=xyzgridshift +grids=${grid(name)} ${gridRef} +step +inv +proj=cart +ellps=WGS84 ${DEGREES}`;
  return {
    name,
    // The way back is found from the codes that the file states.
    options: { from: 'EPSG:4222', to: 'EPSG:4148', shift: grid(name) },
    box: BOX,
    metric: degreesApart,
    swapIn: true,
    swapOut: true,
    cct: cct.split(' '),
    cctInverse: true,
  };
}

const heights = { fromHeight: 'orthometric', toHeight: 'orthometric' };

testAgreement([
  throughSpace('translations-of-the-source', `+grid_ref=input_crs ${CAPE}`),
  throughSpace('translations-of-the-target', '+grid_ref=output_crs +ellps=WGS84'),
  {
    name: 'offsets-between-heights',
    options: { from: 'EPSG:4148', to: 'EPSG:4148', shift: grid('offsets-between-heights'), ...heights },
    back: { from: 'EPSG:4148', to: 'EPSG:4148', shift: grid('offsets-between-heights'), inverse: true, ...heights },
    box: [
      [-31.9, 19.1, -50],
      [-29.1, 22.8, 3000],
    ],
    metric: degreesApart,
    swapIn: true,
    swapOut: true,
    heights: ['orthometric', 'orthometric'],
    cct: `+proj=pipeline ${RADIANS} +step +proj=vgridshift +grids=${grid('offsets-between-heights')} +multiplier=1 ${DEGREES}`.split(
      ' ',
    ),
  },
]);
