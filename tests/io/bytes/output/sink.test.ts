import { chmod, link, mkdir, mkdtemp, readFile, readdir, rm, stat, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createSinkGroup } from '../../../../src/io/bytes/output/sink-group.js';
import { openSink } from '../../../../src/io/bytes/output/sink.js';
import type { SinkOptions } from '../../../../src/io/bytes/output/sink.js';
import { codes, value } from '../../support.js';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'sink-'));
});
afterEach(async () => {
  await rm(folder, { recursive: true });
});

class Collector extends Writable {
  text = '';
  override _write(chunk: Buffer, _encoding: string, done: () => void): void {
    this.text += chunk.toString('utf8');
    done();
  }
}

class ClosedPipe extends Writable {
  override _write(_chunk: Buffer, _encoding: string, done: (error: Error) => void): void {
    done(Object.assign(new Error('write EPIPE'), { code: 'EPIPE' }));
  }
}

function options(more: Partial<SinkOptions> = {}): SinkOptions {
  return { cwd: folder, stdout: new Collector(), tempDir: folder, force: false, inputs: [], ...more };
}

const at = (name: string): string => join(folder, name);

describe('openSink', () => {
  it('shows nothing of the file until it is committed', async () => {
    const sink = value(await openSink('out.csv', options()));
    await sink.write('a,b\n');
    await sink.write(Buffer.from('1,é\n'));
    value(await sink.finish());
    expect(await readdir(folder)).not.toContain('out.csv');
    value(await sink.commit());
    expect(await readdir(folder)).toEqual(['out.csv']);
    expect(await readFile(at('out.csv'), 'utf8')).toBe('a,b\n1,é\n');
  });

  it('leaves nothing behind when aborted', async () => {
    const sink = value(await openSink('out.csv', options()));
    await sink.write('x'.repeat(300_000));
    await sink.abort();
    expect(await readdir(folder)).toEqual([]);
  });

  it('refuses an output that exists, unless forced, and then keeps its permissions', async () => {
    await writeFile(at('out.csv'), 'old');
    await chmod(at('out.csv'), 0o640);
    expect(codes(await openSink('out.csv', options()))).toEqual(['file-output-exists']);
    const sink = value(await openSink('out.csv', options({ force: true })));
    await sink.write('new');
    expect(await readFile(at('out.csv'), 'utf8')).toBe('old');
    value(await sink.finish());
    value(await sink.commit());
    expect(await readFile(at('out.csv'), 'utf8')).toBe('new');
    expect((await stat(at('out.csv'))).mode & 0o777).toBe(0o640);
  });

  it('replaces without force what it is told may be, unless that is something else by then, or a link', async () => {
    const mayReplace = async (path: string): Promise<boolean> => (await readFile(path, 'utf8')) === 'old';
    await writeFile(at('out.csv'), 'old');
    const first = value(await openSink('out.csv', options({ mayReplace })));
    await first.write('new');
    value(await first.finish());
    value(await first.commit());
    expect(await readFile(at('out.csv'), 'utf8')).toBe('new');
    expect(codes(await openSink('out.csv', options({ mayReplace })))).toEqual(['file-output-exists']);
    await writeFile(at('out.csv'), 'old');
    const second = value(await openSink('out.csv', options({ mayReplace })));
    value(await second.finish());
    await writeFile(at('out.csv'), 'of another program');
    expect(codes(await second.commit())).toEqual(['file-output-exists']);
    expect(await readFile(at('out.csv'), 'utf8')).toBe('of another program');
    await writeFile(at('out.csv'), 'old');
    await symlink('out.csv', at('link.csv'));
    expect(codes(await openSink('link.csv', options({ mayReplace })))).toEqual(['file-output-exists']);
  });

  it('refuses an output that is an input, also by a symbolic or hard link, even when forced', async () => {
    await writeFile(at('in.csv'), 'a');
    await symlink(at('in.csv'), at('soft.csv'));
    await link(at('in.csv'), at('hard.csv'));
    const forced = options({ force: true, inputs: [at('in.csv')] });
    for (const name of ['in.csv', './in.csv', 'soft.csv', 'hard.csv']) {
      expect(codes(await openSink(name, forced))).toEqual(['file-output-is-input']);
    }
    expect(await readFile(at('in.csv'), 'utf8')).toBe('a');
  });

  it('overwrites nothing through a symbolic link, and the file itself by its own name', async () => {
    await writeFile(at('real.csv'), 'old');
    await symlink(at('real.csv'), at('soft.csv'));
    expect(codes(await openSink('soft.csv', options({ force: true })))).toEqual(['file-output-unwritable']);
    expect(await readFile(at('real.csv'), 'utf8')).toBe('old');
    const sink = value(await openSink('real.csv', options({ force: true })));
    await sink.abort();
  });

  it('refuses a folder, a folder that is not there, and one that cannot be written', async () => {
    await mkdir(at('inner'));
    expect(codes(await openSink('inner', options()))).toEqual(['file-output-unwritable']);
    expect(codes(await openSink('none/out.csv', options()))).toEqual(['file-output-unwritable']);
    // A file in place of a folder cannot be written into by anybody, the superuser included.
    await writeFile(at('plain'), '');
    expect(codes(await openSink('plain/out.csv', options()))).toEqual(['file-output-unwritable']);
  });

  it('writes to a device without asking for force', async () => {
    const sink = value(await openSink('/dev/null', options()));
    await sink.write('gone');
    value(await sink.finish());
    expect(value(await sink.commit())).toBe('written');
  });

  it('prints nothing before commit, and everything in order, in memory and through a temporary file', async () => {
    for (const spoolBytes of [1 << 20, 10]) {
      const stdout = new Collector();
      const sink = value(await openSink('-', options({ stdout, spoolBytes })));
      const part = 'é1234567\n'.repeat(20_000);
      await sink.write(part);
      await sink.write(Buffer.from('middle\n'));
      await sink.write(part);
      value(await sink.finish());
      expect(stdout.text).toBe('');
      value(await sink.commit());
      expect(stdout.text).toBe(`${part}middle\n${part}`);
      expect(await readdir(folder)).toEqual([]);
    }
  });

  it('stops quietly when the reader of the pipe has gone', async () => {
    const sink = value(await openSink('-', options({ stdout: new ClosedPipe() })));
    await sink.write('a');
    value(await sink.finish());
    expect(value(await sink.commit())).toBe('stopped');
  });
});

describe('createSinkGroup', () => {
  it('makes all outputs visible together, or none', async () => {
    const stdout = new Collector();
    const group = createSinkGroup(options({ stdout }));
    const points = value(await group.open('points.csv'));
    const record = value(await group.open('-'));
    await points.write('p');
    await record.write('r');
    await group.abort();
    expect(await readdir(folder)).toEqual([]);
    expect(stdout.text).toBe('');

    const again = createSinkGroup(options({ stdout }));
    await value(await again.open('-')).write('r');
    await value(await again.open('points.csv')).write('p');
    expect(value(await again.commit())).toBe('written');
    expect(await readdir(folder)).toEqual(['points.csv']);
    expect(stdout.text).toBe('r');
  });

  it('refuses two outputs to one file', async () => {
    const group = createSinkGroup(options());
    value(await group.open('a.csv'));
    expect(codes(await group.open('./a.csv'))).toEqual(['usage-conflict']);
    await group.abort();
    expect(await readdir(folder)).toEqual([]);
  });
});
