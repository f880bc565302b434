import type { Answer } from '../../records/runs/run-answer.js';

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

/** Cases in one piece of text. */
const PIECE = 1000;

/** Characters that XML 1.0 does not allow, section 2.2. */
const NOT_XML = /[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu;

/**
 * Test cases as JUnit XML, the form that CI viewers read: one suite, `failure` for a case that is not within, `skipped`
 * for one that is for review; the verdict of the whole and of every case that is not within stands as a property, piece by piece; the cases are gone through twice. There is no time and no host, so the same input gives the same bytes.
 * Source: JUNIT-XML.
 */
export function* junitPieces(suite: string, cases: Iterable<JunitCase>, whole: Answer): Generator<string> {
  const counts = { passed: 0, failed: 0, skipped: 0 };
  for (const { outcome } of cases) counts[outcome] += 1;
  const totals = `tests="${String(counts.passed + counts.failed + counts.skipped)}" failures="${String(counts.failed)}" errors="0" skipped="${String(counts.skipped)}"`;
  yield `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites ${totals}>\n  <testsuite name="${escaped(suite)}" ${totals}>\n    <properties><property name="verdict" value="${whole}"/></properties>\n`;
  let lines: string[] = [];
  for (const entry of cases) {
    lines.push(`${caseText(suite, entry)}\n`);
    if (lines.length < PIECE) continue;
    yield lines.join('');
    lines = [];
  }
  yield `${lines.join('')}  </testsuite>\n</testsuites>\n`;
}

function caseText(suite: string, entry: JunitCase): string {
  const head = `    <testcase classname="${escaped(`${suite}.${entry.group}`)}" name="${escaped(entry.name)}"`;
  if (entry.outcome === 'passed') return `${head}/>`;
  const body =
    entry.outcome === 'failed'
      ? `      <failure message="${escaped(entry.message)}" type="${escaped(entry.group)}">${escaped(entry.detail)}</failure>`
      : `      <skipped message="${escaped(entry.message)}"/>`;
  const verdict = `      <properties><property name="verdict" value="${entry.answer}"/></properties>`;
  return `${head}>\n${verdict}\n${body}\n    </testcase>`;
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
