import type { LimitRule, UsedLimit } from '../../core/quality/standards/limit-rule.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import { LIMIT_FIELDS, LIMITS_FILE_FIELDS } from '../../records/settings/limit-fields.js';
import { settingsIn } from './settings-in.js';
import type { TomlSchema } from './toml/toml-schema.js';
import { readToml } from './toml/toml-table.js';
import type { TomlTable } from './toml/toml-table.js';

/** A limits file. */
export interface LimitsFile {
  readonly title: string | null;
  /** Where the limits come from, as the file says it. */
  readonly source: string | null;
  readonly limits: readonly UsedLimit[];
}

/** The grammar of a limits file; docs/methods/limits.md. */
export const LIMITS_SCHEMA: TomlSchema = {
  named: {
    ...LIMITS_FILE_FIELDS,
    limit: { kind: 'tables', isRequired: true, meaning: 'one table a rule', fields: { named: LIMIT_FIELDS } },
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
  const { version, title, source: from } = settingsIn(table, LIMITS_FILE_FIELDS);
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
  return problems.length > 0 ? failureOf(problems) : success({ title, source: from, limits });
}

function limitOf(entry: TomlTable, problems: Problem[]): UsedLimit {
  const { appliesTo, proportionPpm, ...terms } = settingsIn(entry, LIMIT_FIELDS);
  const rule: LimitRule = { ...terms, ppm: proportionPpm };
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
  return { rule, uses: appliesTo };
}
