import { describe, expect, it } from 'vitest';
import { compileCacheFolder } from '../../../../src/cli/shell/run/compile-cache-folder.js';

// source: XDG Base Directory Specification ($XDG_CACHE_HOME, absolute or ignored, else $HOME/.cache); of macOS and Windows common
// practice, no published source at hand (from memory: ~/Library/Caches, %LOCALAPPDATA%).
describe('the place of the compiled program', () => {
  it('is the user’s own, as each system has it', () => {
    const home = (): string => '/home/a';
    expect(compileCacheFolder('linux', {}, home)).toBe('/home/a/.cache/pegbook/compiled');
    expect(compileCacheFolder('linux', { XDG_CACHE_HOME: '/var/c' }, home)).toBe('/var/c/pegbook/compiled');
    expect(compileCacheFolder('linux', { XDG_CACHE_HOME: 'c' }, home)).toBe('/home/a/.cache/pegbook/compiled');
    expect(compileCacheFolder('darwin', { XDG_CACHE_HOME: '/var/c' }, () => '/Users/a')).toBe(
      '/Users/a/Library/Caches/pegbook/compiled',
    );
    expect(compileCacheFolder('win32', { LOCALAPPDATA: 'C:\\Users\\a\\AppData\\Local' }, home)).toBe(
      'C:\\Users\\a\\AppData\\Local\\pegbook\\compiled',
    );
  });

  it('is nowhere where the user has none', () => {
    const none = (): string => {
      throw new Error('no such user');
    };
    expect(compileCacheFolder('linux', {}, none)).toBeNull();
    expect(compileCacheFolder('linux', {}, () => '')).toBeNull();
    expect(compileCacheFolder('win32', {}, () => 'C:\\Users\\a')).toBeNull();
  });
});
