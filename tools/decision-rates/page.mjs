// The page of rates as Markdown.
import { goalsTable } from './goals.mjs';

const TITLES = {
  geodesy: 'The simulation against the product',
  stands: 'Stands',
  repeats: 'Repeats and set-ups',
  days: 'Whole days',
  causes: 'Likely causes',
  coverage: 'Stated 95 % figures',
  sites: 'Sites',
  heights: 'Surfaces of heights',
};

/** Given: the parts to show, counts by job, counts of the code before, settings, the day. Returned: Markdown. */
export function pageOf({ parts, results, before, settings, date }) {
  const head = `# Decision rates

| | |
|---|---|
| made by | \`npm run rates\` (\`tools/decision-rates\`): edit the script, not this page |
| made on | ${date}, seed ${settings.seed}, ${settings.scale === 1 ? 'full counts' : `${settings.scale} of the full counts`} |
| beside each rate | Wilson's 95 % interval (WILSON-1927), in per cent |
| *was* | the same, measured with the same seed and ${before.scale} of the counts on 28 November 2026, before the rules were held to a rate |

How often each word that Pegbook says (accepted, review, within, a likely cause) is wrong on invented surveys in which the truth is known, and how
often it finds what is there. The surveys are made by a generator of its own: own random numbers, geodesy and
errors, nothing of the product's code. The product is run as built, by its command line. Errors have the sizes of the
[planning model](uncertainty.md) and come about in other ways: slow errors are sums of sinusoids with random frequencies, shared between
base and rover; the ionosphere is a gradient over the area, the troposphere one more and the difference of height. The rates
say how the rules behave where the world is as described, not that your ground is like that. Points of one day share its base and its
atmosphere: where points and not days are counted the intervals are too narrow.

## Goals

${goalsTable(results, before.results)}`;
  const body = parts.map(({ name, text }) => {
    const own = Object.fromEntries(Object.entries(results).filter(([id]) => id.split('/')[0] === name));
    return Object.keys(own).length === 0 ? '' : `\n## ${TITLES[name]}\n\n${text(own, before.results)}`;
  });
  return `${head}${body.join('')}${TAIL}`;
}

const TAIL = `
## When the answer is not unique

A rate holds for the surveys described above it. Other baselines, counts and surroundings give others, and the same
script with another seed gives tables that differ within their intervals: \`npm run rates -- --seed 7\`. One part or one row alone:
\`npm run rates -- --parts stands --jobs stands/5/\`.

## Worked example

No alarm in 1,000 days does not mean never: the interval reaches to 0.38 % (row \`none of 1000\` of \`tests/reference/wilson.csv\`).

## Sources

WILSON-1927 for the intervals; sizes of errors as in [uncertainty](uncertainty.md); everything else: common practice, no published source.
`;
