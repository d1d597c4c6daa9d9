-- The project's own day: column pinned_today of the project, the day that counts as today whatever the clock says.
-- The table is made anew, so that a migrated file has the very form of a new one.

CREATE TABLE project_before AS SELECT * FROM project;

DROP TABLE project;

CREATE TABLE project (
    position INTEGER NOT NULL,
    version INTEGER NOT NULL,
    only_row INTEGER NOT NULL,
    name TEXT NOT NULL,
    address TEXT NOT NULL,
    existing_use TEXT NOT NULL,
    proposed_use TEXT NOT NULL,
    start TEXT NOT NULL,
    status_date TEXT,
    opening TEXT,
    promised_opening TEXT,
    jurisdiction TEXT NOT NULL,
    currency TEXT NOT NULL,
    loan_interest_per_day INTEGER,
    insurance_per_day INTEGER,
    tax_per_day INTEGER,
    utilities_per_day INTEGER,
    rent_per_day INTEGER,
    vacancy INTEGER,
    running_costs_per_month INTEGER,
    value_when_done INTEGER,
    cash_on_hand INTEGER,
    pinned_today TEXT,
    funding_days INTEGER,
    payment_days INTEGER,
    near_critical_days INTEGER NOT NULL,
    risk_shape TEXT NOT NULL,
    risk_trials INTEGER NOT NULL,
    risk_seed INTEGER NOT NULL,
    common_cause INTEGER NOT NULL,
    low_bid_share INTEGER NOT NULL,
    PRIMARY KEY (only_row),
    CONSTRAINT position CHECK (typeof(position) = 'integer' AND position > 0),
    CONSTRAINT version CHECK (typeof(version) = 'integer' AND version > 0),
    CONSTRAINT one_row CHECK (only_row = 1),
    CONSTRAINT name CHECK (typeof("name") = 'text'),
    CONSTRAINT address CHECK (typeof("address") = 'text'),
    CONSTRAINT existing_use CHECK (typeof("existing_use") = 'text'),
    CONSTRAINT proposed_use CHECK (typeof("proposed_use") = 'text'),
    CONSTRAINT start CHECK (date("start") IS "start" AND "start" BETWEEN '1900-01-01' AND '2199-12-31'),
    CONSTRAINT status_date CHECK ("status_date" IS NULL OR (date("status_date") IS "status_date" AND "status_date" BETWEEN '1900-01-01' AND '2199-12-31')),
    CONSTRAINT opening CHECK ("opening" IS NULL OR (length("opening") BETWEEN 1 AND 40 AND "opening" NOT GLOB '*[^A-Za-z0-9._-]*')),
    CONSTRAINT promised_opening CHECK ("promised_opening" IS NULL OR (date("promised_opening") IS "promised_opening" AND "promised_opening" BETWEEN '1900-01-01' AND '2199-12-31')),
    CONSTRAINT jurisdiction CHECK (typeof("jurisdiction") = 'text'),
    CONSTRAINT currency CHECK (typeof("currency") = 'text'),
    CONSTRAINT loan_interest_per_day CHECK ("loan_interest_per_day" IS NULL OR (typeof("loan_interest_per_day") = 'integer' AND "loan_interest_per_day" BETWEEN 0 AND 9999999999999)),
    CONSTRAINT insurance_per_day CHECK ("insurance_per_day" IS NULL OR (typeof("insurance_per_day") = 'integer' AND "insurance_per_day" BETWEEN 0 AND 9999999999999)),
    CONSTRAINT tax_per_day CHECK ("tax_per_day" IS NULL OR (typeof("tax_per_day") = 'integer' AND "tax_per_day" BETWEEN 0 AND 9999999999999)),
    CONSTRAINT utilities_per_day CHECK ("utilities_per_day" IS NULL OR (typeof("utilities_per_day") = 'integer' AND "utilities_per_day" BETWEEN 0 AND 9999999999999)),
    CONSTRAINT rent_per_day CHECK ("rent_per_day" IS NULL OR (typeof("rent_per_day") = 'integer' AND "rent_per_day" BETWEEN 0 AND 9999999999999)),
    CONSTRAINT vacancy CHECK ("vacancy" IS NULL OR (typeof("vacancy") = 'integer' AND "vacancy" BETWEEN 0 AND 100000)),
    CONSTRAINT running_costs_per_month CHECK ("running_costs_per_month" IS NULL OR (typeof("running_costs_per_month") = 'integer' AND "running_costs_per_month" BETWEEN 0 AND 9999999999999)),
    CONSTRAINT value_when_done CHECK ("value_when_done" IS NULL OR (typeof("value_when_done") = 'integer' AND "value_when_done" BETWEEN 0 AND 9999999999999)),
    CONSTRAINT cash_on_hand CHECK ("cash_on_hand" IS NULL OR (typeof("cash_on_hand") = 'integer' AND "cash_on_hand" BETWEEN -9999999999999 AND 9999999999999)),
    CONSTRAINT pinned_today CHECK ("pinned_today" IS NULL OR (date("pinned_today") IS "pinned_today" AND "pinned_today" BETWEEN '1900-01-01' AND '2199-12-31')),
    CONSTRAINT funding_days CHECK ("funding_days" IS NULL OR (typeof("funding_days") = 'integer' AND "funding_days" BETWEEN 0 AND 365)),
    CONSTRAINT payment_days CHECK ("payment_days" IS NULL OR (typeof("payment_days") = 'integer' AND "payment_days" BETWEEN 0 AND 365)),
    CONSTRAINT near_critical_days CHECK (typeof("near_critical_days") = 'integer' AND "near_critical_days" BETWEEN 0 AND 9999),
    CONSTRAINT risk_shape CHECK ("risk_shape" IN ('pert', 'triangular')),
    CONSTRAINT risk_trials CHECK (typeof("risk_trials") = 'integer' AND "risk_trials" BETWEEN 1 AND 1000000),
    CONSTRAINT risk_seed CHECK (typeof("risk_seed") = 'integer' AND "risk_seed" BETWEEN 0 AND 999999999),
    CONSTRAINT common_cause CHECK (typeof("common_cause") = 'integer' AND "common_cause" BETWEEN 0 AND 1000),
    CONSTRAINT low_bid_share CHECK (typeof("low_bid_share") = 'integer' AND "low_bid_share" BETWEEN 0 AND 100000),
    FOREIGN KEY(opening) REFERENCES activities (code) DEFERRABLE INITIALLY DEFERRED
);

INSERT INTO project ("position", "version", "only_row", "name", "address", "existing_use", "proposed_use", "start", "status_date", "opening", "promised_opening", "jurisdiction", "currency", "loan_interest_per_day", "insurance_per_day", "tax_per_day", "utilities_per_day", "rent_per_day", "vacancy", "running_costs_per_month", "value_when_done", "cash_on_hand", "funding_days", "payment_days", "near_critical_days", "risk_shape", "risk_trials", "risk_seed", "common_cause", "low_bid_share")
SELECT "position", "version", "only_row", "name", "address", "existing_use", "proposed_use", "start", "status_date", "opening", "promised_opening", "jurisdiction", "currency", "loan_interest_per_day", "insurance_per_day", "tax_per_day", "utilities_per_day", "rent_per_day", "vacancy", "running_costs_per_month", "value_when_done", "cash_on_hand", "funding_days", "payment_days", "near_critical_days", "risk_shape", "risk_trials", "risk_seed", "common_cause", "low_bid_share"
FROM project_before;

DROP TABLE project_before;
