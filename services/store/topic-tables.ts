/** Assigned foreign topics, and messages that wait until the machine knows the time. */
export const topicTables = `
CREATE TABLE assignment (
  id TEXT PRIMARY KEY, topic TEXT NOT NULL, pointer TEXT NOT NULL, quantity TEXT NOT NULL, unit TEXT NOT NULL,
  tank_id TEXT NOT NULL REFERENCES tank (id) ON DELETE CASCADE, probe TEXT NOT NULL, made_at_ms INTEGER NOT NULL,
  UNIQUE (tank_id, probe, quantity), UNIQUE (topic, pointer, tank_id)
) STRICT, WITHOUT ROWID;
CREATE TABLE parked (
  key INTEGER PRIMARY KEY AUTOINCREMENT, boot_id TEXT NOT NULL, monotonic_ms INTEGER NOT NULL, body TEXT NOT NULL
) STRICT;
`
