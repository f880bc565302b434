import { describe, expect, it } from 'vitest';
import { createGeoidHeight } from '../../../../src/core/geoid/geoid-height.js';
import type { GeoidModel } from '../../../../src/core/geoid/geoid-height.js';
import { gridLevelFrom } from '../../../../src/core/geoid/grid-level-from.js';
import type { GeoidInterpolation } from '../../../../src/records/session.js';
import { geoidLines } from '../../../../src/tasks/explain/lines/geoid-lines.js';
import { valueOf } from '../../../core/grid/systems.js';

/** An invented geoid all round the globe, whose longitudes are counted from `westDeg`. */
function modelOf(interpolation: GeoidInterpolation, westDeg: number): GeoidModel {
  const shape = { southDeg: -40, latitudeStepDeg: 10, longitudeStepDeg: 10, rows: 9, columns: 36, westDeg };
  const values = Float64Array.from({ length: 9 * 36 }, (_, at) => 20 + ((7 * at) % 11) - 0.3 * ((5 * at) % 7));
  const level = valueOf(gridLevelFrom(shape, values));
  return valueOf(
    createGeoidHeight(
      { name: 'made up', sha256: null, frame: null, precisionNote: null, levels: [level] },
      interpolation,
    ),
  );
}
const linesAt = (model: GeoidModel, latitudeDeg: number, longitudeDeg: number, offM = 0): readonly string[] =>
  geoidLines(model, latitudeDeg, longitudeDeg, (model.heightAt(latitudeDeg, longitudeDeg) ?? NaN) + offM);

describe('how a geoid height comes from its nodes', () => {
  // A grid that counts from 0 to 360 has 63° west at 297: the node before it is 290.
  it.each([
    [0, -63, 'λ_w = 290', '(λ − λ_w + 360°) / Δ_λ = 0.700000000'],
    [0, 63, 'λ_w = 60', '(λ − λ_w) / Δ_λ = 0.300000000'],
    [-180, -63, 'λ_w = -70', '(λ − λ_w) / Δ_λ = 0.700000000'],
    [-180, 63, 'λ_w = 60', '(λ − λ_w) / Δ_λ = 0.300000000'],
    [0, -3, 'λ_w = 350', '(λ − λ_w + 360°) / Δ_λ = 0.700000000'],
  ])('turns a longitude to where the grid counts it: from %d on, at %d', (westDeg, longitudeDeg, west, step) => {
    const lines = linesAt(modelOf('bilinear', westDeg), 12, longitudeDeg).join('\n');
    expect(lines).toContain(west);
    expect(lines).toContain(step);
  });

  it.each(['bilinear', 'biquadratic', 'bicubic'] as const)('%s: the nodes weighted are the height', (kind) => {
    const model = modelOf(kind, -180);
    const lines = linesAt(model, 12, 63);
    const numbers = (name: RegExp): readonly number[] =>
      [...lines.join('\n').matchAll(name)].map(([, value]) => Number(value));
    const [nodes, c, r] = [
      numbers(/N[₁₂₃₄]{2} = (-?[\d.]+) m/gu),
      numbers(/c[₁₂₃₄] = [^=;\n]*= (-?[\d.]+)/gu),
      numbers(/r[₁₂₃₄] = [^=;\n]*= (-?[\d.]+)/gu),
    ];
    const width = { bilinear: 2, biquadratic: 3, bicubic: 4 }[kind];
    expect([nodes.length, c.length, r.length]).toEqual([width * width, width, width]);
    const sum = r.reduce(
      (total, weight, row) =>
        total + weight * c.reduce((own, by, column) => own + by * (nodes[width * row + column] ?? NaN), 0),
      0,
    );
    expect(sum).toBeCloseTo(model.heightAt(12, 63) ?? NaN, 4);
  });

  it('is said without nodes where the height is of another place: more than a tenth of a micrometre off', () => {
    const model = modelOf('bilinear', 0);
    expect(linesAt(model, 12, 63, 0.95e-7).length).toBeGreaterThan(3);
    expect(linesAt(model, 12, 63, 1.05e-7)).toHaveLength(1);
    expect(linesAt(model, 12, 63, -1.05e-7)).toHaveLength(1);
    expect(geoidLines(model, 60, 63, 12)).toHaveLength(1);
  });
});
