import type { Answer } from '../records/run-answer.js';

/** What became of one test case. */
export interface JunitCase {
  readonly name: string;
  /** A kind of check; viewers group by it. */
  readonly group: string;
  readonly outcome: 'passed' | 'failed' | 'skipped';
  /** The verdict itself, which the outcome has no third word for. */
  readonly answer: Answer;
  /** One line; empty when passed. */
  readonly message: string;
  /** Further lines. */
  readonly detail: string;
}

/** Characters that XML 1.0 does not allow, section 2.2. */
const NOT_XML = /[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu;

/**
 * Test cases as JUnit XML, the form that CI viewers read: one suite, `failure` for a case that is not within, `skipped`
 * for one that is for review; the verdict of the whole and of every case that is not within stands as a property. There is no time and no host, so the same input gives the same bytes.
 * Source: JUNIT-XML.
 */
export function writeJunit(suite: string, cases: readonly JunitCase[], whole: Answer): string {
  const count = (outcome: JunitCase['outcome']): string => String(cases.filter((entry) => entry.outcome === outcome).length);
  const totals = `tests="${String(cases.length)}" failures="${count('failed')}" errors="0" skipped="${count('skipped')}"`;
  const lines = cases.map((entry) => {
    const head = `    <testcase classname="${escaped(`${suite}.${entry.group}`)}" name="${escaped(entry.name)}"`;
    if (entry.outcome === 'passed') return `${head}/>`;
    const body =
      entry.outcome === 'failed'
        ? `      <failure message="${escaped(entry.message)}" type="${escaped(entry.group)}">${escaped(entry.detail)}</failure>`
        : `      <skipped message="${escaped(entry.message)}"/>`;
    const verdict = `      <properties><property name="verdict" value="${entry.answer}"/></properties>`;
    return `${head}>\n${verdict}\n${body}\n    </testcase>`;
  });
  return `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites ${totals}>\n  <testsuite name="${escaped(suite)}" ${totals}>\n    <properties><property name="verdict" value="${whole}"/></properties>\n${lines.map((line) => `${line}\n`).join('')}  </testsuite>\n</testsuites>\n`;
}

function escaped(text: string): string {
  return text
    .replace(NOT_XML, '\uFFFD')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll('\n', '&#10;')
    .replaceAll('\r', '&#13;')
    .replaceAll('\t', '&#9;');
}
