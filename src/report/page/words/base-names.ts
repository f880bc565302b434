/** A base, and how many set-ups of it there are. */
export interface BaseName {
  readonly name: string;
  readonly setUps: number;
}

/** Set-ups of one base, `B1 on 2026-05-11` and `B1 on 2026-05-12`, under its name; a base of one set-up as it is called. */
export function baseNames(ids: readonly string[]): readonly BaseName[] {
  const groups = new Map<string, string[]>();
  for (const id of ids) {
    const key = bareName(id);
    groups.set(key, [...(groups.get(key) ?? []), id]); // The first of its name.
  }
  return [...groups.entries()].map(([name, [first = name, ...others]]) => ({
    name: others.length === 0 ? first : name,
    setUps: others.length + 1,
  }));
}

/** The name of a base without the day of its set-up: `B1` of `B1 on 2026-05-11`. */
export function bareName(id: string): string {
  const at = id.lastIndexOf(' on ');
  return at > 0 && isDate(id.slice(at + 4)) ? id.slice(0, at) : id;
}

/** A day, with the time of a set-up or without. */
function isDate(text: string): boolean {
  return /^\d{4}-\d{2}-\d{2}/u.test(text);
}
