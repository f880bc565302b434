import type { LimitAxis, LimitRule } from '../../core/quality/standards/limit-rule.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import type { TomlSchema } from './toml-schema.js';
import { readToml } from './toml-table.js';
import type { TomlTable } from './toml-table.js';

/** What a rule is applied to. */
export type LimitUse = 'control' | 'repeats' | 'design';

/** A rule of a limits file, and the checks it belongs to. */
export interface UsedLimit {
  readonly rule: LimitRule;
  readonly uses: readonly LimitUse[];
}

/** A limits file. */
export interface LimitsFile {
  readonly title: string | null;
  /** Where the limits come from, as the file says it. */
  readonly source: string | null;
  readonly limits: readonly UsedLimit[];
}

const USES: readonly LimitUse[] = ['control', 'repeats', 'design'];
const metres = (meaning: string): TomlSchema['named'][string] => ({
  kind: 'number',
  minimum: 0,
  maximum: 1000,
  meaning,
});

/** The grammar of a limits file; docs/methods/limits.md. */
export const LIMITS_SCHEMA: TomlSchema = {
  named: {
    version: { kind: 'number', isRequired: true, isWhole: true, meaning: 'form of this file: 1' },
    title: { kind: 'text', meaning: 'what the limits are called' },
    source: { kind: 'text', meaning: 'where they come from' },
    limit: {
      kind: 'tables',
      isRequired: true,
      meaning: 'one table a rule',
      fields: {
        named: {
          name: { kind: 'text', isRequired: true, meaning: 'printed beside each verdict' },
          axis: {
            kind: 'text',
            isRequired: true,
            choices: ['2d', '1d', 'up'],
            meaning: 'horizontal length, larger horizontal component, or height',
          },
          combine: {
            kind: 'text',
            choices: ['linear', 'rss'],
            byDefault: 'linear',
            meaning: 'how the terms are joined: sum, or root-sum-square',
          },
          constant_m: metres('a: the part that does not grow'),
          proportion_ppm: {
            kind: 'number',
            minimum: 0,
            maximum: 1_000_000,
            meaning: 'b: parts per million of the distance from the base',
          },
          distance_offset_m: {
            kind: 'number',
            minimum: 0,
            maximum: 1_000_000,
            meaning: 'd0: added to the distance before the proportion',
          },
          per_root_km_m: metres('c: metres times the root of the distance in kilometres'),
          floor_m: metres('the limit is never less'),
          cap_m: metres('the limit is never more'),
          probability: {
            kind: 'number',
            minimum: 0,
            maximum: 1,
            meaning: 'what the limit is meant to hold, such as 0.95; printed, never used to rescale',
          },
          applies_to: { kind: 'words', choices: USES, byDefault: 'all three', meaning: 'which checks the rule judges' },
        },
      },
    },
  },
};

/**
 * Reads a limits file: min(cap, max(floor, a + b·(d + d₀) + c·√K)), terms joined by sum or root-sum-square.
 * Problems: those of `readToml`; config-version; config-missing for a rule without any term; config-invalid-value for a
 * floor above its cap.
 */
export function readLimits(text: string, source: string): Outcome<LimitsFile> {
  const read = readToml(text, source, LIMITS_SCHEMA);
  if (!read.ok) return read;
  const { table } = read.value;
  const version = table.number('version');
  if (version !== 1)
    return failure(
      table.problem(
        'config-version',
        'version',
        `version ${String(version)} is not one this program reads`,
        'write version = 1',
      ),
    );
  const problems: Problem[] = [];
  const limits = table.tables('limit').map((entry) => limitOf(entry, problems));
  if (limits.length === 0)
    problems.push(table.problem('config-missing', 'limit', 'there is no [[limit]]', 'add one rule or more'));
  return problems.length > 0
    ? failureOf(problems)
    : success({ title: table.text('title'), source: table.text('source'), limits });
}

function limitOf(entry: TomlTable, problems: Problem[]): UsedLimit {
  const rule: LimitRule = {
    name: entry.text('name') ?? '',
    axis: (entry.text('axis') ?? '2d') as LimitAxis,
    probability: entry.number('probability'),
    combine: entry.text('combine') === 'rss' ? 'rss' : 'linear',
    constantM: entry.number('constant_m') ?? 0,
    ppm: entry.number('proportion_ppm') ?? 0,
    distanceOffsetM: entry.number('distance_offset_m') ?? 0,
    perRootKmM: entry.number('per_root_km_m') ?? 0,
    floorM: entry.number('floor_m'),
    capM: entry.number('cap_m'),
  };
  if (rule.constantM === 0 && rule.ppm === 0 && rule.perRootKmM === 0 && rule.floorM === null) {
    problems.push(
      entry.problem(
        'config-missing',
        '',
        `limit "${rule.name}" has no term, so nothing could be within it`,
        'give constant_m, proportion_ppm, per_root_km_m or floor_m',
      ),
    );
  }
  if (rule.floorM !== null && rule.capM !== null && rule.floorM > rule.capM) {
    problems.push(
      entry.problem('config-invalid-value', 'floor_m', `the floor of limit "${rule.name}" is above its cap`),
    );
  }
  return { rule, uses: (entry.words('applies_to') as readonly LimitUse[] | null) ?? USES };
}
