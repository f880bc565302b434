import {
  AIRY_1830,
  BESSEL_1841,
  CLARKE_1866,
  ellipsoidFrom,
  GRS80,
  INTERNATIONAL_1924,
  WGS84,
  type Ellipsoid,
} from '../../ellipsoid/ellipsoid.js';

/**
 * Ellipsoids by the names of `+ellps`, as far as the registry's systems use them, with the figures
 * PROJ has for them (`proj -le`). Reference: PROJ-DOC, ellipsoids.
 */
export const NAMED_ELLIPSOIDS: Readonly<Record<string, Ellipsoid>> = {
  WGS84,
  GRS80,
  airy: AIRY_1830,
  bessel: BESSEL_1841,
  clrk66: CLARKE_1866,
  intl: INTERNATIONAL_1924,
  aust_SA: ellipsoidFrom('Australian National Spheroid', 6378160, 298.25),
  bess_nam: ellipsoidFrom('Bessel Namibia', 6377483.865, 299.1528128),
  clrk80: ellipsoidFrom('Clarke 1880 (RGS)', 6378249.145, 293.4663),
  clrk80ign: ellipsoidFrom('Clarke 1880 (IGN)', 6378249.2, 293.4660212936269),
  evrst30: ellipsoidFrom('Everest 1830', 6377276.345, 300.8017),
  evrst48: ellipsoidFrom('Everest 1948', 6377304.063, 300.8017),
  evrst56: ellipsoidFrom('Everest 1956', 6377301.243, 300.8017),
  evrst69: ellipsoidFrom('Everest 1969', 6377295.664, 300.8017),
  evrstSS: ellipsoidFrom('Everest 1830 (1967 definition)', 6377298.556, 300.8017),
  fschr60: ellipsoidFrom('Fischer 1960', 6378166, 298.3),
  fschr60m: ellipsoidFrom('Fischer 1960 (modified)', 6378155, 298.3),
  fschr68: ellipsoidFrom('Fischer 1968', 6378150, 298.3),
  GRS67: ellipsoidFrom('GRS 1967', 6378160, 298.247167427),
  GSK2011: ellipsoidFrom('GSK-2011', 6378136.5, 298.2564151),
  helmert: ellipsoidFrom('Helmert 1906', 6378200, 298.3),
  hough: ellipsoidFrom('Hough 1960', 6378270, 297),
  IAU76: ellipsoidFrom('IAU 1976', 6378140, 298.257),
  krass: ellipsoidFrom('Krassowsky 1940', 6378245, 298.3),
  mod_airy: ellipsoidFrom('Airy Modified 1849', 6377340.189, 6377340.189 / (6377340.189 - 6356034.446)),
  NWL9D: ellipsoidFrom('NWL 9D', 6378145, 298.25),
  PZ90: ellipsoidFrom('PZ-90', 6378136, 298.25784),
  sphere: ellipsoidFrom('Sphere of radius 6370997 m', 6370997, 0),
  walbeck: ellipsoidFrom('Walbeck', 6376896, 6376896 / (6376896 - 6355834.8467)),
  WGS66: ellipsoidFrom('WGS 66', 6378145, 298.25),
  WGS72: ellipsoidFrom('WGS 72', 6378135, 298.26),
};

/** Ellipsoids of the few datums that `+datum` may name. */
export const DATUM_ELLIPSOIDS: Readonly<Record<string, string>> = { WGS84: 'WGS84', NAD83: 'GRS80', NAD27: 'clrk66' };
