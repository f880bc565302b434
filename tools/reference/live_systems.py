#!/usr/bin/env python3
"""Writes tests/core/grid/live-systems.csv: every projected system of the EPSG dataset that is not deprecated, by its method.

live_systems.py PROJ_DB [--write]   reads the dataset as PROJ carries it (proj.db); without --write it compares, and ends with 1 where they differ
"""

import sqlite3
import sys
from pathlib import Path

TABLE = Path(__file__).resolve().parents[2] / "tests" / "core" / "grid" / "live-systems.csv"
QUERY = """
SELECT c.method_code, c.method_name, p.code FROM projected_crs p
JOIN conversion c ON c.auth_name = p.conversion_auth_name AND c.code = p.conversion_code
WHERE p.auth_name = 'EPSG' AND p.deprecated = 0 ORDER BY CAST(c.method_code AS INTEGER), CAST(p.code AS INTEGER)
"""


def main(path: str, write: bool) -> int:
    database = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    version = database.execute("SELECT value FROM metadata WHERE key = 'EPSG.VERSION'").fetchone()[0]
    methods: dict = {}
    for code, name, system in database.execute(QUERY):
        methods.setdefault((code, name), []).append(int(system))
    lines = [
        f"# Every projected system of the EPSG dataset {version} that is not deprecated, by its method (EPSG-DB). Made by tools/reference/live_systems.py.",
        "# A run of codes that follow each other, each of this method and live, is written first-last.",
        "method,name,count,systems",
    ]
    for (code, name), systems in methods.items():
        lines.append(f'{code},"{name}",{len(systems)},{" ".join(runs(systems))}')
    text = "\n".join(lines) + "\n"
    if write:
        TABLE.write_text(text)
        return 0
    return 0 if TABLE.read_text() == text else 1


def runs(systems: list) -> list:
    found: list = []
    for system in systems:
        if found and found[-1][1] == system - 1:
            found[-1][1] = system
        else:
            found.append([system, system])
    return [str(a) if a == b else f"{a}-{b}" for a, b in found]


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1], "--write" in sys.argv))
