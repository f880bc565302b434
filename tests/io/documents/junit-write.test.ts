import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { junitPieces } from '../../../src/io/documents/junit-write.js';
import type { JunitCase } from '../../../src/io/documents/junit-write.js';

const HOSTILE = 'P<1> & "two" \'three\' \u0007 \uD800 ]]> é 𝛑';
const CASES: readonly JunitCase[] = [
  { name: `${HOSTILE} plan`, group: 'control', outcome: 'passed', answer: 'within', message: '', detail: '' },
  {
    name: `${HOSTILE} height`,
    group: 'control',
    outcome: 'failed',
    answer: 'no',
    message: `height ${HOSTILE}`,
    detail: `one\ntwo ${HOSTILE}`,
  },
  { name: 'repeat', group: 'standard', outcome: 'skipped', answer: 'review', message: 'cannot be stated', detail: '' },
];

/** What Python's own XML parser makes of a text: tag, attributes, text of each element in order; null without Python. */
function parsed(xml: string): readonly (readonly [string, Readonly<Record<string, string>>, string])[] | null {
  const script =
    'import sys, json, xml.etree.ElementTree as t\nprint(json.dumps([[e.tag, e.attrib, (e.text or "").strip()] for e in t.fromstring(sys.stdin.buffer.read()).iter()]))';
  try {
    return JSON.parse(
      execFileSync('python3', ['-c', script], { input: xml, encoding: 'utf8', stdio: ['pipe', 'pipe', 'ignore'] }),
    ) as ReturnType<typeof parsed>;
  } catch (cause) {
    if ((cause as { readonly code?: string }).code === 'ENOENT') return null;
    throw cause;
  }
}

const junitText = (...given: Parameters<typeof junitPieces>): string => [...junitPieces(...given)].join('');

describe('junitPieces', () => {
  it('is XML that another parser reads, whatever the names hold', ({ skip }) => {
    const elements = parsed(junitText('pegbook check-tolerances', CASES, 'no'));
    if (elements === null) {
      skip('python3 is not installed');
      return;
    }
    expect(elements.map(([tag]) => tag)).toEqual([
      'testsuites',
      'testsuite',
      'properties',
      'property',
      'testcase',
      'testcase',
      'properties',
      'property',
      'failure',
      'testcase',
      'properties',
      'property',
      'skipped',
    ]);
    for (const [, attributes] of elements.slice(0, 2))
      expect(attributes).toMatchObject({ tests: '3', failures: '1', errors: '0', skipped: '1' });
    const kept = HOSTILE.replace('\u0007', '\uFFFD').replace('\uD800', '\uFFFD');
    expect(elements[5]?.[1]).toMatchObject({ name: `${kept} height`, classname: 'pegbook check-tolerances.control' });
    expect(elements.filter(([tag]) => tag === 'property').map(([, attributes]) => attributes)).toEqual(
      ['no', 'no', 'review'].map((value) => ({ name: 'verdict', value })),
    );
    expect(elements[8]).toEqual(['failure', { message: `height ${kept}`, type: 'control' }, `one\ntwo ${kept}`]);
  });

  it('gives the same bytes each time, and a suite without cases where nothing was judged', () => {
    expect(junitText('s', CASES, 'no')).toBe(junitText('s', CASES, 'no'));
    expect(junitText('s', [], 'within')).toBe(
      '<?xml version="1.0" encoding="UTF-8"?>\n<testsuites tests="0" failures="0" errors="0" skipped="0">\n  <testsuite name="s" tests="0" failures="0" errors="0" skipped="0">\n    <properties><property name="verdict" value="within"/></properties>\n  </testsuite>\n</testsuites>\n',
    );
  });
});
