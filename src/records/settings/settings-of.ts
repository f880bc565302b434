/** A name of a settings file as it is called in the program: `pole_sigma_m` is `poleSigmaM`. */
export type CamelName<Name extends string> = Name extends `${infer Head}_${infer Tail}`
  ? `${Head}${Capitalize<CamelName<Tail>>}`
  : Name;

/** What a field holds where it is given; a time in milliseconds since 1970-01-01T00:00:00Z. */
export type ValueOf<Field> = Field extends { readonly kind: 'number' | 'time' }
  ? number
  : Field extends { readonly kind: 'text'; readonly choices: readonly (infer Word)[] }
    ? Word
    : Field extends { readonly kind: 'text' }
      ? string
      : Field extends { readonly kind: 'words'; readonly choices: readonly (infer Word)[] }
        ? readonly Word[]
        : never;

/** The settings of a table of fields: null where a field is neither needed nor has a default. */
export type SettingsOf<Fields> = {
  readonly [Name in keyof Fields as CamelName<Name & string>]: Fields[Name] extends
    { readonly isRequired: true } | { readonly default: unknown }
    ? ValueOf<Fields[Name]>
    : ValueOf<Fields[Name]> | null;
};
