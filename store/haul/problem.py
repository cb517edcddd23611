"""What a day of work is planned from: vehicle, water, stops and limits.

Litres, kilograms, minutes and kilometres an hour. Nothing here knows a logbook.
"""

from __future__ import annotations

from dataclasses import dataclass

from store.errors import BadValue
from store.haul.distance import Place
from store.units import KG_PER_LITRE

LEAST_LOAD = 0.1
"""Share of a load that is worth a way of its own (assumed)."""


@dataclass(frozen=True)
class Vehicle:
    """What carries the water; `payload_kg` bears the tank with its fittings and the water.

    Raises:
        BadValue: the payload is nothing, does not bear the empty tank, or a measure of
            tank or pump is not more than nothing.
    """

    payload_kg: float
    tank_l: float
    pump_l_per_min: float
    tank_kg: float = 0.0

    def __post_init__(self) -> None:
        if self.payload_kg <= 0.0:
            raise BadValue(
                "The payload must be more than 0; read it off the rating plate of the vehicle or "
                "trailer."
            )
        if self.tank_l <= 0.0:
            raise BadValue("The hauling tank must hold more than 0; type what it holds.")
        if self.pump_l_per_min <= 0.0:
            raise BadValue("The pump must bring more than 0 a minute; time it with a bucket.")
        if self.tank_kg < 0.0:
            raise BadValue("The empty tank cannot weigh less than nothing; correct its weight.")
        if self.tank_kg >= self.payload_kg:
            raise BadValue(
                "The empty tank with its pump is as heavy as the whole payload, so no water can "
                "be carried; correct one of them."
            )

    @property
    def load_l(self) -> float:
        """Water carried at once: what the tank holds, or what the payload leaves for it."""
        return min(self.tank_l, (self.payload_kg - self.tank_kg) / KG_PER_LITRE)

    def worth_hauling_l(self, need_l: float) -> float:
        """A need without a last part load so small that nobody goes back for it."""
        loads, rest_l = divmod(need_l, self.load_l)
        return need_l - rest_l if loads and rest_l < LEAST_LOAD * self.load_l else need_l

    def weight_kg(self, water_l: float) -> float:
        """What so much water weighs with the tank it is in."""
        return self.tank_kg + water_l * KG_PER_LITRE


@dataclass(frozen=True)
class WaterSource:
    """Where the tank is filled, at a steady rate.

    Raises:
        BadValue: the rate is not more than nothing.
    """

    name: str
    l_per_min: float
    place: Place | None = None

    def __post_init__(self) -> None:
        if self.l_per_min <= 0.0:
            raise BadValue(f"{self.name} must give more than 0 a minute; type how fast it fills.")


@dataclass(frozen=True)
class Stop:
    """A station to go to: `need_l` of water, and `minutes` of all work but water.

    `place` is where the vehicle stands, None where it is not known. `gain_days` are the
    wet days that the water is expected to bring. An `urgent` stop goes before any gain.
    """

    key: str
    place: Place | None = None
    need_l: float = 0.0
    minutes: float = 0.0
    gain_days: float = 0.0
    urgent: bool = False


@dataclass(frozen=True)
class Limits:
    """What a day may take at most; None is no limit."""

    minutes: float | None = None
    loads: int | None = None
    water_l: float | None = None


NO_LIMITS = Limits()


@dataclass(frozen=True)
class DayProblem:
    """Everything a day is planned from; the day begins and ends at `start`, tank empty.

    A start that is not known costs no way. Where the place of a stop or a source is not
    known, no way counts and the stops keep the order they stand in.

    Raises:
        BadValue: a speed or the detour is not possible.
    """

    vehicle: Vehicle
    sources: tuple[WaterSource, ...]
    stops: tuple[Stop, ...]
    start: Place | None = None
    limits: Limits = NO_LIMITS
    drive_km_per_hour: float = 30.0
    detour: float = 1.3

    def __post_init__(self) -> None:
        if self.drive_km_per_hour <= 0.0:
            raise BadValue("The driving speed must be more than 0; type what you drive there.")
        if self.detour < 1.0:
            raise BadValue("The detour cannot be under 1: no way is shorter than the straight one.")

    @property
    def placed(self) -> bool:
        """Whether ways between stops and sources are known."""
        places = [stop.place for stop in self.stops] + [source.place for source in self.sources]
        return None not in places
