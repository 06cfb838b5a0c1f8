import type Database from 'better-sqlite3'
import { HouseError } from '../errors.ts'
import type { Quantity } from '../tank/quantity.ts'
import { type Flag, isOutOfJudgement } from '../tank/reading.ts'
import type { Probe, ProbeChannel } from '../tank/record.ts'
import { newId } from './new-id.ts'
import { statement } from './statements.ts'

/** One quantity of one probe: what a stored reading belongs to. */
export type Channel = {
  readonly key: number
  readonly probeKey: number
  readonly probeId: string
  readonly quantity: Quantity
  leading: boolean
  firstAtMs: number
  lastAtMs: number | null
  lastValue: number | null
  lastFlag: Flag | null
  readings: number
  conflicts: number
  /** The channel of the same probe that this one is computed from; null for one that is published. */
  madeFrom: number | null
  /** Another channel is known to lead this quantity. */
  follows: boolean
  readonly name: string
  /** Since when its probe is out of the tank; null while it is in. */
  outSinceMs: number | null
}
export type ChannelRow = Readonly<{
  key: number
  probeKey: number
  probeId: string
  tankId: string
  name: string
  quantity: Quantity
  leading: number
  firstAtMs: number
  lastAtMs: number | null
  lastValue: number | null
  lastFlag: Flag | null
  readings: number
  conflicts: number
  madeFrom: number | null
  outSinceMs: number | null
  heardAs: string
  revision: number
}>
type Place = Readonly<{ tankId: string; probe: string; quantity: Quantity }>
type FoundProbe = Readonly<{ key: number; id: string; firstAtMs: number }>

const columns = `SELECT c.key, p.key AS probeKey, p.id AS probeId, p.tank_id AS tankId, p.name, c.quantity, c.leading,
  p.first_at_ms AS firstAtMs, c.last_at_ms AS lastAtMs, c.last_value AS lastValue, c.last_flag AS lastFlag,
  c.readings, c.conflicts, c.made_from AS madeFrom, p.heard_as AS heardAs, c.revision,
  (SELECT a.from_ms FROM probe_away a WHERE a.probe = p.key AND a.to_ms IS NULL) AS outSinceMs
  FROM channel c JOIN probe p ON p.key = c.probe`

/** Probes and their channels, with those in use kept at hand. */
export type Channels = ReturnType<typeof makeChannels>

