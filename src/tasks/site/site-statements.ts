import { RECORDING_SIGMA_M } from '../../core/adjustment/variance-factor.js';
import { siteDiagnosis } from '../../core/adjustment/site/site-diagnosis.js';
import type { Finding } from '../../core/adjustment/site/site-diagnosis.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { errorProblem, warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { diagnosisInput } from './doubts/diagnosis-input.js';
import { findingWords } from './doubts/finding-words.js';
import type { FittedSite } from './fit-site.js';
import { present } from '../../records/present.js';

/** What a fit points to, in words; problems for what has to be settled, or cannot be right at all. */
export interface SiteStatements {
  /** Everything found, for the site file. */
  readonly statements: readonly string[];
  /** Those of them that are no problem. */
  readonly notes: readonly string[];
  readonly problems: readonly Problem[];
  /** Nothing may be concluded from the fit, nor the site be used. */
  readonly isUnusable: boolean;
}

/** The diagnosis of a fit in plain words. Problems: csv-axes-mismatch, coordinate-implausible; warnings: site-suspect, site-curved. */
export function siteStatements(fitted: FittedSite, grid: GridSystem): SiteStatements {
  const input = diagnosisInput(fitted, grid);
  const statements: string[] = [];
  const notes: string[] = [];
  const problems: Problem[] = [];
  const findings = siteDiagnosis(input);
  const isUnusable = findings.some(({ kind }) => UNUSABLE.includes(kind));
  for (const finding of findings) {
    const { text, hint } = findingWords(finding, input, grid, fitted.curvature);
    if (finding.weight === 'note') {
      statements.push(text);
      notes.push(text);
    } else if (finding.weight === 'suspect') {
      statements.push(`${text}: ${hint}`);
      problems.push(warningProblem('site-suspect', { message: text, hint }));
    } else if (finding.weight === 'review') {
      statements.push(`${text}: ${hint}`);
      problems.push(warningProblem('site-curved', { message: text, hint }));
    } else
      problems.push(
        errorProblem(finding.kind === 'feet' ? 'coordinate-implausible' : 'csv-axes-mismatch', { message: text, hint }),
      );
  }
  const assumed = isUnusable ? [] : assumptions(fitted);
  return { statements: [...statements, ...assumed], notes: [...notes, ...assumed], problems, isUnusable };
}

const UNUSABLE: readonly Finding['kind'][] = ['names-exchanged', 'beyond-survey', 'beyond-scale'];

/** What the sigmas of the site rest on: what points share, and what was put in place of residuals that are too small. */
function assumptions({
  horizontalPairs,
  sigmasAreStated,
  horizontalFactor,
  verticalFactor,
}: FittedSite): readonly string[] {
  const bases = new Map(
    horizontalPairs.flatMap(({ shared }) => (shared === null ? [] : [[shared.id, shared] as const])),
  );
  const mm = (variance: number): string => `${formatFixed(Math.sqrt(variance) * 1000, 0)} mm`;
  const shared = [...bases.values()].map(
    ({ names, horizontalM2, verticalM2 }) =>
      `the points of base ${names} share its error, ${mm(horizontalM2)} in plan and ${mm(verticalM2)} in height (one sigma): it is in the uncertainty of the site, and cancels for what is measured from the same base`,
  );
  const lone = horizontalPairs.filter((pair) => pair.shared === null).length;
  const alone =
    sigmasAreStated && lone > 0
      ? [
          `the errors of ${lone === horizontalPairs.length ? 'the measured points' : `${String(lone)} measured points`} are taken as independent: what they share through their base is not known without a session that states the sigmas of the base, and the uncertainty of the site leaves it out`,
        ]
      : [];
  const floors = [['plan', horizontalFactor] as const, ['height', verticalFactor] as const].flatMap(([what, found]) =>
    found?.isFloored === true
      ? [
          `the residuals in ${what} are smaller than coordinates are recorded to (one sigma ${formatFixed(Math.sqrt(present(found.estimate, 'estimate')) * 1000, 3)} mm): ${formatFixed(RECORDING_SIGMA_M * 1000, 1)} mm is taken for it`,
        ]
      : [],
  );
  return [...shared, ...alone, ...floors];
}
