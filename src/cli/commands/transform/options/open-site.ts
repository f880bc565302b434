import type { SiteDocument } from '../../../../core/adjustment/site/site-document.js';
import { openSource } from '../../../../io/bytes/source.js';
import type { Source } from '../../../../io/bytes/source.js';
import { readSite } from '../../../../io/documents/site/site-read.js';
import { wholeText } from '../../../../io/text/whole-text.js';
import { success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import type { Context } from '../../../shell/context.js';

/** A site file, read. */
export interface OpenedSite {
  readonly site: SiteDocument;
  readonly source: Source;
}

/** Reads the file of --site; null where it is not given. Problems: those of the file and of the site. */
export async function openSite(
  invocation: Invocation,
  { cwd, stdin }: Pick<Context, 'cwd' | 'stdin'>,
): Promise<Outcome<OpenedSite | null>> {
  const path = textOption(invocation, 'site');
  if (path === null) return success(null);
  const opened = await openSource(path, { cwd, stdin, encoding: null });
  if (!opened.ok) return opened;
  const source = opened.value;
  const text = await wholeText(source);
  if (!text.ok) return text;
  const site = readSite(text.value, source.name);
  return site.ok ? success({ site: site.value, source }, site.problems) : site;
}
