import type { AlarmKind, Priority } from '../tank/alarm-names.ts'
import type { Quantity } from '../tank/quantity.ts'

/** One alarm as data. What it says to a keeper stands in `words/`. */
export type AlarmDefinition = Readonly<{
  kind: AlarmKind
  /** The condition in words, with the source of its number. */
  condition: string
  /** How far back over the limit before the condition ends, in the unit of the value. */
  deadband: number
  onDelayMs: number
  offDelayMs: number
  /** `null`: never rings so; shown as progress. */
  withFish: Priority | null
  withoutFish: Priority | null
  /** Priority of a finding that is worse than the plain one, by its named reason, with fish. */
  worse?: Readonly<Record<string, Priority>>
  /** Priority of a finding that is less than the plain one, by its named reason. */
  milder?: Readonly<Record<string, Readonly<{ withFish: Priority; withoutFish: Priority }>>>
  /** Stays after the condition has gone until a person has looked and resets it. */
  latches: boolean
  /** Without fish it does not. */
  latchesOnlyWithFish?: boolean
  /** Causes that explain this one; while one of them stands, this one keeps quiet. */
  hushedBy: readonly AlarmKind[]
  /** A cause that is about a probe counts only where it is about what the probe says of this. */
  hushedAbout?: Quantity
  /**
   * It ends when a person does what it asks for, who has seen it then: nothing is left to look at. With reasons named,
   * only for those: what more is to be done after another stays to be looked at.
   */
  endsByHand?: true | readonly string[]
  /** A trouble of the whole house: it rings in the first tank alone, and each tank says so. */
  oncePerHouse?: boolean
  /** A person at work in the tank explains it. */
  quietDuringMaintenance: boolean
  /** A water change that was told explains it for a while. */
  quietAfterWaterChange: boolean
  /** A filter that was switched off for a moment explains it: still water is not as warm everywhere. */
  quietWhileFilterOff?: boolean
}>
