#!/usr/bin/env python3
"""Invented grids of shifts, and what PROJ's cct makes of points by them: the rows of tests/reference/shift-grids.csv.

shift_grids.py           compares the grids and the rows with what is computed; ends with 1 where one differs
shift_grids.py --write   writes both anew

Needs cct (PROJ 9.1) and nothing beside Python's own library. cct of that age has no +proj=gridshift: a grid of shifts with heights
is given to it as two, of heights and of shifts, with the same nodes, and one of offsets of ellipsoidal heights as one of heights; it keeps the shifts in single precision, steps of 2 µm here.
"""

from __future__ import annotations

import math
import struct
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
GRIDS = ROOT / "tests" / "fixtures" / "shift-grids"
TABLE = ROOT / "tests" / "reference" / "shift-grids.csv"
HEADER = "case,grid,form,in_1,in_2,in_3,out_1,out_2,out_3,tolerance,tolerance_unit,source,locator,kind,note"
CLARKE_1880_ARC = "+a=6378249.145 +rf=293.4663077"
WGS_84 = "+ellps=WGS84"
NO_DATA = -32768

# West, north, step, rows, columns: a grid of degrees, and a finer one inside.
COARSE = (19.0, -29.0, 1.0, 5, 5)
FINE = (21.0, -31.0, 0.25, 5, 5)


def nodes(area, value):
    """By rows from the north, each from the west: the values of a function of longitude and latitude."""
    west, north, step, rows, columns = area
    return [value(west + step * column, north - step * row) for row in range(rows) for column in range(columns)]


def items(kind: str, samples, codes, more: str = "") -> str:
    text = f'<Item name="TYPE">{kind}</Item>' + "".join(f'<Item name="{name}">{code}</Item>' for name, code in codes)
    for index, (name, unit) in enumerate(samples):
        text += f'<Item name="DESCRIPTION" sample="{index}" role="description">{name}</Item>'
        text += f'<Item name="UNITTYPE" sample="{index}" role="unittype">{unit}</Item>'
    return f"<GDALMetadata>{text}{more}</GDALMetadata>"


def directory(area, samples, metadata: str, frame: int, at: int, is_whole: bool) -> tuple[bytes, int]:
    """The data of an image, its tags and what they point to, from an offset of the file on; and where the directory stands."""
    west, north, step, rows, columns = area
    count = len(samples)
    sign = "h" if is_whole else "f"
    data = b"".join(struct.pack("<" + sign * count, *(sample[node] for sample in samples)) for node in range(rows * columns))
    data += b"\0" * (len(data) % 2)
    size = 2 if is_whole else 4
    text = metadata.encode("utf-8") + b"\0"
    tags = [
        (254, "I", [0]), (256, "I", [columns]), (257, "I", [rows]), (258, "H", [8 * size] * count), (259, "H", [1]), (262, "H", [1]),
        (273, "I", [at]), (277, "H", [count]), (278, "I", [rows]), (279, "I", [rows * columns * count * size]), (284, "H", [1]),
        (338, "H", [0] * (count - 1)), (339, "H", [2 if is_whole else 3] * count), (33550, "d", [step, step, 0.0]),
        (33922, "d", [0.0, 0.0, 0.0, west, north, 0.0]), (34735, "H", [1, 1, 1, 3, 1024, 0, 1, 2, 1025, 0, 1, 2, 2048, 0, 1, frame]), (42112, "s", text),
    ]
    if is_whole:
        tags.append((42113, "s", f"{NO_DATA}\0".encode()))
    tags = [tag for tag in tags if len(tag[2]) > 0]
    kinds = {"H": 3, "I": 4, "d": 12, "s": 2}
    start = at + len(data)
    extra_at = start + 2 + 12 * len(tags) + 4
    head, extra = struct.pack("<H", len(tags)), b""
    for number, form, values in tags:
        packed = values if form == "s" else struct.pack("<" + form * len(values), *values)
        head += struct.pack("<HHI", number, kinds[form], len(values))
        if len(packed) <= 4:
            head += packed.ljust(4, b"\0")
        else:
            head += struct.pack("<I", extra_at + len(extra))
            extra += packed + b"\0" * (len(packed) % 2)
    return data + head + struct.pack("<I", 0) + extra, start


