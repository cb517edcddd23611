"""Stations from a CSV."""

from datetime import date
from itertools import pairwise

import pytest

from store.errors import BadFile, BadLines, Refused
from store.logbook.entries import live_entries
from store.logbook.places import places
from store.records import Chore, TractFacts
from store.transfer.importing import SheetKind, import_sheet
from store.units import litres_from_gallons, m2_from_ft2
from store.vocabulary import Access, ApronSurface, ChoreKind, ExpectedUse, Exposure, Shape

HEAD = "tract,station,shape,length_in,width_in,diameter_in,depth_in,apron_area_ft2"
BOX = "North,Box,rectangular,48,36,,30,150"


def _add(book, path, **options):
    return import_sheet(book, SheetKind.STATIONS, path, **options)


def _station(book, name):
    return places(book).find_station(name)


def _installs(book):
    return [
        (entry.fact.station_id, entry.day)
        for entry in live_entries(book, (Chore,))
        if entry.fact.chore is ChoreKind.INSTALL
    ]


def test_a_station_with_everything_said(book, save):
    path = save(
        f"{HEAD},rim_above_ground_in,apron_surface,exposure,access,expected_use,bear_country,"
        "latitude,longitude,installed,directions",
        f"{BOX},2,Woods litter,Deep-Shade,ATV,heavy,yes,41.5,-79.25,2024-05-09,Left at the <oak>",
    )
    done = _add(book, path)
    facts = _station(book, "box")
    assert (done.written, done.known, done.warnings) == (2, 0, ())
    assert (facts.tank.length_mm, facts.tank.width_mm) == pytest.approx((1219.2, 914.4))
    assert facts.tank.depth_mm == pytest.approx(762.0)
    assert facts.apron_area_m2 == pytest.approx(m2_from_ft2(150.0))
    assert facts.rim_above_ground_mm == pytest.approx(50.8)
    assert facts.apron_surface is ApronSurface.WOODS_LITTER
    assert facts.exposure is Exposure.DEEP_SHADE
    assert facts.access is Access.ATV
    assert facts.expected_use is ExpectedUse.HEAVY
    assert facts.bear_country
    assert (facts.latitude_deg, facts.longitude_deg) == (41.5, -79.25)
    assert facts.directions == "Left at the <oak>"
    assert places(book).tract_of(facts).name == "North"
    assert _installs(book) == [(facts.station_id, date(2024, 5, 9))]


def test_a_file_without_directions_keeps_those_that_are_known(book, save):
    _add(book, save(f"{HEAD},directions", f"{BOX},Left at the oak"))
    _add(book, save(f"{HEAD},expected_use", f"{BOX},heavy"))
    facts = _station(book, "box")
    assert facts.expected_use is ExpectedUse.HEAVY
    assert facts.directions == "Left at the oak"


def test_every_shape(book, save):
    path = save(
        f"{HEAD},bottom_diameter_in,depth_volume_in_gal",
        f"{BOX},,",
        "North,Ring,round,,,37,30,120,34,",
        "North,Long,oblong,60,30,,30,120,,",
        "North,Drum,half drum,34,,23,,20,,",
        "North,Odd,measured,,,,,20,,0:0 10:31.5 30:110",
    )
    _add(book, path)
    assert _station(book, "Ring").tank.bottom_diameter_mm == pytest.approx(34 * 25.4)
    assert _station(book, "Long").tank.shape is Shape.OBLONG
    assert _station(book, "Drum").tank.depth_mm == pytest.approx(11.5 * 25.4)
    odd = _station(book, "Odd").tank
    assert odd.depth_mm == pytest.approx(762.0)
    assert odd.depth_volume[2] == pytest.approx((762.0, litres_from_gallons(110.0)))


def test_metric_twins_say_the_same(book, save):
    _add(book, save(HEAD, BOX))
    path = save(
        "tract,station,shape,length_cm,width_mm,depth_cm,apron_area_m2",
        "North,Metric,rectangular,121.92,914.4,76.2,13.935456",
    )
    _add(book, path)
    us, metric = _station(book, "Box"), _station(book, "Metric")
    assert metric.tank.length_mm == pytest.approx(us.tank.length_mm)
    assert metric.tank.depth_mm == pytest.approx(us.tank.depth_mm)
    assert metric.apron_area_m2 == pytest.approx(us.apron_area_m2)


