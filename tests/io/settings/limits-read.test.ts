import { describe, expect, it } from 'vitest';
import { readLimits } from '../../../src/io/settings/limits-read.js';
import { junitPieces } from '../../../src/io/documents/junit-write.js';
import { codes, value } from '../support.js';

const HEAD = 'version = 1\n[[limit]]\nname = "plan"\naxis = "2d"\n';

describe('readLimits', () => {
  it('reads every term, and applies a rule to every check where the file does not say', () => {
    const file = value(
      readLimits(
        `title = "T"\nsource = "S"\n${HEAD}combine = "rss"\nconstant_m = 0.03\nproportion_ppm = 2\ndistance_offset_m = 200\nper_root_km_m = 0.01\nfloor_m = 0.04\ncap_m = 0.5\nprobability = 0.95\n`,
        'limits.toml',
      ),
    );
    expect(file).toEqual({
      title: 'T',
      source: 'S',
      limits: [
        {
          rule: {
            name: 'plan',
            axis: '2d',
            combine: 'rss',
            constantM: 0.03,
            ppm: 2,
            distanceOffsetM: 200,
            perRootKmM: 0.01,
            floorM: 0.04,
            capM: 0.5,
            probability: 0.95,
          },
          uses: ['control', 'repeats', 'design'],
        },
      ],
    });
    expect(value(readLimits(`${HEAD}constant_m = 1\napplies_to = ["design"]\n`, 'l')).limits[0]?.uses).toEqual([
      'design',
    ]);
  });

  it.each([
    ['an unknown key', `${HEAD}constnat_m = 0.1\n`, 'config-unknown-key'],
    ['an unknown axis', HEAD.replace('2d', '4d'), 'config-invalid-value'],
    ['a rule without a term', HEAD, 'config-missing'],
    ['a floor above its cap', `${HEAD}floor_m = 2\ncap_m = 1\n`, 'config-invalid-value'],
    ['a negative term', `${HEAD}constant_m = -1\n`, 'config-invalid-value'],
    ['another version', HEAD.replace('version = 1', 'version = 2'), 'config-version'],
    ['no rule', 'version = 1\n', 'config-missing'],
    ['text that is not TOML', 'version = = 1', 'config-syntax'],
  ])('refuses %s', (_, text, code) => {
    expect(codes(readLimits(text, 'limits.toml'))).toContain(code);
  });

  it('suggests the nearest key, with its line', () => {
    const [problem] = readLimits(`${HEAD}constnat_m = 0.1\nconstant_m = 1\n`, 'limits.toml').problems;
    expect(problem?.hint).toContain('constant_m');
    expect(problem?.where).toMatchObject({ source: 'limits.toml', line: 5 });
  });
});

const junitText = (...given: Parameters<typeof junitPieces>): string => [...junitPieces(...given)].join('');

describe('junitPieces', () => {
  it('counts, escapes and replaces what XML does not allow', () => {
    const text = junitText(
      'suite',
      [
        { name: 'A "1" <2> & é', group: 'control', outcome: 'passed', answer: 'within', message: '', detail: '' },
        { name: 'B', group: 'control', outcome: 'failed', answer: 'no', message: 'a\nb', detail: 'x < y\u0007' },
        { name: 'C', group: 'repeat', outcome: 'skipped', answer: 'review', message: 'm', detail: '' },
      ],
      'no',
    );
    expect(text).toBe(
      '<?xml version="1.0" encoding="UTF-8"?>\n<testsuites tests="3" failures="1" errors="0" skipped="1">\n  <testsuite name="suite" tests="3" failures="1" errors="0" skipped="1">\n    <properties><property name="verdict" value="no"/></properties>\n' +
        '    <testcase classname="suite.control" name="A &quot;1&quot; &lt;2&gt; &amp; é"/>\n' +
        '    <testcase classname="suite.control" name="B">\n      <properties><property name="verdict" value="no"/></properties>\n      <failure message="a&#10;b" type="control">x &lt; y\uFFFD</failure>\n    </testcase>\n' +
        '    <testcase classname="suite.repeat" name="C">\n      <properties><property name="verdict" value="review"/></properties>\n      <skipped message="m"/>\n    </testcase>\n  </testsuite>\n</testsuites>\n',
    );
  });

  it('writes a suite without cases', () => {
    expect(junitText('s', [], 'within')).toContain('tests="0" failures="0"');
  });
});
