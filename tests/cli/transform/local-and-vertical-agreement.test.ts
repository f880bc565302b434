import { degreesApart, metresApart, testAgreement } from './agreement.js';
import type { Case, Heights } from './agreement.js';

const ORIGIN = 'xyz:3652755.3058,319574.6799,5201547.3536';
const TOPOCENTRIC = ['+proj=topocentric', '+ellps=WGS84'];
const GEOCENTRIC_ORIGIN = ['+X_0=3652755.3058', '+Y_0=319574.6799', '+Z_0=5201547.3536'];
const DEGREES =
  '+proj=pipeline +step +proj=unitconvert +xy_in=deg +xy_out=rad +step +proj=cart +ellps=WGS84 +step'.split(' ');
/** Within a few hundred kilometres of the origin. */
const NEAR_ORIGIN: Case['box'] = [
  [3.4e6, -1e5, 5e6],
  [3.9e6, 7e5, 5.4e6],
];
const SLOPE =
  'method = "EPSG:1046"\nvertical_offset_m = -0.245\norigin_latitude_deg = 46.916666666666667\norigin_longitude_deg = 8.183333333333333\ninclination_latitude_arcsec = -0.21\ninclination_longitude_arcsec = -0.032\n';
const VERTICAL = { from: 'EPSG:4258', to: 'EPSG:4258' };
const SWITZERLAND: Case['box'] = [
  [45.5, 5.5, 0],
  [48, 10.8, 4000],
];

const ORTHOMETRIC: Heights = ['orthometric', 'orthometric'];
const EGM96 = '/usr/share/proj/egm96_15.gtx';

testAgreement([
  {
    name: 'geocentric to topocentric, EPSG 9836',
    options: { from: 'EPSG:4978', topocentricAt: ORIGIN },
    back: { from: 'EPSG:4978', topocentricAt: ORIGIN, inverse: true },
    cct: [...TOPOCENTRIC, ...GEOCENTRIC_ORIGIN],
    box: NEAR_ORIGIN,
    metric: metresApart,
    cctInverse: true,
  },
  {
    name: 'geographic to topocentric, EPSG 9837',
    options: { from: 'EPSG:4979', topocentricAt: '-31.5,21.4,1040' },
    back: { from: 'EPSG:4979', topocentricAt: '-31.5,21.4,1040', inverse: true },
    cct: [...DEGREES, ...TOPOCENTRIC, '+lat_0=-31.5', '+lon_0=21.4', '+h_0=1040'],
    swapIn: true,
    box: [
      [-34, 18, 0],
      [-29, 25, 3000],
    ],
    metric: (a, b) => (Math.abs(a[0]) <= 90 && Math.abs(b[0]) <= 90 ? degreesApart(a, b) : metresApart(a, b)),
  },
  {
    name: 'vertical offset, EPSG 9616',
    options: { from: 'EPSG:4326', to: 'EPSG:4326' },
    file: 'method = "vertical offset"\nvertical_offset_m = -28\n',
    heights: ORTHOMETRIC,
    cctInverse: true,
    cct: ['+proj=geogoffset', '+dh=-28'],
    swapIn: true,
    swapOut: true,
    box: [
      [-80, -179, -100],
      [80, 179, 8000],
    ],
    metric: degreesApart,
  },
  {
    name: 'vertical offset and slope, EPSG 1046',
    options: VERTICAL,
    file: SLOPE,
    heights: ORTHOMETRIC,
    cctInverse: true,
    cct: [
      '+proj=vertoffset',
      '+lat_0=46.916666666666667',
      '+lon_0=8.183333333333333',
      '+dh=-0.245',
      '+slope_lat=-0.21',
      '+slope_lon=-0.032',
      '+ellps=GRS80',
    ],
    swapIn: true,
    swapOut: true,
    box: SWITZERLAND,
    metric: degreesApart,
  },
  {
    name: 'ellipsoidal to orthometric height through a geoid grid, EPSG 9661',
    needs: EGM96,
    heights: ['ellipsoidal', 'orthometric'],
    cctInverse: true,
    options: { from: 'EPSG:4979', toHeight: 'orthometric', geoid: EGM96 },
    back: { from: 'EPSG:4979', fromHeight: 'orthometric', toHeight: 'ellipsoidal', geoid: EGM96 },
    cct: ['+proj=vgridshift', `+grids=${EGM96}`],
    swapIn: true,
    swapOut: true,
    box: [
      [-89, -179, -100],
      [89, 179, 8000],
    ],
    metric: degreesApart,
  },
]);
