"""What the logbook holds, as frozen dataclasses in the model's own units.

`Fact` is the union of everything an entry can say. An `Entry` wraps one of them
with the date it is about and its place in the chain of revisions. Lengths are in
mm, areas in m2, volumes in L. Nothing here knows SQL, hydrology or the screen.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from store.vocabulary import (
    Access,
    Action,
    AnimalClass,
    AnimalSize,
    ApronSurface,
    Cause,
    ChoreKind,
    Decision,
    DrinkingSeason,
    ExpectedUse,
    Exposure,
    LevelMark,
    LimitKind,
    PromptKind,
    Response,
    Shape,
    Strength,
    UseSeen,
    WhenRead,
    WindowKind,
)

SAME_DEPTH_MM = 0.5
"""A reading this much below the bottom is the bottom, rounded."""


@dataclass(frozen=True)
class TankMeasures:
    """Inside measures as somebody took them with a tape.

    `depth_volume` is a measured table of (depth_mm, volume_l) pairs from the
    bottom up, used by `Shape.MEASURED` alone.
    """

    shape: Shape
    depth_mm: float
    length_mm: float | None = None
    width_mm: float | None = None
    diameter_mm: float | None = None
    bottom_length_mm: float | None = None
    bottom_width_mm: float | None = None
    bottom_diameter_mm: float | None = None
    depth_volume: tuple[tuple[float, float], ...] = ()

    def is_under_bottom(self, below_rim_mm: float) -> bool:
        """Whether a level stands deeper than the tank, and not by rounding alone."""
        return below_rim_mm > self.depth_mm + SAME_DEPTH_MM


@dataclass(frozen=True)
class TractFacts:
    tract_id: str
    name: str
    latitude_deg: float | None = None
    longitude_deg: float | None = None
    elevation_m: float | None = None
    weather_record_id: str | None = None
    forecast_record_id: str | None = None
    """A record of days to come, used for the days it covers."""
    bear_season_first: str | None = None
    """Month and day, as 04-15, when bears begin to move; the last day likewise."""
    bear_season_last: str | None = None
    drinking: DrinkingSeason | None = None
    """When animals drink there; None is as in most places, where browse is green in summer."""


MOST_LENGTH_MM = 100_000.0
MOST_TANK_L = 1_000_000.0
MOST_APRON_M2 = 10_000.0
MOST_RIM_MM = 3_000.0
"""Beyond these a number of a station is a slip of the unit or the point (assumed)."""


@dataclass(frozen=True)
class StationFacts:
    """A tank and its place; install and retirement are chores in the log."""

    station_id: str
    tract_id: str
    name: str
    tank: TankMeasures
    apron_area_m2: float
    apron_surface: ApronSurface = ApronSurface.SCULPTED_SOIL
    rim_above_ground_mm: float = 0.0
    exposure: Exposure = Exposure.PART_SHADE
    access: Access = Access.FOOT
    expected_use: ExpectedUse = ExpectedUse.AVERAGE
    bear_country: bool = False
    latitude_deg: float | None = None
    longitude_deg: float | None = None
    directions: str = ""
    """How to get there, as its keeper would tell somebody."""


@dataclass(frozen=True)
class Reading:
    """A level somebody saw: measured below the rim, or judged by eye; never both.

    Seen on coming, before any work on the water that day, or else `after_work`.
    """

    station_id: str
    below_rim_mm: float | None = None
    mark: LevelMark | None = None
    after_work: bool = False

    @property
    def when(self) -> WhenRead:
        return WhenRead.AFTER_WORK if self.after_work else WhenRead.ON_COMING

    def below_rim_of(self, depth_mm: float) -> float:
        """How far in mm the water stood below the rim of a tank of that depth."""
        if self.mark is not None:
            return (1.0 - self.mark.share_of_depth) * depth_mm
        return self.below_rim_mm or 0.0


@dataclass(frozen=True)
class Sighting:
    """Use seen at the station: sign on the ground, or animals a day on a camera."""

    station_id: str
    use: UseSeen | None = None
    camera_per_day: float | None = None


@dataclass(frozen=True)
class RampCheck:
    """Whether the escape ramp was in place and reached the bottom."""

    station_id: str
    in_place: bool


@dataclass(frozen=True)
class Chore:
    """Work done; `volume_l` is the water brought by a fill (none: to the rim)."""

    station_id: str
    chore: ChoreKind
    volume_l: float | None = None
    note: str = ""


@dataclass(frozen=True)
class Contamination:
    """A contamination event as found, with the first thing done about it.

    `event_id` stays the same through every revision; later actions name it.
    """

    event_id: str
    station_id: str
    cause: Cause
    action: Action = Action.LEFT
    volume_l: float | None = None
    note: str = ""
    animal: AnimalClass | None = None
    animal_size: AnimalSize | None = None
    days_dead: float | None = None
    """How long a carcass had lain, judged when it was found."""


@dataclass(frozen=True)
class ContaminationAction:
    """A later action on the contamination event of that `event_id`."""

    event_id: str
    station_id: str
    action: Action
    volume_l: float | None = None
    note: str = ""


@dataclass(frozen=True)
class ContaminationSign:
    """What smell, colour or animals told about an event on a later day."""

    event_id: str
    station_id: str
    smell: Strength | None = None
    colour: Strength | None = None
    response: Response | None = None


@dataclass(frozen=True)
class BearVisit:
    """Bears at a station, from sign or a camera; `visits` on the day it is about."""

    station_id: str
    visits: int = 1


@dataclass(frozen=True)
class Photo:
    """A picture kept elsewhere: its path and the SHA-256 of the file, in hexadecimal."""

    station_id: str
    path: str
    sha256: str
    event_id: str | None = None


@dataclass(frozen=True)
class CauseSetting:
    """A parameter of a cause of contamination as this logbook's keeper sees it."""

    cause: Cause
    parameter: str
    value: float


