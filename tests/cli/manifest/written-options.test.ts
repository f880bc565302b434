import { describe, expect, it } from 'vitest';
import { entryOption } from '../../../src/cli/manifest/entry-options.js';
import { COMMANDS } from '../../../src/cli/shell/program.js';

// A manifest refuses entries that write one file, and runs an entry again whose outputs changed: it has to know every option that writes.
const files = COMMANDS.flatMap((command) =>
  command.options
    .filter(({ flags }) => /<(?:file|folder)/u.test(flags))
    .map((option) => ({ option, of: `${command.name} ${option.flags}` })),
);

describe('an option that names a file', () => {
  it('says that the run writes it where its help says so, and where its help does not it is read', () => {
    const differ = files.filter(
      ({ option }) => (option.isWritten === true) !== /(?:^|[:,] )write /u.test(option.description),
    );
    expect(differ.map(({ of }) => of)).toEqual([]);
    expect(files.filter(({ option }) => option.isWritten === true).length).toBeGreaterThan(40);
  });

  it('is written or read by an entry of a manifest, never both', () => {
    for (const { option, of } of files) {
      const { isWritten, isRead } = entryOption(option);
      expect(isWritten !== isRead, of).toBe(true);
    }
  });
});
