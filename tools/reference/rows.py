"""Rows of tests/reference: read by name, and one cell of a row written without touching another character of the file."""

import csv
import io
from decimal import Decimal
from pathlib import Path

from mpmath import mpf, nstr

FOLDER = Path(__file__).resolve().parents[2] / "tests" / "reference"
COMPUTED = ("COMPUTED", "MPMATH")


class Row(dict):
    """Cells by column name, with the place of the row in its file."""

    def number(self, name: str) -> float:
        return float(self[name])

    def numbers(self, name: str) -> list[float]:
        return [float(word) for word in self[name].split()]


def cells_of(line: str) -> list[str]:
    return next(csv.reader(io.StringIO(line)))


def rows_of(table: str, is_computed: bool = True) -> list[Row]:
    """Every row of a table that says it was computed; or every other."""
    header = None
    found = []
    for at, line in enumerate((FOLDER / f"{table}.csv").read_text(encoding="utf-8").split("\n")):
        if line.strip() == "" or line.startswith("#"):
            continue
        if header is None:
            header = cells_of(line)
            continue
        row = Row(zip(header, cells_of(line)))
        if (row["source"] in COMPUTED) == is_computed:
            row["#line"] = at
            found.append(row)
    return found


def decimals_of(text: str) -> int:
    """How many decimals a number is printed with."""
    return max(0, -int(Decimal(text).as_tuple().exponent))


def exact(value) -> Decimal:
    """A result of whichever library, with every digit that it has."""
    if isinstance(value, Decimal):
        return value
    return Decimal(nstr(value, 25)) if isinstance(value, mpf) else Decimal(repr(float(value)))


def printed_like(text: str, value) -> str:
    """A value with the decimals of a text; all of them where the cell is empty; a word as it is."""
    if isinstance(value, str) or text == "":
        return str(value)
    return f"{exact(value):.{decimals_of(text)}f}"


def put(table: str, row: Row, column: str, text: str) -> None:
    """One cell of a row written anew; the cells computed here stand without quotes."""
    path = FOLDER / f"{table}.csv"
    lines = path.read_text(encoding="utf-8").split("\n")
    old = row[column]
    line = lines[row["#line"]]
    wanted = [text if name == column else cell for name, cell in ((n, c) for n, c in row.items() if n != "#line")]
    start = 0
    while True:
        at = line.index(old, start)
        new = line[:at] + text + line[at + len(old):]
        if cells_of(new) == wanted:
            break
        start = at + 1
    lines[row["#line"]] = new
    path.write_text("\n".join(lines), encoding="utf-8")
