/** Identifiers that try to break a page: markup, writing from the right, controls of direction, pictures, length. */
export const HOSTILE_NAMES: readonly string[] = [
  '<script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  "' onmouseover='alert(1)",
  '</title></svg></style><b>bold</b>',
  'url(javascript:alert(1))',
  'שלום עולם',
  'مرحبا-7',
  'a\u202Eevil\u2069\u202D',
  '👩‍👩‍👧‍👦 peg 🇿🇦',
  `long-${'x'.repeat(195)}`,
  'ا'.repeat(200),
  '&amp;&lt;',
  '-->]]><!--',
];

/** A name as a page shows it: controls of direction spelt out. */
export function asShown(name: string): string {
  return name.replaceAll(
    /[\u202A-\u202E\u2066-\u2069]/g,
    (sign) => `[U+${sign.codePointAt(0)?.toString(16).toUpperCase() ?? ''}]`,
  );
}
