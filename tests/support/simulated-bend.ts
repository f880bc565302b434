// Bends of vectors by a wrong base, from satellite geometry: 78 satellites in three invented regular constellations, mask 15°,
// weights sin² of the elevation, one receiver clock, a spherical earth. Shares nothing with src/core.

type Vector = readonly [number, number, number];

const EARTH_M = 6.371e6;
const GM = 3.986004418e14;
const TURN = 7.292115e-5;
const CONSTELLATIONS = [
  [26.56e6, 55, 6, 5],
  [25.51e6, 64.8, 3, 8],
  [29.6e6, 56, 3, 8],
] as const;
const RAD = Math.PI / 180;

const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const scaled = (a: Vector, k: number): Vector => [a[0] * k, a[1] * k, a[2] * k];
const plus = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const unit = (a: Vector): Vector => scaled(a, 1 / Math.sqrt(dot(a, a)));

function satellites(timeS: number): readonly Vector[] {
  const places: Vector[] = [];
  for (const [radius, inclinationDeg, planes, each] of CONSTELLATIONS) {
    const motion = Math.sqrt(GM / radius ** 3);
    for (let p = 0; p < planes; p += 1) {
      for (let s = 0; s < each; s += 1) {
        const u = 2 * Math.PI * (s / each + p / (planes * each)) + motion * timeS;
        const node = (2 * Math.PI * p) / planes - TURN * timeS;
        const [x, y, i] = [radius * Math.cos(u), radius * Math.sin(u), inclinationDeg * RAD];
        places.push([
          x * Math.cos(node) - y * Math.cos(i) * Math.sin(node),
          x * Math.sin(node) + y * Math.cos(i) * Math.cos(node),
          y * Math.sin(i),
        ]);
      }
    }
  }
  return places;
}

/** East, north and up at a place of the sphere. */
function axesAt(place: Vector): readonly [Vector, Vector, Vector] {
  const up = unit(place);
  const east = unit([-up[1], up[0], 0]);
  return [
    east,
    [up[1] * east[2] - up[2] * east[1], up[2] * east[0] - up[0] * east[2], up[0] * east[1] - up[1] * east[0]],
    up,
  ];
}

/** Solves a small symmetric system by elimination. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): readonly number[] {
  const m = matrix.map((row, i) => [...row, right[i]!]);
  for (let i = 0; i < m.length; i += 1) {
    for (let j = 0; j < m.length; j += 1) {
      if (j === i) continue;
      const factor = m[j]![i]! / m[i]![i]!;
      for (let k = i; k <= m.length; k += 1) m[j]![k]! -= factor * m[i]![k]!;
    }
  }
  return m.map((row, i) => row[m.length]! / row[i]!);
}

interface Axes {
  along: number;
  across: number;
  up: number;
}

/** Root mean square of the bend, ppm per metre of base error: by the direction of the error, then of the bend. */
export function simulatedBends(
  latitudesDeg: readonly number[],
  azimuthsDeg: readonly number[],
  baselineM: number,
): Record<keyof Axes, Axes> {
  const sums = [0, 1, 2].map(() => [0, 0, 0]);
  let count = 0;
  for (const latitude of latitudesDeg) {
    const base: Vector = scaled(
      [Math.cos(latitude * RAD) * Math.cos(0.3), Math.cos(latitude * RAD) * Math.sin(0.3), Math.sin(latitude * RAD)],
      EARTH_M,
    );
    const [east, north, up] = axesAt(base);
    for (const azimuth of azimuthsDeg) {
      const [sin, cos] = [Math.sin(azimuth * RAD), Math.cos(azimuth * RAD)];
      const along = plus(scaled(east, sin), scaled(north, cos));
      const across = plus(scaled(east, cos), scaled(north, -sin));
      const rover = scaled(unit(plus(base, scaled(along, baselineM))), EARTH_M);
      const [roverEast, roverNorth, roverUp] = axesAt(rover);
      const out = [
        plus(scaled(roverEast, sin), scaled(roverNorth, cos)),
        plus(scaled(roverEast, cos), scaled(roverNorth, -sin)),
        roverUp,
      ] as const;
      for (let timeS = 0; timeS < 86_164; timeS += 1800) {
        const rows: { h: readonly number[]; y: readonly number[]; w: number }[] = [];
        for (const satellite of satellites(timeS)) {
          const [fromBase, fromRover] = [unit(minus(satellite, base)), unit(minus(satellite, rover))];
          const elevation = dot(fromRover, roverUp);
          if (elevation < Math.sin(15 * RAD) || dot(fromBase, up) < Math.sin(15 * RAD)) continue;
          const turned = minus(fromBase, fromRover);
          rows.push({
            h: [...out.map((axis) => dot(fromRover, axis)), 1],
            y: [along, across, up].map((axis) => dot(turned, axis)),
            w: elevation ** 2,
          });
        }
        const normal = [0, 1, 2, 3].map((i) =>
          [0, 1, 2, 3].map((j) => rows.reduce((sum, { h, w }) => sum + w * h[i]! * h[j]!, 0)),
        );
        for (let error = 0; error < 3; error += 1) {
          const right = [0, 1, 2, 3].map((i) => rows.reduce((sum, { h, y, w }) => sum + w * h[i]! * y[error]!, 0));
          const bend = solve(normal, right);
          for (let i = 0; i < 3; i += 1) sums[error]![i]! += (bend[i]! / baselineM) ** 2;
        }
        count += 1;
      }
    }
  }
  const axes = (error: number): Axes => {
    const [a, c, u] = sums[error]!.map((sum) => 1e6 * Math.sqrt(sum / count));
    return { along: a!, across: c!, up: u! };
  };
  return { along: axes(0), across: axes(1), up: axes(2) };
}