export function makeChannels(db: Database.Database) {
  const cache = new Map<string, Channel>()
  const touched = new Set<Channel>()
  const tankExists = statement(db, 'SELECT 1 FROM tank WHERE id = ?')
  const ofTank = statement<ChannelRow>(db, `${columns} WHERE p.tank_id = ? ORDER BY p.key, c.key`)
  const ofProbe = statement<ChannelRow>(db, `${columns} WHERE p.key = ? AND c.quantity = ?`)
  const probeByHeard = statement<FoundProbe>(
    db,
    'SELECT key, id, first_at_ms AS firstAtMs FROM probe WHERE tank_id = ? AND heard_as = ?'
  )
  const probeByName = statement<FoundProbe & Readonly<{ tankId: string }>>(
    db,
    'SELECT key, id, first_at_ms AS firstAtMs, tank_id AS tankId FROM probe WHERE tank_id = ? AND name = ?'
  )
  const probeById = statement<Readonly<{ key: number; tankId: string; name: string }>>(
    db,
    'SELECT key, tank_id AS tankId, name FROM probe WHERE id = ?'
  )
  const addProbe = statement(
    db,
    'INSERT INTO probe (id, tank_id, name, heard_as, first_at_ms) VALUES (?, ?, ?, ?, ?)'
  )
  const addChannel = statement(db, 'INSERT INTO channel (probe, quantity) VALUES (?, ?)')
  const hasLeader = statement(
    db,
    'SELECT 1 FROM channel c JOIN probe p ON p.key = c.probe WHERE p.tank_id = ? AND c.quantity = ? AND c.leading = 1'
  )
  const lead = statement(db, 'UPDATE channel SET leading = 1 WHERE key = ?')
  const saveLast = statement(
    db,
    'UPDATE channel SET last_at_ms = ?, last_value = ?, last_flag = ?, readings = ?, conflicts = ? WHERE key = ?'
  )
  const makeComputed = statement(db, 'UPDATE channel SET made_from = ? WHERE key = ?')
  const computedOf = statement<Readonly<{ key: number }>>(db, 'SELECT key FROM channel WHERE made_from = ?')
  const acidOf = statement<Readonly<{ key: number }>>(
    db,
    "SELECT key FROM channel WHERE probe = ? AND quantity = 'ph'"
  )
  const leadNone = statement(
    db,
    `UPDATE channel SET leading = 0 WHERE quantity = ? AND probe IN
       (SELECT key FROM probe WHERE tank_id = (SELECT tank_id FROM probe WHERE id = ?))`
  )
  const leadOne = statement(
    db,
    'UPDATE channel SET leading = 1 WHERE quantity = ? AND probe = (SELECT key FROM probe WHERE id = ?)'
  )
  const saveFirst = statement(db, 'UPDATE probe SET first_at_ms = min(first_at_ms, ?) WHERE key = ?')
  const rename = statement(db, 'UPDATE probe SET name = ? WHERE key = ?')

  function freeName(tankId: string, wanted: string): string {
    let name = wanted
    for (let count = 2; probeByName.get(tankId, name) !== undefined; count += 1) name = `${wanted}-${count}`
    return name
  }

  function makeProbe({ tankId, probe }: Place, atMs: number): FoundProbe {
    addProbe.run(newId('p'), tankId, freeName(tankId, probe), probe, atMs)
    const made = probeByHeard.get(tankId, probe)
    if (made === undefined) throw new HouseError('RECORD_FAILED', `The probe "${probe}" could not be made.`)
    return made
  }

  /** A file names a probe as the page shows it; a board as it has always called itself, or by its new name. */
  function findProbe({ tankId, probe }: Place, from: 'board' | 'file'): FoundProbe | undefined {
    const heard = probeByHeard.get(tankId, probe)
    if (from === 'board') return heard ?? probeByName.get(tankId, probe)
    return probeByName.get(tankId, probe) ?? heard
  }

  function load(place: Place, atMs: number, from: 'board' | 'file'): { channel: Channel; newProbe: boolean } {
    const found = findProbe(place, from)
    const probe = found ?? makeProbe(place, atMs)
    if (ofProbe.get(probe.key, place.quantity) === undefined) addChannel.run(probe.key, place.quantity)
    const row = ofProbe.get(probe.key, place.quantity)
    if (row === undefined)
      throw new HouseError('RECORD_FAILED', `The probe "${place.probe}" could not be read.`)
    const { tankId: _tank, heardAs: _heard, revision: _revision, ...rest } = row
    return { channel: { ...rest, leading: row.leading === 1, follows: false }, newProbe: found === undefined }
  }

  return {
    hasTank: (tankId: string): boolean => tankExists.get(tankId) !== undefined,
    rowsOf: (tankId: string): readonly ChannelRow[] => ofTank.all(tankId),

    /** The channel a reading belongs to, made where it is new; null where the tank is unknown. */
    channelFor(
      place: Place,
      atMs: number,
      from: 'board' | 'file'
    ): { channel: Channel; newProbe: boolean } | null {
      const name = `${from}\n${place.tankId}\n${place.quantity}\n${place.probe}`
      const known = cache.get(name)
      if (known !== undefined) return { channel: known, newProbe: false }
      if (tankExists.get(place.tankId) === undefined) return null
      const loaded = load(place, atMs, from)
      const same = [...cache.values()].find(({ key }) => key === loaded.channel.key)
      const channel = same ?? loaded.channel
      cache.set(name, channel)
      return { channel, newProbe: loaded.newProbe }
    },

    /** Notes a stored reading: newest value, earliest time, and who leads its quantity. */
    noteStored(
      channel: Channel,
      reading: Place & Readonly<{ atMs: number; value: number; flag: Flag }>
    ): void {
      channel.readings += 1
      touched.add(channel)
      if (channel.lastAtMs === null || reading.atMs > channel.lastAtMs) {
        channel.lastAtMs = reading.atMs
        channel.lastValue = reading.value
        channel.lastFlag = reading.flag
      }
      if (reading.atMs < channel.firstAtMs) {
        channel.firstAtMs = reading.atMs
        saveFirst.run(reading.atMs, channel.probeKey)
      }
      if (channel.leading || channel.outSinceMs !== null || isOutOfJudgement(reading.flag)) return
      if (channel.follows || hasLeader.get(reading.tankId, channel.quantity) !== undefined) {
        channel.follows = true
        return
      }
      channel.leading = true
      lead.run(channel.key)
    },

    /** The key of the channel that is computed from this one, made where it is new; null where the probe publishes it itself. */
    computedFrom(source: Pick<ChannelRow, 'key' | 'probeKey'>): number | null {
      const known = computedOf.get(source.key)
      if (known !== undefined) return known.key
      if (acidOf.get(source.probeKey) !== undefined) return null
      addChannel.run(source.probeKey, 'ph')
      const made = acidOf.get(source.probeKey)
      if (made === undefined) return null
      makeComputed.run(source.key, made.key)
      return made.key
    },

    /** Its board publishes it itself from now on. */
    ownVoice(channel: Channel): void {
      makeComputed.run(null, channel.key)
      cache.clear()
    },

    /** Makes a probe lead a quantity in its tank. */
    lead(probeId: string, quantity: Quantity): void {
      leadNone.run(quantity, probeId)
      if (leadOne.run(quantity, probeId) !== 1)
        throw new HouseError('API_NOT_FOUND', `The probe "${probeId}" does not measure ${quantity}.`)
      cache.clear()
    },

    /** Nobody leads a quantity in the tank of a probe until one is heard. */
    leadNone(probeId: string, quantity: Quantity): void {
      leadNone.run(quantity, probeId)
      cache.clear()
    },

    /** What is at hand of a probe that went out of its tank or is in it again. */
    notePlaced(probeKey: number, outSinceMs: number | null): void {
      for (const channel of cache.values()) if (channel.probeKey === probeKey) channel.outSinceMs = outSinceMs
    },

    /** The newest value is shown with the flag that counts. */
    noteJudged(key: number, judged: Readonly<{ atMs: number; flag: Flag }>): void {
      for (const channel of cache.values()) {
        if (channel.key !== key || channel.lastAtMs !== judged.atMs) continue
        channel.lastFlag = judged.flag
        touched.add(channel)
      }
    },

    noteConflict(channel: Channel): void {
      channel.conflicts += 1
      touched.add(channel)
    },

    settle(): void {
      for (const { lastAtMs, lastValue, lastFlag, readings, conflicts, key } of touched)
        saveLast.run(lastAtMs, lastValue, lastFlag, readings, conflicts, key)
      touched.clear()
    },

    /** After a rollback nothing at hand can be trusted. */
    forget(): void {
      cache.clear()
      touched.clear()
    },

    probes(tankId: string): readonly Probe[] {
      const byId = new Map<string, Probe & { quantities: ProbeChannel[] }>()
      for (const row of ofTank.all(tankId)) {
        const probe = byId.get(row.probeId) ?? {
          id: row.probeId,
          tankId,
          name: row.name,
          quantities: [],
          firstAtMs: row.firstAtMs,
          ...(row.outSinceMs === null ? {} : { outSinceMs: row.outSinceMs })
        }
        const { quantity, lastAtMs, lastValue, lastFlag, conflicts } = row
        probe.quantities.push({
          quantity,
          leading: row.leading === 1,
          lastAtMs,
          lastValue,
          lastFlag,
          conflicts,
          ...(row.madeFrom === null ? {} : { computed: true })
        })
        byId.set(row.probeId, probe)
      }
      return [...byId.values()]
    },

    /** Answers what it was called before. */
    renameProbe({ probeId, name }: Readonly<{ probeId: string; name: string }>): Readonly<{
      tankId: string
      from: string
    }> {
      const probe = probeById.get(probeId)
      if (probe === undefined)
        throw new HouseError(
          'API_NOT_FOUND',
          `There is no probe "${probeId}". Look at the list of probes again.`
        )
      const holder = probeByName.get(probe.tankId, name)
      if (holder !== undefined && holder.key !== probe.key)
        throw new HouseError(
          'API_CONFLICT',
          `Another probe of this tank is called "${name}". Choose another name.`
        )
      rename.run(name, probe.key)
      cache.clear()
      return { tankId: probe.tankId, from: probe.name }
    }
  }
}
