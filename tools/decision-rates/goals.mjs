// The goals of the rules and whether the run met them; what is missed is said.
import { rateText, wilson } from './intervals.mjs';
import { counted } from './tables.mjs';

const AT_MOST = (limit) => ({
  limit,
  text: `${100 * limit} % at most`,
  worse: (a, b) => a > b,
  isMet: (rate) => rate <= limit,
});
const AT_LEAST = (limit) => ({
  limit,
  text: `${100 * limit} % at least`,
  worse: (a, b) => a < b,
  isMet: (rate) => rate >= limit,
});
const BETWEEN = (low, high) => ({
  text: `${100 * low} to ${100 * high} %`,
  worse: (a, b) => Math.abs(a - (low + high) / 2) > Math.abs(b - (low + high) / 2),
  isMet: (rate) => rate >= low && rate <= high,
});

const matching = (results, pattern) => Object.keys(results).filter((id) => pattern.test(id));
const FIGURES = ['circle', 'ellipse', 'height'];
const above = (name) => new RegExp(`^causes/${name}/(1\\.25|1\\.5|2|3)/least$`, 'u');

/** Each goal takes the worst of what it names. */
const GOALS = [
  {
    what: 'clean stands not accepted, any count, white or slow noise',
    asked: AT_MOST(0.01),
    of: (results) => matching(results, /^stands\/\d+\/(?!tails)/u).map((id) => ({ id, key: 'not accepted' })),
  },
  {
    what: 'clean stands not accepted, any count, noise with long tails',
    asked: AT_MOST(0.02),
    of: (results) => matching(results, /^stands\/\d+\/tails/u).map((id) => ({ id, key: 'not accepted' })),
  },
  {
    what: 'one epoch 0.1 m off among those that report their sigmas, any count and direction: found',
    asked: AT_LEAST(0.9),
    of: (results) =>
      matching(results, /^stands\/within\/one epoch off(?: in height)?\/\d+\/0\.1$/u).map((id) => ({
        id,
        key: 'found',
      })),
  },
  {
    what: 'clean days of 40 points, 10 repeats and 8 control on which all three commands end with 0',
    asked: AT_LEAST(0.97),
    of: () => [{ id: 'days/model', key: 'all 0' }],
  },
  {
    what: 'clean days of 20 repeated points on which joining ends with 0',
    asked: AT_LEAST(0.97),
    of: (results) => matching(results, /^repeats\/\d$/u).map((id) => ({ id, key: 'combine 0' })),
  },
  {
    what: 'clean days of 20 repeated points on which the check of repeats ends with 0',
    asked: AT_LEAST(0.97),
    of: (results) => matching(results, /^repeats\/\d$/u).map((id) => ({ id, key: 'check 0' })),
  },
  {
    what: 'an innocent accused on a clean day',
    asked: AT_MOST(0.005),
    of: () => [{ id: 'days/model', key: 'accused' }],
  },
  {
    what: 'an innocent accused on a noisy day (heavy tails, single stands, reflections, ionosphere three times, other correlation times)',
    asked: AT_MOST(0.01),
    of: (results) =>
      matching(results, /^days\/(?:tails|contaminated|multipath|ionosphere|tau)/u).map((id) => ({
        id,
        key: 'accused',
      })),
  },
  ...['wrong integer', 'pole length', 'base coordinate', 'base antenna', 'phase centre', 'control coordinate'].map(
    (name) => ({
      what: `${name} above its minimal detectable size: named first or tied`,
      asked: AT_LEAST(0.9),
      of: (results) => matching(results, above(name)).map((id) => ({ id, key: ['first', 'tied'] })),
    }),
  ),
  {
    what: 'phase centre of 90.5 mm where the base is known to 5 and 8 mm: named first or tied',
    asked: AT_LEAST(0.9),
    of: () => [{ id: 'causes/phase centre, base to 8 mm/0.0905/m', key: ['first', 'tied'] }],
  },
  {
    what: 'two names of control exchanged: named first or tied',
    asked: AT_LEAST(0.9),
    of: (results) => matching(results, /^causes\/exchanged\//u).map((id) => ({ id, key: ['first', 'tied'] })),
  },
  {
    what: 'coverage of 95 % circles, ellipses and heights in the world of the model',
    asked: BETWEEN(0.93, 0.97),
    of: (results) =>
      [...matching(results, /^coverage\/model/u), ...matching(results, /^coverage\/joined\/once/u)].flatMap((id) =>
        FIGURES.map((key) => ({ id, key, of: 'covered of' })),
      ),
  },
  {
    what: 'coverage with the factor of the day, ionosphere three times',
    asked: AT_LEAST(0.9),
    of: () => FIGURES.map((key) => ({ id: 'coverage/day/estimated/3', key, of: 'covered of' })),
  },
  {
    what: 'clean sites that end with 1',
    asked: AT_MOST(0.01),
    of: (results) => matching(results, /^sites\/[^/]+$/u).map((id) => ({ id, key: 'not 0' })),
  },
  {
    what: 'two names of a site exchanged: ends with 1',
    asked: AT_LEAST(0.9),
    of: (results) => matching(results, /^sites\/[^/]+\/names exchanged$/u).map((id) => ({ id, key: 'not 0' })),
  },
  {
    what: 'heights of a surface within 1.96 sigma between the benchmarks',
    asked: BETWEEN(0.93, 0.97),
    of: (results) => matching(results, /^heights\//u).map((id) => ({ id, key: 'inside', of: 'inside of' })),
  },
  {
    what: 'heights of a surface within 1.96 sigma beyond the benchmarks',
    asked: AT_LEAST(0.9),
    of: (results) => matching(results, /^heights\//u).map((id) => ({ id, key: 'outside', of: 'outside of' })),
  },
];

/**
 * The worst of each goal: what was asked, what was found and where, whether it is met; null where the product has no such
 * option; goals that were not measured are left out.
 */
export function judgedGoals(results) {
  return GOALS.flatMap(({ what, asked, of }) => {
    const sought = of(results);
    const found = sought.flatMap(({ id, key, of: total = null }) => {
      const pair = counted(results[id], key, total);
      return pair === null || pair[1] === 0
        ? []
        : [{ id, key, count: pair[0], total: pair[1], rate: pair[0] / pair[1] }];
    });
    if (found.length === 0)
      return sought.some(({ id }) => results[id]) ? [{ what, asked: asked.text, worst: null }] : [];
    const worst = found.reduce((a, b) => (asked.worse(b.rate, a.rate) ? b : a));
    return [{ what, asked: asked.text, worst, isMet: asked.isMet(worst.rate), isBeyondDoubt: doubtless(asked, worst) }];
  });
}

/** Whether all of the interval is on the same side of the goal. */
function doubtless(asked, { count, total }) {
  const { low, high } = wilson(count, total);
  return asked.isMet(low) === asked.isMet(high);
}

export function goalsTable(results, before) {
  const was = new Map(
    judgedGoals(before)
      .filter(({ worst }) => worst !== null)
      .map((goal) => [goal.what, goal]),
  );
  const judged = judgedGoals(results);
  const rows = judged.map(({ what, asked, worst, isMet, isBeyondDoubt }) => {
    const old = was.get(what);
    if (worst === null) return `| ${what} | ${asked} | – | – | **not to be had** | – |`;
    const verdict = `${isMet ? 'met' : '**missed**'}${isBeyondDoubt ? '' : ', within the interval'}`;
    return `| ${what} | ${asked} | ${rateText(worst.count, worst.total)} | ${placeOf(worst)} | ${verdict} | ${old === undefined ? '–' : `${(100 * old.worst.rate).toFixed(1)} %`} |`;
  });
  const missed = judged.filter(({ isMet }) => !isMet).length;
  const sum =
    missed === 0 ? `All ${judged.length} goals were met.` : `${missed} of ${judged.length} goals were missed.`;
  return `${sum}\n\n| goal | asked | found, at its worst | where | | was |\n|---|---|---:|---|---|---:|\n${rows.join('\n')}\n`;
}

function placeOf({ id, key }) {
  const [, ...rest] = id.split('/');
  return `${rest.join(', ')}${FIGURES.includes(key) ? `, ${key}` : ''}`;
}