@dataclass(frozen=True)
class KeptSetting:
    """A setting that alters what is reckoned; how things are shown is no entry."""

    name: str
    value: str


@dataclass(frozen=True)
class SeasonWindow:
    """A window of the year as the keeper of a tract sets it; days as 04-15, both included."""

    tract_id: str
    window: WindowKind
    first: str
    last: str


@dataclass(frozen=True)
class SeasonLimit:
    """A number of the season as the keeper of a tract sets it, in the unit of its kind."""

    tract_id: str
    limit: LimitKind
    value: float


@dataclass(frozen=True)
class PromptAnswer:
    """What a person said to a prompt: put off to a day, or declined.

    `asked` is the first day of what was asked for; `event_id` that of a contamination.
    """

    station_id: str
    prompt: PromptKind
    asked: date
    decision: Decision
    until: date | None = None
    note: str = ""
    event_id: str | None = None


@dataclass(frozen=True)
class SiteCheck:
    """A site as it was looked at: each point well, weak, or not looked at."""

    station_id: str
    rim: bool | None = None
    bank: bool | None = None
    approach: bool | None = None
    hollow: bool | None = None
    plot: bool | None = None
    dull: bool | None = None
    ramp: bool | None = None
    bears: bool | None = None
    pressure: bool | None = None
    asked: bool | None = None
    note: str = ""


@dataclass(frozen=True)
class GaugeReading:
    """Rain of one day read from a hand-kept gauge; overrides the tract's record."""

    tract_id: str
    rain_mm: float


@dataclass(frozen=True)
class MonthlyNormals:
    """What a month is usually like on a tract, typed in where there is no record."""

    tract_id: str
    month: int
    rain_mm: float
    wet_days: float
    tmin_c: float
    tmax_c: float


@dataclass(frozen=True)
class Note:
    station_id: str
    text: str


@dataclass(frozen=True)
class WeatherImport:
    """One import into a weather record; its days are stored under `import_id`."""

    import_id: str
    record_id: str
    record_name: str
    source: str
    """File name and format the days came from."""
    latitude_deg: float | None = None
    longitude_deg: float | None = None
    elevation_m: float | None = None


@dataclass(frozen=True)
class Withdrawal:
    """Takes back the entry it revises and puts nothing in its place."""

    reason: str = ""


Fact = (
    TractFacts
    | StationFacts
    | Reading
    | Sighting
    | RampCheck
    | Chore
    | Contamination
    | ContaminationAction
    | ContaminationSign
    | BearVisit
    | Photo
    | CauseSetting
    | KeptSetting
    | SeasonWindow
    | SeasonLimit
    | PromptAnswer
    | SiteCheck
    | GaugeReading
    | MonthlyNormals
    | Note
    | WeatherImport
    | Withdrawal
)


@dataclass(frozen=True)
class Draft:
    """A fact to be written, the day it is about, and the entry it replaces."""

    day: date
    fact: Fact
    revises: str | None = None


@dataclass(frozen=True)
class Entry:
    """Something written. Never changed: a revision is a new entry naming this one.

    `entry_id` is a version 7 UUID (RFC 9562), so ids sort by time of writing;
    `batch_id` is shared by everything written in one transaction.
    """

    entry_id: str
    batch_id: str
    day: date
    written_utc: datetime
    fact: Fact
    revises: str | None = None
