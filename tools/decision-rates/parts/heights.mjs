// Surfaces of heights over 60 km: does the truth lie within 1.96 sigma between the benchmarks, and beyond them where sigma grows?
import { counter } from '../counter.mjs';
import { rowsOf } from '../product.mjs';
import { stream } from '../random.mjs';
import { BASE_SIGMAS_M, ORIGIN, markAt, sessionOf, setUp } from '../survey.mjs';
import { rateTable } from '../tables.mjs';

const MIDDLE = [36_000, -3_484_000];
const REACH_M = 30_000;
const MEASURED_SIGMA_M = 0.012;
const CONTROL_SIGMA_M = 0.004;
const INSIDE = 4;
const OUTSIDE = 3;

const KINDS = {
  twelve: { label: '12 benchmarks, signal as by default', benchmarks: 12, sigmaM: 0.015, lengthM: 20_000 },
  'from one base': {
    label: '12 benchmarks from one base, its error common',
    benchmarks: 12,
    sigmaM: 0.015,
    lengthM: 20_000,
    isFromBase: true,
  },
  twenty: {
    label: '20 benchmarks, signal of 25 mm over 15 km, estimated',
    benchmarks: 20,
    sigmaM: 0.025,
    lengthM: 15_000,
  },
  'a smooth signal': {
    label: '20 benchmarks, smooth signal of 25 mm over 10 km, estimated',
    benchmarks: 20,
    sigmaM: 0.025,
    lengthM: 10_000,
    isSmooth: true,
  },
};

/** Normal numbers with the covariance of a signal at some places, by the lower triangle of its matrix. */
function signalAt(places, { sigmaM, lengthM, isSmooth = false }, random) {
  const lower = [];
  const drawn = [];
  return places.map((place, i) => {
    lower[i] = [];
    for (let j = 0; j <= i; j += 1) {
      const ratio = Math.hypot(place[0] - places[j][0], place[1] - places[j][1]) / lengthM;
      let rest = sigmaM ** 2 * (isSmooth ? 1 + ratio : 1) * Math.exp(-ratio);
      for (let k = 0; k < j; k += 1) rest -= lower[i][k] * lower[j][k];
      lower[i][j] = i === j ? Math.sqrt(Math.max(rest, 1e-16)) : rest / lower[j][j];
    }
    drawn[i] = random.normal();
    return lower[i].reduce((sum, value, k) => sum + value * drawn[k], 0);
  });
}

function heightsOf(random, kind) {
  const { benchmarks, isFromBase = false } = kind;
  const count = benchmarks + INSIDE + OUTSIDE;
  const places = Array.from({ length: count }, (_, i) => {
    // On an even spread of rings; the points asked about within two thirds of it, or beyond it.
    const part =
      i < benchmarks
        ? Math.sqrt((i + 0.5) / benchmarks)
        : i < benchmarks + INSIDE
          ? random.between(0, 0.6)
          : random.between(1.3, 1.8);
    const turn = i < benchmarks ? 2.399963 * i + random.between(-0.2, 0.2) : random.between(0, 2 * Math.PI);
    return [MIDDLE[0] + REACH_M * part * Math.sin(turn), MIDDLE[1] + REACH_M * part * Math.cos(turn)];
  });
  const signal = signalAt(places, kind, random);
  const [offset, east, north] = [random.between(-0.4, 0.4), random.between(-2e-6, 2e-6), random.between(-2e-6, 2e-6)];
  const common = isFromBase ? BASE_SIGMAS_M[1] * random.normal() : 0;
  return places.map(([x, y], i) => {
    const isBenchmark = i < benchmarks;
    const height = 1000 + random.between(-100, 100);
    const correction = offset + east * (x - MIDDLE[0]) + north * (y - MIDDLE[1]) + signal[i];
    return {
      id: isBenchmark ? `B${i}` : `${i < benchmarks + INSIDE ? 'in' : 'out'}${i}`,
      isBenchmark,
      place: [x, y],
      truth: height + correction,
      // Asked about without an error of its own: the sigma of the surface is what is tested.
      measured: height + (isBenchmark ? MEASURED_SIGMA_M * random.normal() + common : 0),
      listed: height + correction + CONTROL_SIGMA_M * random.normal(),
    };
  });
}

