/** A later judgement beside the flag of arrival, corrected values beside raw ones, and what is known of each probe. */
export const probeTables = `
ALTER TABLE reading ADD COLUMN judged_flag INTEGER CHECK (judged_flag IN (1, 2, 3, 4, 9));
ALTER TABLE reading ADD COLUMN judged_why TEXT;
ALTER TABLE reading ADD COLUMN corrected REAL;
ALTER TABLE channel ADD COLUMN revision INTEGER NOT NULL DEFAULT 0;
ALTER TABLE channel ADD COLUMN made_from INTEGER;
CREATE TABLE calibration (
  id TEXT PRIMARY KEY, probe INTEGER NOT NULL REFERENCES probe (key) ON DELETE CASCADE, quantity TEXT NOT NULL,
  from_ms INTEGER NOT NULL, body TEXT NOT NULL, made_at_ms INTEGER NOT NULL, made_by TEXT NOT NULL,
  client_key TEXT, withdrawn_at_ms INTEGER, withdrawn_by TEXT
) STRICT, WITHOUT ROWID;
CREATE INDEX calibration_of ON calibration (probe, quantity, from_ms);
CREATE UNIQUE INDEX calibration_client ON calibration (probe, client_key) WHERE client_key IS NOT NULL;
CREATE TABLE probe_life (
  id TEXT PRIMARY KEY, probe INTEGER NOT NULL REFERENCES probe (key) ON DELETE CASCADE, from_ms INTEGER NOT NULL,
  note TEXT, made_at_ms INTEGER NOT NULL, made_by TEXT NOT NULL, withdrawn_at_ms INTEGER
) STRICT, WITHOUT ROWID;
CREATE INDEX probe_life_of ON probe_life (probe, from_ms);
CREATE TABLE probe_limit (
  probe INTEGER NOT NULL REFERENCES probe (key) ON DELETE CASCADE, quantity TEXT NOT NULL, body TEXT NOT NULL,
  reason TEXT NOT NULL, set_at_ms INTEGER NOT NULL, set_by TEXT NOT NULL, PRIMARY KEY (probe, quantity)
) STRICT, WITHOUT ROWID;
CREATE TABLE lead_choice (
  key INTEGER PRIMARY KEY, probe INTEGER NOT NULL REFERENCES probe (key) ON DELETE CASCADE, quantity TEXT NOT NULL,
  from_ms INTEGER NOT NULL, made_at_ms INTEGER NOT NULL, made_by TEXT NOT NULL
) STRICT;
CREATE INDEX lead_choice_of ON lead_choice (probe, quantity, from_ms);
`

/** Stretches in which a probe was out of its tank; one without an end goes on. */
export const awayTable = `
CREATE TABLE probe_away (
  key INTEGER PRIMARY KEY, probe INTEGER NOT NULL REFERENCES probe (key) ON DELETE CASCADE,
  from_ms INTEGER NOT NULL, to_ms INTEGER, taken_by TEXT NOT NULL, put_by TEXT
) STRICT;
CREATE INDEX probe_away_of ON probe_away (probe, from_ms);
`