def test_twins_that_contradict_each_other_are_refused(book, save, refuses):
    path = save(f"{HEAD},depth_cm", f"{BOX},30")
    said = refuses(BadLines, lambda: _add(book, path))
    assert "line 2, depth_in: depth_in and depth_cm contradict each other" in said
    _add(book, save(f"{HEAD},depth_cm", f"{BOX},76"))


def test_a_new_tract_is_made_once_and_gets_the_latitude(book, save):
    path = save(HEAD, BOX.replace("North", "West"), BOX.replace("North,Box", "west,Pit"))
    done = _add(book, path, latitude_deg=43.0)
    tract = places(book).find_tract("West")
    assert done.written == 3
    assert tract == TractFacts(tract.tract_id, "West", latitude_deg=43.0)


def test_a_tract_named_beside_the_file(book, save, refuses):
    path = save(HEAD, BOX.replace("North", ""))
    assert "tract: is empty" in refuses(BadLines, lambda: _add(book, path))
    assert "tract: is empty" in refuses(BadLines, lambda: _add(book, path, tract_name=" "))
    _add(book, path, tract_name=" south ")
    assert places(book).tract_of(_station(book, "Box")).name == "South"


def test_the_same_file_again_is_known(book, save):
    path = save(f"{HEAD},installed", f"{BOX},2024-05-09")
    _add(book, path)
    before = list(book.db.conn.iterdump())
    done = _add(book, path)
    assert (done.written, done.known) == (0, 1)
    assert list(book.db.conn.iterdump()) == before


def test_changed_facts_are_revised_and_the_id_stays(book, save):
    _add(book, save(HEAD, BOX))
    before = _station(book, "Box")
    done = _add(book, save(HEAD, BOX.replace("150", "200")))
    after = _station(book, "Box")
    assert done.written == 1
    assert after.station_id == before.station_id
    assert after.apron_area_m2 == pytest.approx(m2_from_ft2(200.0))


def test_an_install_date_that_comes_later_is_kept(book, save, refuses):
    _add(book, save(HEAD, BOX))
    dated = save(f"{HEAD},installed", f"{BOX},2025-05-09")
    assert _add(book, dated).written == 1
    assert _add(book, dated).known == 1
    assert [about for _, about in _installs(book)] == [date(2025, 5, 9)]
    other = save(f"{HEAD},installed", f"{BOX},2025-05-10")
    said = refuses(BadLines, lambda: _add(book, other))
    assert "installed: the log says 2025-05-09, not 2025-05-10" in said


def test_no_apron_is_warned_about(book, save):
    done = _add(book, save(HEAD, BOX.removesuffix("150")))
    assert "no apron area for Box" in done.warnings[0]
    assert _station(book, "Box").apron_area_m2 == 0.0


def test_unknown_columns_are_named_and_passed_over(book, save):
    done = _add(book, save(f"{HEAD},Colour,owner", f"{BOX},green,[me]"))
    assert done.warnings == ("sheet.csv: passed over unknown columns colour, owner.",)
    assert done.written == 1


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("North,,rectangular,48,36,,30,150", "station: is empty"),
        ("North,Box,,48,36,,30,150", "shape: is empty"),
        ("North,Box,square,48,36,,30,150", "'square' is not one of rectangular, round"),
        ("North,Box,rectangular,48,36,,0,150", "depth_in: 0 is not possible"),
        ("North,Box,rectangular,48,36,,-30,150", "depth_in: -30 is not possible"),
        ("North,Box,rectangular,48,36,,nan,150", "depth_in: 'nan' is not a number"),
        ("North,Box,rectangular,48,36,,30in,150", "depth_in: '30in' is not a number"),
        ("North,Box,rectangular,48,36,,,150", "depth: is missing"),
        ("North,Box,rectangular,48,,,30,150", "shape: A rectangular tank needs its width"),
        ("North,Box,round,,,,30,150", "shape: A round tank needs its diameter"),
        ("North,Box,oblong,30,60,,30,150", "shape: An oblong tank is longer"),
        ("North,Box,half-drum,34,,23,30,150", "shape: A half drum is as deep as half"),
        ("North,Box,rectangular,48,36,,30,-1", "apron_area_ft2: -1 is not possible"),
        ("North,Box,rectangular,1e200,36,,30,150", "length_in: 1e200 is too much"),
        ("North,Box,rectangular,48,36,,4000,150", "depth_in: 4000 is too much"),
        ("North,Box,rectangular,48,36,,30,200000", "apron_area_ft2: 200000 is too much"),
        ("North,Box,rectangular,48,36,,30,150,surplus", "more cells than the header"),
    ],
)
def test_a_bad_line_refuses_the_whole_file(book, save, refuses, line, said):
    path = save(HEAD, BOX.replace("Box", "Good"), line)
    sentence = refuses(BadLines, lambda: _add(book, path))
    assert said in sentence
    assert "line 3" in sentence
    assert "nothing was imported" in sentence