function written(product, points, { isFromBase = false }, random) {
  const sigma = isFromBase ? Math.hypot(MEASURED_SIGMA_M, BASE_SIGMAS_M[1]) : MEASURED_SIGMA_M;
  const row = ({ id, place: [e, n] }, height) => `${id},${(-e).toFixed(4)},${(-n).toFixed(4)},${height.toFixed(5)}`;
  const own = points.filter(({ isBenchmark }) => isBenchmark);
  const head = 'point_id,westing_m,southing_m,orthometric_height_m';
  product.write(
    'measured.csv',
    `${head},sigma_east_m,sigma_north_m,sigma_up_m,base_id\n${own.map((point) => `${row(point, point.measured)},0.008,0.008,${sigma.toFixed(5)},B\n`).join('')}`,
  );
  product.write(
    'asked.csv',
    `${head}\n${points
      .filter(({ isBenchmark }) => !isBenchmark)
      .map((point) => `${row(point, point.measured)}\n`)
      .join('')}`,
  );
  product.write(
    'control.csv',
    `${head},sigma_horizontal_m,sigma_vertical_m,role\n${own.map((point) => `${row(point, point.listed)},0.008,${CONTROL_SIGMA_M},fit\n`).join('')}`,
  );
  const words = [
    'fit-site',
    'measured.csv',
    '--control',
    'control.csv',
    '--vertical',
    'surface',
    '-o',
    'site.json',
    '--force',
  ];
  if (!isFromBase) return [...words, '--system', 'EPSG:2049'];
  product.write('session.toml', sessionOf([setUp('B', markAt(ORIGIN, random), random)]));
  return [...words, '--session', 'session.toml'];
}

function surfacesOf(name, full) {
  return async (product, { seed, scale }) => {
    const { counts, add } = counter();
    const runs = Math.max(10, Math.round(scale * full));
    const kind = KINDS[name];
    for (let run = 0; run < runs; run += 1) {
      const random = stream(seed, 'heights', name, run);
      const points = heightsOf(random, kind);
      const words = written(product, points, kind, random);
      const { exit } = await product.run(
        kind.isSmooth === true ? [...words, '--signal', 'second-order-markov'] : words,
      );
      if (exit !== 0) add('not 0');
      const moved = await product.run(['transform', 'asked.csv', '--site', 'site.json', '--extrapolate', '--quiet']);
      for (const row of rowsOf(moved.stdout)) {
        const { truth } = points.find(({ id }) => id === row.point_id);
        const key = row.point_id.startsWith('in') ? 'inside' : 'outside';
        const sigma = Number(row.site_sigma_height_m);
        add(`${key} of`);
        if (Math.abs(Number(row.orthometric_height_m) - truth) <= 1.959964 * sigma + 0.00005) add(key);
      }
    }
    return { of: runs, counts };
  };
}

const FULL = 600;

export const part = {
  name: 'heights',
  jobs: () => Object.keys(KINDS).map((name) => ({ id: `heights/${name}`, run: surfacesOf(name, FULL) })),
  text(results, before) {
    const rows = Object.entries(KINDS)
      .filter(([name]) => results[`heights/${name}`] !== undefined)
      .map(([name, { label }]) => {
        const id = `heights/${name}`;
        return [
          label,
          String(results[id].of),
          { id, key: 'not 0' },
          { id, key: 'inside', of: 'inside of' },
          { id, key: 'outside', of: 'outside of' },
        ];
      });
    return `Benchmarks on a plane and a signal over 60 km, the trend chosen by leaving them out. Goal: the truth within 1.96 σ at 93 to 97 %.\n\n${rateTable({ head: ['surfaces', 'count', 'ends with 1', 'between the benchmarks, in 1.96 σ', 'beyond them by 0.3 to 0.8 of their reach, in 1.96 σ'], rows, results, before })}`;
  },
};
