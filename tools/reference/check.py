#!/usr/bin/env python3
"""Computes the rows of tests/reference that say COMPUTED or MPMATH, with general libraries and none of our code.

check.py           compares every row with what is printed in it; ends with 1 where one differs in its last digit, or has no script
check.py --write   prints what differs anew in the tables

Written for NumPy 1.26 to 2, SciPy 1.11 to 1.17 and mpmath 1.3.
"""

import sys
from decimal import Decimal

import averages
import causes
import corrections
import distributions
import geometry
import heights
import lines
import networks
import planning
import project_grid
import projections
import registers
import sky
from rows import FOLDER, decimals_of, exact, printed_like, put, rows_of

TABLES = {
    "acceptance": distributions.acceptance, "averaging": averages.averaging, "base-correction": geometry.base_correction, "ground": geometry.ground,
    "crc-24q": corrections.crc_24q, "likely-cause": causes.likely_cause, "lines": lines.lines, "occupation-plan": averages.occupation_plan, "repeats": averages.repeats,
    "height-surface": heights.height_surface, "networks": networks.networks,
    "plane-transformations": geometry.plane_transformations, "plate-velocities": corrections.plate_velocities, "plates": lambda row: geometry.plates(row, rates()), "pole": geometry.pole, "positional-uncertainty": distributions.positional_uncertainty,
    "precision-model": planning.precision_model, "predictions": planning.predictions, "project-grid": project_grid.project_grid, "projections": projections.projections, "quantiles": distributions.quantile, "ranges": planning.ranges,
    "registers": registers.registers,
    "rtcm-frames": corrections.rtcm_frames, "rmse-interval": distributions.rmse_interval, "run-comparison": distributions.run_comparison, "site-fit": planning.site_fit, "sky-dop": sky.sky_dop, "sky-kepler": sky.kepler_equation, "sky-orbits": sky.sky_orbits, "sky-station": sky.sky_station, "standards": planning.standards, "stream": planning.stream,
    "wilson": distributions.wilson,
}
# Units of the last digit: half for its rounding, and a tenth for that of the computation before it.
LAST_DIGIT = Decimal("0.6")
# Of the value: more digits than that a double does not hold after a dozen steps.
DOUBLE = Decimal("2e-12")


def differs(text: str, value) -> bool:
    if isinstance(value, str) or text == "":
        return text != value
    unit = Decimal(10) ** -decimals_of(text)
    return abs(exact(value) - Decimal(text)) > max(LAST_DIGIT * unit, DOUBLE * abs(Decimal(text)))


def rates() -> dict:
    """Degrees in a million years, as the rows of the model itself have them."""
    return {row["plate"]: row.number("omega_deg_per_myr") for row in rows_of("plates", is_computed=False)}


def main(write: bool) -> int:
    wrong = []
    without = []
    compared = 0
    for path in sorted(FOLDER.glob("*.csv")):
        table = path.stem
        for row in rows_of(table):
            values = TABLES[table](row) if table in TABLES else None
            if values is None:
                without.append(f"{table}: {row['case']}: no script computes it")
                continue
            compared += 1
            for column, value in values.items():
                texts = row[column].split() if isinstance(value, list) else [row[column]]
                results = value if isinstance(value, list) else [value]
                if not any(differs(text, result) for text, result in zip(texts, results)):
                    continue
                new = " ".join(printed_like(text, result) for text, result in zip(texts, results))
                wrong.append(f"{table}: {row['case']}: {column} {row[column]}, computed {new}")
                if write:
                    put(table, row, column, new)
    for line in wrong + without:
        print(line)
    print(f"{compared} rows computed, {len(wrong)} differ; {len(without)} rows have no script")
    return 1 if without or (wrong and not write) else 0


if __name__ == "__main__":
    sys.exit(main("--write" in sys.argv[1:]))
