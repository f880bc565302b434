// What a check said, in the words of the tables.

/** Causes that say how a day or an occupation was rather than what went wrong with it. */
const NOISE = new Set(['noise', 'occupation-noise']);
/** Causes that are the atmosphere, by distance or by height: an answer that is right where the ionosphere was what was wrong. */
const ATMOSPHERE = new Set(['distance-scale', 'height-scale']);

/**
 * For a day on which nothing is wrong: `nobody`, `called noisy`, `atmosphere named` (only where `isStormy`), `left to chance` where each
 * mistake that is named is tied with the noise of its occupation, or `accused` with what was accused. A tie counts here as it counts for a
 * mistake that is there: the answer holds what is true.
 */
export function accusationsOf({ likely_cause: report }, isStormy) {
  if (!['named', 'two-causes'].includes(report?.verdict)) return ['nobody'];
  const named = report.verdict === 'named' ? report.causes.slice(0, 1) : report.causes.slice(0, 2);
  const causes = named.map(({ cause }) => cause);
  if (causes.every((cause) => NOISE.has(cause))) return ['called noisy'];
  if (isStormy && causes.every((cause) => NOISE.has(cause) || ATMOSPHERE.has(cause))) return ['atmosphere named'];
  const alike = report.verdict === 'named' ? [report.causes.filter(({ is_tied: isTied }) => isTied)] : orsOf(report);
  if (causes.every((cause, i) => NOISE.has(cause) || alike[i].some((other) => NOISE.has(other.cause))))
    return ['left to chance'];
  return ['accused', `accused: ${causes.join(' and ')}`];
}

/** What each of two causes is tied with. */
const orsOf = ({ together }) => together.map(({ or }) => or.map((cause) => ({ cause })));

/** For a day with a planted mistake: `first`, `tied`, the name of another cause, or `none`. */
export function namedAs({ likely_cause: report }, wanted) {
  if (report?.verdict === 'two-causes') return report.causes.map(({ cause }) => cause).join(' and ');
  if (report?.verdict !== 'named') return 'none';
  const [first, ...others] = report.causes;
  if (wanted.includes(first.cause)) return 'first';
  if (others.some(({ cause, is_tied: isTied }) => isTied && wanted.includes(cause))) return 'tied';
  return first.cause;
}

/** For a day with two mistakes: `first` where both are said, `tied` where one is, among others that cannot be told from it. */
export function namedBoth({ likely_cause: report }, wanted) {
  if (report?.verdict === 'named') return report.causes[0].cause;
  if (report?.verdict !== 'two-causes') return 'none';
  const said = report.causes.map(({ cause }) => cause);
  if (wanted.every((cause) => said.slice(0, 2).includes(cause))) return 'first';
  return wanted.every((cause) => said.includes(cause) || JSON.stringify(report).includes(`"${cause}"`))
    ? 'tied'
    : said.join(' and ');
}

/** Whether the answer is no and yet nothing was to be explained: words that contradict each other. */
export function contradicts({ exit, stdout }) {
  const report = JSON.parse(stdout).likely_cause;
  return exit === 1 && (report === null || report.verdict === 'nothing-to-explain');
}
