import { degreesApart, metresApart, testAgreement, WHOLE_EARTH } from './agreement.js';
import type { Case } from './agreement.js';

const deg = (a: string): string => `+proj=unitconvert +xy_${a === 'in' ? 'in=deg +xy_out=rad' : 'in=rad +xy_out=deg'}`;
const geographic = (from: string, middle: string, to: string): readonly string[] =>
  `+proj=pipeline +step ${deg('in')} +step +proj=cart ${from} +step ${middle} +step +inv +proj=cart ${to} +step ${deg('out')}`.split(
    ' ',
  );
const GEOCENT = { from: '+proj=geocent +ellps=GRS80 +no_defs', to: '+proj=geocent +ellps=GRS80 +no_defs' };
const SEVEN =
  'tx_m = 446.448\nty_m = -125.157\ntz_m = 542.06\nrx_arcsec = 0.15\nry_arcsec = -1.247\nrz_arcsec = 0.842\nds_ppm = -20.489\n';
const seven = (convention: string): readonly string[] =>
  `+proj=helmert +x=446.448 +y=-125.157 +z=542.06 +rx=0.15 +ry=-1.247 +rz=0.842 +s=-20.489 +convention=${convention}`.split(
    ' ',
  );
const PIVOT = 'pivot_x_m = 2464351.59\npivot_y_m = -5783466.61\npivot_z_m = 974809.81\n';
const RATES =
  'tx_m_per_year = 0.02\nty_m_per_year = -0.01\ntz_m_per_year = 0.015\nrx_arcsec_per_year = 0.002\nry_arcsec_per_year = -0.001\nrz_arcsec_per_year = 0.0012\nds_ppm_per_year = 0.001\nreference_epoch_year = 1994\n';
const rates = '+dx=0.02 +dy=-0.01 +dz=0.015 +drx=0.002 +dry=-0.001 +drz=0.0012 +ds=0.001 +t_epoch=1994'.split(' ');
const THETA = (1.56504 / 3600) * (Math.PI / 180);
const [M, C, S] = [1.00000155, Math.cos(THETA), Math.sin(THETA)];

