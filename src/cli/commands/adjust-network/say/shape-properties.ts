import type { ShapeProperty } from '../../../../io/geojson/geojson-shape-write.js';
import { DECIMALS } from '../../../../io/tables/columns/cells/decimals.js';
import type { PositionalSummary } from '../../../../records/points/reduced-point.js';
import { ellipseAzimuthDeg } from '../../../../tasks/network/ellipse-azimuth.js';
import type { NetworkShape } from '../../../../tasks/network/page/network-shapes.js';
import { VERDICT_OF_POINTS } from '../../../../records/points/verdict-of-points.js';

const metres = (value: number | null): ShapeProperty => ({ value, decimals: DECIMALS.metres });

/** What a feature of --shapes says, under the names of the tables. */
export function shapeProperties(
  shape: NetworkShape,
  scale: number,
  frame: string | null,
): Readonly<Record<string, ShapeProperty>> {
  switch (shape.kind) {
    case 'observation': {
      const { observation } = shape;
      const [x = null, y = null, z = null] = observation.residualsM;
      return {
        shape: 'observation',
        kind: observation.kind,
        from_id: observation.fromId,
        to_id: observation.toId,
        residual_x_m: metres(x),
        residual_y_m: metres(y),
        residual_z_m: metres(z),
        block_test: { value: observation.blockTest, decimals: 4 },
        verdict: observation.verdict,
        reasons: observation.reasons.join(';'),
        frame,
      };
    }
    case 'ellipse':
      return {
        shape: 'ellipse',
        point_id: shape.point.id,
        ...ellipse('', shape.summary),
        checked: shape.point.isChecked ? 'yes' : 'no',
        verdict: VERDICT_OF_POINTS[shape.point.verdict],
        ellipse_scale: { value: scale, decimals: 0 },
        frame,
      };
    case 'relative-ellipse':
      return {
        shape: 'relative-ellipse',
        from_id: shape.pair.fromId,
        to_id: shape.pair.toId,
        ...ellipse('relative_', shape.pair.summary),
        ellipse_scale: { value: scale, decimals: 0 },
        frame,
      };
  }
}

function ellipse(before: string, summary: PositionalSummary): Readonly<Record<string, ShapeProperty>> {
  return {
    [`${before}ellipse_major_95_m`]: metres(summary.ellipseMajor95M),
    [`${before}ellipse_minor_95_m`]: metres(summary.ellipseMinor95M),
    [`${before}ellipse_azimuth_deg`]: { value: ellipseAzimuthDeg(summary), decimals: DECIMALS.ppm },
    [`${before}circle_95_m`]: metres(summary.circle95M),
    [`${before}vertical_95_m`]: metres(summary.vertical95M),
  };
}
