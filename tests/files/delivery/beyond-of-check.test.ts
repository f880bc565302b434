import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { beyondOfCheck } from '../../../src/files/delivery/beyond-of-check.js';

// Tables written by hand, of which the answer is told by eye: common practice, no published source.
const folder = mkdtempSync(join(tmpdir(), 'pegbook-beyond-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
const HEAD =
  'check,point_id,horizontal_m,difference_height_m,horizontal_limit_m,horizontal_margin_m,vertical_limit_m,vertical_margin_m,verdict';
const beyond = (name: string, rows: readonly string[], head: string = HEAD): ReturnType<typeof beyondOfCheck> => {
  writeFileSync(join(folder, name), [head, ...rows, ''].join('\n'));
  return beyondOfCheck(folder, { name });
};

describe('what a delivered check says is beyond', () => {
  it('is the axis beyond its limit, the farthest against it first, a point once', async () => {
    expect(
      await beyond('check.csv', [
        'control,C-01,0.0100,0.0020,0.0200,0.0100,0.0300,0.0280,within',
        'control,C-02,0.0100,-0.0440,0.0200,0.0100,0.0300,-0.0140,no',
        'control,C-03,0.0220,0.0110,0.0200,-0.0020,0.0300,0.0190,no',
        'control,C-03,0.0210,0.0110,0.0200,-0.0010,0.0300,0.0190,no',
      ]),
    ).toEqual([
      { name: 'in height', value: '0.044', at: 'C-02' },
      { name: 'in plan', value: '0.022', at: 'C-03' },
    ]);
  });

  it('is both axes where the uncertainty has judged', async () => {
    expect(await beyond('repeats.csv', ['repeat,QP-03,0.0950,-0.1106,,,,,no'])).toEqual([
      { name: 'in plan', value: '0.095', at: 'QP-03' },
      { name: 'in height', value: '0.111', at: 'QP-03' },
    ]);
  });

  it('is nothing of a table of another kind', async () => {
    expect(await beyond('register.csv', ['mark,C3,no'], 'what,point_id,verdict')).toEqual([]);
    expect(await beyond('check.json', ['{}'])).toEqual([]);
    expect(await beyondOfCheck(folder, { name: 'gone.csv' })).toEqual([]);
  });
});