const CASES: readonly Case[] = [
  {
    name: 'geocentric translations, EPSG 9603, as operation 1504',
    options: { from: 'EPSG:4222', to: 'EPSG:4148', operation: 'EPSG:1504' },
    cct: geographic('+a=6378249.145 +rf=293.4663077', '+proj=helmert +x=-134.73 +y=-110.92 +z=-292.66', '+ellps=WGS84'),
    swapIn: true,
    swapOut: true,
    box: [
      [-34, 17, 0],
      [-23, 32, 2000],
    ],
    metric: (a, b) => degreesApart([a[0], a[1], 0], [b[0], b[1], 0]),
    keepsHeight: true,
  },
  {
    name: 'position vector, EPSG 9606, as operation 1314',
    options: { from: 'EPSG:4277', to: 'EPSG:4326', operation: 'EPSG:1314' },
    cct: geographic(
      '+ellps=airy',
      '+proj=helmert +x=446.448 +y=-125.157 +z=542.06 +rx=0.15 +ry=0.247 +rz=0.842 +s=-20.489 +convention=position_vector',
      '+ellps=WGS84',
    ),
    swapIn: true,
    swapOut: true,
    box: [
      [50, -7, 0],
      [60, 1.5, 1000],
    ],
    metric: (a, b) => degreesApart([a[0], a[1], 0], [b[0], b[1], 0]),
    keepsHeight: true,
  },
  {
    name: 'coordinate frame with heights, EPSG 1038, as operation 8048',
    options: { from: 'EPSG:4939', to: 'EPSG:7843', operation: 'EPSG:8048' },
    cct: geographic(
      '+ellps=GRS80',
      '+proj=helmert +x=0.06155 +y=-0.01087 +z=-0.04019 +rx=-0.0394924 +ry=-0.0327221 +rz=-0.0328979 +s=-0.009994 +convention=coordinate_frame',
      '+ellps=GRS80',
    ),
    swapIn: true,
    swapOut: true,
    box: [
      [-43, 114, -100],
      [-11, 153, 2200],
    ],
    metric: degreesApart,
  },
  {
    name: 'position vector, EPSG 1033',
    options: GEOCENT,
    file: `method = "position vector transformation"\nrotation_convention = "position-vector"\n${SEVEN}`,
    cct: seven('position_vector'),
    box: WHOLE_EARTH,
    metric: metresApart,
  },
  {
    name: 'coordinate frame, EPSG 1032',
    options: GEOCENT,
    file: `method = "coordinate frame rotation"\nrotation_convention = "coordinate-frame"\n${SEVEN}`,
    cct: seven('coordinate_frame'),
    box: WHOLE_EARTH,
    metric: metresApart,
  },
  {
    name: 'coordinate frame with the full matrix above 2 seconds',
    options: GEOCENT,
    file: `method = "coordinate frame rotation"\nrotation_convention = "coordinate-frame"\n${SEVEN.replace('rx_arcsec = 0.15', 'rx_arcsec = 15')}`,
    cct: [...seven('coordinate_frame').map((part) => (part === '+rx=0.15' ? '+rx=15' : part)), '+exact'],
    box: WHOLE_EARTH,
    metric: metresApart,
  },
  {
    name: 'time-dependent position vector, EPSG 1053',
    options: { ...GEOCENT, epoch: 2026.3 },
    epoch: 2026.3,
    file: `method = "EPSG:1053"\nrotation_convention = "position-vector"\n${SEVEN}${RATES}`,
    cct: [...seven('position_vector'), ...rates],
    box: WHOLE_EARTH,
    metric: metresApart,
  },
  {
    name: 'time-dependent coordinate frame, EPSG 1056',
    options: { ...GEOCENT, epoch: 2026.3 },
    epoch: 2026.3,
    file: `method = "EPSG:1056"\nrotation_convention = "coordinate-frame"\n${SEVEN}${RATES}`,
    cct: [...seven('coordinate_frame'), ...rates],
    box: WHOLE_EARTH,
    metric: metresApart,
  },
  {
    name: 'Molodensky-Badekas, EPSG 1034',
    options: GEOCENT,
    file: `method = "EPSG:1034"\nrotation_convention = "coordinate-frame"\n${SEVEN}${PIVOT}`,
    cct: [
      '+proj=molobadekas',
      ...seven('coordinate_frame').slice(1),
      '+px=2464351.59',
      '+py=-5783466.61',
      '+pz=974809.81',
    ],
    box: WHOLE_EARTH,
    metric: metresApart,
  },
  {
    name: 'Molodensky-Badekas, EPSG 1061',
    options: GEOCENT,
    file: `method = "EPSG:1061"\nrotation_convention = "position-vector"\n${SEVEN}${PIVOT}`,
    cct: [
      '+proj=molobadekas',
      ...seven('position_vector').slice(1),
      '+px=2464351.59',
      '+py=-5783466.61',
      '+pz=974809.81',
    ],
    box: WHOLE_EARTH,
    metric: metresApart,
  },
  {
    name: 'two operations through a third frame',
    options: { from: 'EPSG:9988', to: 'EPSG:7842', operation: 'EPSG:9991,EPSG:8049', epoch: 2026.3 },
    back: { from: 'EPSG:7842', to: 'EPSG:9988', operation: 'EPSG:8049,EPSG:9991', epoch: 2026.3 },
    epoch: 2026.3,
    cct: (
      '+proj=pipeline +step +inv +proj=helmert +x=0.0014 +y=0.0009 +z=-0.0014 +rx=0 +ry=0 +rz=0 +s=0.00042 +dx=0 +dy=0.0001 +dz=-0.0002 +drx=0 +dry=0 +drz=0 +ds=0 +t_epoch=2015 +convention=position_vector ' +
      '+step +proj=helmert +x=0 +y=0 +z=0 +rx=0 +ry=0 +rz=0 +s=0 +drx=0.00150379 +dry=0.00118346 +drz=0.00120716 +t_epoch=2020 +convention=coordinate_frame'
    ).split(' '),
    box: WHOLE_EARTH,
    metric: metresApart,
  },
  {
    name: 'motion of a plate, ITRF2014 Australian',
    options: { from: 'EPSG:7789', epochFrom: 2026.3, epochTo: 2020, plate: 'AUST' },
    back: { from: 'EPSG:7789', epochFrom: 2020, epochTo: 2026.3, plate: 'AUST' },
    epoch: 2026.3,
    cct: '+proj=helmert +drx=-0.00151 +dry=-0.001182 +drz=-0.001215 +t_epoch=2020 +convention=position_vector'.split(
      ' ',
    ),
    box: WHOLE_EARTH,
    metric: metresApart,
  },
  {
    name: 'similarity in the plane, EPSG 9621',
    options: { from: '+proj=utm +zone=31 +ellps=intl +no_defs', to: '+proj=utm +zone=31 +ellps=GRS80 +no_defs' },
    file: 'method = "similarity transformation"\nfirst_origin = -129.549\nsecond_origin = -208.185\nscale_factor = 1.00000155\nrotation_arcsec = 1.56504\n',
    cct: `+proj=affine +xoff=-129.549 +yoff=-208.185 +s11=${String(M * C)} +s12=${String(M * S)} +s21=${String(-M * S)} +s22=${String(M * C)}`.split(
      ' ',
    ),
    box: [
      [200_000, 4_000_000, 0],
      [800_000, 6_000_000, 0],
    ],
    metric: metresApart,
  },
  {
    name: 'affine in the plane, EPSG 9624',
    options: { from: '+proj=utm +zone=17 +ellps=clrk66 +no_defs', to: '+proj=utm +zone=18 +ellps=clrk66 +no_defs' },
    file: 'method = "affine parametric transformation"\na0 = 82357.457\na1 = 0.304794369\na2 = 0.000015417425\nb0 = 28091.324\nb1 = -0.000015417425\nb2 = 0.304794369\n',
    cct: '+proj=affine +xoff=82357.457 +yoff=28091.324 +s11=0.304794369 +s12=0.000015417425 +s21=-0.000015417425 +s22=0.304794369'.split(
      ' ',
    ),
    box: [
      [200_000, 400_000, 0],
      [900_000, 700_000, 0],
    ],
    metric: metresApart,
  },
  {
    name: 'zone to zone of one datum, south orientated',
    options: { from: 'EPSG:2049', to: 'EPSG:2050' },
    cct: '+proj=pipeline +step +inv +proj=tmerc +axis=wsu +lon_0=21 +ellps=WGS84 +step +proj=tmerc +axis=wsu +lon_0=23 +ellps=WGS84'.split(
      ' ',
    ),
    box: [
      [-180_000, 2_800_000, 0],
      [20_000, 3_800_000, 0],
    ],
    metric: metresApart,
  },
  {
    name: 'geographic 3D to geocentric, EPSG 9602',
    options: { from: 'EPSG:4979', to: 'EPSG:4978' },
    cct: `+proj=pipeline +step ${deg('in')} +step +proj=cart +ellps=WGS84`.split(' '),
    swapIn: true,
    box: [
      [-89, -179, -1000],
      [89, 179, 9000],
    ],
    metric: metresApart,
  },
];

testAgreement(CASES);
