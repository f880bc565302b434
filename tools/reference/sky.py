"""Satellites from broadcast elements and states, angles at a place, dilution of precision: each by another way than the program's.

Kepler's equation by bisection, orbits by products of rotation matrices, GLONASS in a frame that does not turn with an adaptive
integrator of order eight, dilution from the whole normal matrix with a clock for each constellation.
"""

from __future__ import annotations

import math
from datetime import datetime, timezone
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

FIXTURES = Path(__file__).resolve().parents[2] / "tests" / "fixtures" / "navigation"
MU = {"G": 3.986005e14, "J": 3.986005e14, "E": 3.986004418e14, "C": 3.986004418e14}
TURN = {"G": 7.2921151467e-5, "J": 7.2921151467e-5, "E": 7.2921151467e-5, "C": 7.292115e-5}
ORDER = "toe sqrt_a e i0 omega0 omega m0 delta_n omega_dot i_dot cuc cus crc crs cic cis".split()


def turned(axis: int, angle: float) -> np.ndarray:
    """Rotation of a vector about an axis (0, 1, 2), counterclockwise."""
    c, s = math.cos(angle), math.sin(angle)
    m = np.eye(3)
    a, b = [(1, 2), (2, 0), (0, 1)][axis]
    m[a, a] = m[b, b] = c
    m[a, b], m[b, a] = -s, s
    return m


def anomaly(mean: float, e: float) -> float:
    return brentq(lambda x: x - e * math.sin(x) - mean, mean - e - 1e-9, mean + e + 1e-9, xtol=1e-15, rtol=8.9e-16, maxiter=300)


def kepler(system: str, el: dict, seconds: float, is_geostationary: bool = False) -> np.ndarray:
    """Earth-fixed place, metres, so many seconds behind the reference time of the elements."""
    a = el["sqrt_a"] ** 2
    mean = el["m0"] + (math.sqrt(MU[system] / a**3) + el["delta_n"]) * seconds
    ecc = anomaly(mean, el["e"])
    true = math.atan2(math.sqrt(1 - el["e"] ** 2) * math.sin(ecc), math.cos(ecc) - el["e"])
    phi = true + el["omega"]
    s2, c2 = math.sin(2 * phi), math.cos(2 * phi)
    u = phi + el["cus"] * s2 + el["cuc"] * c2
    r = a * (1 - el["e"] * math.cos(ecc)) + el["crs"] * s2 + el["crc"] * c2
    i = el["i0"] + el["i_dot"] * seconds + el["cis"] * s2 + el["cic"] * c2
    along = turned(0, i) @ turned(2, u) @ np.array([r, 0.0, 0.0])
    turn = TURN[system]
    if is_geostationary:
        node = el["omega0"] + el["omega_dot"] * seconds - turn * el["toe"]
        return turned(2, -turn * seconds) @ turned(0, math.radians(5)) @ turned(2, node) @ along
    return turned(2, el["omega0"] + (el["omega_dot"] - turn) * seconds - turn * el["toe"]) @ along


def glonass(state: list[float], seconds: float) -> np.ndarray:
    """State and luni-solar acceleration (metres, Earth-fixed PZ-90) carried on in the frame that stood still at its epoch."""
    mu, ae, j2, turn = 3.9860044e14, 6378136.0, 1.0826257e-3, 7.292115e-5
    p, v, pull = (np.array(state[k : k + 3]) for k in (0, 3, 6))
    spin = np.array([0, 0, turn])

    def rate(t, q):
        r = np.linalg.norm(q[:3])
        sink = (q[2] / r) ** 2
        flat = 1.5 * j2 * (ae / r) ** 2
        pulls = -mu / r**3 * q[:3] * (1 + flat * np.array([1 - 5 * sink, 1 - 5 * sink, 3 - 5 * sink]))
        return np.concatenate([q[3:], pulls + turned(2, turn * t) @ pull])

    if seconds == 0:
        return p
    start = np.concatenate([p, v + np.cross(spin, p)])
    end = solve_ivp(rate, (0, seconds), start, method="DOP853", rtol=1e-13, atol=1e-6).y[:3, -1]
    return turned(2, -turn * seconds) @ end


def sky_orbits(row):
    numbers = row.numbers("elements")
    if row["system"] == "R":
        x = glonass(numbers, row.number("seconds"))
    else:
        x = kepler(row["system"], dict(zip(ORDER, numbers)), row.number("seconds"), row["geostationary"] == "yes")
    return dict(zip(("x_m", "y_m", "z_m"), x))


