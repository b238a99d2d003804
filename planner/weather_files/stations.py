"""Daily and monthly station files of fixed shape: GHCN, ECA and national text."""

import datetime as dt
import re
from collections.abc import Sequence

from planner.weather_files.found import Gathered, Pair

# GHCN-Daily, by station: ID, date, element, value in tenths, three flags, time. Shape from its readme.
GHCN_CSV = re.compile(r'"?[A-Z0-9]{11}"?,"?\d{8}"?,"?[A-Z0-9]{4}"?,')
# GHCN-Daily .dly: ID 11, year 4, month 2, element 4, then 31 of value 5 and flags 3; from memory.
GHCN_FIXED = re.compile(r"[A-Z]{2}[A-Z0-9_-]{9}\d{4}(?:0[1-9]|1[0-2])[A-Z0-9]{4}[ -]")
# ECA&D: a preface, then STAID, SOUID, DATE, TX or TN in tenths, Q_TX; from memory.
ECA_HEADING = re.compile(r"(?:STAID,\s*)?SOUID,\s*DATE,\s*(T[XN]),\s*Q_T[XN]")
# National monthly text: year, month, mean highest, mean lowest, and more; "---" is missing.
MONTHLY = re.compile(r"\s*(\d{4})\s+(\d{1,2})\s+(-?[\d.]+[*#]?|---)\s+(-?[\d.]+[*#]?|---)(.*)")
GHCN_MISSING = -9999
ECA_MISSING, ECA_SUSPECT = "9", "1"


def is_ghcn_csv(lines: Sequence[str]) -> bool:
    return _most(lines, GHCN_CSV)


def is_ghcn_fixed(lines: Sequence[str]) -> bool:
    return _most(lines, GHCN_FIXED)


def is_eca(lines: Sequence[str]) -> bool:
    return any(ECA_HEADING.match(line.strip()) for line in lines[:60])


def is_monthly(lines: Sequence[str]) -> bool:
    found = sum(MONTHLY.match(line) is not None for line in lines)
    return found >= 12 and found > len(lines) / 2


def _most(lines: Sequence[str], shape: re.Pattern) -> bool:
    first = [line for line in lines[:50] if line.strip()]
    return bool(first) and sum(shape.match(line) is not None for line in first) > len(first) / 2


def read_ghcn_csv(lines: Sequence[str]) -> Gathered:
    found = Gathered("GHCN daily values of one station", tenths=True)
    held = {"TMAX": found.highs, "TMIN": found.lows}
    stations = set()
    for line in lines:
        cells = [cell.strip('" ') for cell in line.rstrip("\n").split(",")]
        if len(cells) < 6 or cells[2] not in held:
            continue
        stations.add(cells[0])
        if cells[5]:
            found.left_out["are marked as doubtful by the service"] += 1
            continue
        day, value = _day(cells[1]), _whole(cells[3])
        if day is None or value is None:
            found.left_out["cannot be read"] += 1
        elif value != GHCN_MISSING:
            found.take(held[cells[2]], day, value)
    _one_station(found, stations)
    return found


def read_ghcn_fixed(lines: Sequence[str]) -> Gathered:
    found = Gathered("GHCN daily values, fixed columns", tenths=True)
    held = {"TMAX": found.highs, "TMIN": found.lows}
    stations = set()
    for line in lines:
        if line[17:21] not in held:
            continue
        stations.add(line[:11])
        for number in range(1, 32):
            cell = line[13 + 8 * number : 21 + 8 * number]
            value = _whole(cell[:5])
            if value is None or value == GHCN_MISSING:
                continue
            day = _day(f"{line[11:17]}{number:02}")
            if day is None:
                found.left_out["stand on a day that does not exist"] += 1
            elif cell[6:7].strip():
                found.left_out["are marked as doubtful by the service"] += 1
            else:
                found.take(held[line[17:21]], day, value)
    _one_station(found, stations)
    return found


def _one_station(found: Gathered, stations: set[str]) -> None:
    if len(stations) > 1:
        found.remarks.append(
            f"It holds {len(stations)} stations; of each day the first that stands there counts."
        )


def read_eca(lines: Sequence[str]) -> Gathered:
    found = Gathered("ECA daily values of one element", tenths=True)
    held, names = None, []
    for line in lines:
        cells = [cell.strip() for cell in line.split(",")]
        if heading := ECA_HEADING.match(line.strip()):
            held = found.highs if heading[1] == "TX" else found.lows
            names = cells
        elif held is not None and len(cells) == len(names):
            row = dict(zip(names, cells, strict=True))
            _take_eca(found, held, row, names)
    return found


def _take_eca(
    found: Gathered, held: dict[dt.date, float], row: dict[str, str], names: Sequence[str]
) -> None:
    quality = row[names[-1]]
    day, value = _day(row["DATE"]), _whole(row[names[-2]])
    if quality == ECA_MISSING or value == GHCN_MISSING:
        return
    if quality == ECA_SUSPECT:
        found.left_out["are marked as doubtful by the service"] += 1
    elif day is None or value is None:
        found.left_out["cannot be read"] += 1
    else:
        found.take(held, day, value)


def read_monthly(lines: Sequence[str]) -> Gathered:
    """Good for normals only; estimates count and are named, provisional months too."""
    found = Gathered("monthly means of one station")
    estimated = provisional = 0
    for line in lines:
        row = MONTHLY.match(line)
        if row is None or not 1 <= int(row[2]) <= 12:
            continue
        pair: Pair = (_decimal(row[4]), _decimal(row[3]))
        if None not in pair and pair[0] > pair[1]:
            found.left_out["have a lowest above their highest"] += 1
            continue
        estimated += "*" in row[3] + row[4]
        provisional += "provisional" in row[5].casefold()
        found.months[int(row[1]), int(row[2])] = pair
    if estimated:
        found.remarks.append(f"{estimated} months are estimates of the service.")
    if provisional:
        found.remarks.append(f"{provisional} months are provisional and may change.")
    return found


def _day(text: str) -> dt.date | None:
    if not (len(text) == 8 and text.isascii() and text.isdigit()):
        return None
    try:
        return dt.date(int(text[:4]), int(text[4:6]), int(text[6:]))
    except ValueError:
        return None


def _whole(text: str) -> int | None:
    text = text.strip()
    return int(text) if re.fullmatch(r"[+-]?[0-9]{1,6}", text) else None


def _decimal(text: str) -> float | None:
    text = text.rstrip("*#")
    try:
        return float(text)
    except ValueError:
        return None
