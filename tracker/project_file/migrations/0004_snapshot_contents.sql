-- Texts of snapshots are kept once, packed, by their SHA-256; a snapshot's tables and the history name them. Steps of the
-- history from before a migration are told and not undone: what they name stays among the contents.

CREATE TABLE snapshot_contents (
    sha256 TEXT NOT NULL,
    content BLOB NOT NULL,
    PRIMARY KEY (sha256),
    CONSTRAINT sha256 CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
    CONSTRAINT content CHECK (typeof(content) = 'blob')
);

INSERT OR IGNORE INTO snapshot_contents (sha256, content)
SELECT sha256_of(content), packed(content) FROM snapshot_tables;

INSERT OR IGNORE INTO snapshot_contents (sha256, content)
SELECT sha256_of(json_extract("before", '$.content')), packed(json_extract("before", '$.content'))
FROM history_changes
WHERE "table" = 'snapshot_tables' AND "before" IS NOT NULL;

INSERT OR IGNORE INTO snapshot_contents (sha256, content)
SELECT sha256_of(json_extract("after", '$.content')), packed(json_extract("after", '$.content'))
FROM history_changes
WHERE "table" = 'snapshot_tables' AND "after" IS NOT NULL;

UPDATE history_changes
SET "before" = json_set(json_remove("before", '$.content'), '$.sha256', sha256_of(json_extract("before", '$.content')))
WHERE "table" = 'snapshot_tables' AND "before" IS NOT NULL;

UPDATE history_changes
SET "after" = json_set(json_remove("after", '$.content'), '$.sha256', sha256_of(json_extract("after", '$.content')))
WHERE "table" = 'snapshot_tables' AND "after" IS NOT NULL;

CREATE TABLE snapshot_tables_before AS
SELECT "position", "version", "snapshot", "name", sha256_of(content) AS sha256 FROM snapshot_tables;

DROP TABLE snapshot_tables;

CREATE TABLE snapshot_tables (
    position INTEGER NOT NULL,
    version INTEGER NOT NULL,
    snapshot TEXT NOT NULL,
    name TEXT NOT NULL,
    sha256 TEXT NOT NULL,
    PRIMARY KEY (snapshot, name),
    CONSTRAINT position CHECK (typeof(position) = 'integer' AND position > 0),
    CONSTRAINT version CHECK (typeof(version) = 'integer' AND version > 0),
    FOREIGN KEY(snapshot) REFERENCES snapshots (date) DEFERRABLE INITIALLY DEFERRED,
    FOREIGN KEY(sha256) REFERENCES snapshot_contents (sha256) DEFERRABLE INITIALLY DEFERRED,
    CONSTRAINT name CHECK (typeof(name) = 'text' AND name <> '')
);

INSERT INTO snapshot_tables ("position", "version", "snapshot", "name", "sha256")
SELECT "position", "version", "snapshot", "name", "sha256"
FROM snapshot_tables_before;

DROP TABLE snapshot_tables_before;
