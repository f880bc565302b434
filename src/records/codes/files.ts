/** Problem codes: files. */
export const fileCodes = {
  'file-not-found': { exit: 4, meaning: 'a file does not exist', fix: 'check the path' },
  'file-unreadable': { exit: 4, meaning: 'a file cannot be read', fix: 'check permissions, and that it is a file' },
  'file-encoding': {
    exit: 3,
    meaning: 'bytes that do not belong to the stated encoding',
    fix: 'name the encoding with --encoding',
  },
  'file-output-exists': { exit: 4, meaning: 'the output exists already', fix: 'choose another name, or give --force' },
  'file-confined': {
    exit: 4,
    meaning: 'a file lies outside the folder that --confine lets files be read from',
    fix: 'move it below that folder, or give another one',
  },
  'file-output-is-input': { exit: 4, meaning: 'the output is one of the inputs', fix: 'choose another name' },
  'file-output-unwritable': {
    exit: 4,
    meaning: 'the output cannot be written',
    fix: 'check the folder, permissions and free space',
  },
  'file-write-failed': {
    exit: 4,
    meaning: 'writing failed part way; nothing was left behind',
    fix: 'free space or restore the folder, then run again',
  },
  'file-too-large': {
    exit: 3,
    meaning: 'a header, field or file is larger than the stated bound',
    fix: 'split the file or check that it is what it should be',
  },
  'file-changed': {
    exit: 3,
    meaning: 'an input changed while it was read',
    fix: 'run again when nothing writes to it',
  },
  'input-repeated': { exit: 3, meaning: 'two inputs have the same bytes', fix: 'name each file once' },
} as const;