def tiff(images) -> bytes:
    """Little-endian, one strip an image; each of area, samples, metadata, frame, and whether numbers are whole."""
    file = bytearray(b"II*\0\0\0\0\0")
    link = 4
    for area, samples, metadata, frame, is_whole in images:
        block, start = directory(area, samples, metadata, frame, len(file), is_whole)
        file += block
        struct.pack_into("<I", file, link, start)
        link = start + 2 + 12 * struct.unpack_from("<H", file, start)[0]
    return bytes(file)


def wave(middle: float, slope_east: float, slope_north: float, height: float):
    """A plane with a ripple, so that no two cells are alike."""
    return lambda lon, lat: middle + slope_east * (lon - 21) + slope_north * (lat + 31) + height * math.sin(3 * lon) * math.cos(2 * lat)


X, Y, Z = wave(-134.7, 0.8, -0.5, 0.2), wave(-110.9, -0.4, 0.9, 0.3), wave(-292.7, 0.6, 0.7, 0.25)
NORTH, EAST, UP = wave(-2.1, 0.03, -0.02, 0.01), wave(-1.3, -0.02, 0.04, 0.02), wave(31.4, 0.5, -0.6, 0.1)
OFFSET = wave(-0.4, 0.05, 0.08, 0.02)
TRANSLATIONS = [(f"{axis}_translation", "metre") for axis in "xyz"]
OFFSETS = [("latitude_offset", "arc-second"), ("longitude_offset", "arc-second"), ("ellipsoidal_height_offset", "metre")]
TO = ("target_crs_epsg_code", 4148)
FROM = ("source_crs_epsg_code", 4222)


def two_levels(kind, samples, functions, codes, frame):
    metadata = items(kind, samples, codes)
    return tiff([(area, [nodes(area, value) for value in functions], metadata, frame, False) for area in (COARSE, FINE)])


def heights() -> bytes:
    """Whole numbers of 0.1 mm above −0.5 m, and one node without data in the south-east."""
    raw = [round((value + 0.5) / 1e-4) for value in nodes(COARSE, OFFSET)]
    raw[-1] = NO_DATA
    more = '<Item name="OFFSET" sample="0" role="offset">-0.5</Item><Item name="SCALE" sample="0" role="scale">0.0001</Item>'
    codes = [("source_crs_epsg_code", 9279), ("target_crs_epsg_code", 9280)]
    return tiff([(COARSE, [raw], items("VERTICAL_OFFSET_VERTICAL_TO_VERTICAL", [("vertical_offset", "metre")], codes, more), 4148, True)])


FILES = {
    "translations-of-the-source.tif": lambda: two_levels("GEOCENTRIC_TRANSLATION", TRANSLATIONS, (X, Y, Z), [TO], 4222),
    "translations-of-the-target.tif": lambda: two_levels("GEOCENTRIC_TRANSLATION", TRANSLATIONS, (X, Y, Z), [FROM, TO], 4148),
    "latitude-longitude-height.tif": lambda: two_levels("GEOGRAPHIC_3D_OFFSET", OFFSETS, (NORTH, EAST, UP), [TO], 4222),
    "offsets-between-heights.tif": heights,
    "ellipsoidal-height-offsets.tif": lambda: two_levels("ELLIPSOIDAL_HEIGHT_OFFSET", OFFSETS[2:], (UP,), [FROM, TO], 4222),
}
PLACES = [("in the finer grid", -31.4321, 21.5432, 1043.25), ("in the coarser grid", -32.7654, 20.1234, 12.5), ("beside the finer grid", -31.99999, 22.00001, 2850.0), ("on a node", -30.0, 20.0, 0.0)]


def xyz(lat: float, lon: float, h: float) -> list[float]:
    """On the ellipsoid of the source."""
    a, f = 6378249.145, 1 / 293.4663077
    e2 = f * (2 - f)
    phi, lam = math.radians(lat), math.radians(lon)
    nu = a / math.sqrt(1 - e2 * math.sin(phi) ** 2)
    return [round(v, 4) for v in ((nu + h) * math.cos(phi) * math.cos(lam), (nu + h) * math.cos(phi) * math.sin(lam), (nu * (1 - e2) + h) * math.sin(phi))]


