/** A system as people find it again: its code and its name; of one without a code, which is named by its definition, that. */
export function systemLabel({ code, name }: { readonly code: string | null; readonly name: string }): string {
  return code === null ? name : `${code} ${name}`;
}
