/** The words of a command line as a page shows them: places in full are cut to the file's name, which is what others have too. */
export function shownCommand(argv: readonly string[]): readonly string[] {
  return argv.map((word) => {
    const [, option = '', path] = /^(--[\w-]+=)?(.*)$/su.exec(word) ?? [];
    return path !== undefined && /^(?:\/|[A-Za-z]:[\\/])/u.test(path)
      ? `${option}${path.slice(Math.max(path.lastIndexOf('/'), path.lastIndexOf('\\')) + 1)}`
      : word;
  });
}
