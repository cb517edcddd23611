"""Where NOAA's GHCN-Daily is, and fetching from it the file of a station or its lists.

Addresses: the public access service of NOAA's National Centers for Environmental
Information (NCEI), data set global-historical-climatology-network-daily, and the folder
of the GHCN-Daily readme. The file of a station has a day a line, its place and its name.
"""

from __future__ import annotations

import re
import tempfile
import time
from collections.abc import Iterator
from contextlib import ExitStack
from hashlib import sha256
from pathlib import Path
from urllib.parse import quote

from store.errors import BadValue
from store.fetching.download import MEGABYTE, PATIENT, Patience, Progress, download
from store.fetching.unpack import unpack
from store.file_out import written_to

STATION = "{station}"
STATION_ADDRESS = (
    "https://www.ncei.noaa.gov/data/global-historical-climatology-network-daily/access/"
    f"{STATION}.csv"
)
LISTS_ADDRESS = "https://www.ncei.noaa.gov/pub/data/ghcn/daily/"
STATIONS_LIST, INVENTORY_LIST = "ghcnd-stations.txt", "ghcnd-inventory.txt"
PATIENT_WITH_A_LIST = Patience(most_bytes=100 * MEGABYTE)
"""The inventory is some 35 MB (value from memory)."""
LIST_KEPT_S = 30 * 24 * 3600.0
"""How long a list that was fetched serves; stations come and go slowly (assumed)."""
_STATION_ID = re.compile(r"[A-Z]{2}[A-Z0-9_-]{9}")


def station_id_from(text: str) -> str:
    """The identifier of a station as typed, in capitals.

    Raises:
        BadValue: it is none; GHCN-Daily readme, section III: eleven signs, two of the country.
    """
    station_id = text.strip().upper()
    if not _STATION_ID.fullmatch(station_id):
        raise BadValue(
            f"{text} is no GHCN-Daily station; one has eleven letters and digits, such as "
            "XX000000001. `brimbook weather near` lists those around a tract."
        )
    return station_id


def fetch_station(
    station_id: str,
    folder: Path,
    address: str = STATION_ADDRESS,
    patience: Patience = PATIENT,
) -> Iterator[Progress | Path]:
    """Fetch the daily file of a station into `folder`; the last item is where it is.

    `address` has `{station}` where the identifier goes.

    Raises:
        BadValue: the address has no place for the station.
        BadFile: as `download`.
    """
    if STATION not in address:
        raise BadValue(f"{address} does not say where the station goes; write it as {STATION}.")
    file = folder / f"{station_id}.csv"
    yield from download(address.replace(STATION, quote(station_id)), file, patience)
    unpack(file, patience.most_bytes)
    yield file


def fetch_lists(
    folder: Path,
    address: str = LISTS_ADDRESS,
    patience: Patience = PATIENT_WITH_A_LIST,
    kept_s: float = LIST_KEPT_S,
) -> Iterator[Progress | tuple[Path, Path]]:
    """The stations' list and inventory; the last item is where they are.

    A list fetched within `kept_s` is taken from `folder`, which is safe to delete.

    Raises:
        BadFile: as `download`, or the folder cannot be written.
    """
    found = []
    for name in (STATIONS_LIST, INVENTORY_LIST):
        whole = f"{address.rstrip('/')}/{name}"
        kept = folder / f"{sha256(whole.encode()).hexdigest()[:8]}-{name}"
        if not _is_fresh(kept, kept_s):
            with ExitStack() as stack:
                with written_to(folder):
                    folder.mkdir(parents=True, exist_ok=True)
                    made = stack.enter_context(
                        tempfile.TemporaryDirectory(dir=folder, prefix=".unfinished-")
                    )
                fresh = Path(made) / name
                yield from download(whole, fresh, patience)
                unpack(fresh, patience.most_bytes)
                with written_to(kept):
                    fresh.replace(kept)
        found.append(kept)
    yield found[0], found[1]


def _is_fresh(path: Path, kept_s: float) -> bool:
    return path.is_file() and 0.0 <= time.time() - path.stat().st_mtime < kept_s