def cct(decimals: int, words: str, point) -> list[str]:
    done = subprocess.run(["cct", "-d", str(decimals), *words.split()], input=" ".join(repr(v) for v in point) + "\n", capture_output=True, text=True, check=True)
    return done.stdout.split()[:3]


def degrees(step: str) -> str:
    turn = "+proj=unitconvert +xy_in={} +xy_out={}"
    return f"+proj=pipeline +step {turn.format('deg', 'rad')} +step {step} +step {turn.format('rad', 'deg')}"


WAYS = {
    "translations-of-the-source.tif": ("geocentric", f"+proj=xyzgridshift +grids={{}} +grid_ref=input_crs {CLARKE_1880_ARC}"),
    "translations-of-the-target.tif": ("geocentric", f"+proj=xyzgridshift +grids={{}} +grid_ref=output_crs {WGS_84}"),
    "latitude-longitude-height.tif": ("place", degrees("+proj=vgridshift +grids={}.heights +multiplier=1 +step +proj=hgridshift +grids={}.shifts")),
    "offsets-between-heights.tif": ("place", degrees("+proj=vgridshift +grids={} +multiplier=1")),
    "ellipsoidal-height-offsets.tif": ("place", degrees("+proj=vgridshift +grids={}.heights +multiplier=1")),
}


def parts(folder: Path) -> None:
    """The grid of shifts with heights as two, and the one of ellipsoidal heights as one of heights."""
    name = "latitude-longitude-height.tif"
    (folder / f"{name}.shifts").write_bytes(two_levels("HORIZONTAL_OFFSET", OFFSETS[:2], (NORTH, EAST), [TO], 4222))
    for own in (name, "ellipsoidal-height-offsets.tif"):
        (folder / f"{own}.heights").write_bytes(two_levels("VERTICAL_OFFSET_VERTICAL_TO_VERTICAL", [("vertical_offset", "metre")], (UP,), [], 4222))


def row(name: str, place, folder: Path) -> str:
    form, words = WAYS[name]
    where, lat, lon, h = place
    command = words.replace("{}", str(folder / name))
    locator = "cct " + words.replace("{}", name)
    # Nodes in single precision: of shifts in radians, and of heights in metres; translations of 300 m are as they stand.
    tolerance = "1e-5" if "hgridshift" in words else "1e-7" if "vgridshift" in words else "1e-8"
    if form == "geocentric":
        point = xyz(lat, lon, h)
        given, found = [f"{v:.4f}" for v in point], cct(10, command, point)
    else:
        given, (east, north, up) = [repr(lat), repr(lon), repr(h)], cct(14, command, (lon, lat, h))
        found = [north, east, up[:16]]
    return ",".join([f"{name[:-4]} {where}", name, form, *given, *found, tolerance, "m", "PROJ", locator, "independent", ""])


def main(write: bool) -> int:
    wrong = []
    for name, make in FILES.items():
        path, made = GRIDS / name, make()
        if write:
            path.write_bytes(made)
        elif not path.exists() or path.read_bytes() != made:
            wrong.append(f"{name}: the grid differs")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for file, make in FILES.items():
            (folder / file).write_bytes(make())
        parts(folder)
        rows = [row(file, place, folder) for file in FILES for place in PLACES]
    text = "\n".join(["# Points by invented grids of shifts, computed by tools/reference/shift_grids.py.", HEADER, *rows]) + "\n"
    if write:
        TABLE.write_text(text, encoding="utf-8")
    elif TABLE.read_text(encoding="utf-8") != text:
        wrong += [f"{new}" for old, new in zip(TABLE.read_text(encoding="utf-8").splitlines()[2:], rows) if old != new] or ["the table differs"]
    for line in wrong:
        print(line)
    print(f"{len(FILES)} grids, {len(rows)} rows, {len(wrong)} differ")
    return 0 if write or not wrong else 1


if __name__ == "__main__":
    sys.exit(main("--write" in sys.argv[1:]))
