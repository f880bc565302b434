import { resolve } from 'node:path';
import type { GeographicSystem } from '../../../core/grid/systems/geographic-system.js';
import { pushAll } from '../../../core/numeric/push-all.js';
import { readSinex } from '../../../io/sinex/sinex-read.js';
import { sinexSite } from '../../../io/sinex/sinex-site.js';
import { readTextFile } from '../../../io/text/text-file.js';
import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { locateProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { BaseSettings, SettingsFile, SinexReference } from '../../../records/session.js';
import { settleBase } from '../../../tasks/bases/settle-base.js';
import type { FiledSite } from '../../../tasks/bases/settle-base.js';

/** Digits of a digest that tell a file from others, for people. */
const DIGEST_SHOWN = 12;

/**
 * Bases with their known coordinates in the national frame, whatever file and frame they were given in. Problems: those of
 * `settleBase` and of a SINEX file, each with the base it is of.
 */
export async function settleBases(
  bases: readonly BaseSettings[],
  national: GeographicSystem,
  folder: string,
): Promise<Outcome<readonly BaseSettings[]>> {
  const settled: BaseSettings[] = [];
  const said: Problem[] = [];
  for (const [index, base] of bases.entries()) {
    if (base.knownIn === undefined && base.knownSinex === undefined) {
      settled.push(base);
      continue;
    }
    const located = (problems: readonly Problem[]): Outcome<never> =>
      failureOf(
        problems.map((problem) => locateProblem(problem, { path: `base[${String(index)}] (${base.id}).known` })),
      );
    const site =
      base.knownSinex === undefined ? null : await siteOf(base.knownSinex, base.knownIn?.epochYear ?? null, folder);
    if (site?.ok === false) return located(site.problems);
    const one = settleBase(base, site?.value ?? null, national);
    if (!one.ok) return located(one.problems);
    settled.push(site === null ? one.value : { ...one.value, knownFile: site.value.file });
    pushAll(said, one.problems);
  }
  return success(settled, said);
}

async function siteOf(
  { file, code }: SinexReference,
  epochYear: number | null,
  folder: string,
): Promise<Outcome<FiledSite & { readonly file: SettingsFile }>> {
  const text = await readTextFile(resolve(folder, file), file);
  if (!text.ok) return text;
  const content = readSinex(text.value.text);
  if (!content.ok) return failureOf(content.problems.map((problem) => locateProblem(problem, { source: file })));
  const site = sinexSite(content.value, code, epochYear);
  if (!site.ok) return failureOf(site.problems.map((problem) => locateProblem(problem, { source: file })));
  const { solution, eccentricity, velocity } = site.value;
  const words = [
    `site ${site.value.code}, solution ${solution}, of ${file} (SHA-256 ${text.value.sha256.slice(0, DIGEST_SHOWN)})`,
    velocity === null ? 'no velocity' : 'moved by its own velocity',
    ...(eccentricity === null ? [] : [`antenna ${String(eccentricity.upM)} m above its mark there`]),
  ];
  const { bytes, sha256 } = text.value;
  return success({
    estimate: site.value,
    words: words.join(', '),
    file: { name: file, kind: 'sinex', bytes, sha256 },
  });
}
