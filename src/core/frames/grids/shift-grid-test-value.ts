import type { GridLevel } from '../../geoid/geoid-grid.js';
import { levelTestValue } from '../../geoid/geoid-test-value.js';
import { formatFixed } from '../../numeric/text/format-fixed.js';
import type { GridShiftLevel } from '../../grid/plane/grid-shift.js';
import type { ShiftGridContent } from './shift-grid.js';

/** A component at a node, in words. */
interface Component {
  readonly level: GridLevel;
  readonly name: string;
  readonly unit: string;
}

/**
 * One node of a grid of shifts by which it is told from another of the same name, in words: that in the middle of its finest
 * level, or the next that has a value. Such as `Δφ 2.1034″, Δλ -3.2210″ at -29.000000, 21.000000`; null where there is none.
 */
export function shiftGridTestWords(content: ShiftGridContent): string | null {
  const [first, ...others] = componentsOf(content);
  const test = first === undefined ? null : levelTestValue(first.level);
  if (first === undefined || test === null) return null;
  const texts = [wordOf(first, test.heightM)];
  for (const component of others) {
    // The components of a level stand at the same nodes.
    const value = component.level.values[nodeOf(first.level, test.latitudeDeg, test.longitudeDeg)];
    if (value !== undefined && !Number.isNaN(value)) texts.push(wordOf(component, value * component.level.unitM));
  }
  return `${texts.join(', ')} at ${formatFixed(test.latitudeDeg, 6)}, ${formatFixed(test.longitudeDeg, 6)}`;
}

function wordOf({ name, unit }: Component, value: number): string {
  return `${name} ${formatFixed(value, 4)}${unit}`;
}

function nodeOf(level: GridLevel, latitudeDeg: number, longitudeDeg: number): number {
  const row = Math.round((latitudeDeg - level.southDeg) / level.latitudeStepDeg);
  const east = (((longitudeDeg - level.westDeg) % 360) + 360) % 360;
  return row * level.columns + (Math.round(east / level.longitudeStepDeg) % level.columns);
}

function componentsOf(content: ShiftGridContent): readonly Component[] {
  const metres = (levels: readonly GridLevel[] | null, name: string): readonly Component[] =>
    levels?.[0] === undefined ? [] : [{ level: levels[0], name, unit: ' m' }];
  switch (content.kind) {
    case 'geographic': {
      if (content.shifts === null) return metres(content.heights, 'Δh');
      const finest = content.shifts.toSorted((a, b) => cell(a) - cell(b))[0];
      if (finest === undefined) return [];
      return [
        { level: angleLevel(finest, finest.latitudeArcsec), name: 'Δφ', unit: '″' },
        { level: angleLevel(finest, finest.longitudeArcsec), name: 'Δλ', unit: '″' },
        ...metres(content.heights, 'Δh'),
      ];
    }
    case 'geocentric': {
      const [x, y, z] = content.axes;
      return [...metres(x, 'ΔX'), ...metres(y, 'ΔY'), ...metres(z, 'ΔZ')];
    }
    case 'vertical':
      return metres(content.offsets, 'ΔH');
  }
}

function cell(level: GridShiftLevel): number {
  return level.latitudeStepDeg * level.longitudeStepDeg;
}

function angleLevel(level: GridShiftLevel, values: GridLevel['values']): GridLevel {
  return { ...level, values, unitM: 1, wrapsLongitude: false, turnColumns: 0 };
}
