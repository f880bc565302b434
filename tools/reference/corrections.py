"""Frames of correction streams, encoded bit by bit from what they say, and their check by long division; velocities of plates."""

from __future__ import annotations

import math

import numpy as np

# x^24 + x^23 + x^18 + x^17 + x^14 + x^11 + x^10 + x^7 + x^6 + x^5 + x^4 + x^3 + x + 1
DIVISOR = sum(1 << power for power in (24, 23, 18, 17, 14, 11, 10, 7, 6, 5, 4, 3, 1, 0))


def check_of(content: bytes) -> int:
    """The remainder of the whole as one polynomial, twenty-four places further left: no table, no register."""
    rest = int.from_bytes(content, "big") << 24
    while rest.bit_length() > 24:
        rest ^= DIVISOR << (rest.bit_length() - 25)
    return rest


def crc_24q(row):
    return {"crc_hex": f"{check_of(bytes.fromhex(row['bytes_hex'])):06X}"}


def bits(*fields: tuple[int, int]) -> str:
    """(value, width) from the highest bit on; a negative value as its two's complement."""
    return "".join(format(value % (1 << width), f"0{width}b") for value, width in fields)


def counted(text: str) -> str:
    """A text after its length in bytes."""
    return bits((len(text), 8), *((sign, 8) for sign in text.encode("ascii")))


def place(number: int, station: int, xyz: tuple[float, float, float], tail: str = "", flags: tuple[int, int] = (0, 0b1110)) -> str:
    """Coordinates in tenths of a millimetre. Flags: year of the frame; GPS, GLONASS, Galileo, computed station."""
    x, y, z = (round(value * 10000) for value in xyz)
    return bits((number, 12), (station, 12), (flags[0], 6), (flags[1], 4), (x, 38), (0, 2), (y, 38), (0, 2), (z, 38)) + tail


HERE = (5068746.7347, 1986420.1240, -3313809.5156)
ANTENNA = "INVENTED_ANT  NONE"
DAY, SECOND = 61372, 21600
HIGHEST = (0, 0b1110)
MESSAGES = {
    "1005": lambda: place(1005, 17, HERE),
    "1006": lambda: place(1006, 17, HERE, bits((15321, 16))),
    "1006 highest antenna": lambda: place(1006, 4095, (-6378137.0, 0.0001, -0.0001), bits((65535, 16)), HIGHEST),
    "1007": lambda: bits((1007, 12), (17, 12)) + counted(ANTENNA) + bits((0, 8)),
    "1008": lambda: bits((1008, 12), (17, 12)) + counted(ANTENNA) + bits((3, 8)) + counted("SN0042"),
    "1033": lambda: bits((1033, 12), (17, 12)) + counted(ANTENNA) + bits((0, 8)) + "".join(map(counted, ("SN0042", "INVENTED RECEIVER", "1.0", "R7"))),
    "1230": lambda: bits((1230, 12), (17, 12), (1, 1), (0, 3), (0b1010, 4), (round(-3.00 / 0.02), 16), (round(4.50 / 0.02), 16)),
    "1013": lambda: bits((1013, 12), (17, 12), (DAY, 16), (SECOND, 17), (3, 5), (18, 8)) + "".join(bits((n, 12), (s, 1), (t, 16)) for n, s, t in ((1077, 1, 10), (1006, 1, 100), (1230, 1, 50))),
    "1029": lambda: bits((1029, 12), (17, 12), (DAY, 16), (SECOND, 17), (8, 7), (9, 8)) + bits(*((byte, 8) for byte in "Feld Süd".encode("utf-8"))),
}


def rtcm_frames(row):
    make = MESSAGES.get(row["case"])
    if make is None:
        return None
    text = make()
    text += "0" * (-len(text) % 8)
    content = bytes(int(text[at : at + 8], 2) for at in range(0, len(text), 8))
    framed = bytes([0xD3, len(content) >> 8, len(content) & 0xFF]) + content
    return {"frame_hex": (framed + check_of(framed).to_bytes(3, "big")).hex()}


# Milliseconds of arc a year about X, Y, Z; ITRF2014-PMM and ITRF2020-PMM, tables 1.
POLES = {
    "itrf2014": {"NUBI": (0.099, -0.614, 0.733), "EURA": (-0.085, -0.531, 0.770), "AUST": (1.510, 1.182, 1.215)},
    "itrf2020": {"NUBI": (0.090, -0.585, 0.717), "EURA": (-0.085, -0.519, 0.753), "AUST": (1.487, 1.175, 1.223)},
}
ORIGIN_MM = np.array([0.37, 0.35, 0.74])


def plate_velocities(row):
    phi, lam = (math.radians(row.number(name)) for name in ("latitude_deg", "longitude_deg"))
    east = np.array([-math.sin(lam), math.cos(lam), 0.0])
    north = np.array([-math.sin(phi) * math.cos(lam), -math.sin(phi) * math.sin(lam), math.cos(phi)])
    up = np.cross(east, north)
    a, f = 6378137.0, 1 / 298.257222101
    e2 = f * (2 - f)
    nu = a / math.sqrt(1 - e2 * math.sin(phi) ** 2)
    at = nu * up - np.array([0.0, 0.0, e2 * nu * math.sin(phi)]) + row.number("ellipsoidal_height_m") * up
    model, _, kind = row["model"].partition("-")
    turn = np.cross(np.radians(np.array(POLES[model][row["plate"]]) / 3.6e6), at) * 1000
    parts = [turn] if model == "itrf2014" or kind == "rotation" else [turn, ORIGIN_MM]
    # The rows of two parts are sums of two rounded figures.
    return {f"{name}_mm_per_year": sum(round(float(part @ axis), 3) for part in parts) for name, axis in (("east", east), ("north", north))}
