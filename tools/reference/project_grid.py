"""Project grids: distortion by its formula with mpmath, and coordinates by the program cct of PROJ.

project_grid.py   prints the rows of tests/reference/project-grid.csv that cct gives
"""

import subprocess

from mpmath import cos, mp, mpf, pi, sin, sqrt

A, RF = mpf(6378137), mpf("298.257223563")
GRIDS = {
    "transverse": "+proj=tmerc +lat_0=-31.5 +lon_0=21.3 +k_0=1.000173 +x_0=50000 +y_0=150000 +a=6378137 +rf=298.257223563 +units=m",
    "lambert": "+proj=lcc +lat_1=-31.5 +lat_0=-31.5 +lon_0=21.3 +k_0=1.000173 +x_0=50000 +y_0=150000 +a=6378137 +rf=298.257223563 +units=m",
    "oblique": "+proj=omerc +lat_0=-31.5 +lonc=21.3 +alpha=40 +gamma=40 +k_0=1.000173 +x_0=50000 +y_0=150000 +a=6378137 +rf=298.257223563 +units=m",
}
PLACES = ((-31.5, 21.3), (-31.25, 21.75), (-31.9, 20.8))


def radius(latitude):
    e2 = (2 - 1 / RF) / RF
    s = sin(mpf(latitude) * pi / 180)
    return A * sqrt(1 - e2) / (1 - e2 * s * s)


def project_grid(row):
    mp.dps = 40
    r = radius("-31.5")
    if row["quantity"] == "radius":
        return {"expected": r}
    if row["quantity"] == "scale":
        return {"expected": 1 + mpf(1100) / r}
    off, height = (mpf(word) for word in row["of"].split())
    # Gauss: k = k0 (1 + x²/2R² + x⁴/24R⁴), x the distance from the meridian on the ellipsoid.
    k = (1 + mpf(1100) / r) * (1 + off ** 2 / (2 * r ** 2) + off ** 4 / (24 * r ** 4))
    return {"expected": (k * r / (r + height) - 1) * mpf(10) ** 6}


if __name__ == "__main__":
    for name, text in GRIDS.items():
        for latitude, longitude in PLACES:
            out = subprocess.run(["cct", "-d", "5", *text.split()], input=f"{longitude} {latitude} 0 0\n", capture_output=True, text=True, check=True).stdout.split()
            for axis, value in (("easting", out[0]), ("northing", out[1])):
                print(f"{name} at {latitude} {longitude}: {axis},{name},{axis},{latitude} {longitude},{value},0.0001,m,PROJ,cct with the string of tools/reference/project_grid.py,independent,")