def kepler_equation(row):
    return {"eccentric_anomaly_deg": math.degrees(anomaly(math.radians(row.number("mean_anomaly_deg")), row.number("eccentricity")))}


def dilution(azimuths, elevations, systems) -> dict | None:
    names = sorted(set(systems))
    h = []
    for az, el, s in zip(np.radians(azimuths), np.radians(elevations), systems):
        h.append([-math.cos(el) * math.sin(az), -math.cos(el) * math.cos(az), -math.sin(el), *(float(s == n) for n in names)])
    h = np.array(h)
    d = np.diag(np.linalg.inv(h.T @ h))
    return {"hdop": math.sqrt(d[0] + d[1]), "vdop": math.sqrt(d[2]), "pdop": math.sqrt(sum(d[:3])), "tdop": math.sqrt(sum(d[3:])), "gdop": math.sqrt(sum(d))}


def sky_dop(row):
    if row["azimuths_deg"] != "":
        return dilution(row.numbers("azimuths_deg"), row.numbers("elevations_deg"), row["systems"].split())
    seen = [(az, el) for _, az, el in station(row["file"], row["epoch_gps"], row.numbers("xyz_m")) if el >= row.number("mask_deg")]
    return dilution([az for az, _ in seen], [el for _, el in seen], ["G"] * len(seen))


def number(text: str) -> float:
    return float(text.replace("D", "E").replace("d", "E")) if text.strip() else 0.0


def read_gps(path: Path):
    """GPS records of a RINEX 2 or 3 file: satellite, seconds of its epoch since 1970 on the clock of GPS, elements."""
    lines = path.read_text().splitlines()
    is_old = float(lines[0][:9]) < 3
    lines = lines[next(i for i, line in enumerate(lines) if "END OF HEADER" in line) + 1 :]
    indent = 3 if is_old else 4
    for at, line in enumerate(lines):
        if is_old and at % 8 == 0:
            # The columns of version 2 in those of version 3: number, year of two digits, seconds with a tenth.
            line = f"G{int(line[:2]):02d} {2000 + int(line[3:5])} {line[6:17]} {int(float(line[17:22])):02d}"
        if not line.startswith("G"):
            continue
        f = [number(text[indent + 19 * k : indent + 19 + 19 * k]) for text in lines[at + 1 : at + 8] for k in range(4)]
        names = dict(crs=1, delta_n=2, m0=3, cuc=4, e=5, cus=6, sqrt_a=7, toe=8, cic=9, omega0=10, cis=11, i0=12, crc=13, omega=14, omega_dot=15, i_dot=16)
        when = datetime(*(int(word) for word in line[4:23].split()), tzinfo=timezone.utc).timestamp()
        yield line[:3], when, {name: f[k] for name, k in names.items()}


def station(file: str, epoch: str, xyz: list[float]):
    """Azimuth and elevation of every GPS satellite of a file above the horizon, degrees, on the normal of WGS 84."""
    here = np.array(xyz)
    when = datetime.fromisoformat(epoch).replace(tzinfo=timezone.utc).timestamp()
    nearest = {}
    for name, at, el in read_gps(FIXTURES / file):
        if name not in nearest or abs(at - when) < abs(nearest[name][0] - when):
            nearest[name] = (at, el)
    a, f = 6378137.0, 1 / 298.257223563
    e2 = f * (2 - f)
    lon = math.atan2(here[1], here[0])
    lat = brentq(lambda b: math.hypot(here[0], here[1]) * math.sin(b) - here[2] * math.cos(b) - e2 * a * math.sin(b) * math.cos(b) / math.sqrt(1 - e2 * math.sin(b) ** 2), -1.57, 1.57, xtol=1e-14)
    up = np.array([math.cos(lat) * math.cos(lon), math.cos(lat) * math.sin(lon), math.sin(lat)])
    east = np.array([-math.sin(lon), math.cos(lon), 0.0])
    north = np.cross(up, east)
    for name, (at, el) in sorted(nearest.items()):
        d = kepler("G", el, when - at) - here
        az = math.degrees(math.atan2(d @ east, d @ north)) % 360
        elevation = math.degrees(math.asin(d @ up / np.linalg.norm(d)))
        if elevation > 0:
            yield name, az, elevation


def sky_station(row):
    for name, az, el in station(row["file"], row["epoch_gps"], row.numbers("xyz_m")):
        if name == row["satellite"]:
            return {"azimuth_deg": az, "elevation_deg": el}
    return None
