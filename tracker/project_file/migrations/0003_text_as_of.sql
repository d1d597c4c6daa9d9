-- The day of the text of a law that was read: column text_as_of of the answers. A copy of an old text is an old text.
-- The table is made anew, so that a migrated file has the very form of a new one.

CREATE TABLE answers_before AS SELECT * FROM answers;

DROP TABLE answers;

CREATE TABLE answers (
    position INTEGER NOT NULL,
    version INTEGER NOT NULL,
    question TEXT NOT NULL,
    answer TEXT NOT NULL,
    source TEXT NOT NULL,
    checked_on TEXT,
    text_as_of TEXT,
    PRIMARY KEY (question),
    CONSTRAINT position CHECK (typeof(position) = 'integer' AND position > 0),
    CONSTRAINT version CHECK (typeof(version) = 'integer' AND version > 0),
    CONSTRAINT question CHECK (length("question") BETWEEN 1 AND 40 AND "question" NOT GLOB '*[^A-Za-z0-9._-]*'),
    CONSTRAINT answer CHECK (typeof("answer") = 'text'),
    CONSTRAINT source CHECK (typeof("source") = 'text'),
    CONSTRAINT checked_on CHECK ("checked_on" IS NULL OR (date("checked_on") IS "checked_on" AND "checked_on" BETWEEN '1900-01-01' AND '2199-12-31')),
    CONSTRAINT text_as_of CHECK ("text_as_of" IS NULL OR (date("text_as_of") IS "text_as_of" AND "text_as_of" BETWEEN '1900-01-01' AND '2199-12-31'))
);

INSERT INTO answers ("position", "version", "question", "answer", "source", "checked_on")
SELECT "position", "version", "question", "answer", "source", "checked_on"
FROM answers_before;

DROP TABLE answers_before;
