type JsonObject = Readonly<Record<string, unknown>>;

/** Documents of ours that hold points, one object each in the list `points`. */
const SCHEMAS: readonly unknown[] = ['pegbook-points', 'pegbook-plan'];
const VERSION = 1;

/**
 * The points of a JSON file that this program wrote, as features without a geometry: their members are named as the
 * columns of CSV are, so that either is read by the next command. Lists (reasons) become text with semicolons between.
 * Returned: null where the document is none of ours.
 */
export function ownJsonFeatures(document: JsonObject): readonly unknown[] | null {
  const { schema, version, points } = document;
  if (!SCHEMAS.includes(schema) || version !== VERSION || !Array.isArray(points)) return null;
  return points.map((point: unknown) =>
    isObject(point)
      ? {
          type: 'Feature',
          geometry: null,
          properties: Object.fromEntries(
            Object.entries(point).map(([name, value]) => [name, Array.isArray(value) ? value.join(';') : value]),
          ),
        }
      : point,
  );
}

function isObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
