import { scaleLinear, scaleUtc } from 'd3-scale';
import { entryAt } from '../../records/present.js';

/** From values to places on a figure. */
export interface Scale {
  readonly to: (value: number) => number;
  readonly ticks: readonly number[];
  readonly step: number;
  readonly domain: readonly [number, number];
}

/** A linear scale with round ticks inside the domain. */
export function linearScale(domain: readonly [number, number], range: readonly [number, number], about: number): Scale {
  const scale = scaleLinear([...domain], [...range]);
  const ticks = scale.ticks(about);
  return {
    to: (value) => scale(value),
    ticks,
    step: ticks.length > 1 ? entryAt(ticks, 1) - entryAt(ticks, 0) : Math.abs(domain[1] - domain[0]),
    domain,
  };
}

/** A scale from −`reach` to `reach` with few ticks, of which some are not nought: nought alone is no scale. */
export function scaleAboutNought(reach: number, range: readonly [number, number]): Scale {
  const few = linearScale([-reach, reach], range, 3);
  return few.ticks.length > 1 ? few : linearScale([-reach, reach], range, 5);
}

/** A linear scale whose domain is widened to round values. */
export function niceScale(domain: readonly [number, number], range: readonly [number, number], about: number): Scale {
  const [low, high] = scaleLinear([...domain], [0, 1])
    .nice(about)
    .domain();
  return linearScale([low ?? domain[0], high ?? domain[1]], range, about);
}

/** A scale of instants, milliseconds since 1970-01-01T00:00:00Z, with ticks at round times of UTC. */
export function utcScale(domain: readonly [number, number], range: readonly [number, number], about: number): Scale {
  const scale = scaleUtc([...domain], [...range]);
  const ticks = scale.ticks(about).map((time) => time.getTime());
  return {
    to: (value) => scale(value),
    ticks,
    step: ticks.length > 1 ? entryAt(ticks, 1) - entryAt(ticks, 0) : 0,
    domain,
  };
}

/** The round number 1, 2 or 5 × 10ⁿ at or below a positive value. */
export function roundBelow(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value) + 1e-12);
  for (const digit of [5, 2]) if (digit * power <= value * (1 + 1e-12)) return digit * power;
  return power;
}
