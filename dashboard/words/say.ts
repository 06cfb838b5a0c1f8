import { alarm } from './english/alarm.ts'
import { diary, entry, tests } from './english/entries.ts'
import { frame, house, join, login, probes, problem } from './english/house.ts'
import { setup, tank } from './english/tank.ts'
import { wall } from './english/wall.ts'

/** Everything this page says. Another language is another object of this shape. */
export const say = {
  alarm,
  diary,
  entry,
  frame,
  house,
  join,
  login,
  probes,
  problem,
  setup,
  tank,
  tests,
  wall
} as const
