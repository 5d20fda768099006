-- A store as format 1 wrote it: two jobs of a scenario we made up. Never edited: it stands for files on disk.
PRAGMA application_id = 1819238756;
PRAGMA user_version = 1;
CREATE TABLE bundles (hash TEXT PRIMARY KEY, main TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE bundle_files (
    hash TEXT NOT NULL REFERENCES bundles (hash),
    name TEXT NOT NULL,
    content BLOB NOT NULL,
    PRIMARY KEY (hash, name)
) WITHOUT ROWID;
CREATE TABLE jobs (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    flow TEXT NOT NULL,
    title TEXT NOT NULL,
    revision INTEGER NOT NULL,
    flow_hash TEXT NOT NULL REFERENCES bundles (hash),
    program_version TEXT NOT NULL,
    table_version TEXT NOT NULL,
    band_version TEXT NOT NULL,
    created TEXT NOT NULL,
    after INTEGER REFERENCES jobs (id),
    vehicle TEXT NOT NULL,
    learner INTEGER NOT NULL
);
CREATE TABLE events (
    job INTEGER NOT NULL REFERENCES jobs (id),
    number INTEGER NOT NULL,
    format INTEGER NOT NULL,
    kind TEXT NOT NULL,
    at TEXT NOT NULL,
    step TEXT NOT NULL,
    visit INTEGER NOT NULL,
    item TEXT NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (job, number)
) WITHOUT ROWID;
INSERT INTO bundles VALUES ('beef', 'mild_day.yaml');
INSERT INTO bundle_files VALUES ('beef', 'mild_day.yaml', x'666f726d61743a20310a');
INSERT INTO jobs VALUES (1, 'mild_day', 'A mild day', 3, 'beef', '0.1.0', 't1', 'b1',
    '2026-11-25T09:00:00.000000+00:00', NULL, 'blue estate', 0);
INSERT INTO jobs VALUES (2, 'mild_day', 'A mild day', 3, 'beef', '0.1.0', 't1', 'b1',
    '2026-11-25T10:00:00.000000+00:00', 1, '', 1);
INSERT INTO events VALUES (1, 1, 1, 'started', '2026-11-25T09:00:00.000000+00:00', '', 1, '',
    '{"flow":"mild_day","text":"","unit":"","value":null,"detail":{}}');
INSERT INTO events VALUES (1, 2, 1, 'answered', '2026-11-25T09:01:00.000000+00:00', 'look', 1, 'low_side',
    '{"flow":"mild_day","text":"41","unit":"psi","value":282685.0,"detail":{}}');
INSERT INTO events VALUES (1, 3, 1, 'answered', '2026-11-25T09:02:00.000000+00:00', 'look', 1, 'high_side',
    '{"flow":"mild_day","text":"150","unit":"psi","value":1034214.0,"detail":{}}');
INSERT INTO events VALUES (1, 4, 1, 'concluded', '2026-11-25T09:03:00.000000+00:00', 'end', 1, '',
    '{"flow":"mild_day","text":"","unit":"","value":null,"detail":{"finding":"undercharge"}}');
INSERT INTO events VALUES (2, 1, 1, 'started', '2026-11-25T10:00:00.000000+00:00', '', 1, '',
    '{"flow":"mild_day","text":"","unit":"","value":null,"detail":{}}');
