PRAGMA application_id = 1112688973;
BEGIN TRANSACTION;
CREATE TABLE "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
);
INSERT INTO "_sqlite_migrations" VALUES(1,'brimbook','m001_first_logbook','2026-11-26 20:32:47.512575+00:00');
INSERT INTO "_sqlite_migrations" VALUES(2,'brimbook','m002_recovery','2026-11-26 20:32:47.520304+00:00');
INSERT INTO "_sqlite_migrations" VALUES(3,'brimbook','m003_outlook','2026-11-26 20:32:47.522602+00:00');
INSERT INTO "_sqlite_migrations" VALUES(4,'brimbook','m004_drinking','2026-11-26 20:32:47.523449+00:00');
INSERT INTO "_sqlite_migrations" VALUES(5,'brimbook','m005_season','2026-11-26 20:32:47.524356+00:00');
INSERT INTO "_sqlite_migrations" VALUES(6,'brimbook','m006_site','2026-11-26 20:32:47.524721+00:00');
INSERT INTO "_sqlite_migrations" VALUES(7,'brimbook','m007_directions','2026-11-26 20:32:47.529765+00:00');
INSERT INTO "_sqlite_migrations" VALUES(8,'brimbook','m008_two_undos','2026-11-26 20:32:47.530191+00:00');
INSERT INTO "_sqlite_migrations" VALUES(9,'brimbook','m009_kept_settings','2026-11-26 20:32:47.530523+00:00');
CREATE TABLE access (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "access" VALUES('vehicle');
INSERT INTO "access" VALUES('atv');
INSERT INTO "access" VALUES('foot');
CREATE TABLE action (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "action" VALUES('left');
INSERT INTO "action" VALUES('carcass removed');
INSERT INTO "action" VALUES('bailed');
INSERT INTO "action" VALUES('drained');
INSERT INTO "action" VALUES('refilled');
INSERT INTO "action" VALUES('covered');
INSERT INTO "action" VALUES('seen clear');
CREATE TABLE animal_class (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "animal_class" VALUES('mammal');
INSERT INTO "animal_class" VALUES('bird');
INSERT INTO "animal_class" VALUES('reptile or amphibian');
INSERT INTO "animal_class" VALUES('fish');
CREATE TABLE animal_size (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "animal_size" VALUES('small');
INSERT INTO "animal_size" VALUES('medium');
INSERT INTO "animal_size" VALUES('large');
CREATE TABLE apron_surface (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "apron_surface" VALUES('sculpted soil');
INSERT INTO "apron_surface" VALUES('loose soil');
INSERT INTO "apron_surface" VALUES('grass');
INSERT INTO "apron_surface" VALUES('woods litter');
INSERT INTO "apron_surface" VALUES('gravel');
INSERT INTO "apron_surface" VALUES('liner');
CREATE TABLE batch (
        batch_id TEXT PRIMARY KEY CHECK (length(batch_id) = 36),
        title TEXT NOT NULL CHECK (title <> ''),
        written_utc TEXT NOT NULL CHECK (datetime(written_utc) IS NOT NULL),
        undoes TEXT UNIQUE REFERENCES batch (batch_id)
    ) STRICT;
INSERT INTO "batch" VALUES('019e0c9b-d600-7000-8000-000000000006','All kinds','2026-05-09T12:00:00+00:00',NULL);
CREATE TABLE bear_visit (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'bear_visit' CHECK (kind = 'bear_visit'),
        station_id TEXT NOT NULL REFERENCES station (station_id), visits INTEGER NOT NULL CHECK (visits >= 1),
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "bear_visit" VALUES('019e0c9b-d600-7000-8000-000000000014','bear_visit','019e0c9b-d600-7000-8000-000000000002',2);
CREATE TABLE cause (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "cause" VALUES('drowned animal');
INSERT INTO "cause" VALUES('additive');
INSERT INTO "cause" VALUES('bear use');
INSERT INTO "cause" VALUES('dead fish');
INSERT INTO "cause" VALUES('dye');
INSERT INTO "cause" VALUES('other');
INSERT INTO "cause" VALUES('spill');
INSERT INTO "cause" VALUES('silt or leaves');
INSERT INTO "cause" VALUES('dry spell');
INSERT INTO "cause" VALUES('disturbance');
CREATE TABLE cause_setting (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'cause_setting' CHECK (kind = 'cause_setting'),
        
            cause TEXT NOT NULL REFERENCES cause (word),
            parameter TEXT NOT NULL CHECK (parameter <> ''),
            value REAL NOT NULL
            ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "cause_setting" VALUES('019e0c9b-d600-7000-8000-000000000016','cause_setting','dye','clear_share',0.1);
CREATE TABLE chore (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'chore' CHECK (kind = 'chore'),
        
            station_id TEXT NOT NULL REFERENCES station (station_id),
            chore TEXT NOT NULL REFERENCES chore_kind (word),
            volume_l REAL CHECK (volume_l >= 0),
            note TEXT NOT NULL
            ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "chore" VALUES('019e0c9b-d600-7000-8000-000000000009','chore','019e0c9b-d600-7000-8000-000000000002','install',100.0,'by hand');
CREATE TABLE chore_kind (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "chore_kind" VALUES('install');
INSERT INTO "chore_kind" VALUES('rake');
INSERT INTO "chore_kind" VALUES('fill');
INSERT INTO "chore_kind" VALUES('drain');
INSERT INTO "chore_kind" VALUES('cover');
INSERT INTO "chore_kind" VALUES('uncover');
INSERT INTO "chore_kind" VALUES('retire');
CREATE TABLE contamination (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'contamination' CHECK (kind = 'contamination'),
        
            event_id TEXT NOT NULL REFERENCES contamination_event (event_id),
            station_id TEXT NOT NULL REFERENCES station (station_id),
            cause TEXT NOT NULL REFERENCES cause (word),
            action TEXT NOT NULL REFERENCES action (word),
            volume_l REAL CHECK (volume_l >= 0),
            note TEXT NOT NULL
            , animal TEXT REFERENCES animal_class (word), animal_size TEXT REFERENCES animal_size (word), days_dead REAL CHECK (days_dead >= 0),
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "contamination" VALUES('019e0c9b-d600-7000-8000-00000000000e','contamination','019e0c9b-d600-7000-8000-000000000003','019e0c9b-d600-7000-8000-000000000002','drowned animal','left',NULL,'by the ramp',NULL,NULL,NULL);
CREATE TABLE contamination_action (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'contamination_action' CHECK (kind = 'contamination_action'),
        
            event_id TEXT NOT NULL REFERENCES contamination_event (event_id),
            station_id TEXT NOT NULL REFERENCES station (station_id),
            action TEXT NOT NULL REFERENCES action (word),
            volume_l REAL CHECK (volume_l >= 0),
            note TEXT NOT NULL
            ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "contamination_action" VALUES('019e0c9b-d600-7000-8000-00000000000f','contamination_action','019e0c9b-d600-7000-8000-000000000003','019e0c9b-d600-7000-8000-000000000002','bailed',50.0,'');
CREATE TABLE contamination_event
        (event_id TEXT PRIMARY KEY CHECK (length(event_id) = 36)) STRICT;
INSERT INTO "contamination_event" VALUES('019e0c9b-d600-7000-8000-000000000003');
CREATE TABLE contamination_sign (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'contamination_sign' CHECK (kind = 'contamination_sign'),
        
            event_id TEXT NOT NULL REFERENCES contamination_event (event_id),
            station_id TEXT NOT NULL REFERENCES station (station_id),
            smell TEXT REFERENCES strength (word),
            colour TEXT REFERENCES strength (word),
            response TEXT REFERENCES response (word),
            CHECK (smell IS NOT NULL OR colour IS NOT NULL OR response IS NOT NULL)
            ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "contamination_sign" VALUES('019e0c9b-d600-7000-8000-000000000013','contamination_sign','019e0c9b-d600-7000-8000-000000000003','019e0c9b-d600-7000-8000-000000000002','faint',NULL,'avoided');
CREATE TABLE decision (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "decision" VALUES('put off');
INSERT INTO "decision" VALUES('declined');
CREATE TABLE drinking_season (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "drinking_season" VALUES('green summer');
INSERT INTO "drinking_season" VALUES('dry summer');
CREATE TABLE entry (
        entry_id TEXT PRIMARY KEY CHECK (length(entry_id) = 36),
        batch_id TEXT NOT NULL REFERENCES batch (batch_id),
        kind TEXT NOT NULL REFERENCES entry_kind (kind),
        about TEXT NOT NULL CHECK (about IS date(about, '+0 days')),
        written_utc TEXT NOT NULL CHECK (datetime(written_utc) IS NOT NULL),
        revises TEXT REFERENCES entry (entry_id),
        UNIQUE (entry_id, kind),
        CHECK (kind <> 'withdrawal' OR revises IS NOT NULL)
    ) STRICT;
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000007','019e0c9b-d600-7000-8000-000000000006','tract_facts','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000008','019e0c9b-d600-7000-8000-000000000006','station_facts','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000009','019e0c9b-d600-7000-8000-000000000006','chore','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-00000000000a','019e0c9b-d600-7000-8000-000000000006','reading','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-00000000000b','019e0c9b-d600-7000-8000-000000000006','reading','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-00000000000c','019e0c9b-d600-7000-8000-000000000006','sighting','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-00000000000d','019e0c9b-d600-7000-8000-000000000006','ramp_check','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-00000000000e','019e0c9b-d600-7000-8000-000000000006','contamination','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-00000000000f','019e0c9b-d600-7000-8000-000000000006','contamination_action','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000010','019e0c9b-d600-7000-8000-000000000006','gauge_reading','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000011','019e0c9b-d600-7000-8000-000000000006','note','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000012','019e0c9b-d600-7000-8000-000000000006','weather_import','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000013','019e0c9b-d600-7000-8000-000000000006','contamination_sign','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000014','019e0c9b-d600-7000-8000-000000000006','bear_visit','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000015','019e0c9b-d600-7000-8000-000000000006','photo','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000016','019e0c9b-d600-7000-8000-000000000006','cause_setting','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000017','019e0c9b-d600-7000-8000-000000000006','monthly_normals','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000018','019e0c9b-d600-7000-8000-000000000006','season_window','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-000000000019','019e0c9b-d600-7000-8000-000000000006','season_limit','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-00000000001a','019e0c9b-d600-7000-8000-000000000006','prompt_answer','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-00000000001b','019e0c9b-d600-7000-8000-000000000006','site_check','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
INSERT INTO "entry" VALUES('019e0c9b-d600-7000-8000-00000000001c','019e0c9b-d600-7000-8000-000000000006','kept_setting','2026-05-09','2026-05-09T12:00:00+00:00',NULL);
CREATE TABLE entry_kind (kind TEXT PRIMARY KEY) STRICT;
INSERT INTO "entry_kind" VALUES('tract_facts');
INSERT INTO "entry_kind" VALUES('station_facts');
INSERT INTO "entry_kind" VALUES('reading');
INSERT INTO "entry_kind" VALUES('sighting');
INSERT INTO "entry_kind" VALUES('ramp_check');
INSERT INTO "entry_kind" VALUES('chore');
INSERT INTO "entry_kind" VALUES('contamination');
INSERT INTO "entry_kind" VALUES('contamination_action');
INSERT INTO "entry_kind" VALUES('gauge_reading');
INSERT INTO "entry_kind" VALUES('note');
INSERT INTO "entry_kind" VALUES('weather_import');
INSERT INTO "entry_kind" VALUES('withdrawal');
INSERT INTO "entry_kind" VALUES('contamination_sign');
INSERT INTO "entry_kind" VALUES('bear_visit');
INSERT INTO "entry_kind" VALUES('photo');
INSERT INTO "entry_kind" VALUES('cause_setting');
INSERT INTO "entry_kind" VALUES('monthly_normals');
INSERT INTO "entry_kind" VALUES('season_window');
INSERT INTO "entry_kind" VALUES('season_limit');
INSERT INTO "entry_kind" VALUES('prompt_answer');
INSERT INTO "entry_kind" VALUES('site_check');
INSERT INTO "entry_kind" VALUES('kept_setting');
CREATE TABLE expected_use (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "expected_use" VALUES('light');
INSERT INTO "expected_use" VALUES('average');
INSERT INTO "expected_use" VALUES('heavy');
CREATE TABLE exposure (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "exposure" VALUES('open');
INSERT INTO "exposure" VALUES('part shade');
INSERT INTO "exposure" VALUES('deep shade');
CREATE TABLE gauge_reading (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'gauge_reading' CHECK (kind = 'gauge_reading'),
        
            tract_id TEXT NOT NULL REFERENCES tract (tract_id),
            rain_mm REAL NOT NULL CHECK (rain_mm BETWEEN 0 AND 2000)
            ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "gauge_reading" VALUES('019e0c9b-d600-7000-8000-000000000010','gauge_reading','019e0c9b-d600-7000-8000-000000000001',12.7);
CREATE TABLE kept_setting (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'kept_setting' CHECK (kind = 'kept_setting'),
        name TEXT NOT NULL CHECK (name <> ''), value TEXT NOT NULL,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "kept_setting" VALUES('019e0c9b-d600-7000-8000-00000000001c','kept_setting','work kit','{"payload_kg": 400.0}');
CREATE TABLE level_mark (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "level_mark" VALUES('full');
INSERT INTO "level_mark" VALUES('three quarters');
INSERT INTO "level_mark" VALUES('half');
INSERT INTO "level_mark" VALUES('quarter');
INSERT INTO "level_mark" VALUES('dry');
CREATE TABLE limit_kind (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "limit_kind" VALUES('fill below');
INSERT INTO "limit_kind" VALUES('dry chance');
INSERT INTO "limit_kind" VALUES('visit days');
INSERT INTO "limit_kind" VALUES('ramp days');
CREATE TABLE monthly_normals (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'monthly_normals' CHECK (kind = 'monthly_normals'),
        
            tract_id TEXT NOT NULL REFERENCES tract (tract_id),
            month INTEGER NOT NULL CHECK (month BETWEEN 1 AND 12),
            rain_mm REAL NOT NULL CHECK (rain_mm BETWEEN 0 AND 5000),
            wet_days REAL NOT NULL CHECK (wet_days BETWEEN 0 AND 31),
            tmin_c REAL NOT NULL CHECK (tmin_c BETWEEN -90 AND 60),
            tmax_c REAL NOT NULL CHECK (tmax_c BETWEEN -90 AND 60),
            CHECK (tmin_c <= tmax_c)
            ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "monthly_normals" VALUES('019e0c9b-d600-7000-8000-000000000017','monthly_normals','019e0c9b-d600-7000-8000-000000000001',5,80.0,11.0,8.0,20.0);
CREATE TABLE note (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'note' CHECK (kind = 'note'),
        station_id TEXT NOT NULL REFERENCES station (station_id), text TEXT NOT NULL CHECK (trim(text) <> ''),
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "note" VALUES('019e0c9b-d600-7000-8000-000000000011','note','019e0c9b-d600-7000-8000-000000000002','quiet');
CREATE TABLE photo (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'photo' CHECK (kind = 'photo'),
        
            station_id TEXT NOT NULL REFERENCES station (station_id),
            path TEXT NOT NULL CHECK (path <> ''),
            sha256 TEXT NOT NULL CHECK (length(sha256) = 64),
            event_id TEXT REFERENCES contamination_event (event_id)
            ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "photo" VALUES('019e0c9b-d600-7000-8000-000000000015','photo','019e0c9b-d600-7000-8000-000000000002','tank.jpg','0000000000000000000000000000000000000000000000000000000000000000','019e0c9b-d600-7000-8000-000000000003');
CREATE TABLE prompt_answer (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'prompt_answer' CHECK (kind = 'prompt_answer'),
        
            station_id TEXT NOT NULL REFERENCES station (station_id),
            prompt TEXT NOT NULL REFERENCES prompt_kind (word),
            asked TEXT NOT NULL CHECK (asked IS date(asked, '+0 days')),
            decision TEXT NOT NULL REFERENCES decision (word),
            until TEXT CHECK (until IS NULL OR until IS date(until, '+0 days')),
            note TEXT NOT NULL,
            event_id TEXT REFERENCES contamination_event (event_id),
            CHECK ((decision = 'put off') = (until IS NOT NULL))
            ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "prompt_answer" VALUES('019e0c9b-d600-7000-8000-00000000001a','prompt_answer','019e0c9b-d600-7000-8000-000000000002','fill','2026-05-09','put off','2026-05-09','later',NULL);
CREATE TABLE prompt_kind (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "prompt_kind" VALUES('ramp');
INSERT INTO "prompt_kind" VALUES('contamination');
INSERT INTO "prompt_kind" VALUES('fill');
INSERT INTO "prompt_kind" VALUES('run dry');
INSERT INTO "prompt_kind" VALUES('check');
INSERT INTO "prompt_kind" VALUES('rake');
INSERT INTO "prompt_kind" VALUES('install');
INSERT INTO "prompt_kind" VALUES('uncover');
INSERT INTO "prompt_kind" VALUES('cover');
INSERT INTO "prompt_kind" VALUES('bears');
CREATE TABLE ramp_check (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'ramp_check' CHECK (kind = 'ramp_check'),
        station_id TEXT NOT NULL REFERENCES station (station_id), in_place INTEGER NOT NULL CHECK (in_place IN (0, 1)),
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "ramp_check" VALUES('019e0c9b-d600-7000-8000-00000000000d','ramp_check','019e0c9b-d600-7000-8000-000000000002',0);
CREATE TABLE reading (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'reading' CHECK (kind = 'reading'),
        
            station_id TEXT NOT NULL REFERENCES station (station_id),
            below_rim_mm REAL CHECK (below_rim_mm >= 0),
            mark TEXT REFERENCES level_mark (word),
            CHECK ((below_rim_mm IS NULL) <> (mark IS NULL))
            ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "reading" VALUES('019e0c9b-d600-7000-8000-00000000000a','reading','019e0c9b-d600-7000-8000-000000000002',101.6,NULL);
INSERT INTO "reading" VALUES('019e0c9b-d600-7000-8000-00000000000b','reading','019e0c9b-d600-7000-8000-000000000002',NULL,'half');
CREATE TABLE response (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "response" VALUES('avoided');
INSERT INTO "response" VALUES('used');
CREATE TABLE season_limit (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'season_limit' CHECK (kind = 'season_limit'),
        
            tract_id TEXT NOT NULL REFERENCES tract (tract_id),
            "limit" TEXT NOT NULL REFERENCES limit_kind (word),
            value REAL NOT NULL CHECK (value >= 0)
            ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "season_limit" VALUES('019e0c9b-d600-7000-8000-000000000019','season_limit','019e0c9b-d600-7000-8000-000000000001','visit days',14.0);
CREATE TABLE season_window (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'season_window' CHECK (kind = 'season_window'),
        
            tract_id TEXT NOT NULL REFERENCES tract (tract_id),
            window TEXT NOT NULL REFERENCES window_kind (word),
            first TEXT NOT NULL CHECK (first IS strftime('%m-%d', '2024-' || first, '+0 days')),
            last TEXT NOT NULL CHECK (last IS strftime('%m-%d', '2024-' || last, '+0 days'))
            ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "season_window" VALUES('019e0c9b-d600-7000-8000-000000000018','season_window','019e0c9b-d600-7000-8000-000000000001','rake','03-25','04-20');
CREATE TABLE second_undo (
        batch_id TEXT PRIMARY KEY REFERENCES batch (batch_id),
        undoes TEXT NOT NULL REFERENCES batch (batch_id)
    ) STRICT;
CREATE TABLE setting (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
CREATE TABLE shape (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "shape" VALUES('rectangular');
INSERT INTO "shape" VALUES('round');
INSERT INTO "shape" VALUES('oblong');
INSERT INTO "shape" VALUES('half-drum');
INSERT INTO "shape" VALUES('measured');
CREATE TABLE sighting (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'sighting' CHECK (kind = 'sighting'),
        
            station_id TEXT NOT NULL REFERENCES station (station_id),
            "use" TEXT REFERENCES use_seen (word),
            camera_per_day REAL CHECK (camera_per_day >= 0),
            CHECK ("use" IS NOT NULL OR camera_per_day IS NOT NULL)
            ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "sighting" VALUES('019e0c9b-d600-7000-8000-00000000000c','sighting','019e0c9b-d600-7000-8000-000000000002','heavy',NULL);
CREATE TABLE site_check (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'site_check' CHECK (kind = 'site_check'),
        station_id TEXT NOT NULL REFERENCES station (station_id), rim INTEGER CHECK (rim IN (0, 1)), bank INTEGER CHECK (bank IN (0, 1)), approach INTEGER CHECK (approach IN (0, 1)), hollow INTEGER CHECK (hollow IN (0, 1)), plot INTEGER CHECK (plot IN (0, 1)), dull INTEGER CHECK (dull IN (0, 1)), ramp INTEGER CHECK (ramp IN (0, 1)), bears INTEGER CHECK (bears IN (0, 1)), pressure INTEGER CHECK (pressure IN (0, 1)), asked INTEGER CHECK (asked IN (0, 1)), note TEXT NOT NULL,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "site_check" VALUES('019e0c9b-d600-7000-8000-00000000001b','site_check','019e0c9b-d600-7000-8000-000000000002',1,0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'dry');
CREATE TABLE station (station_id TEXT PRIMARY KEY CHECK (length(station_id) = 36)) STRICT;
INSERT INTO "station" VALUES('019e0c9b-d600-7000-8000-000000000002');
CREATE TABLE station_facts (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'station_facts' CHECK (kind = 'station_facts'),
        
        station_id TEXT NOT NULL REFERENCES station (station_id),
        tract_id TEXT NOT NULL REFERENCES tract (tract_id),
        name TEXT NOT NULL CHECK (trim(name) <> ''),
        shape TEXT NOT NULL REFERENCES shape (word),
        depth_mm REAL NOT NULL CHECK (depth_mm > 0),
        length_mm REAL CHECK (length_mm > 0),
        width_mm REAL CHECK (width_mm > 0),
        diameter_mm REAL CHECK (diameter_mm > 0),
        bottom_length_mm REAL CHECK (bottom_length_mm > 0),
        bottom_width_mm REAL CHECK (bottom_width_mm > 0),
        bottom_diameter_mm REAL CHECK (bottom_diameter_mm > 0),
        apron_area_m2 REAL NOT NULL CHECK (apron_area_m2 >= 0),
        apron_surface TEXT NOT NULL REFERENCES apron_surface (word),
        rim_above_ground_mm REAL NOT NULL CHECK (rim_above_ground_mm >= 0),
        exposure TEXT NOT NULL REFERENCES exposure (word),
        access TEXT NOT NULL REFERENCES access (word),
        expected_use TEXT NOT NULL REFERENCES expected_use (word),
        bear_country INTEGER NOT NULL CHECK (bear_country IN (0, 1)),
        latitude_deg REAL CHECK (latitude_deg BETWEEN -90 AND 90),
        longitude_deg REAL CHECK (longitude_deg BETWEEN -180 AND 180), directions TEXT NOT NULL DEFAULT '',
        CHECK (shape IN ('round', 'measured') OR length_mm IS NOT NULL),
        CHECK (shape NOT IN ('rectangular', 'oblong') OR width_mm IS NOT NULL),
        CHECK (shape NOT IN ('round', 'half-drum') OR diameter_mm IS NOT NULL)
        ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "station_facts" VALUES('019e0c9b-d600-7000-8000-000000000008','station_facts','019e0c9b-d600-7000-8000-000000000002','019e0c9b-d600-7000-8000-000000000001','Oak [flat]','measured',762.0,NULL,NULL,NULL,NULL,NULL,NULL,14.0,'sculpted soil',0.0,'part shade','foot','average',0,NULL,NULL,'');
CREATE TABLE strength (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "strength" VALUES('none');
INSERT INTO "strength" VALUES('faint');
INSERT INTO "strength" VALUES('strong');
CREATE TABLE tank_depth_volume (
        entry_id TEXT NOT NULL REFERENCES station_facts (entry_id),
        depth_mm REAL NOT NULL CHECK (depth_mm >= 0),
        volume_l REAL NOT NULL CHECK (volume_l >= 0),
        PRIMARY KEY (entry_id, depth_mm)
    ) STRICT, WITHOUT ROWID;
INSERT INTO "tank_depth_volume" VALUES('019e0c9b-d600-7000-8000-000000000008',0.0,0.0);
INSERT INTO "tank_depth_volume" VALUES('019e0c9b-d600-7000-8000-000000000008',300.0,90.0);
INSERT INTO "tank_depth_volume" VALUES('019e0c9b-d600-7000-8000-000000000008',762.0,400.0);
CREATE TABLE tract (tract_id TEXT PRIMARY KEY CHECK (length(tract_id) = 36)) STRICT;
INSERT INTO "tract" VALUES('019e0c9b-d600-7000-8000-000000000001');
CREATE TABLE tract_facts (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'tract_facts' CHECK (kind = 'tract_facts'),
        
        tract_id TEXT NOT NULL REFERENCES tract (tract_id),
        name TEXT NOT NULL CHECK (trim(name) <> ''),
        latitude_deg REAL CHECK (latitude_deg BETWEEN -90 AND 90),
        longitude_deg REAL CHECK (longitude_deg BETWEEN -180 AND 180),
        elevation_m REAL CHECK (elevation_m BETWEEN -500 AND 9000),
        weather_record_id TEXT REFERENCES weather_record (record_id)
        , bear_season_first TEXT CHECK (bear_season_first IS NULL OR bear_season_first IS strftime('%m-%d', '2024-' || bear_season_first, '+0 days')), bear_season_last TEXT CHECK (bear_season_last IS NULL OR bear_season_last IS strftime('%m-%d', '2024-' || bear_season_last, '+0 days')), forecast_record_id TEXT REFERENCES weather_record (record_id), drinking TEXT REFERENCES drinking_season (word),
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "tract_facts" VALUES('019e0c9b-d600-7000-8000-000000000007','tract_facts','019e0c9b-d600-7000-8000-000000000001','North ridge',42.0,-75.0,400.0,'019e0c9b-d600-7000-8000-000000000004',NULL,NULL,NULL,NULL);
CREATE TABLE use_seen (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "use_seen" VALUES('none');
INSERT INTO "use_seen" VALUES('light');
INSERT INTO "use_seen" VALUES('heavy');
CREATE TABLE weather_day (
        import_id TEXT NOT NULL REFERENCES weather_file (import_id),
        day TEXT NOT NULL CHECK (day IS date(day, '+0 days')),
        rain_mm REAL CHECK (rain_mm BETWEEN 0 AND 2000),
        tmin_c REAL CHECK (tmin_c BETWEEN -90 AND 60),
        tmax_c REAL CHECK (tmax_c BETWEEN -90 AND 60),
        humidity_pct REAL CHECK (humidity_pct BETWEEN 0 AND 100),
        dewpoint_c REAL CHECK (dewpoint_c BETWEEN -100 AND 60),
        wind_m_s REAL CHECK (wind_m_s BETWEEN 0 AND 120),
        sun_mj_m2 REAL CHECK (sun_mj_m2 BETWEEN 0 AND 60),
        PRIMARY KEY (import_id, day),
        CHECK (tmin_c <= tmax_c)
    ) STRICT, WITHOUT ROWID;
INSERT INTO "weather_day" VALUES('019e0c9b-d600-7000-8000-000000000005','2026-05-08',3.0,5.0,15.0,NULL,NULL,NULL,NULL);
CREATE TABLE weather_file (import_id TEXT PRIMARY KEY CHECK (length(import_id) = 36)) STRICT;
INSERT INTO "weather_file" VALUES('019e0c9b-d600-7000-8000-000000000005');
CREATE TABLE weather_import (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'weather_import' CHECK (kind = 'weather_import'),
        
        import_id TEXT NOT NULL REFERENCES weather_file (import_id),
        record_id TEXT NOT NULL REFERENCES weather_record (record_id),
        record_name TEXT NOT NULL CHECK (trim(record_name) <> ''),
        source TEXT NOT NULL,
        latitude_deg REAL CHECK (latitude_deg BETWEEN -90 AND 90),
        longitude_deg REAL CHECK (longitude_deg BETWEEN -180 AND 180),
        elevation_m REAL CHECK (elevation_m BETWEEN -500 AND 9000)
        ,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
INSERT INTO "weather_import" VALUES('019e0c9b-d600-7000-8000-000000000012','weather_import','019e0c9b-d600-7000-8000-000000000005','019e0c9b-d600-7000-8000-000000000004','Barn','barn.csv',NULL,NULL,NULL);
CREATE TABLE weather_record (record_id TEXT PRIMARY KEY CHECK (length(record_id) = 36)) STRICT;
INSERT INTO "weather_record" VALUES('019e0c9b-d600-7000-8000-000000000004');
CREATE TABLE window_kind (word TEXT PRIMARY KEY) STRICT;
INSERT INTO "window_kind" VALUES('rake');
INSERT INTO "window_kind" VALUES('install');
INSERT INTO "window_kind" VALUES('ready');
INSERT INTO "window_kind" VALUES('fill');
INSERT INTO "window_kind" VALUES('quiet weeks');
INSERT INTO "window_kind" VALUES('heavy use');
INSERT INTO "window_kind" VALUES('winter');
CREATE TABLE withdrawal (
        entry_id TEXT PRIMARY KEY,
        kind TEXT NOT NULL DEFAULT 'withdrawal' CHECK (kind = 'withdrawal'),
        reason TEXT NOT NULL,
        FOREIGN KEY (entry_id, kind) REFERENCES entry (entry_id, kind)
    ) STRICT;
CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");
CREATE INDEX entry_by_batch ON entry (batch_id);
CREATE INDEX entry_by_revised ON entry (revises);
CREATE VIEW live_entry AS
        SELECT * FROM entry
        WHERE kind <> 'withdrawal'
        AND NOT EXISTS (SELECT 1 FROM entry AS later WHERE later.revises = entry.entry_id);
CREATE TRIGGER batch_is_kept_on_update BEFORE UPDATE ON batch
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER batch_is_kept_on_delete BEFORE DELETE ON batch
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER entry_is_kept_on_update BEFORE UPDATE ON entry
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER entry_is_kept_on_delete BEFORE DELETE ON entry
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER tract_facts_is_kept_on_update BEFORE UPDATE ON tract_facts
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER tract_facts_is_kept_on_delete BEFORE DELETE ON tract_facts
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER station_facts_is_kept_on_update BEFORE UPDATE ON station_facts
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER station_facts_is_kept_on_delete BEFORE DELETE ON station_facts
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER reading_is_kept_on_update BEFORE UPDATE ON reading
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER reading_is_kept_on_delete BEFORE DELETE ON reading
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER sighting_is_kept_on_update BEFORE UPDATE ON sighting
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER sighting_is_kept_on_delete BEFORE DELETE ON sighting
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER ramp_check_is_kept_on_update BEFORE UPDATE ON ramp_check
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER ramp_check_is_kept_on_delete BEFORE DELETE ON ramp_check
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER chore_is_kept_on_update BEFORE UPDATE ON chore
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER chore_is_kept_on_delete BEFORE DELETE ON chore
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER contamination_is_kept_on_update BEFORE UPDATE ON contamination
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER contamination_is_kept_on_delete BEFORE DELETE ON contamination
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER contamination_action_is_kept_on_update BEFORE UPDATE ON contamination_action
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER contamination_action_is_kept_on_delete BEFORE DELETE ON contamination_action
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER gauge_reading_is_kept_on_update BEFORE UPDATE ON gauge_reading
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER gauge_reading_is_kept_on_delete BEFORE DELETE ON gauge_reading
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER note_is_kept_on_update BEFORE UPDATE ON note
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER note_is_kept_on_delete BEFORE DELETE ON note
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER weather_import_is_kept_on_update BEFORE UPDATE ON weather_import
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER weather_import_is_kept_on_delete BEFORE DELETE ON weather_import
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER withdrawal_is_kept_on_update BEFORE UPDATE ON withdrawal
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER withdrawal_is_kept_on_delete BEFORE DELETE ON withdrawal
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER tank_depth_volume_is_kept_on_update BEFORE UPDATE ON tank_depth_volume
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER tank_depth_volume_is_kept_on_delete BEFORE DELETE ON tank_depth_volume
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER weather_day_is_kept_on_update BEFORE UPDATE ON weather_day
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER weather_day_is_kept_on_delete BEFORE DELETE ON weather_day
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER contamination_sign_is_kept_on_update BEFORE UPDATE ON contamination_sign
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER contamination_sign_is_kept_on_delete BEFORE DELETE ON contamination_sign
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER bear_visit_is_kept_on_update BEFORE UPDATE ON bear_visit
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER bear_visit_is_kept_on_delete BEFORE DELETE ON bear_visit
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER photo_is_kept_on_update BEFORE UPDATE ON photo
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER photo_is_kept_on_delete BEFORE DELETE ON photo
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER cause_setting_is_kept_on_update BEFORE UPDATE ON cause_setting
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER cause_setting_is_kept_on_delete BEFORE DELETE ON cause_setting
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER monthly_normals_is_kept_on_update BEFORE UPDATE ON monthly_normals
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER monthly_normals_is_kept_on_delete BEFORE DELETE ON monthly_normals
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER season_window_is_kept_on_update BEFORE UPDATE ON season_window
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER season_window_is_kept_on_delete BEFORE DELETE ON season_window
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER season_limit_is_kept_on_update BEFORE UPDATE ON season_limit
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER season_limit_is_kept_on_delete BEFORE DELETE ON season_limit
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER prompt_answer_is_kept_on_update BEFORE UPDATE ON prompt_answer
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER prompt_answer_is_kept_on_delete BEFORE DELETE ON prompt_answer
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER site_check_is_kept_on_update BEFORE UPDATE ON site_check
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER site_check_is_kept_on_delete BEFORE DELETE ON site_check
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE VIEW batch_as_saved AS
        SELECT batch.batch_id, title, written_utc,
            coalesce(batch.undoes, second_undo.undoes) AS undoes
        FROM batch LEFT JOIN second_undo USING (batch_id);
CREATE TRIGGER second_undo_is_kept_on_update BEFORE UPDATE ON second_undo
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER second_undo_is_kept_on_delete BEFORE DELETE ON second_undo
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER kept_setting_is_kept_on_update BEFORE UPDATE ON kept_setting
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
CREATE TRIGGER kept_setting_is_kept_on_delete BEFORE DELETE ON kept_setting
        BEGIN SELECT RAISE(ABORT, 'entries are only ever added'); END;
COMMIT;
