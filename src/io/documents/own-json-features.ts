type JsonObject = Readonly<Record<string, unknown>>;

/** Documents of ours that hold points, one object each in the list `points`. */
const SCHEMAS: readonly unknown[] = ['pegbook-points', 'pegbook-plan'];
const VERSION = 1;

/** Whether a document is one of ours whose list `points` holds points. */
export function isOwnDocument({ schema, version, points }: JsonObject): boolean {
  return SCHEMAS.includes(schema) && version === VERSION && Array.isArray(points);
}

/**
 * A point of a JSON file that this program wrote, as a feature without a geometry: its members are named as the
 * columns of CSV are, so that either is read by the next command. Lists (reasons) become text with semicolons between.
 */
export function ownJsonFeature(point: unknown): unknown {
  if (!isObject(point)) return point;
  const properties = Object.fromEntries(
    Object.entries(point).map(([name, value]) => [name, Array.isArray(value) ? value.join(';') : value]),
  );
  return { type: 'Feature', geometry: null, properties };
}

function isObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