@pytest.mark.parametrize(
    ("column", "cell", "said"),
    [
        ("installed", "2026-02-30", "'2026-02-30' is not a date"),
        ("installed", "30 Feb", "'30 Feb' is not a date"),
        ("installed", "2026-10-02", "is still to come"),
        ("latitude", "100", "latitude: 100 is not possible"),
        ("longitude", "-181", "longitude: -181 is not possible"),
        ("bear_country", "maybe", "'maybe' is neither yes nor no"),
        ("access", "boat", "'boat' is not one of vehicle, atv, foot"),
        ("rim_above_ground_in", "900", "rim_above_ground_in: 900 is too much"),
        ("rim_above_ground_in", "-1", "rim_above_ground_in: -1 is not possible"),
        ("depth_volume_in_gal", "0:0 10", "'10' is not inches:gallons"),
    ],
)
def test_a_bad_cell_is_named(book, save, refuses, column, cell, said):
    path = save(f"{HEAD},{column}", f"{BOX},{cell}")
    assert said in refuses(BadLines, lambda: _add(book, path))


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("0:0", "at least two depths"),
        ("0:0 10:31.5 8:40", "both rise"),
        ("1:0 10:31.5", "starts at 0, 0"),
        ("0:0 10:1e9", "10:1e9 is too much"),
        ("0:0 nan:31.5", "'nan:31.5' is not inches:gallons"),
    ],
)
def test_a_bad_measured_table(book, save, refuses, table, said):
    path = save(f"{HEAD},depth_volume_in_gal", f"North,Odd,measured,,,,,20,{table}")
    assert said in refuses(BadLines, lambda: _add(book, path))


def test_all_bad_lines_are_listed_in_order(book, save):
    bad = [f"North,S{n},rectangular,48,36,,0,150" for n in range(30)]
    path = save(HEAD, *bad)
    with pytest.raises(BadLines) as raised:
        _add(book, path)
    lines = [problem.line for problem in raised.value.problems]
    assert len(lines) == 30
    assert all(first < second for first, second in pairwise(lines))
    assert "and 10 more" in str(raised.value)


def test_a_name_twice_in_the_file(book, save, refuses):
    path = save(HEAD, BOX, BOX.replace("Box", "BOX"))
    said = refuses(BadLines, lambda: _add(book, path))
    assert "line 3, station: BOX on North stands on line 2 already" in said


def test_the_same_name_on_two_tracts_is_fine(book, save):
    assert _add(book, save(HEAD, BOX, BOX.replace("North", "South"))).written == 2
    assert _station(book, "South/Box") != _station(book, "North/Box")


def test_missing_columns_and_no_rows(book, save, refuses):
    said = refuses(BadFile, lambda: _add(book, save("tract,name", "North,Box")))
    assert "has no column station; its header reads tract, name." in said
    assert "header but no rows" in refuses(BadFile, lambda: _add(book, save(HEAD)))


def test_what_the_log_refuses_leaves_it_as_it_was(book, save, refuses):
    path = save(f"{HEAD},installed", f"{BOX},1850-05-09")
    assert "before 1900" in refuses(Refused, lambda: _add(book, path))


def test_names_are_kept_literally(book, save):
    name = "[b]Oak[/b] \N{DEER} 'n' ; DROP TABLE"
    _add(book, save(HEAD, BOX.replace("Box", f'"{name}"')))
    assert _station(book, name).name == name
